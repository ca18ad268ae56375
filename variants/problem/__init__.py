"""A request made into domains and constraints; it decides nothing and searches nothing."""

from variants.problem.build import DesignProblem, build_problem, filled_domain
from variants.problem.constraints import (
    ChangesConstraint,
    FlyConstraint,
    RuleConstraint,
    StockConstraint,
    scarce_items,
)
from variants.problem.departure import weighted_sum
from variants.problem.domain import Domain, Offer
from variants.problem.dress import adapted_counts, adapted_parts, idle_counts, pieces_taken
from variants.problem.request import Request
from variants.problem.serving import may_fill, serving
from variants.problem.stock import Lot, Stock, stock_of
from variants.problem.uncollected import uncollected
from variants.problem.watch import Reporter, TimeUpError, Watch

__all__ = [
    "ChangesConstraint",
    "DesignProblem",
    "Domain",
    "FlyConstraint",
    "Lot",
    "Offer",
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
    "may_fill",
    "pieces_taken",
    "scarce_items",
    "serving",
    "stock_of",
    "uncollected",
    "weighted_sum",
]
