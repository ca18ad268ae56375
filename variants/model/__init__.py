"""The frozen types that every other folder speaks in; nothing here reads or decides."""

from variants.model.box import BlendPart, Box, Item
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
from variants.model.material import STANDARD_HOOK, Hook, HookModel, Material, Substitute
from variants.model.origin import NOWHERE, Origin
from variants.model.style import PartKind, Style, StylePart
from variants.model.trade import Trade, names_of, plain
from variants.model.variant import Variant

__all__ = [
    "MOST_TOGETHER",
    "NOWHERE",
    "SIZES",
    "STANDARD_HOOK",
    "Attributes",
    "BlendPart",
    "Box",
    "Candidate",
    "Colour",
    "Dressing",
    "Fly",
    "Hook",
    "HookModel",
    "Ingredient",
    "Item",
    "Marking",
    "Material",
    "Origin",
    "Part",
    "PartKind",
    "Style",
    "StylePart",
    "Substitute",
    "Term",
    "Trade",
    "Value",
    "Variant",
    "Way",
    "asked_name",
    "names_of",
    "plain",
]
