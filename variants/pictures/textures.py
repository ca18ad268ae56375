"""What the skin of a body looks like, manner by manner: dubbed, wound, banded, flued and the like.

Each function draws over a body whose ground is laid already, and knows no material: the tables say
which manner a stuff has, how wide its turns are and how far its fibres stand out.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import pi
from xml.etree import ElementTree as ET

from variants.geometry import Texture
from variants.pictures.fibre_batch import FibreBatch, bow_fibre
from variants.pictures.inks import Inks
from variants.pictures.outline import Outline
from variants.pictures.paper import INK, Paper, Step, blend, close_path, luma, shade


@dataclass(frozen=True, slots=True)
class Skin:
    """A body being drawn: where, on what, in which inks and how it looks."""

    paper: Paper
    group: ET.Element
    outline: Outline
    inks: Sequence[Inks]
    texture: Texture

    @property
    def main(self) -> str:
        """The shade that most of it has."""
        return self.inks[0].main

    @property
    def second(self) -> str:
        """The shade of its bands: its second one, or a darker one of the first."""
        if len(self.inks[0].shades) > 1:
            return self.inks[0].other(1)
        return self.inks[1].main if len(self.inks) > 1 else shade(self.main, -0.35)

    @property
    def line(self) -> str:
        """The engraver's ink for fine lines on it: dark on light stuff, lighter on black."""
        if luma(self.main) < 52:
            return blend(self.main, "#b9ad98", 0.34)
        return blend(self.main, INK, 0.62)

    def turns(self) -> list[float]:
        """Return the shares of the length at which its turns lie."""
        count = max(2, round(self.outline.length_mm / self.texture.pitch_mm))
        return [(turn + 0.5) / count for turn in range(count)]


def draw_texture(skin: Skin) -> None:
    """Draw a skin in its manner, and the shadow under its belly."""
    _MANNERS[skin.texture.manner](skin)


def draw_light_and_shade(skin: Skin) -> None:
    """Lay tints: light above the middle, shadow under it, and reflected light on metal."""
    paper, group, outline, main = skin.paper, skin.group, skin.outline, skin.main
    gloss = skin.texture.gloss / 4
    paper.fill(group, outline.strip(pi * 0.60, pi * 0.99), shade(main, -0.20))
    paper.fill(group, outline.strip(pi * 0.74, pi * 0.99), shade(main, -0.38))
    if gloss > 0.7:
        paper.fill(group, outline.strip(pi * 0.86, pi * 0.93), shade(main, 0.1))
        paper.fill(group, outline.strip(pi * 0.05, pi * 0.16), shade(main, -0.25))
    paper.fill(group, outline.strip(pi * 0.22, pi * 0.46), shade(main, 0.12 + 0.16 * gloss))
    if gloss > 0.2:
        paper.fill(
            group, outline.strip(pi * 0.28, pi * (0.36 + 0.03 * gloss), 0.03, 0.97),
            shade(main, 0.3 + 0.42 * gloss),
        )  # fmt: skip


def hatched_belly(skin: Skin, pitch_mm: float = 0.15) -> None:
    """Hatch the shadow: fine lines round the belly, every other one reaching higher."""
    outline = skin.outline
    count = max(4, round(outline.length_mm / pitch_mm))
    steps: list[Step] = []
    for number in range(1, count):
        share = number / count
        start = pi * (0.56, 0.72, 0.64, 0.72)[number % 4]
        steps += outline.turn(share, 0.1, start, pi * 0.97)
        if number % 2:
            steps += outline.turn(share, 0.1, pi * 0.03, pi * 0.17)
    skin.paper.stroke(skin.group, steps, skin.line, 0.026)


def _smooth(skin: Skin) -> None:
    hatched_belly(skin)


def _draw_stripes(skin: Skin) -> None:
    """Turns edge to edge of a strand with a light and a dark edge, as a stripped quill has."""
    paper, outline, pitch = skin.paper, skin.outline, skin.texture.pitch_mm
    bands: list[Step] = []
    shadows: list[Step] = []
    for share in skin.turns():
        bands += outline.band(share, pitch, pitch * 0.42)
        shadows += outline.band(share, pitch, pitch * 0.42, pi * 0.66, pi)
    paper.fill(skin.group, bands, skin.second)
    paper.fill(skin.group, shadows, shade(skin.second, -0.3))
    _draw_bands(skin)


def _draw_bands(skin: Skin) -> None:
    """Turns edge to edge: a line at each edge."""
    paper, outline, pitch = skin.paper, skin.outline, skin.texture.pitch_mm
    turns = skin.turns()
    lines: list[Step] = []
    for share in turns:
        lines += outline.turn(share - 0.21 * pitch / outline.length_mm, pitch)
    paper.stroke(skin.group, lines, skin.line, 0.04)
    hatched_belly(skin, 0.2)


def _draw_ridges(skin: Skin) -> None:
    """Turns with a raised edge that shows as small teeth on back and belly."""
    paper, outline, pitch = skin.paper, skin.outline, skin.texture.pitch_mm
    _draw_stripes(skin)
    teeth: list[Step] = []
    beyond = skin.texture.reach * outline.thickest_mm
    for share in skin.turns():
        width = 0.3 * pitch / outline.length_mm
        for turn in (0.0, pi):
            at = share + (0.25 if turn == 0.0 else -0.25) * pitch / outline.length_mm
            back, front = max(0.0, at - width), min(1.0, at + width)
            teeth += close_path(
                outline.at(back, turn), outline.out(back, turn, beyond), outline.at(front, turn)
            )
    paper.fill(skin.group, teeth, skin.second)


def _wound(skin: Skin) -> None:
    """Round strand on strand: a fine line between the turns and a glint on each."""
    outline = skin.outline
    pitch = max(skin.texture.pitch_mm, outline.length_mm / 60)
    lines: list[Step] = []
    glints: list[Step] = []
    count = max(3, round(outline.length_mm / pitch))
    for turn in range(1, count):
        lines += outline.turn(turn / count, pitch)
        glints += outline.turn((turn - 0.5) / count, pitch, pi * 0.24, pi * 0.42)
    skin.paper.stroke(skin.group, lines, skin.line, 0.035)
    if skin.texture.gloss >= 2:
        skin.paper.stroke(skin.group, glints, shade(skin.main, 0.6), min(0.1, pitch * 0.4))


def _draw_twist(skin: Skin) -> None:
    """A yarn of several plies: slanting bands with a soft edge."""
    outline, pitch = skin.outline, skin.texture.pitch_mm
    lines: list[Step] = []
    lights: list[Step] = []
    for share in skin.turns():
        lines += outline.turn(share, pitch * 1.9)
        lights += outline.band(share + 0.3 * pitch / outline.length_mm, pitch * 1.9, pitch * 0.3,
                               pi * 0.15, pi * 0.5)  # fmt: skip
    skin.paper.fill(skin.group, lights, shade(skin.main, 0.2))
    skin.paper.stroke(skin.group, lines, skin.line, 0.05)
    _hairs(skin, per_mm=12.0, across=0.5)


def _draw_dubbing(skin: Skin) -> None:
    """Hairs spun on the thread: they follow its turns, and stray from back and belly."""
    outline, pitch = skin.outline, skin.texture.pitch_mm
    steps: list[Step] = []
    for share in skin.turns():
        slack = skin.paper.jitter(0.25) * pitch / outline.length_mm
        steps += outline.turn(share + slack, pitch * 1.4, pi * 0.12, pi * 0.95)
    skin.paper.stroke(skin.group, steps, blend(skin.main, skin.line, 0.45), 0.05)
    _strands(skin, per_mm=15.0)
    _hairs(skin, per_mm=26.0, across=0.9)


def _draw_wisps(skin: Skin) -> None:
    _strands(skin, per_mm=10.0)
    _hairs(skin, per_mm=20.0, across=1.0, thin=0.1)


def _draw_spun(skin: Skin) -> None:
    """Hair spun and clipped: ends all over, cut to one height."""
    _strands(skin, per_mm=10.0)
    _brush(skin, per_mm=26.0, even=0.8)


def _draw_pile(skin: Skin) -> None:
    """A pile that stands out evenly from a core that is wound in turns."""
    outline, pitch = skin.outline, skin.texture.pitch_mm
    steps: list[Step] = []
    for share in skin.turns():
        steps += outline.turn(share, pitch)
    skin.paper.stroke(skin.group, steps, blend(skin.main, skin.line, 0.6), 0.09)
    _brush(skin, per_mm=30.0, even=0.7)


def _draw_flue(skin: Skin) -> None:
    """Herl: turns of a dark stem, its flue standing out all round in close rings."""
    outline, pitch = skin.outline, skin.texture.pitch_mm
    stems: list[Step] = []
    for share in skin.turns():
        stems += outline.band(share, pitch, pitch * 0.2)
    skin.paper.fill(skin.group, stems, shade(skin.main, -0.35))
    batch = FibreBatch(skin.paper, skin.group)
    beyond = skin.texture.reach * outline.thickest_mm
    turns = skin.turns()
    flues = max(4, round(pitch * 13))
    for place, share in enumerate(turns):
        inks = skin.inks[place % len(skin.inks)]
        for flue in range(flues):
            along = share + (flue / flues - 0.5) * pitch / outline.length_mm
            if not 0.0 <= along <= 1.0:
                continue
            ink = Inks((inks.other((flue * 2 // flues) % 2),))
            for side in (0.0, pi):
                far = beyond * (0.75 + 0.3 * skin.paper.chance.random())
                lean = (0.5 - flue / flues) * pitch * -0.5 + far * 0.35
                batch.add(
                    bow_fibre(outline.out(along, side, -0.55 * outline.radius(along)),
                          outline.out(along, side, far, lean), 0.0),
                    ink.shade(-0.1 if side else 0.06), 0.05, thin=0.4,
                )  # fmt: skip
    batch.write()


def _strands(skin: Skin, per_mm: float) -> None:
    """Draw short hairs that lie on the body along its turns: lighter above, darker below."""
    paper, outline = skin.paper, skin.outline
    batch = FibreBatch(paper, skin.group)
    for number in range(round(outline.length_mm * per_mm)):
        share, turn = paper.chance.random(), pi * (0.08 + 0.84 * paper.chance.random())
        reach = 0.12 + 0.2 * paper.chance.random()
        other = min(pi * 0.98, turn + reach * pi)
        shift = (0.1 + 0.25 * paper.chance.random()) * skin.texture.pitch_mm
        start = outline.at(share, turn)
        end = outline.at(min(1.0, max(0.0, share - shift / outline.length_mm)), other)
        light = 0.22 if turn < pi * 0.45 else -0.32
        ink = skin.inks[number % len(skin.inks)].shade(light * (0.4 + 0.6 * paper.chance.random()))
        batch.add(bow_fibre(start, end, paper.jitter(0.12)), _without_marks(ink), 0.045, thin=0.3)
    batch.write()


def _hairs(skin: Skin, per_mm: float, across: float, thin: float = 0.15) -> None:
    """Draw hairs that stray from back and belly, leaning back."""
    paper, outline = skin.paper, skin.outline
    batch = FibreBatch(paper, skin.group)
    reach = skin.texture.reach * outline.thickest_mm
    for number in range(round(outline.length_mm * per_mm)):
        share, side = paper.chance.random(), 0.0 if paper.chance.random() < 0.5 else pi
        # Few stray far: the square of a chance is mostly small.
        far = reach * (0.14 + 0.86 * paper.chance.random() ** 1.6)
        lean = (0.5 + 1.1 * paper.chance.random()) * (far + 0.1) * across
        root = outline.out(share, side, -0.35 * outline.radius(share))
        tip = outline.out(share, side, far, lean)
        ink = skin.inks[number % len(skin.inks)].shade(-0.12 if side else 0.05)
        bow = (0.14 if side == 0.0 else -0.14) * paper.chance.random()
        batch.add(bow_fibre(root, tip, bow), _without_marks(ink), 0.04, thin=thin)
    batch.write()


def _brush(skin: Skin, per_mm: float, even: float) -> None:
    """Draw a dense pile of short ends at back and belly, nearly all of one height."""
    paper, outline = skin.paper, skin.outline
    batch = FibreBatch(paper, skin.group)
    beyond = skin.texture.reach * outline.thickest_mm
    count = round(outline.length_mm * per_mm)
    for number in range(count):
        share, side = (number + paper.chance.random()) / count, pi * (number % 2)
        far = beyond * (even + (1.0 - even) * paper.chance.random())
        root = outline.out(share, side, -0.6 * outline.radius(share) * paper.chance.random())
        tip = outline.out(share, side, far, paper.jitter(0.12))
        ink = skin.inks[number % len(skin.inks)].shade(-0.15 if side else 0.05)
        batch.add(bow_fibre(root, tip, 0.0), _without_marks(ink), 0.055, thin=0.5)
    batch.write()


def _without_marks(inks: Inks) -> Inks:
    """Return the main shade alone: a fur's hair is too short to show its marking."""
    return Inks((inks.main,))


_MANNERS: dict[str, Callable[[Skin], None]] = {
    "smooth": _smooth,
    "banded": _draw_bands,
    "striped": _draw_stripes,
    "wound": _wound,
    "dubbed": _draw_dubbing,
    "flued": _draw_flue,
    "piled": _draw_pile,
    "twisted": _draw_twist,
    "ridged": _draw_ridges,
    "spun": _draw_spun,
    "wisped": _draw_wisps,
}
