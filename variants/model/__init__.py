"""The frozen types that every other folder speaks in; nothing here reads or decides."""

from variants.model.box import BlendPart, Box, Item
from variants.model.build import BUILDS, LIES, Build
from variants.model.candidate import (
    SIZES,
    Attributes,
    Candidate,
    Fly,
    Term,
    Value,
    Way,
    asked_name,
)
from variants.model.colour import Colour, Marking
from variants.model.dressing import MOST_TOGETHER, Dressing, Ingredient, Part
from variants.model.law import (
    ACTS,
    AT_HOME,
    BORDERS,
    ORIGINS,
    STATUSES,
    WAYS_SEEN,
    WEIGHTS,
    Jurisdiction,
    LawTables,
    Standing,
    Statute,
    Taxon,
    Verdict,
)
from variants.model.material import STANDARD_HOOK, Hook, HookModel, Material, Substitute
from variants.model.origin import NOWHERE, Origin
from variants.model.region import CLARITIES, SURFACES, WATERS, Natural, Region, Water, WaterRules
from variants.model.style import PartKind, Style, StylePart
from variants.model.trade import Trade, names_of, plain
from variants.model.variant import Variant

__all__ = [
    "ACTS",
    "AT_HOME",
    "BORDERS",
    "BUILDS",
    "CLARITIES",
    "LIES",
    "MOST_TOGETHER",
    "NOWHERE",
    "ORIGINS",
    "SIZES",
    "STANDARD_HOOK",
    "STATUSES",
    "SURFACES",
    "WATERS",
    "WAYS_SEEN",
    "WEIGHTS",
    "Attributes",
    "BlendPart",
    "Box",
    "Build",
    "Candidate",
    "Colour",
    "Dressing",
    "Fly",
    "Hook",
    "HookModel",
    "Ingredient",
    "Item",
    "Jurisdiction",
    "LawTables",
    "Marking",
    "Material",
    "Natural",
    "Origin",
    "Part",
    "PartKind",
    "Region",
    "Standing",
    "Statute",
    "Style",
    "StylePart",
    "Substitute",
    "Taxon",
    "Term",
    "Trade",
    "Value",
    "Variant",
    "Verdict",
    "Water",
    "WaterRules",
    "Way",
    "asked_name",
    "names_of",
    "plain",
]
