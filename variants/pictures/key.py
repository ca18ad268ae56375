"""The key under a drawing: each part, with a patch of its colour, hatched or marked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from variants.pictures.fibre_batch import FibreBatch, bow_fibre
from variants.pictures.hatching import draw_hatching
from variants.pictures.inks import Inks
from variants.pictures.paper import INK, Paper, Point, close_path

ROW_MM = 1.7
_WIDE_MM, _HIGH_MM = 2.4, 1.15
#: Where words begin, to the right of a patch.
WORDS_MM = 3.0


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a key: a part, what it is made of, and its inks."""

    words: str
    inks: Sequence[Inks]


def draw_patch(paper: Paper, group: ET.Element, corner: Point, inks: Sequence[Inks]) -> None:
    """Draw a patch in the inks of a part, side by side where it is made of several.

    Parameters
    ----------
    paper : Paper
    group : Element
    corner : Point
        Its upper left corner, in the paper's own directions (forward, up).
    inks : sequence of Inks
    """
    wide = _WIDE_MM / len(inks)
    for place, one in enumerate(inks):
        left, top = corner[0] - place * wide, corner[1]
        box = close_path(
            (left, top), (left - wide, top), (left - wide, top - _HIGH_MM), (left, top - _HIGH_MM)
        )
        # Named, so that no barb of the same ink is joined to it and cut out of it.
        paper.fill(group, box, one.ground, data_patch=one.hatch)
        if len(one.shades) > 1:
            _barbs(paper, group, (left, top), wide, one)
        else:
            draw_hatching(paper, group, box, one)
        paper.stroke(group, box, INK, 0.05)


def _barbs(paper: Paper, group: ET.Element, corner: Point, wide: float, inks: Inks) -> None:
    """Draw barbs side by side, stems to the left, so that their marking is seen."""
    batch = FibreBatch(paper, group, is_mass=True)
    rows = 4
    high = _HIGH_MM / rows
    for row in range(rows):
        up = corner[1] - (row + 0.5) * high
        barb = bow_fibre((corner[0], up), (corner[0] - wide, up), 0.0)
        batch.add(barb, inks, high * 0.9, thin=1.0, chance=0.3 + 0.1 * (row % 2))
    batch.write()
