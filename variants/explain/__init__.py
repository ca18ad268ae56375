"""Why a variant stands, why none does, what would serve instead, and the wordings for it."""

from variants.explain.all_conflicts import AllConflicts, all_conflicts
from variants.explain.conflicts import (
    Conflict,
    NearMiss,
    Obstacle,
    find_conflict,
    nearest_miss,
    quickxplain,
)
from variants.explain.instead import find_instead
from variants.explain.lines import Line, lines_of, search_lines
from variants.explain.reasons import Explanation, Judgement, PartReason, explain, own_measures
from variants.explain.repairs import repairs
from variants.explain.stand_ins import Answer, Asked, Instead, OtherName, StandIn
from variants.explain.to_buy import Purchase
from variants.explain.trying import Effort, Repair

__all__ = [
    "AllConflicts",
    "Answer",
    "Asked",
    "Conflict",
    "Effort",
    "Explanation",
    "Instead",
    "Judgement",
    "Line",
    "NearMiss",
    "Obstacle",
    "OtherName",
    "PartReason",
    "Purchase",
    "Repair",
    "StandIn",
    "all_conflicts",
    "changes",
    "explain",
    "find_conflict",
    "find_instead",
    "lines_of",
    "nearest_miss",
    "own_measures",
    "quickxplain",
    "repairs",
    "search_lines",
    "wording",
]
