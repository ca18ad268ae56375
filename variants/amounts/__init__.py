"""What one fly uses of each material, how many a box gives, and what that costs."""

from variants.amounts.uses import Use, dressed_mass_mg, uses_of
from variants.amounts.yields import Supply, flies_from, supplies

__all__ = ["Supply", "Use", "dressed_mass_mg", "flies_from", "supplies", "uses_of"]
