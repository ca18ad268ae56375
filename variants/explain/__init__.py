"""Why a variant stands, and why none does."""

from variants.explain.conflicts import Conflict, NearMiss, Obstacle, find_conflict, quickxplain
from variants.explain.reasons import Explanation, Judgement, PartReason, explain

__all__ = [
    "Conflict",
    "Explanation",
    "Judgement",
    "NearMiss",
    "Obstacle",
    "PartReason",
    "explain",
    "find_conflict",
    "quickxplain",
]
