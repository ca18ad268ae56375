"""How variants descend from their base, one substitution at a time."""

from variants.derivation.exports import EXPORTS
from variants.derivation.graph import BASE, derive

__all__ = ["BASE", "EXPORTS", "derive"]
