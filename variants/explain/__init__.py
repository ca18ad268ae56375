"""Why a variant stands, and why none does."""

from variants.explain.all_conflicts import AllConflicts, all_conflicts
from variants.explain.conflicts import (
    Conflict,
    NearMiss,
    Obstacle,
    find_conflict,
    nearest_miss,
    quickxplain,
)
from variants.explain.lines import Line, lines_of, search_lines
from variants.explain.reasons import Explanation, Judgement, PartReason, explain, own_measures
from variants.explain.repairs import repairs
from variants.explain.to_buy import Purchase
from variants.explain.trying import Effort, Repair

__all__ = [
    "AllConflicts",
    "Conflict",
    "Effort",
    "Explanation",
    "Judgement",
    "Line",
    "NearMiss",
    "Obstacle",
    "PartReason",
    "Purchase",
    "Repair",
    "all_conflicts",
    "explain",
    "find_conflict",
    "lines_of",
    "nearest_miss",
    "own_measures",
    "quickxplain",
    "repairs",
    "search_lines",
]
