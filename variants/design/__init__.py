"""Dressing, rules and box made into candidates and constraints; nothing is decided here."""

from variants.design.build import DesignProblem, build_problem, filled_domain
from variants.design.constraints import (
    ChangesConstraint,
    FlyConstraint,
    Pieces,
    RuleConstraint,
    StockConstraint,
    scarce_items,
)
from variants.design.departure import ingredient_terms, weighted_sum
from variants.design.domain import CandidateBatch, Domain, LazyBatch
from variants.design.dress import (
    adapted_counts,
    adapted_parts,
    idle_counts,
    pieces_taken,
    share_taken,
)
from variants.design.gc_pause import gc_paused
from variants.design.request import Request
from variants.design.serving import may_fill, serving
from variants.design.stock import Lot, Stock, stock_of
from variants.design.variables import LazyVariable, pose_problem
from variants.design.watch import Reporter, TimeUpError, Watch
from variants.design.words import (
    UnknownWordError,
    find_entry,
    find_missing,
    find_part,
    find_sizes,
    find_water,
    request_from_words,
)

__all__ = [
    "CandidateBatch",
    "ChangesConstraint",
    "DesignProblem",
    "Domain",
    "FlyConstraint",
    "LazyBatch",
    "LazyVariable",
    "Lot",
    "Pieces",
    "Reporter",
    "Request",
    "RuleConstraint",
    "Stock",
    "StockConstraint",
    "TimeUpError",
    "UnknownWordError",
    "Watch",
    "adapted_counts",
    "adapted_parts",
    "build_problem",
    "filled_domain",
    "find_entry",
    "find_missing",
    "find_part",
    "find_sizes",
    "find_water",
    "gc_paused",
    "idle_counts",
    "ingredient_terms",
    "may_fill",
    "pieces_taken",
    "pose_problem",
    "request_from_words",
    "scarce_items",
    "serving",
    "share_taken",
    "stock_of",
    "weighted_sum",
]
