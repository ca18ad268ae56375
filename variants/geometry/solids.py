"""Cones and the strands wound round them: volumes and exact lengths, in millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from math import asinh, pi, sqrt


@dataclass(frozen=True, slots=True)
class Cone:
    """A body that tapers evenly along the shank.

    Attributes
    ----------
    length_mm : float
    rear_mm, front_mm : float
        Diameters at the bend's end and at the eye's end.
    core_mm : float
        Diameter of what it is built on: the hook's wire under its thread.
    """

    length_mm: float
    rear_mm: float
    front_mm: float
    core_mm: float = 0.0

    def diameter_mm(self, share: float) -> float:
        """Return the diameter at a share of the length, 0 at the rear and 1 in front."""
        return self.rear_mm + (self.front_mm - self.rear_mm) * share

    @property
    def volume_mm3(self) -> float:
        """Volume of what is built on the core.

        Notes
        -----
        A frustum, ``pi L (a² + a b + b²) / 12`` with diameters a and b, less the core's cylinder.
        """
        a, b = self.rear_mm, self.front_mm
        whole = pi * self.length_mm * (a * a + a * b + b * b) / 12.0
        return max(0.0, whole - pi * self.length_mm * self.core_mm**2 / 4.0)


def helix_mm(cone: Cone, turns: float, strand_mm: float = 0.0) -> float:
    """Return the length of a strand wound evenly over a cone.

    Parameters
    ----------
    cone : Cone
    turns : float
        At least 0; with none the strand is laid along the cone.
    strand_mm : float
        The strand's own thickness: its middle lies half of it above the surface.

    Notes
    -----
    With t from 0 to 1 along the axis, radius ``r(t) = r0 + k t`` and angle ``2 pi n t``, the arc
    length is the integral of ``sqrt((2 pi n r(t))² + k² + L²)``. With ``u = 2 pi n r(t)`` it is
    ``[u s + c² asinh(u / c)] / (2 · 2 pi n k)`` between the ends, where ``c² = k² + L²`` and
    ``s = sqrt(u² + c²)``: exact. Checked against numerical integration in the tests.
    """
    start = (cone.rear_mm + strand_mm) / 2.0
    slope = (cone.front_mm - cone.rear_mm) / 2.0
    along = sqrt(slope * slope + cone.length_mm * cone.length_mm)
    round_ = 2.0 * pi * turns
    if abs(round_ * slope) < 1e-6 * max(1.0, round_ * start):
        middle = start + slope / 2.0
        return sqrt((round_ * middle) ** 2 + along * along)

    def antiderivative(radius: float) -> float:
        u = round_ * radius
        inverse = asinh(u / along) if along else 0.0
        return u * sqrt(u * u + along * along) + along * along * inverse

    ends = antiderivative(start + slope) - antiderivative(start)
    return ends / (2.0 * round_ * slope)


def turns_for(length_mm: float, pitch_mm: float) -> float:
    """Return how many turns of a strand cover a length, side by side at a pitch."""
    return length_mm / pitch_mm if pitch_mm > 0 else 0.0
