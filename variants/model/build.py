"""How stuff of a class is built up round the shank."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

BUILDS = ("dubbed", "wound", "spun", "laid", "drilled")
LIES = ("round", "flat", "piled")


@dataclass(frozen=True, slots=True)
class Build:
    """How stuff of a class is built up round the shank.

    Attributes
    ----------
    build : str
        One of `BUILDS`.
    gapes : float or None
        Greatest diameter of a dubbed or spun body.
    taper : float
        Diameter at the rear over that in front.
    layers : int
        How many strands lie over each other.
    thickness_mm : float or None
        Of a strand whose material tells none.
    lies : str
        How a strand lies, one of `LIES`: as it is, spread, or with its core on the shank.
    packing_g_cm3 : float or None
        Density of the body as built, with its air.
    source : str
    spread_mm : float
        How wide a strand spreads that lies flat.
    """

    build: str
    gapes: float | None
    taper: float
    layers: int
    thickness_mm: float | None
    lies: str
    packing_g_cm3: float | None
    source: str
    spread_mm: float = 0.8

    def layer_mm(self, strand_mm: float) -> float:
        """Return how thick one layer of a strand lies."""
        if self.lies == "piled":
            return strand_mm / 2
        if self.lies != "flat":
            return strand_mm
        # What spreads keeps its cross-section.
        return min(strand_mm, pi * strand_mm * strand_mm / 4 / self.spread_mm)

    def added_mm(self, strand_mm: float | None) -> float:
        """Return what the layers of a strand add to the diameter: on both sides of the shank.

        >>> Build("wound", None, 1.0, 1, 0.9, "round", None, "").added_mm(0.8)
        1.6
        """
        strand = self.thickness_mm if strand_mm is None else strand_mm
        return 2 * self.layers * self.layer_mm(strand or 0.0)
