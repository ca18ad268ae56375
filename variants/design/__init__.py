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
from variants.design.domain import Domain, Offer
from variants.design.dress import (
    adapted_counts,
    adapted_parts,
    idle_counts,
    pieces_taken,
    share_taken,
)
from variants.design.request import Request
from variants.design.serving import may_fill, serving
from variants.design.stock import Lot, Stock, stock_of
from variants.design.uncollected import uncollected
from variants.design.watch import Reporter, TimeUpError, Watch

__all__ = [
    "ChangesConstraint",
    "DesignProblem",
    "Domain",
    "FlyConstraint",
    "Lot",
    "Offer",
    "Pieces",
    "Reporter",
    "Request",
    "RuleConstraint",
    "Stock",
    "StockConstraint",
    "TimeUpError",
    "Watch",
    "adapted_counts",
    "adapted_parts",
    "build_problem",
    "filled_domain",
    "idle_counts",
    "ingredient_terms",
    "may_fill",
    "pieces_taken",
    "scarce_items",
    "serving",
    "share_taken",
    "stock_of",
    "uncollected",
    "weighted_sum",
]
