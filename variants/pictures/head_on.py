"""The fly from in front: its hackle all round, its wings apart, to the same scale.

What points at who looks is shortened; hackle that stands upright, divided wings and spent wings are
seen in their full length.
"""

from __future__ import annotations

import random
from dataclasses import replace
from math import cos, pi, radians, sin

from variants.geometry import HackleLook, PartShape
from variants.pictures.bodies import draw_ball
from variants.pictures.hackles import BARB_MM, GOLDEN, barbs_of
from variants.pictures.hook import draw_bend_head_on, draw_eye_head_on
from variants.pictures.inks import Inks
from variants.pictures.paper import Paper, Step, smooth_on
from variants.pictures.profile import Sitter
from variants.pictures.sheaf import Sheaf, bowed
from variants.pictures.spine import Axis
from variants.pictures.wings import Mount, draw_feather, is_spent

_FUZZY = ("dubbed", "wisped", "flued", "piled", "spun", "twisted")
_FULL_DEG = 75.0
#: A blade that is seen askew looks narrower.
_ASKEW = 0.8


def draw_head_on(paper: Paper, sitter: Sitter) -> None:
    """Draw the fly from in front, the middle of its shank at the paper's own corner."""
    geometry, looks = sitter.geometry, sitter.layout.looks
    shown = {shape.part: shape for shape in sitter.shown}
    draw_bend_head_on(paper, geometry.hook)
    if "palmer" in shown:
        _wound(paper, sitter, shown["palmer"], half=None)
    for part in ("body", "thorax"):
        if part in shown:
            _ball(paper, sitter, shown[part])
    for half in (0, 1):
        for part in ("hackle", "collar"):
            if part in shown:
                _wound(paper, sitter, shown[part], half=half)
        if half == 0:
            for part in ("wing", "post", "throat", "legs"):
                if part in shown:
                    _feathers(paper, sitter, shown[part])
    if "wing-case" in shown:
        _wing_case(paper, sitter)
    _front(paper, sitter, shown)
    draw_eye_head_on(paper, geometry.hook, looks.eyes.get(geometry.hook.eye, 0.0))


def _front(paper: Paper, sitter: Sitter, shown: dict[str, PartShape]) -> None:
    """Draw the head, or the bead that hides it."""
    part = "bead" if "bead" in shown else "head"
    shape = shown[part]
    if shape.cone is None:
        return
    inks = sitter.inks(part) if sitter.is_filled(part) else [sitter.thread]
    radius = max(shape.cone.rear_mm, shape.cone.front_mm) / 2
    gloss = sitter.texture(part).gloss if sitter.is_filled(part) else 1.0
    draw_ball(paper, paper.group(part), (0.0, 0.0), radius, inks[0].main, gloss)


def _ball(paper: Paper, sitter: Sitter, shape: PartShape) -> None:
    """Draw a body from its end: round, with what stands out from it."""
    if shape.cone is None:
        return
    paper.chance = random.Random(sitter.seed(shape.part))
    group, texture = paper.group(shape.part), sitter.texture(shape.part)
    inks = sitter.inks(shape.part)
    radius = max(shape.cone.rear_mm, shape.cone.front_mm) / 2
    if texture.manner in _FUZZY:
        sheaf = Sheaf(paper, group)
        for number in range(70):
            turn = 2 * pi * ((number * GOLDEN) % 1.0)
            far = radius * (1.0 + 2 * texture.reach * paper.chance.random() ** 1.5)
            root, tip = ((cos(turn) * at, sin(turn) * at) for at in (radius * 0.7, far))
            ink = Inks((inks[number % len(inks)].main,)).shaded(paper.jitter(0.2))
            sheaf.add(bowed(root, tip, paper.jitter(0.1)), ink, 0.045, thin=0.2)
        sheaf.close()
    draw_ball(paper, group, (0.0, 0.0), radius, inks[0].main, texture.gloss)


def _wound(paper: Paper, sitter: Sitter, shape: PartShape, half: int | None) -> None:
    """Draw a wound hackle: all of it, or the half of its barbs behind or before the wings."""
    paper.chance = random.Random(sitter.seed(shape.part) + str(half))
    look = sitter.hackle(shape.part)
    group = paper.group(shape.part, data_manner=look.manner)
    sheaf = Sheaf(paper, group)
    inks, count = sitter.inks(shape.part), barbs_of(shape)
    stands = look.manner in ("collar", "flat")
    seen = 1.0 if stands else sin(radians(shape.angle_deg))
    across = shape.cone.front_mm / 2 if shape.cone else 0.2
    lift = 0.0
    if look.manner == "flat":
        lift, across = sitter.foot_of_post(shape), 0.0
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
        sheaf.add(bowed(root, tip, bow), inks[number % len(inks)], BARB_MM, measured=measured)
    sheaf.close()


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


def _feathers(paper: Paper, sitter: Sitter, shape: PartShape) -> None:
    """Draw wings, a post, a throat or legs as they stand to both sides."""
    paper.chance = random.Random(sitter.seed(shape.part))
    material = sitter.chosen[shape.part].ingredients[0].material
    look = sitter.layout.looks.feather(shape.part, material.id, material.kind)
    inks, length = sitter.inks(shape.part), shape.length_mm or 0.0
    up = sitter.height_mm((shape.rear_mm + shape.front_mm) / 2)
    axis = Axis()
    mounts: list[Mount]
    if is_spent(shape):
        mounts = [Mount(0.0, 0.3 * up, angle, length) for angle in (3.0, 177.0)]
    elif shape.part in ("throat", "legs"):
        seen = length * max(0.5, sin(radians(shape.angle_deg)))
        aside = 38.0 if shape.part == "legs" else 12.0
        mounts = [Mount(0.0, -0.5 * up, -90.0 + side, seen, False) for side in (-aside, aside)]
    elif shape.angle_deg >= _FULL_DEG:
        apart = sitter.layout.proportion(
            sitter.geometry.style, shape.part, "angle between divided wings"
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


def _wing_case(paper: Paper, sitter: Sitter) -> None:
    """Draw a wing case as a cap over the thorax."""
    shape = sitter.geometry.parts["wing-case"]
    up = 1.08 * sitter.height_mm((shape.rear_mm + shape.front_mm) / 2)
    outer = [(cos(pi * turn / 8) * up, sin(pi * turn / 8) * up) for turn in range(1, 8)]
    inner = [(x * 0.78, y * 0.78) for x, y in reversed(outer)]
    steps: list[Step] = [("M", (outer[0],)), *smooth_on(outer), ("L", (inner[0],)),
                         *smooth_on(inner), ("Z", ())]  # fmt: skip
    ink = sitter.inks("wing-case")[0]
    paper.shape(paper.group("wing-case"), steps, ink.main, ink.shaded(-0.5).main, 0.05)
