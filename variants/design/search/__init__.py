"""The exact search; it knows nothing of feathers, only of candidates, costs and constraints."""

from variants.design.search.again import Closest, SearchedAgain
from variants.design.search.different import EachChange, best_of_each_change
from variants.design.search.front import pareto_front
from variants.design.search.frontier import BestFirst
from variants.design.search.needed import find_needed, search_needed
from variants.design.search.network import FORBIDDEN, Network
from variants.design.search.pools import compile_network
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
from variants.design.search.shadow import Point
from variants.design.search.solver import BestFirstSolver, best_first

__all__ = [
    "FORBIDDEN",
    "BestFirst",
    "BestFirstSolver",
    "Closest",
    "EachChange",
    "Ended",
    "Finished",
    "Network",
    "Point",
    "SearchResult",
    "SearchedAgain",
    "as_variant",
    "best_first",
    "best_of_each_change",
    "compile_network",
    "find_needed",
    "pareto_front",
    "rule_terms",
    "search",
    "search_needed",
    "search_within",
    "variants_of",
]
