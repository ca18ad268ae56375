"""The paper that a fly is drawn on: SVG elements in millimetres, the head to the left.

Places are told in the plane of the hook, from the bend forward and upward; the paper turns them
into SVG's own directions. Text goes through the XML writer, so nothing in a name can be markup.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache
from xml.etree import ElementTree as ET

Point = tuple[float, float]
#: One step of a path: SVG's letter (M, L, Q, C or Z) and the places it takes.
Step = tuple[str, tuple[Point, ...]]
INK = "#2b2620"
PAPER = "#f7f1e3"
FONT = "'Libertinus Serif', 'Linux Libertine', Georgia, serif"


@dataclass
class Paper:
    """What is drawn so far.

    Attributes
    ----------
    eye_mm : float
        Where the eye is, from the bend: the left edge of SVG's own places.
    chance : random.Random
        Seeded anew for each part, so that the same stuff is the same drawing.
    is_hatched : bool
        Whether areas are hatched by their family of colour.
    root : Element
        A group that everything is put into.
    low, high : list of float
        What is taken up so far, in SVG's directions.
    """

    eye_mm: float
    chance: random.Random = field(default_factory=lambda: random.Random(0))
    is_hatched: bool = False
    root: ET.Element = field(default_factory=lambda: ET.Element("g"))
    low: list[float] = field(default_factory=lambda: [0.0, 0.0])
    high: list[float] = field(default_factory=lambda: [0.0, 0.0])

    def group(self, part: str, **told: str) -> ET.Element:
        """Begin a group for a part."""
        return ET.SubElement(self.root, "g", {"data-part": part, **_dash_names(told)})

    def beside(self, other: Paper, gap_mm: float) -> None:
        """Put what is on another paper to the right of what is on this one, both shanks level."""
        shift = self.high[0] + gap_mm - other.low[0]
        other.root.set("transform", f"translate({number(shift)} 0)")
        self.root.append(other.root)
        self.high[0] = other.high[0] + shift
        self.low[1] = min(self.low[1], other.low[1])
        self.high[1] = max(self.high[1], other.high[1])

    def jitter(self, share: float) -> float:
        """Return a number between -share and share, by chance."""
        return share * (2.0 * self.chance.random() - 1.0)

    def path(self, steps: Iterable[Step]) -> str:
        """Return SVG's words for a path, and note what it takes up.

        Steps are written from place to place in whole hundredths of a millimetre, a fifth of a
        hair, so that no rounding adds up.
        """
        words: list[str] = []
        here = start = (0, 0)
        for letter, places in steps:
            if letter == "Z":
                words.append("z")
                here = start
                continue
            told = []
            there = here
            for place in places:
                there = self._hundredths(place)
                told += [there[0] - here[0], there[1] - here[1]]
            if letter == "M":
                # A move is told from the paper's corner, or paths could not be joined.
                told, start = [*there], there
            words.append((letter if letter == "M" else letter.lower()) + _join(told))
            here = there
        return "".join(words)

    def _hundredths(self, place: Point) -> tuple[int, int]:
        x, y = self.eye_mm - place[0], -place[1]
        if x < self.low[0]:
            self.low[0] = x
        elif x > self.high[0]:
            self.high[0] = x
        if y < self.low[1]:
            self.low[1] = y
        elif y > self.high[1]:
            self.high[1] = y
        return round(x * 100), round(y * 100)

    def stroke(self, group: ET.Element, steps: Iterable[Step], ink: str, width: float,
               **told: str) -> None:  # fmt: skip
        """Draw along a path."""
        # What is not filled is the rule on this paper: the root group says so once.
        self._put(group, self.path(steps), {"stroke": ink, "stroke-width": number(width)}, told)

    def fill(self, group: ET.Element, steps: Iterable[Step], ink: str, **told: str) -> None:
        """Fill a path."""
        self._put(group, self.path(steps), {"fill": ink}, told)

    def shape(self, group: ET.Element, steps: Iterable[Step], fill: str, ink: str, width: float,
              **told: str) -> None:  # fmt: skip
        """Fill a path and draw its outline."""
        look = {"fill": fill, "stroke": ink, "stroke-width": number(width)}
        self._put(group, self.path(steps), look, told)

    def _put(
        self, group: ET.Element, path: str, look: dict[str, str], told: dict[str, str]
    ) -> None:
        look = {**look, **_dash_names(told)}
        last = group[-1] if len(group) and "data_measure" not in told else None
        if last is not None and last.tag == "path":
            before = last.get("d", "")
            if {**last.attrib, "d": ""} == {**look, "d": ""}:
                last.set("d", before + path)
                return
        ET.SubElement(group, "path", {"d": path, **look})

    def circle(self, group: ET.Element, middle: Point, radius: float, fill: str, ink: str,
               width: float, **told: str) -> None:  # fmt: skip
        """Draw a circle."""
        for side in (-radius, radius):
            self._hundredths((middle[0] + side, middle[1] + side))
        x, y = self._hundredths(middle)
        look = {"cx": _write_number(x), "cy": _write_number(y), "r": number(radius), "fill": fill}
        if width:
            look |= {"stroke": ink, "stroke-width": number(width)}
        ET.SubElement(group, "circle", {**look, **_dash_names(told)})


def line(*places: Point) -> list[Step]:
    """Return the steps of a broken line."""
    return [("M", places[:1]), *(("L", (place,)) for place in places[1:])]


def close_path(*places: Point) -> list[Step]:
    """Return the steps of an outline with corners."""
    return [*line(*places), ("Z", ())]


def smooth_on(places: Sequence[Point]) -> list[Step]:
    """Return the steps that go on smoothly from the first place through the others.

    Catmull and Rom's spline.
    """
    steps: list[Step] = []
    for at in range(len(places) - 1):
        before, here = places[max(0, at - 1)], places[at]
        there, after = places[at + 1], places[min(len(places) - 1, at + 2)]
        steps.append(
            (
                "C",
                (
                    (here[0] + (there[0] - before[0]) / 6, here[1] + (there[1] - before[1]) / 6),
                    (there[0] - (after[0] - here[0]) / 6, there[1] - (after[1] - here[1]) / 6),
                    there,
                ),
            )
        )
    return steps


def number(value: float) -> str:
    """Return a number as SVG has it, short."""
    return _write_number(round(value * 100))


@cache
def _write_number(hundredths: int) -> str:
    """Return hundredths as a decimal number without needless digits."""
    sign, size = ("-" if hundredths < 0 else ""), abs(hundredths)
    whole, part = divmod(size, 100)
    digits = f"{part:02d}".rstrip("0")
    return sign + (str(whole) if whole or not digits else "") + (f".{digits}" if digits else "")


def _join(told: Sequence[int]) -> str:
    words = _write_number(told[0])
    for one in told[1:]:
        word = _write_number(one)
        words += word if word[0] == "-" else f" {word}"
    return words


def _dash_names(told: dict[str, str]) -> dict[str, str]:
    return {name.replace("_", "-"): value for name, value in told.items()}


@cache
def blend(ink: str, other: str, share: float) -> str:
    """Return a colour with a share of another, channel by channel in sRGB."""
    pairs = [(int(ink[at : at + 2], 16), int(other[at : at + 2], 16)) for at in (1, 3, 5)]
    return "#" + "".join(f"{round(one + (two - one) * share):02x}" for one, two in pairs)


def shade(ink: str, share: float) -> str:
    """Return a colour darker (share below 0) or lighter (above) by a share of what there is.

    A dark shade leans to the ink of the plate, a light one to white.
    """
    return blend(ink, "#ffffff" if share > 0 else "#1c1712", abs(share))


@cache
def luma(ink: str) -> float:
    """Return how light a colour is, 0 to 255 (luma of ITU-R BT.601)."""
    red, green, blue = (int(ink[at : at + 2], 16) for at in (1, 3, 5))
    return 0.299 * red + 0.587 * green + 0.114 * blue


def is_pale(ink: str) -> bool:
    """Tell whether a line in this colour is hard to see on the paper."""
    return luma(ink) > 178.0
