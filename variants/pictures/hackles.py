"""Wound hackles: collars, palmered bodies, swept and drawn-under ones, and those round a post."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi, radians, sin
from xml.etree import ElementTree as ET

from variants.geometry import HackleLook, PartShape
from variants.pictures.fibre_batch import Fibre, FibreBatch, bow_fibre
from variants.pictures.inks import Inks
from variants.pictures.paper import Paper, Point, line
from variants.pictures.spine import Spine

#: Barbs drawn for one turn of hackle, an even number, that each half of a hackle may have its
#: share: fewer than there are, or the picture were a blot.
BARBS_TO_A_TURN = 14
#: How far the barbs of a turn spread over its share of the hackle.
_SPREAD = 0.55
_STEM_MM = 0.2
#: Steps of this share of the round leave no two barbs in file (the golden section).
GOLDEN = 0.618034
BARB_MM = 0.074


def barbs_of(shape: PartShape) -> int:
    """Return how many barbs of a wound hackle are drawn: as many more as it has turns."""
    return turns_of(shape) * BARBS_TO_A_TURN


def turns_of(shape: PartShape) -> int:
    """Return how many turns of a hackle are drawn."""
    return max(1, shape.counts.get("turns", 3))


def draw_wound(
    paper: Paper, spine: Spine, shape: PartShape, inks: Sequence[Inks], look: HackleLook
) -> None:
    """Draw a hackle wound round the shank, seen from the side.

    Notes
    -----
    A barb at an angle round the shank shows its height times the cosine; the upright ones show
    their full length. Barbs in front lean to the eye, those behind away from it. Those of one turn
    stand together, and its stem crosses the shank between them.
    """
    group = paper.group(shape.part, data_manner=look.manner)
    _draw_stem(paper, group, spine, shape, inks)
    batch = FibreBatch(paper, group)
    length, count = shape.length_mm or 0.0, barbs_of(shape)
    across = shape.cone.front_mm / 2 if shape.cone else 0.2
    lean = 90.0 if look.manner == "collar" else shape.angle_deg
    for number in range(count):
        share = _share(number, count)
        along = shape.rear_mm + (shape.front_mm - shape.rear_mm) * share
        measured = number == count // 2
        turn = _round(look.manner, number, measured)
        # What is drawn under comes from one place; the rest fans out from rear to front.
        fan = (2.0 * share - 1.0) * look.fan_deg if look.manner != "beard" else 0.0
        wobble = paper.jitter(0.5 * look.fan_deg + 4.0)
        stiff = lean if measured else min(172.0, max(4.0, lean + fan + wobble))
        own = length * (1.0 if measured else 0.93 + 0.07 * paper.chance.random())
        fibre = _standing(spine, along, across, turn, stiff, own, look.bow)
        depth = 2 if sin(turn) > -0.25 else 0
        ink = inks[number % len(inks)]
        batch.add(fibre, ink if depth else ink.fade(0.2), BARB_MM if depth else BARB_MM * 0.85,
                  depth=depth, measured=measured)  # fmt: skip
    batch.write()


def _share(number: int, count: int) -> float:
    """Return where along the hackle a barb stands: near the middle of its turn."""
    turn, at = divmod(number, BARBS_TO_A_TURN)
    within = 0.5 + _SPREAD * ((at + 0.5) / BARBS_TO_A_TURN - 0.5)
    return (turn + within) * BARBS_TO_A_TURN / count


def _draw_stem(
    paper: Paper, group: ET.Element, spine: Spine, shape: PartShape, inks: Sequence[Inks]
) -> None:
    """Draw the stem's turns over what they lie on, each a band of its own."""
    turns = turns_of(shape)
    pitch = (shape.front_mm - shape.rear_mm) / turns
    width = max(0.03, min(shape.strand_mm or _STEM_MM, 0.5 * pitch))
    for turn in range(turns):
        share = (turn + 0.5) / turns
        along = shape.rear_mm + (shape.front_mm - shape.rear_mm) * share
        radius = shape.cone.diameter_mm(share) / 2 if shape.cone else _STEM_MM
        ends = (spine.stand(along + side * pitch / 4, side * radius) for side in (1.0, -1.0))
        dark = inks[turn % len(inks)].shade(-0.35).main
        paper.stroke(group, line(*ends), dark, width, data_measure="turn")


def _round(manner: str, number: int, measured: bool) -> float:
    """Return where round the shank a barb stands: 0 up, pi down, half of pi to who looks."""
    if manner == "beard":
        return pi if measured else pi * (0.56 + 0.88 * ((number * GOLDEN) % 1.0))
    return 0.0 if measured else 2.0 * pi * ((number * GOLDEN) % 1.0)


def _standing(
    spine: Spine, along: float, across: float, turn: float, lean: float, length: float, bow: float
) -> Fibre:
    height = cos(turn)
    root = spine.stand(along, across * height)
    angle = pi - radians(lean)
    heading = spine.heading(along)
    forward, up = cos(angle) * length, sin(angle) * length * height
    tip = (
        root[0] + cos(heading) * forward - sin(heading) * up,
        root[1] + sin(heading) * forward + cos(heading) * up,
    )
    # Soft barbs bow outward and close over the body again.
    return bow_fibre(root, tip, -bow * height if bow else 0.0)


def draw_flat(
    paper: Paper, root: Point, shape: PartShape, inks: Sequence[Inks], look: HackleLook, near: bool
) -> None:
    """Draw the far or the near half of a hackle wound flat round a post: a disc seen edge on.

    The disc is dished a little, and looked at from a little above, as it is at the bench.
    """
    group = paper.group(shape.part, data_manner=look.manner, data_half="near" if near else "far")
    batch = FibreBatch(paper, group)
    length, count = shape.length_mm or 0.0, barbs_of(shape)
    for number in range(count // 2):
        measured = near and number == 0
        turn = pi if measured else pi * ((number * GOLDEN) % 1.0)
        depth = sin(turn) * (1.0 if near else -1.0)
        own = length * (1.0 if measured else 0.92 + 0.08 * paper.chance.random())
        lift = radians(look.fan_deg) * (0.6 + 0.4 * paper.jitter(1.0)) if not measured else 0.0
        out, rise = cos(turn) * own * cos(lift), own * sin(lift)
        tip = (root[0] + out, root[1] + rise - depth * own * 0.17)
        bow = 0.0 if measured else look.bow * cos(turn)
        ink = inks[number % len(inks)]
        batch.add(bow_fibre(root, tip, bow), ink if near else ink.fade(0.2), BARB_MM,
                  measured=measured)  # fmt: skip
    batch.write()
