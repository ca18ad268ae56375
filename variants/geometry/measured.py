"""An amount of stuff as it is counted: in pieces, else by length, else by weight."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING

from variants.geometry.uses import Use

if TYPE_CHECKING:
    from pint import Quantity


class Counted(Enum):
    """In what stuff is counted; the value is the unit of a plain number of it."""

    PIECES = "piece"
    LENGTH = "mm"
    MASS = "mg"


@dataclass(frozen=True, slots=True)
class Measured:
    """So much of some stuff.

    Attributes
    ----------
    counted : Counted
    amount : float
        Pieces, mm or mg.
    """

    counted: Counted
    amount: float

    def in_units_of(self, pack: Quantity[float]) -> float | None:
        """Return how many packs it is; None when they are counted otherwise."""
        if not pack.is_compatible_with(self.counted.value):
            return None
        return self.amount / float(pack.to(self.counted.value).magnitude)


def measured(use: Use) -> Measured | None:
    """Return what one fly takes, as its items are counted, or as such stuff usually is.

    None when it is not reckoned.
    """
    known = {
        Counted.PIECES: use.pieces,
        Counted.LENGTH: use.length_mm,
        Counted.MASS: use.mass_mg,
    }
    first = use.items[0].amount if use.items else None
    for counted, amount in known.items():
        if first is not None and not first.is_compatible_with(counted.value):
            continue
        if amount is not None:
            return Measured(counted, amount)
    return next((Measured(one, amount) for one, amount in known.items() if amount), None)
