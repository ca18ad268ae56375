"""The fly from in front: its hackle all round, its wings apart, to the same scale.

What points at who looks is shortened; hackle that stands upright, divided wings and spent wings are
seen in their full length.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from math import cos, pi, radians, sin

from variants.geometry import HackleLook, PartShape
from variants.model import HEAD
from variants.pictures.bodies import draw_ball
from variants.pictures.fibre_batch import FibreBatch, bow_fibre
from variants.pictures.hackles import BARB_MM, GOLDEN, barbs_of
from variants.pictures.hook import draw_bend_head_on, draw_eye_head_on
from variants.pictures.inks import Inks
from variants.pictures.paper import Paper, Step, smooth_on
from variants.pictures.profile import FlyView
from variants.pictures.spine import Axis
from variants.pictures.wings import Mount, draw_feather, is_spent

_FUZZY = ("dubbed", "wisped", "flued", "piled", "spun", "twisted")
_FULL_DEG = 75.0
#: A blade that is seen askew looks narrower.
_ASKEW = 0.8


def draw_head_on(paper: Paper, fly: FlyView) -> None:
    """Draw the fly from in front, the middle of its shank at the paper's own corner."""
    geometry, looks = fly.geometry, fly.layout.looks
    shown = fly.shown
    wound = [shape for shape in shown if shape.kind.form == "wound"]
    tied_in = [
        shape
        for shape in shown
        if shape.kind.form == "wing" or shape.kind.stands in ("upright", "below", "astride")
    ]
    draw_bend_head_on(paper, geometry.hook)
    for shape in wound:
        if not shape.kind.goes_in_front:
            _draw_wound(paper, fly, shape, half=None)
    for shape in shown:
        if shape.kind.form in ("body", "thorax"):
            _draw_body(paper, fly, shape)
    for half in (0, 1):
        for shape in wound:
            if shape.kind.goes_in_front:
                _draw_wound(paper, fly, shape, half=half)
        if half == 0:
            # What hangs under the shank comes out in front of the wings.
            for shape in sorted(tied_in, key=lambda shape: shape.kind.hangs):
                _draw_feathers(paper, fly, shape)
    for shape in shown:
        if shape.kind.form == "strip":
            _draw_wing_case(paper, fly, shape)
    _draw_front(paper, fly, shown)
    draw_eye_head_on(paper, geometry.hook, looks.eyes.get(geometry.hook.eye, 0.0))


def _draw_front(paper: Paper, fly: FlyView, shown: Sequence[PartShape]) -> None:
    """Draw the head, or the bead that hides it."""
    bead = next((shape for shape in shown if shape.kind.form == "bead"), None)
    shape = bead or fly.geometry.parts[HEAD]
    part = shape.part
    if shape.cone is None:
        return
    inks = fly.inks(part) if fly.is_filled(part) else [fly.thread]
    radius = max(shape.cone.rear_mm, shape.cone.front_mm) / 2
    gloss = fly.texture(part).gloss if fly.is_filled(part) else 1.0
    draw_ball(paper, paper.group(part), (0.0, 0.0), radius, inks[0].main, gloss)


def _draw_body(paper: Paper, fly: FlyView, shape: PartShape) -> None:
    """Draw a body from its end: round, with what stands out from it."""
    if shape.cone is None:
        return
    paper.chance = random.Random(fly.seed(shape.part))
    group, texture = paper.group(shape.part), fly.texture(shape.part)
    inks = fly.inks(shape.part)
    radius = max(shape.cone.rear_mm, shape.cone.front_mm) / 2
    if texture.manner in _FUZZY:
        batch = FibreBatch(paper, group)
        for number in range(70):
            turn = 2 * pi * ((number * GOLDEN) % 1.0)
            far = radius * (1.0 + 2 * texture.reach * paper.chance.random() ** 1.5)
            root, tip = ((cos(turn) * at, sin(turn) * at) for at in (radius * 0.7, far))
            ink = Inks((inks[number % len(inks)].main,)).shade(paper.jitter(0.2))
            batch.add(bow_fibre(root, tip, paper.jitter(0.1)), ink, 0.045, thin=0.2)
        batch.write()
    draw_ball(paper, group, (0.0, 0.0), radius, inks[0].main, texture.gloss)


def _draw_wound(paper: Paper, fly: FlyView, shape: PartShape, half: int | None) -> None:
    """Draw a wound hackle: all of it, or the half of its barbs behind or before the wings."""
    paper.chance = random.Random(fly.seed(shape.part) + str(half))
    look = fly.hackle(shape)
    group = paper.group(shape.part, data_manner=look.manner)
    batch = FibreBatch(paper, group)
    inks, count = fly.inks(shape.part), barbs_of(shape)
    stands = look.manner in ("collar", "flat")
    seen = 1.0 if stands else sin(radians(shape.angle_deg))
    across = shape.cone.front_mm / 2 if shape.cone else 0.2
    lift = 0.0
    if look.manner == "flat":
        lift, across = fly.foot_of_post(shape), 0.0
    for number in range(count):
        if half is not None and number % 2 != half:
            continue
        measured = stands and number == (half or 0)
        turn = _turn(look, number, measured)
        own = (shape.length_mm or 0.0) * seen
        own *= 1.0 if measured else 0.92 + 0.08 * paper.chance.random()
        root = (cos(turn) * across, sin(turn) * across + lift)
        tip = (root[0] + cos(turn) * own, root[1] + sin(turn) * own)
        bow = 0.0 if measured else paper.jitter(0.02) + look.bow * cos(turn) * 0.5
        batch.add(bow_fibre(root, tip, bow), inks[number % len(inks)], BARB_MM, measured=measured)
    batch.write()


def _turn(look: HackleLook, number: int, measured: bool) -> float:
    """Return the way a barb points: 0 to one side, half of pi upward."""
    share = (number * GOLDEN) % 1.0
    if look.manner == "beard":
        return pi * (1.12 + 0.76 * share)
    if look.manner == "flat":
        side = 0.0 if number % 4 < 2 else pi
        tilt = radians(look.fan_deg) * (share - 0.2)
        return side if measured else side + (tilt if side == 0.0 else -tilt)
    return pi / 2 if measured else 2 * pi * share


def _draw_feathers(paper: Paper, fly: FlyView, shape: PartShape) -> None:
    """Draw wings, a post, a throat or legs as they stand to both sides."""
    paper.chance = random.Random(fly.seed(shape.part))
    look = fly.feather(shape)
    inks, length = fly.inks(shape.part), shape.length_mm or 0.0
    up = fly.height_mm((shape.rear_mm + shape.front_mm) / 2)
    axis = Axis()
    mounts: list[Mount]
    if is_spent(shape):
        mounts = [Mount(0.0, 0.3 * up, angle, length) for angle in (3.0, 177.0)]
    elif shape.kind.hangs:
        seen = length * max(0.5, sin(radians(shape.angle_deg)))
        aside = 38.0 if shape.kind.stands == "astride" else 12.0
        mounts = [Mount(0.0, -0.5 * up, -90.0 + side, seen, False) for side in (-aside, aside)]
    elif shape.angle_deg >= _FULL_DEG:
        apart = fly.layout.proportion(
            fly.geometry.styles, shape.kind.lineage, "angle between divided wings"
        )
        half = apart.nominal / 2 if apart is not None else 0.0
        sides = (-half, half) if half else (0.0,)
        mounts = [Mount(0.0, 0.75 * up, 90.0 + side, length) for side in sides]
    else:
        seen = length * sin(radians(shape.angle_deg))
        mounts = [Mount(0.0, 0.75 * up, 90.0 + side, seen, False) for side in (-14.0, 14.0)]
    narrow = replace(look, width=look.width * _ASKEW)
    for mount in mounts:
        draw_feather(paper, axis, shape, inks, narrow, mount)


def _draw_wing_case(paper: Paper, fly: FlyView, shape: PartShape) -> None:
    """Draw a wing case as a cap over the thorax."""
    up = 1.08 * fly.height_mm((shape.rear_mm + shape.front_mm) / 2)
    outer = [(cos(pi * turn / 8) * up, sin(pi * turn / 8) * up) for turn in range(1, 8)]
    inner = [(x * 0.78, y * 0.78) for x, y in reversed(outer)]
    steps: list[Step] = [("M", (outer[0],)), *smooth_on(outer), ("L", (inner[0],)),
                         *smooth_on(inner), ("Z", ())]  # fmt: skip
    ink = fly.inks(shape.part)[0]
    paper.shape(paper.group(shape.part), steps, ink.main, ink.shade(-0.5).main, 0.05)
