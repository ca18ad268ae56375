"""The graph of how variants descend from their base, one substitution at a time; and kin."""

from variants.explain.derivation.branches import Branch, branched
from variants.explain.derivation.exports import EXPORTS
from variants.explain.derivation.graph import BASE, Descent, Known, derive, descent
from variants.explain.derivation.kin import Kin, Names, find_kin

__all__ = [
    "BASE",
    "EXPORTS",
    "Branch",
    "Descent",
    "Kin",
    "Known",
    "Names",
    "branched",
    "derive",
    "descent",
    "find_kin",
]
