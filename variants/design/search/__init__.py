"""The exact search; it knows nothing of feathers, only of candidates, costs and constraints."""

from variants.design.search.best_first import BestFirstSearch, solve_network
from variants.design.search.compiler import compile_network
from variants.design.search.incremental import Closest, IncrementalSearch
from variants.design.search.needed import find_needed, search_needed
from variants.design.search.network import FORBIDDEN, Network
from variants.design.search.pareto import ParetoPoint
from variants.design.search.propose import (
    Ended,
    Finished,
    SearchResult,
    as_variant,
    rule_terms,
    search,
    search_within,
    variants_of,
)
from variants.design.search.solver import BestFirstSolver
from variants.design.search.two_phase import pareto_front

__all__ = [
    "FORBIDDEN",
    "BestFirstSearch",
    "BestFirstSolver",
    "Closest",
    "Ended",
    "Finished",
    "IncrementalSearch",
    "Network",
    "ParetoPoint",
    "SearchResult",
    "as_variant",
    "compile_network",
    "find_needed",
    "pareto_front",
    "rule_terms",
    "search",
    "search_needed",
    "search_within",
    "solve_network",
    "variants_of",
]
