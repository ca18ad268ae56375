"""What one fly uses of each material, how many a box gives, and what that costs."""

from variants.amounts.uses import Use, dressed_mass_mg, uses_of

__all__ = ["Use", "dressed_mass_mg", "uses_of"]
