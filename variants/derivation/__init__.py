"""How variants descend from their base, one substitution at a time."""

from variants.derivation.exports import EXPORTS
from variants.derivation.graph import BASE, derive
from variants.derivation.kin import Kin, Names, find_kin

__all__ = ["BASE", "EXPORTS", "Kin", "Names", "derive", "find_kin"]
