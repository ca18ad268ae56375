"""How variants descend from their base, one substitution at a time."""

from variants.derivation.branches import Branch, branched
from variants.derivation.exports import EXPORTS
from variants.derivation.graph import BASE, Descent, Known, derive, descent
from variants.derivation.kin import Kin, Names, find_kin

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
