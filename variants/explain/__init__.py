"""Why a variant stands, why none does, what would serve instead, and the wordings for it."""

from variants.explain.all_conflicts import AllConflicts, find_all_conflicts
from variants.explain.conflicts import (
    Conflict,
    NearMiss,
    Obstacle,
    find_conflict,
    nearest_miss,
    quickxplain,
)
from variants.explain.instead import find_stand_ins
from variants.explain.reasons import Explanation, Judgement, PartReason, explain, judge_own_measures
from variants.explain.repair import Effort, Repair
from variants.explain.repairs import find_repairs
from variants.explain.stand_ins import OtherName, StandIn, StandInGroup, StandInQuery, StandIns
from variants.explain.to_buy import Purchase
from variants.explain.variant_groups import VariantGroup, group_variants, search_groups

__all__ = [
    "AllConflicts",
    "Conflict",
    "Effort",
    "Explanation",
    "Judgement",
    "NearMiss",
    "Obstacle",
    "OtherName",
    "PartReason",
    "Purchase",
    "Repair",
    "StandIn",
    "StandInGroup",
    "StandInQuery",
    "StandIns",
    "VariantGroup",
    "changes",
    "explain",
    "find_all_conflicts",
    "find_conflict",
    "find_repairs",
    "find_stand_ins",
    "group_variants",
    "judge_own_measures",
    "nearest_miss",
    "quickxplain",
    "search_groups",
    "wording",
]
