"""How stuff looks when it is drawn: textures, markings, feathers, hackles, hooks, hatchings.

The tables of ``rules/pictures`` come in; `Looks` comes out, part of the layout. Nothing is drawn
here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from variants.geometry.when import ANY, Stuffs, When, closest, read_when
from variants.reading import Faults, Fields, read_table

TEXTURE_MANNERS = (
    "smooth", "banded", "striped", "wound", "dubbed", "flued", "piled", "twisted", "ridged", "spun",
    "wisped",
)  # fmt: skip
MARKING_MANNERS = ("plain", "run", "bars", "specks")
FEATHER_MANNERS = ("slip", "tip", "sheet", "fibres", "hair", "wisps", "ball")
HACKLE_MANNERS = ("collar", "swept", "beard", "flat")
HATCHES = (
    "plain", "dots", "upright", "level", "falling", "rising", "dashes", "crosses", "grid",
    "lattice",
)  # fmt: skip
_TEXTURES = ("stuff", "surface", "manner", "pitch_mm", "reach", "gloss", "source")
_MARKINGS = ("marking", "manner", "steps", "count", "source")
_FEATHERS = ("part", "stuff", "manner", "width", "source")
_HACKLES = ("style", "part", "when", "manner", "fan_deg", "bow", "source")
_BENDS = ("bend", "above", "below", "droop_deg", "point", "source")
_EYES = ("eye", "tilt_deg", "source")
_HATCHINGS = ("family", "hatch", "source")
_STEPS_HELP = 'write share and shade, such as "0.4 1; 1 2", the last share 1'
_Look = TypeVar("_Look")


@dataclass(frozen=True, slots=True)
class Texture:
    """How a body looks.

    Attributes
    ----------
    manner : str
        One of `TEXTURE_MANNERS`.
    pitch_mm : float
        From turn to turn, as seen.
    reach : float
        How far fibres stand out, in shares of the body's thickness.
    gloss : float
        0 dull to 4 metal.
    source : str
    """

    manner: str
    pitch_mm: float
    reach: float
    gloss: float
    source: str


@dataclass(frozen=True, slots=True)
class MarkingLook:
    """How a marking lies along a barb.

    Attributes
    ----------
    manner : str
        One of `MARKING_MANNERS`.
    steps : tuple of (float, int)
        Up to which share of the barb which shade, counted from 0.
    count : int
        Of bars or specks.
    source : str
    """

    manner: str
    steps: tuple[tuple[float, int], ...]
    count: int
    source: str


@dataclass(frozen=True, slots=True)
class FeatherLook:
    """How a wing or a bunch looks; ``width`` is in shares of its length."""

    manner: str
    width: float
    source: str


@dataclass(frozen=True, slots=True)
class HackleLook:
    """How a wound hackle stands; ``bow`` is in shares of the barb's length."""

    manner: str
    fan_deg: float
    bow: float
    source: str


@dataclass(frozen=True, slots=True)
class BendLook:
    """How a hook is bent; lengths in gapes, ``droop_deg`` of a curved shank at its end."""

    above: float
    below: float
    droop_deg: float
    point: float
    source: str


@dataclass(frozen=True)
class Looks:
    """All tables of the pictures."""

    textures: Mapping[tuple[str, str], Texture]
    markings: Mapping[str, MarkingLook]
    feathers: Mapping[tuple[str, str], FeatherLook]
    hackles: Mapping[str, Mapping[tuple[str, tuple[When, ...]], HackleLook]]
    bends: Mapping[str, BendLook]
    eyes: Mapping[str, float]
    hatchings: Mapping[str, str]

    def texture(self, material: str, kind: str, surface: str) -> Texture:
        """Return how a body looks, what tells most of it first; smooth where no table tells."""
        for key in ((material, surface), (material, ANY), (kind, surface), (kind, ANY)):
            if key in self.textures:
                return self.textures[key]
        return Texture("smooth", 1.0, 0.0, 1.0, "")

    def feather(self, parts: Sequence[str], material: str, kind: str) -> FeatherLook:
        """Return how stuff looks in a part: what tells most of it first.

        Parameters
        ----------
        parts : sequence of str
            The lineage of the part.
        material, kind : str
            Id and class of the stuff.
        """
        keys = [(part, stuff) for stuff in (material, kind) for part in (*parts, ANY)]
        keys += [(part, ANY) for part in (*parts, ANY)]
        return next(self.feathers[key] for key in keys if key in self.feathers)

    def hackle(self, styles: Sequence[str], parts: Sequence[str], fly: Stuffs) -> HackleLook:
        """Return how a hackle stands, by the row that knows most of the fly.

        Parameters
        ----------
        styles, parts : sequence of str
            The lineage of the style and of the part.
        fly : mapping
            What fills the parts.

        Raises
        ------
        KeyError
            Where no row speaks of the part.
        """
        for part in parts:
            rows = ((*key, look) for key, look in self.hackles.get(part, {}).items())
            found = closest(rows, styles, fly)
            if found is not None:
                return found
        raise KeyError(parts[0])

    def hatch(self, family: str) -> str:
        """Return the hatching of a colour by its family; the first of several, plain without one.

        Parameters
        ----------
        family : str
            ISCC-NBS words such as ``"light yellowish brown + white"``.
        """
        words = family.split("+")[0].split()
        return self.hatchings.get(words[-1], "plain") if words else "plain"


def read_looks(folders: Sequence[Path], faults: Faults) -> Looks:
    """Read the tables of every folder's ``pictures``; a later row beats an earlier one."""

    def rows(name: str, columns: Sequence[str], keys: Sequence[str],
             read: Callable[[Fields], _Look]) -> dict[tuple[str, ...], _Look]:  # fmt: skip
        found: dict[tuple[str, ...], _Look] = {}
        for folder in folders:
            path = folder / "pictures" / f"{name}.tsv"
            if not path.is_file():
                continue
            for row in read_table(path, columns, columns, faults, tabs=True):
                fields = row.fields(faults)
                found[tuple(fields.text(key, None) for key in keys)] = read(fields)
                fields.text("source", None)
                fields.finish()
        return found

    def single(found: dict[tuple[str, ...], _Look]) -> dict[str, _Look]:
        return {key[0]: look for key, look in found.items()}

    def double(found: dict[tuple[str, ...], _Look]) -> dict[tuple[str, str], _Look]:
        return {(key[0], key[1]): look for key, look in found.items()}

    return Looks(
        double(rows("textures", _TEXTURES, ("stuff", "surface"), _texture)),
        single(rows("markings", _MARKINGS, ("marking",), _marking)),
        double(rows("feathers", _FEATHERS, ("part", "stuff"), _feather)),
        _read_hackles(folders, faults),
        single(rows("bends", _BENDS, ("bend",), _bend)),
        single(rows("eyes", _EYES, ("eye",), lambda one: one.number("tilt_deg", -90, 90) or 0.0)),
        single(
            rows("hatchings", _HATCHINGS, ("family",), lambda one: one.choice("hatch", HATCHES))
        ),
    )


def _read_hackles(
    folders: Sequence[Path], faults: Faults
) -> dict[str, dict[tuple[str, tuple[When, ...]], HackleLook]]:
    found: dict[str, dict[tuple[str, tuple[When, ...]], HackleLook]] = {}
    for folder in folders:
        path = folder / "pictures" / "hackles.tsv"
        if not path.is_file():
            continue
        for row in read_table(path, _HACKLES, _HACKLES, faults, tabs=True):
            fields = row.fields(faults)
            style, part = fields.text("style", None), fields.text("part", None)
            found.setdefault(part, {})[style, read_when(fields)] = _hackle(fields)
            fields.finish()
    return found


def _texture(fields: Fields) -> Texture:
    return Texture(
        fields.choice("manner", TEXTURE_MANNERS, None),
        fields.number("pitch_mm", 0.05, 10.0) or 1.0,
        fields.number("reach", 0.0, 3.0) or 0.0,
        fields.number("gloss", 0.0, 4.0) or 0.0,
        fields.text("source"),
    )


def _marking(fields: Fields) -> MarkingLook:
    manner = fields.choice("manner", MARKING_MANNERS, None)
    steps = [_step(fields, words) for words in fields.words("steps")]
    ends = [end for end, _ in steps]
    if manner == "run" and (not ends or ends != sorted(ends) or ends[-1] != 1.0):
        fields.wrong("steps", "the steps don't run from the stem to the tip", _STEPS_HELP)
    return MarkingLook(manner, tuple(steps), fields.whole("count", 1, 40) or 0,
                       fields.text("source"))  # fmt: skip


def _step(fields: Fields, words: str) -> tuple[float, int]:
    share, _, shade = words.partition(" ")
    try:
        step = float(share), int(shade)
    except ValueError:
        step = (-1.0, 0)
    if not 0.0 <= step[0] <= 1.0 or not 1 <= step[1] <= 3:
        fields.wrong("steps", f"'{words}' is no step along a barb", _STEPS_HELP)
        return 1.0, 0
    return step[0], step[1] - 1


def _feather(fields: Fields) -> FeatherLook:
    return FeatherLook(
        fields.choice("manner", FEATHER_MANNERS, None),
        fields.number("width", 0.01, 2.0) or 0.2,
        fields.text("source"),
    )


def _hackle(fields: Fields) -> HackleLook:
    return HackleLook(
        fields.choice("manner", HACKLE_MANNERS, None),
        fields.number("fan_deg", 0.0, 60.0) or 0.0,
        fields.number("bow", 0.0, 0.3) or 0.0,
        fields.text("source"),
    )


def _bend(fields: Fields) -> BendLook:
    return BendLook(
        fields.number("above", 0.1, 2.0) or 0.67,
        fields.number("below", 0.1, 2.0) or 0.67,
        fields.number("droop_deg", 0.0, 80.0) or 0.0,
        fields.number("point", 0.1, 2.0) or 0.8,
        fields.text("source"),
    )
