"""The line that a fly is built along: the shank, straight or curved, and the bend behind it."""

from __future__ import annotations

from bisect import bisect
from math import atan2, cos, hypot, pi, radians, sin

from variants.geometry import BendLook, HookShape
from variants.pictures.paper import Point

#: A curved shank is straight in front, and this share of it bends (common practice).
_CURVED = 0.7
_STEPS = 32


class Axis:
    """A line that feathers are tied to: here a point, as a fly seen from in front has it."""

    def stand(self, along: float, up: float = 0.0) -> Point:
        """Return the place at a height above the wire's middle."""
        return 0.0 * along, up

    def heading(self, along: float) -> float:
        """Return how far the way forward is turned up from level, in radians."""
        return 0.0 * along

    def away(self, along: float, root: Point, angle_deg: float, length: float) -> Point:
        """Return the end of what stands at an angle to the shank, 0 straight back, 90 up."""
        angle = pi - radians(angle_deg) + self.heading(along)
        return root[0] + cos(angle) * length, root[1] + sin(angle) * length


class Spine(Axis):
    """Where places along the hook stand on the paper.

    Parameters
    ----------
    hook : HookShape
    bend : BendLook

    Notes
    -----
    Along is measured on the wire's middle, from the start of the bend to the eye; below 0 it runs
    down the bend. A straight shank leaves places as they are.
    """

    def __init__(self, hook: HookShape, bend: BendLook) -> None:
        self.hook, self.look = hook, bend
        self._droop = radians(bend.droop_deg)
        self._arc_mm = hook.shank_mm * _CURVED
        self.bend_start = self._on_shank(0.0)
        # The gape is taken where it is measured: from the point straight up to the shank.
        x, y = self.bend_start
        above = self._on_shank(min(hook.shank_mm, x + bend.point * hook.gape_mm))
        self._fall_mm = max(0.2 * hook.gape_mm, y - (above[1] - hook.gape_mm))
        self._bend = [self._on_bend(step / _STEPS) for step in range(_STEPS + 1)]
        self._reached = [0.0]
        for one, two in zip(self._bend, self._bend[1:], strict=False):
            self._reached.append(self._reached[-1] + hypot(two[0] - one[0], two[1] - one[1]))

    def _on_shank(self, along: float) -> Point:
        past = self._arc_mm - along
        if not self._droop or past <= 0:
            return along, 0.0
        per_mm = self._droop / self._arc_mm
        turned = per_mm * past
        return self._arc_mm - sin(turned) / per_mm, -(1.0 - cos(turned)) / per_mm

    @property
    def controls(self) -> tuple[Point, Point, Point]:
        """The bend as a cubic curve from the shank's end: two handles and its end."""
        x, y = self.bend_start
        fall = self._fall_mm
        end = (x, y - fall)
        reach = self.look.above * fall
        return (
            (x - cos(self._droop) * reach, y - sin(self._droop) * reach),
            (end[0] - self.look.below * fall, end[1]),
            end,
        )

    def _on_bend(self, share: float) -> Point:
        (x0, y0), ((x1, y1), (x2, y2), (x3, y3)) = self.bend_start, self.controls
        rest = 1.0 - share
        a, b, c, d = rest**3, 3 * rest * rest * share, 3 * rest * share * share, share**3
        return a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3

    def heading(self, along: float) -> float:
        """Return how far the way forward is turned up from level, in radians."""
        if along < 0:
            at = min(len(self._bend) - 1, max(1, bisect(self._reached, -along)))
            one, two = self._bend[at], self._bend[at - 1]
            return atan2(two[1] - one[1], two[0] - one[0])
        past = self._arc_mm - along
        return self._droop / self._arc_mm * past if past > 0 else 0.0

    def stand(self, along: float, up: float = 0.0) -> Point:
        """Return the place at a height above the wire's middle."""
        if along < 0:
            at = min(len(self._bend) - 1, max(1, bisect(self._reached, -along)))
            span = self._reached[at] - self._reached[at - 1]
            share = (-along - self._reached[at - 1]) / span
            one, two = self._bend[at - 1], self._bend[at]
            foot = (one[0] + (two[0] - one[0]) * share, one[1] + (two[1] - one[1]) * share)
        else:
            foot = self._on_shank(along)
        if not up:
            return foot
        turned = self.heading(along)
        return foot[0] - sin(turned) * up, foot[1] + cos(turned) * up
