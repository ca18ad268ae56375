"""The exact search; it knows nothing of feathers, only of candidates, costs and constraints."""

from variants.search.different import best_of_each_change
from variants.search.network import FORBIDDEN, Network, compile_network
from variants.search.propose import as_variant, rule_terms, variants_of
from variants.search.solver import BestFirstSolver, best_first

__all__ = [
    "FORBIDDEN",
    "BestFirstSolver",
    "Network",
    "as_variant",
    "best_first",
    "best_of_each_change",
    "compile_network",
    "rule_terms",
    "variants_of",
]
