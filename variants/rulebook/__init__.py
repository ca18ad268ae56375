"""The trade's rules and tables: what a fly keeps or breaks, and how far things stand apart."""

from variants.reading import own_rules_folder
from variants.rulebook.attributes import (
    ATTRIBUTES,
    ITEM_ATTRIBUTES,
    colour_attributes,
    hook_attributes,
    ingredient_attributes,
    item_attributes,
    lightness,
    material_attributes,
)
from variants.rulebook.blending import blend_shade, may_reach
from variants.rulebook.cases import judge_cases, without_cases
from variants.rulebook.clashes import find_clashes
from variants.rulebook.colours import TOGETHER, delta_e, differing, lab, wound_together
from variants.rulebook.conventions import Conventions
from variants.rulebook.kinds import (
    KINDS,
    LENGTH,
    SINGLE_SIDES,
    STATUSES,
    THOUSANDTHS,
    USUAL_WATER,
    WATERS,
    Agree,
    Condition,
    Count,
    Equal,
    Exclude,
    Finding,
    Girth,
    Lawful,
    Measure,
    Number,
    Rule,
)
from variants.rulebook.likeness import Likeness, load_likeness, weighted_cost
from variants.rulebook.reading_rules import read_rules, rules_of
from variants.rulebook.rulebook import Rulebook, load_rulebook

__all__ = [
    "ATTRIBUTES",
    "ITEM_ATTRIBUTES",
    "KINDS",
    "LENGTH",
    "SINGLE_SIDES",
    "STATUSES",
    "THOUSANDTHS",
    "TOGETHER",
    "USUAL_WATER",
    "WATERS",
    "Agree",
    "Condition",
    "Conventions",
    "Count",
    "Equal",
    "Exclude",
    "Finding",
    "Girth",
    "Lawful",
    "Likeness",
    "Measure",
    "Number",
    "Rule",
    "Rulebook",
    "blend_shade",
    "colour_attributes",
    "delta_e",
    "differing",
    "find_clashes",
    "hook_attributes",
    "ingredient_attributes",
    "item_attributes",
    "judge_cases",
    "lab",
    "lightness",
    "load_likeness",
    "load_rulebook",
    "material_attributes",
    "may_reach",
    "own_rules_folder",
    "read_rules",
    "rules_of",
    "weighted_cost",
    "without_cases",
    "wound_together",
]
