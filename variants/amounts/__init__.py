"""What one fly uses of each material, how many a box gives, and what that costs."""

from variants.amounts.bench import Shortage, Tied, WriteOff, find_write_off
from variants.amounts.cheapest import cheapest_first
from variants.amounts.cost import Cost, cost_of
from variants.amounts.uses import Use, dressed_mass_mg, uses_of
from variants.amounts.yields import Supply, flies_from, supplies

__all__ = [
    "Cost",
    "Shortage",
    "Supply",
    "Tied",
    "Use",
    "WriteOff",
    "cheapest_first",
    "cost_of",
    "dressed_mass_mg",
    "find_write_off",
    "flies_from",
    "supplies",
    "uses_of",
]
