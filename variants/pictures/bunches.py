"""Bunches of fibres: tails, throats, legs, posts, wings of hair and of barbs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from variants.pictures.fibre_batch import Fibre, FibreBatch, bow_fibre
from variants.pictures.hatching import draw_hatching
from variants.pictures.inks import Inks
from variants.pictures.paper import Paper, Point, Step, close_path, is_pale
from variants.pictures.spine import Axis


@dataclass(frozen=True, slots=True)
class Bunch:
    """How a bunch lies.

    Attributes
    ----------
    along_mm : float
        Where it is tied in.
    root : Point
        Where it comes out of the fly.
    angle_deg : float
        Of its middle, to the shank: 0 straight back, 90 upright, negative below.
    length_mm : float
        Of its longest fibre.
    spread_deg : float
        Between its outermost fibres.
    count : int
    width_mm : float
        Of one fibre at its root.
    uneven : float
        How much shorter the shortest is, in shares of the length.
    bow : float
        How far fibres bend outward from the middle, in shares of their length.
    thick_mm : float
        Of the whole bunch where it comes out.
    wave : float
        How far loose fibres stray from a smooth bow.
    wash : float
        How strong a tint is laid under the fibres, 0 to 1: the mass that they make together.
    thin : float
        Width of a fibre at its tip, in shares of that at its root.
    """

    along_mm: float
    root: Point
    angle_deg: float
    length_mm: float
    spread_deg: float
    count: int
    width_mm: float = 0.07
    uneven: float = 0.1
    bow: float = 0.03
    thick_mm: float = 0.12
    wave: float = 0.0
    wash: float = 0.0
    thin: float = 0.28


def draw_bunch(
    paper: Paper, group: ET.Element, spine: Axis, bunch: Bunch, inks: Sequence[Inks],
    *, measured: bool = True,
) -> None:  # fmt: skip
    """Draw a bunch, its far fibres first, its middle one as long as was computed."""
    batch, fibres = FibreBatch(paper, group, is_mass=bool(bunch.wash)), []
    count = max(2, bunch.count)
    # Bars lie at one height across fibres that grew side by side.
    bars = paper.chance.random()
    for number in range(count):
        share = number / (count - 1) - 0.5
        middle = number == count // 2
        own = bunch.length_mm
        if not middle:
            own *= 1.0 - bunch.uneven * (paper.chance.random() * 0.7 + 0.6 * abs(share))
        stray = 0.0 if middle else paper.jitter(bunch.spread_deg / count + bunch.wave * 12)
        angle = bunch.angle_deg + (0.0 if middle else share * bunch.spread_deg + stray)
        side = share * bunch.thick_mm
        root = spine.away(bunch.along_mm, bunch.root, bunch.angle_deg + 90.0, side)
        tip = spine.away(bunch.along_mm, root, angle, own)
        bend = 0.0 if middle else share * 2 * bunch.bow + paper.jitter(bunch.wave)
        fibres.append(bow_fibre(root, tip, bend))
        batch.add(
            fibres[-1], inks[number % len(inks)], bunch.width_mm,
            depth=number % 2, thin=bunch.thin, measured=middle and measured,
            chance=(bars + paper.jitter(0.16)) % 1.0,
        )  # fmt: skip
    mass = _mass(fibres, 0.94 - 0.8 * bunch.uneven)
    if bunch.wash:
        ground = inks[0].ground
        # What is pale wants all of its white, or the edges of its fibres turn it grey.
        strength = 0.95 if is_pale(ground) else bunch.wash
        paper.fill(group, mass, ground, fill_opacity=f"{strength:.2f}")
    batch.write()
    if bunch.wash and paper.is_hatched:
        draw_hatching(paper, group, mass, inks[0])


def _mass(fibres: Sequence[Fibre], share: float) -> list[Step]:
    """Return the outline of what fibres cover, from side to side, to a share of their length."""
    first, last = fibres[0], fibres[-1]
    near = [first.root, first.at(0.5)]
    far = [fibre.at(share) for fibre in fibres[:: max(1, len(fibres) // 8)]] + [last.at(share)]
    back = [last.at(0.5), last.root]
    return close_path(*near, *far, *back)
