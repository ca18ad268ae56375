"""The kinds of rule: few, each a class with one judgement, none of them code in a file."""

from variants.model import STATUSES, WATERS
from variants.rulebook.kinds.agree import Agree
from variants.rulebook.kinds.base import SILENT, THOUSANDTHS, Finding, Number, Rule
from variants.rulebook.kinds.condition import Condition
from variants.rulebook.kinds.count import USUAL_WATER, Count
from variants.rulebook.kinds.equal import Equal
from variants.rulebook.kinds.exclude import Exclude
from variants.rulebook.kinds.girth import Girth
from variants.rulebook.kinds.lawful import Lawful
from variants.rulebook.kinds.measure import HOOK_MEASURES, LENGTH, Measure
from variants.rulebook.kinds.order import Order
from variants.rulebook.kinds.pair import SINGLE_SIDES, Pair
from variants.rulebook.kinds.quality import Quality

KINDS: dict[str, type[Rule]] = {
    kind.kind: kind
    for kind in (Measure, Quality, Agree, Exclude, Girth, Count, Pair, Equal, Order, Lawful)
}

__all__ = [
    "HOOK_MEASURES",
    "KINDS",
    "LENGTH",
    "SILENT",
    "SINGLE_SIDES",
    "STATUSES",
    "THOUSANDTHS",
    "USUAL_WATER",
    "WATERS",
    "Agree",
    "Condition",
    "Count",
    "Equal",
    "Exclude",
    "Finding",
    "Girth",
    "Lawful",
    "Measure",
    "Number",
    "Order",
    "Pair",
    "Quality",
    "Rule",
]
