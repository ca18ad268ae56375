"""Fibres in a batch: single barbs and hairs, each tapered and marked, written as few paths."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from math import hypot
from xml.etree import ElementTree as ET

from variants.pictures.inks import Inks
from variants.pictures.paper import PAPER, Paper, Point, Step, is_pale, line, shade

#: Barbs of one shade are drawn in these tones, so that each stands off the next.
_TONES = (-0.16, 0.0, 0.14)
#: How wide and how dark the edge of a pale fibre is, alone and among others over a tint.
_ALONE, _IN_A_MASS = (0.02, -0.46), (0.012, -0.22)
#: Marks longer than this share of a barb are drawn with its taper and its bow.
_LONG_MARK = 0.2


@dataclass(frozen=True, slots=True)
class Fibre:
    """One barb or hair: from its root, bowed by a handle, to its tip."""

    root: Point
    handle: Point
    tip: Point

    def at(self, share: float) -> Point:
        """Return a place along it."""
        rest = 1.0 - share
        a, b, c = rest * rest, 2.0 * rest * share, share * share
        return (
            a * self.root[0] + b * self.handle[0] + c * self.tip[0],
            a * self.root[1] + b * self.handle[1] + c * self.tip[1],
        )

    def aside(self, share: float) -> Point:
        """Return the unit vector to the left of the way from root to tip."""
        x = (1.0 - share) * (self.handle[0] - self.root[0]) + share * (self.tip[0] - self.handle[0])
        y = (1.0 - share) * (self.handle[1] - self.root[1]) + share * (self.tip[1] - self.handle[1])
        far = hypot(x, y) or 1.0
        return -y / far, x / far


def bow_fibre(root: Point, tip: Point, bow: float) -> Fibre:
    """Return a fibre whose length along the bow is the distance from root to tip given.

    Parameters
    ----------
    root, tip : Point
        As it would stand if it were stiff.
    bow : float
        How far it bends to the left of its way, in shares of its length, below a third.

    Notes
    -----
    A flat arc of rise h over a chord c is about ``c (1 + 8/3 (h/c)²)`` long.
    """
    if not bow:
        return Fibre(root, ((root[0] + tip[0]) / 2, (root[1] + tip[1]) / 2), tip)
    shorter = 1.0 / (1.0 + 8.0 / 3.0 * bow * bow)
    x, y = (tip[0] - root[0]) * shorter, (tip[1] - root[1]) * shorter
    end = (root[0] + x, root[1] + y)
    return Fibre(root, (root[0] + x / 2 - y * 2 * bow, root[1] + y / 2 + x * 2 * bow), end)


class FibreBatch:
    """Gathers fibres and writes them, what lies farther off first.

    Parameters
    ----------
    paper : Paper
    group : Element
    is_mass : bool
        Whether a tint lies under the fibres, which then need no strong edge.
    """

    def __init__(self, paper: Paper, group: ET.Element, *, is_mass: bool = False) -> None:
        self.paper, self.group = paper, group
        self._edge_mm, dark = _IN_A_MASS if is_mass else _ALONE
        self._edge = shade(PAPER, dark)
        self._grounds: dict[int, dict[str, list[Step]]] = defaultdict(lambda: defaultdict(list))
        self._marks: dict[int, dict[str, list[Step]]] = defaultdict(lambda: defaultdict(list))
        self._bars: dict[int, dict[tuple[str, float], list[Step]]] = defaultdict(
            lambda: defaultdict(list)
        )

    def add(self, fibre: Fibre, inks: Inks, width: float, *, depth: int = 1, thin: float = 0.3,
            chance: float | None = None, measured: bool = False) -> None:  # fmt: skip
        """Add a fibre.

        Parameters
        ----------
        fibre : Fibre
        inks : Inks
        width : float
            At the root, in mm.
        depth : int
            What has the higher number lies nearer and is drawn later.
        thin : float
            Width at the tip, in shares of that at the root.
        chance : float, optional
            Where its marks lie; by the paper's chance without.
        measured : bool
            Whether it is marked as the one whose length was computed.
        """
        tone = _TONES[self.paper.chance.randrange(3)]
        chance = self.paper.chance.random() if chance is None else chance
        ground = shade(inks.ground, tone) if tone else inks.ground
        outline = _taper(fibre, width, thin, 0.0, 1.0)
        if measured:
            self._write(ground, outline, data_measure="length")
        else:
            self._grounds[depth][ground] += outline
        for mark in inks.marks(chance):
            ink = shade(mark.ink, tone / 2) if tone else mark.ink
            if mark.end - mark.start > _LONG_MARK:
                self._marks[depth][ink] += _taper(fibre, width * 1.12, thin, mark.start, mark.end)
                continue
            # A short mark is a stroke: half the bytes of an outline, and no eye tells them apart.
            middle = (mark.start + mark.end) / 2
            wide = round(width * 1.15 * (1.0 - (1.0 - thin) * middle), 2)
            self._bars[depth][ink, wide] += line(fibre.at(mark.start), fibre.at(mark.end))

    def write(self) -> None:
        """Write what was added."""
        for depth in sorted(self._grounds):
            for ink, steps in self._grounds[depth].items():
                self._write(ink, steps)
            for ink, steps in self._marks[depth].items():
                self._write(ink, steps)
            for (ink, wide), steps in self._bars[depth].items():
                self.paper.stroke(self.group, steps, ink, wide, stroke_linecap="butt")
        self._grounds.clear()
        self._marks.clear()
        self._bars.clear()

    def _write(self, ink: str, steps: list[Step], **told: str) -> None:
        if is_pale(ink):
            # A pale fibre would be lost on the paper: it gets an edge, as an engraver gives it.
            self.paper.shape(self.group, steps, ink, self._edge, self._edge_mm, **told)
        else:
            self.paper.fill(self.group, steps, ink, **told)


def _taper(fibre: Fibre, width: float, thin: float, start: float, end: float) -> list[Step]:
    """Return the outline of a stretch of a fibre, thinner towards the tip."""
    a, b = fibre.at(start), fibre.at(end)
    wide, slim = (width * (1.0 - (1.0 - thin) * share) / 2 for share in (start, end))
    one, two = fibre.aside(start), fibre.aside(end)
    near = [(a[0] + one[0] * wide * side, a[1] + one[1] * wide * side) for side in (1, -1)]
    far = [(b[0] + two[0] * slim * side, b[1] + two[1] * slim * side) for side in (1, -1)]
    straight = abs(one[0] * two[1] - one[1] * two[0]) < 0.02
    if straight:
        return [("M", (near[0],)), ("L", (far[0],)), ("L", (far[1],)), ("L", (near[1],)),
                ("Z", ())]  # fmt: skip
    # The handle of the stretch: where the lines along its ends meet.
    middle = fibre.at((start + end) / 2)
    handle = (2 * middle[0] - (a[0] + b[0]) / 2, 2 * middle[1] - (a[1] + b[1]) / 2)
    half = (wide + slim) / 2
    out = fibre.aside((start + end) / 2)
    bows = [
        (handle[0] + out[0] * half * side, handle[1] + out[1] * half * side) for side in (1, -1)
    ]
    return [("M", (near[0],)), ("Q", (bows[0], far[0])), ("L", (far[1],)),
            ("Q", (bows[1], near[1])), ("Z", ())]  # fmt: skip
