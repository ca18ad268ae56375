"""The graph of how variants descend from their base, one substitution at a time; and kin."""

from variants.explain.derivation.branches import Branch, derive_branches
from variants.explain.derivation.exports import EXPORTS
from variants.explain.derivation.graph import BASE, Descent, KnownDressing, derive, trace_descent
from variants.explain.derivation.kin import Kin, Names, find_kin

__all__ = [
    "BASE",
    "EXPORTS",
    "Branch",
    "Descent",
    "Kin",
    "KnownDressing",
    "Names",
    "derive",
    "derive_branches",
    "find_kin",
    "trace_descent",
]
