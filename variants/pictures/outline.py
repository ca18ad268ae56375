"""The outline of what is built round the shank, and lines that run round it as seen from aside."""

from __future__ import annotations

from math import cos, pi, sin, sqrt

from variants.geometry import PartShape
from variants.pictures.paper import Point, Step, smooth_on
from variants.pictures.spine import Spine

_STEPS = 10
#: Where an end that is rounded off is sampled, close where it curves most.
_ROUND = (0.0, 0.06, 0.22, 0.5, 0.8, 1.0)


class Outline:
    """A tapered body on its spine, its ends rounded.

    Places on it are told by the share of its length, 0 at the rear, and by the angle round it: 0
    on its back, pi under its belly, half of pi towards who looks.

    Parameters
    ----------
    spine : Spine
    shape : PartShape
        One with a cone.
    rear_round, front_round : float
        How much of the length each end takes to round off, in shares of its own thickness.
    """

    def __init__(
        self, spine: Spine, shape: PartShape, rear_round: float = 0.5, front_round: float = 0.5
    ) -> None:
        if shape.cone is None:
            raise ValueError("only what has a cone has an outline")
        self.spine = spine
        self.rear_mm, self.length_mm = shape.rear_mm, shape.front_mm - shape.rear_mm
        self._rear, self._front = shape.cone.rear_mm / 2, shape.cone.front_mm / 2
        self._core = min(shape.cone.core_mm / 2, self._rear, self._front)
        half = 0.45
        length = self.length_mm or 1.0
        self._rear_share = min(half, rear_round * self._rear * 2 / length)
        self._front_share = min(half, front_round * self._front * 2 / length)

    @property
    def thickest_mm(self) -> float:
        """The diameter where it is thickest."""
        return 2 * max(self._rear, self._front)

    def radius(self, share: float) -> float:
        """Return half the thickness at a share of the length."""
        inner = 1.0 - self._rear_share - self._front_share
        along = min(1.0, max(0.0, (share - self._rear_share) / inner))
        full = self._rear + (self._front - self._rear) * along
        ends = 1.0
        if share < self._rear_share:
            ends = sqrt(max(0.0, 1.0 - (1.0 - share / self._rear_share) ** 2))
        elif share > 1.0 - self._front_share:
            ends = sqrt(max(0.0, 1.0 - (1.0 - (1.0 - share) / self._front_share) ** 2))
        # An end comes down to what the body is built on, not to a point.
        return self._core + (full - self._core) * ends

    def at(self, share: float, turn: float) -> Point:
        """Return a place on its skin."""
        return self.spine.stand(
            self.rear_mm + self.length_mm * share, self.radius(share) * cos(turn)
        )

    def out(self, share: float, turn: float, beyond_mm: float, lean_mm: float = 0.0) -> Point:
        """Return a place so far beyond its skin, and so far behind it."""
        up = (self.radius(share) + beyond_mm) * cos(turn)
        return self.spine.stand(self.rear_mm + self.length_mm * share - lean_mm, up)

    def edge(self) -> list[Step]:
        """Return the steps of its whole outline."""
        inner = 1.0 - self._rear_share - self._front_share
        shares = [self._rear_share * step for step in _ROUND]
        shares += [self._rear_share + inner * step / _STEPS for step in range(1, _STEPS)]
        shares += [1.0 - self._front_share * step for step in reversed(_ROUND)]
        back = [self.at(share, 0.0) for share in shares]
        belly = [self.at(share, pi) for share in reversed(shares)]
        return [
            ("M", (back[0],)), *smooth_on(back), ("L", (belly[0],)), *smooth_on(belly), ("Z", ()),
        ]  # fmt: skip

    def strip(self, above: float, below: float, start: float = 0.0, end: float = 1.0) -> list[Step]:
        """Return the steps of a strip along it, between two angles round it."""
        shares = [start + (end - start) * step / _STEPS for step in range(_STEPS + 1)]
        top = [self.at(share, above) for share in shares]
        low = [self.at(share, below) for share in reversed(shares)]
        return [("M", (top[0],)), *smooth_on(top), ("L", (low[0],)), *smooth_on(low), ("Z", ())]

    def turn(
        self, share: float, pitch_mm: float, start: float = 0.0, end: float = pi
    ) -> list[Step]:
        """Return the steps of the near side of a turn, which rises towards the eye.

        Notes
        -----
        A helix seen from aside: along by ``pitch (pi - angle) / 2 pi``, up by ``r cos angle``; a
        cubic curve with the helix's own directions at its ends.
        """
        return [("M", (self._on(share, pitch_mm, start),)), self._arc(share, pitch_mm, start, end)]

    def band(self, share: float, pitch_mm: float, width_mm: float, start: float = 0.0,
             end: float = pi, beyond_mm: float = 0.0) -> list[Step]:  # fmt: skip
        """Return the steps of a strand's near side: a strip so wide wound at a pitch."""
        half = width_mm / 2 / (self.length_mm or 1.0)
        return [
            ("M", (self._on(share - half, pitch_mm, start, beyond_mm),)),
            self._arc(share - half, pitch_mm, start, end, beyond_mm),
            ("L", (self._on(share + half, pitch_mm, end, beyond_mm),)),
            self._arc(share + half, pitch_mm, end, start, beyond_mm),
            ("Z", ()),
        ]

    def _on(self, share: float, pitch_mm: float, turn: float, beyond_mm: float = 0.0) -> Point:
        along = self.length_mm * share + pitch_mm * (pi / 2 - turn) / (2 * pi)
        place = min(1.0, max(0.0, along / (self.length_mm or 1.0)))
        up = (self.radius(place) + beyond_mm) * cos(turn)
        return self.spine.stand(self.rear_mm + along, up)

    def _arc(
        self, share: float, pitch_mm: float, start: float, end: float, beyond_mm: float = 0.0
    ) -> Step:
        one, two = (self._on(share, pitch_mm, turn, beyond_mm) for turn in (start, end))
        third = (end - start) / 3
        heading = self.spine.heading(self.rear_mm + self.length_mm * share)
        radius = self.radius(min(1.0, max(0.0, share))) + beyond_mm
        handles = []
        for place, turn, way in ((one, start, third), (two, end, -third)):
            along, up = -pitch_mm / (2 * pi) * way, -radius * sin(turn) * way
            handles.append(
                (
                    place[0] + cos(heading) * along - sin(heading) * up,
                    place[1] + sin(heading) * along + cos(heading) * up,
                )
            )
        return "C", (handles[0], handles[1], two)
