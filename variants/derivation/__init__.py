"""How variants descend from their base, one substitution at a time."""

from variants.derivation.exports import EXPORTS
from variants.derivation.graph import BASE, Descent, derive, descent
from variants.derivation.kin import Kin, Names, find_kin

__all__ = ["BASE", "EXPORTS", "Descent", "Kin", "Names", "derive", "descent", "find_kin"]
