"""The files ``rules/likeness/*.toml`` to what likeness is judged by, with every fault located."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from variants.model import Trade
from variants.reading import Faults, Fields, TomlDocument
from variants.rulebook.likeness_profiles import (
    CLASS,
    COLOUR,
    FIELDS,
    FLAG,
    MARKING,
    MEASURES,
    MOST,
    SCALES,
    LikenessTables,
    Need,
    Profile,
    Property,
    RestrictionCost,
    SameStuff,
)


def read_likeness(folders: Sequence[Path], trade: Trade) -> LikenessTables:
    """Read the likeness files of several folders, later ones overriding by id.

    Raises
    ------
    InputError
        With every fault of every file.
    """
    faults = Faults()
    reader = _TablesReader(trade, faults)
    for folder in folders:
        for path in sorted(folder.glob("likeness/*.toml")):
            reader.read(TomlDocument.read(path))
    reader.check()
    faults.stop_if_any()
    return LikenessTables(
        reader.properties,
        reader.kindred,
        reader.profiles,
        reader.scales,
        reader.scale_sources,
        reader.cautions,
        tuple(reader.same.values()),
    )


class _TablesReader:
    """The files of ``rules/likeness/`` being read, table by table."""

    def __init__(self, trade: Trade, faults: Faults) -> None:
        self.trade, self.faults = trade, faults
        self.classes = {material.kind for material in trade.materials.values()}
        self.properties: dict[str, Property] = {}
        self.kindred: dict[tuple[str, str], float] = {}
        self.profiles: dict[str, Profile] = {}
        self.scales: dict[str, float] = {}
        self.scale_sources: dict[str, str] = {}
        self.cautions: dict[str, RestrictionCost] = {}
        self.same: dict[tuple[str, str], SameStuff] = {}
        self.last: Fields | None = None

    def read(self, document: TomlDocument) -> None:
        readers = {
            "property": self._property,
            "kindred": self._kindred_classes,
            "profile": self._profile,
            "scale": self._scale,
            "caution": self._caution,
            "same": self._same,
        }
        for name, tables in document.value.items():
            if name not in readers or not isinstance(tables, list):
                self.faults.add(
                    document.origin((name,)),
                    f"'{name}' is no table of a likeness file",
                    "write one of: " + ", ".join(f"[[{one}]]" for one in readers),
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
        if not any(one.closeness == (False,) * 4 for one in self.profiles.values()):
            self.last.wrong("", "no profile speaks of every place", "add one without conditions")

    def _property(self, fields: Fields) -> None:
        costs = [fields.number(f"{way}_costs", 0, 1) for way in ("less", "more")]
        measure = fields.choice("measure", MEASURES, None)
        made = Property(
            id=fields.choice("id", FIELDS, None),
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

    def _kindred_classes(self, fields: Fields) -> None:
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

    def _caution(self, fields: Fields) -> None:
        made = RestrictionCost(
            id=fields.choice("id", ("protected", "restricted"), None),
            cost=fields.whole("cost", 0, 1000) or 0,
            says=fields.text("says", None),
            source=fields.text("source", None),
        )
        self.cautions[made.id] = made

    def _same(self, fields: Fields) -> None:
        made = SameStuff(
            material=fields.choice("material", self.trade.materials, None),
            of=fields.choice("of", self.trade.materials, None),
            colour=fields.choice("colour", self.trade.colours, "") or None,
            says=fields.text("says", None),
            source=fields.text("source", None),
        )
        self.same[made.material, made.of] = made

    def _profile(self, fields: Fields) -> None:
        parts = [
            fields.lookup("parts", word, self.trade.part_names, "part of a fly")
            for word in fields.words("parts")
        ]
        styles = [
            fields.lookup("styles", word, self.trade.style_names, "style")
            for word in fields.words("styles")
        ]
        made = Profile(
            id=fields.text("id", None),
            says=fields.text("says", None),
            source=fields.text("source", None),
            parts=self.trade.with_like_parts(part.id for part in parts if part),
            styles=self.trade.with_likes(style.id for style in styles if style),
            classes=frozenset(self._classes(fields)),
            floats=fields.flag("floats"),
            matters=self._matters(fields),
            needs=self._needs(fields),
            closed=bool(fields.flag("closed")),
        )
        self.profiles[made.id] = made

    def _classes(self, fields: Fields) -> tuple[str, ...]:
        words = fields.words("classes")
        for word in words:
            if word not in self.classes:
                fields.wrong("classes", f"'{word}' is no class of material", "", self.classes)
        return words

    def _matters(self, fields: Fields) -> dict[str, int]:
        known = (*FIELDS, CLASS, COLOUR, MARKING)
        raw = fields.raw("matters")
        own = Fields(
            raw if isinstance(raw, dict) else {}, lambda _: fields.origin("matters"), self.faults
        )
        matters = {name: own.whole(name, 0, MOST) for name in known}
        own.finish()
        if not isinstance(raw, dict):
            fields.wrong("matters", "the matters are missing", "write matters = { stiffness = 4 }")
        return {name: weight for name, weight in matters.items() if weight}

    def _needs(self, fields: Fields) -> tuple[Need, ...]:
        raw = fields.raw("needs")
        needs = []
        for table in raw if isinstance(raw, list) else []:
            own = Fields(
                table if isinstance(table, dict) else {},
                lambda _: fields.origin("needs"),
                self.faults,
            )
            needs.append(
                Need(
                    property=own.choice("property", FIELDS, None),
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
