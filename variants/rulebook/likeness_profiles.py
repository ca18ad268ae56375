"""What likeness is judged by: properties, kindred classes, role profiles, scales; read from rules.

The files are ``rules/likeness/*.toml``. A profile says, for one kind of place on the fly, which
properties matter and how much (0 not at all, 4 most of all) and what the role needs whatever else
agrees. Nothing here compares two materials.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from variants.model import Material, Trade
from variants.reading import Faults, Fields, TomlDocument

GRADE, ORDER, WORD, FLAG, LENGTH, RATIO = "grade", "order", "word", "flag", "length", "ratio"
MEASURES = (GRADE, ORDER, WORD, FLAG, LENGTH, RATIO)
#: Matters of a profile that are no property of a material.
CLASS, COLOUR, MARKING = "class", "colour", "marking"
SCALES = ("another", "published", "published_back", "published_fades", "shade", "shade_power")
MOST = 4

#: How each property is told by the material's own record.
_FIELDS = {
    "stiffness": "stiffness",
    "water": "water",
    "texture": "texture",
    "sheen": "sheen",
    "durability": "durability",
    "translucency": "translucency",
    "web": "web",
    "hollow": "hollow",
    "fibre": "fibre_mm",
    "thickness": "thickness_mm",
    "density": "density_g_cm3",
}
PropertyValue = str | int | float | bool | tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class Property:
    """One property of materials, and how a difference in it is measured and told.

    Attributes
    ----------
    id, measure : str
    less, more : str
        What is said when the stand-in has less, or more, of it.
    less_costs, more_costs : float
        How much of the difference counts in that direction: what does no harm costs little.
    span : float
        Of a length or ratio, the doublings that make the whole difference.
    order : tuple of str
        Of an ordered word, its values from least to most.
    pairs : mapping
        Of a word, the distance 0 to 1 of two values; pairs not stated are 1 apart.
    unstated : int, bool or None
        What an empty cell means: stuff that is no feather has no web.
    source : str
    """

    id: str
    measure: str
    less: str
    more: str
    less_costs: float = 1.0
    more_costs: float = 1.0
    span: float = 1.0
    order: tuple[str, ...] = ()
    pairs: Mapping[tuple[str, str], float] = field(default_factory=dict)
    unstated: int | bool | None = None
    source: str = ""

    def of(self, material: Material) -> PropertyValue:
        """Return the material's value; None when no table states it and nothing follows."""
        value: PropertyValue = getattr(material, _FIELDS[self.id])
        return self.unstated if value is None else value


@dataclass(frozen=True, slots=True)
class Need:
    """What a role asks of anything that serves in it.

    A need speaks only when the material asked for meets it: a dressing that does without has its
    reason in another part.
    """

    property: str
    says: str
    source: str
    at_least: float | None = None
    at_most: float | None = None
    among: tuple[str, ...] = ()

    def is_met(self, value: PropertyValue) -> bool:
        """Tell whether a value meets the need; a value that is not known does."""
        if value is None:
            return True
        if isinstance(value, tuple):
            value = value[1]
        if isinstance(value, bool) or isinstance(value, str):
            word = {True: "y", False: "n"}.get(value, value) if isinstance(value, bool) else value
            return not self.among or word in self.among
        return (self.at_least is None or value >= self.at_least) and (
            self.at_most is None or value <= self.at_most
        )


@dataclass(frozen=True, slots=True)
class Profile:
    """One kind of place on the fly, and what matters there.

    Attributes
    ----------
    id, says, source : str
    parts, classes : frozenset of str
        Parts it speaks of, and classes of the material asked for; empty for all.
    floats : bool or None
        Whether it speaks of floating or of sinking styles; None for both.
    matters : mapping of str to int
        Property id, ``class``, ``colour`` or ``marking`` to importance 0 to 4.
    needs : tuple of Need
    """

    id: str
    says: str
    source: str
    parts: frozenset[str]
    classes: frozenset[str]
    floats: bool | None
    matters: Mapping[str, int]
    needs: tuple[Need, ...] = ()

    def suits(self, part: str, floats: bool, kind: str) -> bool:
        """Tell whether it speaks of this place, asked for stuff of this class."""
        return (
            (not self.parts or part in self.parts)
            and (not self.classes or kind in self.classes)
            and (self.floats is None or self.floats is floats)
        )

    @property
    def closeness(self) -> tuple[bool, bool, bool]:
        """How particular it is: the class weighs before the part, the part before the style."""
        return bool(self.classes), bool(self.parts), self.floats is not None


@dataclass(frozen=True, slots=True)
class LikenessTables:
    """All of ``rules/likeness/``."""

    properties: Mapping[str, Property]
    kindred: Mapping[tuple[str, str], float]
    profiles: Mapping[str, Profile]
    scales: Mapping[str, float]
    scale_sources: Mapping[str, str]

    def profile(self, part: str, floats: bool, kind: str) -> Profile:
        """Return the most particular profile that speaks of a place; the first of equals."""
        return max(
            (one for one in self.profiles.values() if one.suits(part, floats, kind)),
            key=lambda one: one.closeness,
        )

    def classes_apart(self, one: str, other: str) -> float:
        """Return how far two classes of stuff stand apart, 0 to 1."""
        return 0.0 if one == other else self.kindred.get((one, other), 1.0)


def read_likeness(folders: Sequence[Path], trade: Trade) -> LikenessTables:
    """Read the likeness files of several folders, later ones overriding by id.

    Raises
    ------
    InputError
        With every fault of every file.
    """
    faults = Faults()
    reader = _Reader(trade, faults)
    for folder in folders:
        for path in sorted(folder.glob("likeness/*.toml")):
            reader.read(TomlDocument.read(path))
    reader.check()
    faults.stop_if_any()
    return LikenessTables(
        reader.properties, reader.kindred, reader.profiles, reader.scales, reader.scale_sources
    )


Made = TypeVar("Made")


class _Reader:
    """The files of ``rules/likeness/`` being read, table by table."""

    def __init__(self, trade: Trade, faults: Faults) -> None:
        self.trade, self.faults = trade, faults
        self.classes = {material.kind for material in trade.materials.values()}
        self.properties: dict[str, Property] = {}
        self.kindred: dict[tuple[str, str], float] = {}
        self.profiles: dict[str, Profile] = {}
        self.scales: dict[str, float] = {}
        self.scale_sources: dict[str, str] = {}
        self.last: Fields | None = None

    def read(self, document: TomlDocument) -> None:
        readers = {
            "property": self._property,
            "kindred": self._kindred,
            "profile": self._profile,
            "scale": self._scale,
        }
        for name, tables in document.value.items():
            if name not in readers or not isinstance(tables, list):
                self.faults.add(
                    document.origin((name,)),
                    f"'{name}' is no table of a likeness file",
                    "write [[property]], [[kindred]], [[profile]] or [[scale]]",
                )
                continue
            for index, table in enumerate(tables):
                fields = _fields(document, (name, index), table, self.faults)
                readers[name](fields)
                fields.finish()
                self.last = fields

    def check(self) -> None:
        """Note what the files as a whole lack."""
        if self.last is None:
            return
        for name in SCALES:
            if name not in self.scales:
                self.last.wrong("", f"no file states the scale '{name}'", "add a [[scale]] table")
        if not any(one.closeness == (False, False, False) for one in self.profiles.values()):
            self.last.wrong("", "no profile speaks of every place", "add one without conditions")

    def _property(self, fields: Fields) -> None:
        costs = [fields.number(f"{way}_costs", 0, 1) for way in ("less", "more")]
        measure = fields.choice("measure", MEASURES, None)
        made = Property(
            id=fields.choice("id", _FIELDS, None),
            measure=measure,
            less=fields.text("less", None),
            more=fields.text("more", None),
            less_costs=1.0 if costs[0] is None else costs[0],
            more_costs=1.0 if costs[1] is None else costs[1],
            span=fields.number("span", 0.01, 100) or 1.0,
            order=fields.words("order"),
            pairs=_pairs(fields),
            unstated=fields.flag("unstated") if measure == FLAG else fields.whole("unstated", 0, 4),
            source=fields.text("source", None),
        )
        self.properties[made.id] = made

    def _kindred(self, fields: Fields) -> None:
        classes = self._classes(fields)
        apart = fields.number("apart", 0, 1)
        fields.text("says", None)
        fields.text("source", None)
        for one in classes:
            for other in classes:
                nearest = min(self.kindred.get((one, other), 1.0), 1.0 if apart is None else apart)
                self.kindred[one, other] = nearest

    def _scale(self, fields: Fields) -> None:
        name = fields.choice("id", SCALES, None)
        self.scales[name] = fields.number("value", 0, 1000) or 0.0
        self.scale_sources[name] = fields.text("source", None)
        fields.text("says", None)

    def _profile(self, fields: Fields) -> None:
        parts = [
            fields.lookup("parts", word, self.trade.part_names, "part of a fly")
            for word in fields.words("parts")
        ]
        made = Profile(
            id=fields.text("id", None),
            says=fields.text("says", None),
            source=fields.text("source", None),
            parts=frozenset(part.id for part in parts if part),
            classes=frozenset(self._classes(fields)),
            floats=fields.flag("floats"),
            matters=self._matters(fields),
            needs=self._needs(fields),
        )
        self.profiles[made.id] = made

    def _classes(self, fields: Fields) -> tuple[str, ...]:
        words = fields.words("classes")
        for word in words:
            if word not in self.classes:
                fields.wrong("classes", f"'{word}' is no class of material", "", self.classes)
        return words

    def _matters(self, fields: Fields) -> dict[str, int]:
        known = (*_FIELDS, CLASS, COLOUR, MARKING)
        raw = fields.raw("matters")
        own = Fields(raw if isinstance(raw, dict) else {}, lambda _: fields.origin("matters"),
                     self.faults)  # fmt: skip
        matters = {name: own.whole(name, 0, MOST) for name in known}
        own.finish()
        if not isinstance(raw, dict):
            fields.wrong("matters", "the matters are missing", "write matters = { stiffness = 4 }")
        return {name: weight for name, weight in matters.items() if weight}

    def _needs(self, fields: Fields) -> tuple[Need, ...]:
        raw = fields.raw("needs")
        needs = []
        for table in raw if isinstance(raw, list) else []:
            own = Fields(table if isinstance(table, dict) else {},
                         lambda _: fields.origin("needs"), self.faults)  # fmt: skip
            needs.append(
                Need(
                    property=own.choice("property", _FIELDS, None),
                    says=own.text("says", None),
                    source=own.text("source", None),
                    at_least=own.number("at_least"),
                    at_most=own.number("at_most"),
                    among=own.words("among"),
                )
            )
            own.finish()
        return tuple(needs)


def _fields(document: TomlDocument, path: tuple[str, int], table: object, faults: Faults) -> Fields:
    return Fields(
        table if isinstance(table, dict) else {},
        lambda field: document.origin((*path, field) if field else path),
        faults,
    )


def _pairs(fields: Fields) -> dict[tuple[str, str], float]:
    pairs: dict[tuple[str, str], float] = {}
    for text in fields.words("pairs"):
        words, _, apart = text.partition(":")
        one, _, other = words.partition("-")
        try:
            pairs[one.strip(), other.strip()] = pairs[other.strip(), one.strip()] = float(apart)
        except ValueError:
            fields.wrong("pairs", f"'{text}' is not 'word - word: number'", "write a - b: 0.3")
    return pairs
