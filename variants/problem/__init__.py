"""A request made into domains and constraints; it decides nothing and searches nothing."""

from variants.problem.build import DesignProblem, build_problem
from variants.problem.constraints import (
    ChangesConstraint,
    FlyConstraint,
    RuleConstraint,
    StockConstraint,
    scarce_items,
)
from variants.problem.domain import Domain, Offer
from variants.problem.request import Request
from variants.problem.stock import Stock, stock_of
from variants.problem.uncollected import uncollected

__all__ = [
    "ChangesConstraint",
    "DesignProblem",
    "Domain",
    "FlyConstraint",
    "Offer",
    "Request",
    "RuleConstraint",
    "Stock",
    "StockConstraint",
    "build_problem",
    "scarce_items",
    "stock_of",
    "uncollected",
]
