"""The tables of the fly's layout: where parts lie, how stuff is built up, proportions in print."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from variants.geometry.looks import Looks, read_looks
from variants.geometry.when import ANY, Stuffs, When, closest, read_when
from variants.model import Build, Origin
from variants.reading import (
    WINDING_COLUMNS,
    Fault,
    Faults,
    Fields,
    InputError,
    own_rules_folder,
    read_builds,
    read_table,
)

PLACE_COLUMNS = ("style", "part", "when", "from", "to", "angle", "length", "unit", "source")
PROPORTION_COLUMNS = (
    "style", "part", "measure", "unit", "nominal", "low", "high", "source", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Position:
    """Where a part lies along the working shank, and how it stands.

    Attributes
    ----------
    rear, front : float
        Shares of the working shank, 0 at the bend and 1 behind the eye.
    angle_deg : float
        To the shank: 0 straight back, 90 upright, 180 straight forward.
    length : float or None
        How long, in ``unit``, where neither rule nor dressing tells.
    unit : str
    source : str
    """

    rear: float
    front: float
    angle_deg: float
    length: float | None
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class Proportion:
    """One proportion in print; rows that disagree stand side by side, the first is used."""

    nominal: float
    low: float
    high: float
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class Winding:
    """One number about how thread and strands are wound, or what a fly is made of."""

    value: float
    unit: str
    says: str
    source: str


@dataclass(frozen=True)
class Layout:
    """All tables of the layout."""

    places: Mapping[str, Mapping[tuple[str, tuple[When, ...]], Position]]
    builds: Mapping[str, Build]
    proportions: Mapping[tuple[str, str, str], tuple[Proportion, ...]]
    winding: Mapping[str, Winding]
    looks: Looks

    def place(
        self, styles: Sequence[str], parts: Sequence[str], fly: Stuffs | None = None
    ) -> Position:
        """Return where a part lies, by the row that knows most of the fly.

        Parameters
        ----------
        styles, parts : sequence of str
            The lineage of the style and of the part, as `Style.lineage` and `PartKind.lineage`
            give them: the first name of a part that has a row speaks for it.
        fly : mapping, optional
            What fills the parts.

        Raises
        ------
        InputError
            Where no row speaks of the part, as of one that a tyer adds without a row.
        """
        for part in parts:
            rows = ((*key, place) for key, place in self.places.get(part, {}).items())
            found = closest(rows, styles, fly or {})
            if found is not None:
                return found
        where = Origin("geometry/places.tsv")
        problem = f"no row tells where the {parts[0]} of a fly of the style {styles[0]} lies"
        remedy = f"add one for {styles[0]} or any to that table in your folder of rules"
        raise InputError([Fault(where, problem, remedy)])

    def proportion(
        self, styles: Sequence[str], parts: Sequence[str], measure: str
    ) -> Proportion | None:
        """Return the first proportion in print, of the style or of any; None without one.

        Parameters
        ----------
        styles, parts : sequence of str
            The lineage of the style and of the part.
        measure : str
        """
        for part in parts:
            for style in (*styles, ANY):
                found = self.proportions.get((style, part, measure))
                if found:
                    return found[0]
        return None


def load_layout(folders: Sequence[str | Path] = ()) -> Layout:
    """Load the layout from our own tables, then from the user's folders of rules.

    Raises
    ------
    InputError
        With every fault of every table.
    """
    faults = Faults()
    every = [own_rules_folder(), *map(Path, folders)]
    places: dict[str, dict[tuple[str, tuple[When, ...]], Position]] = {}
    builds = read_builds(every, faults)
    proportions: dict[tuple[str, str, str], tuple[Proportion, ...]] = {}
    winding: dict[str, Winding] = {}
    for folder in every:
        for fields in _rows(folder / "geometry" / "places.tsv", PLACE_COLUMNS, faults):
            style, part = fields.text("style", None), fields.text("part", None)
            places.setdefault(part, {})[style, read_when(fields)] = _place(fields)
            fields.finish()
        for fields in _rows(folder / "geometry" / "winding.tsv", WINDING_COLUMNS, faults):
            winding[fields.text("id", None)] = _winding(fields)
            fields.finish()
        found: dict[tuple[str, str, str], list[Proportion]] = {}
        for fields in _rows(folder / "proportions.tsv", PROPORTION_COLUMNS, faults):
            key = (fields.text("style", None), fields.text("part", None))
            measure = fields.text("measure", None)
            found.setdefault((*key, measure), []).append(_proportion(fields))
            fields.text("note")
            fields.finish()
        proportions.update({key: tuple(rows) for key, rows in found.items()})
    looks = read_looks(every, faults)
    faults.stop_if_any()
    return Layout(places, builds, proportions, winding, looks)


def _rows(path: Path, columns: Sequence[str], faults: Faults) -> list[Fields]:
    if not path.is_file():
        return []
    return [row.fields(faults) for row in read_table(path, columns, columns, faults, tabs=True)]


def _place(fields: Fields) -> Position:
    return Position(
        fields.number("from", -0.2, 1.0) or 0.0,
        fields.number("to", -0.2, 1.0) or 0.0,
        fields.number("angle", 0.0, 180.0) or 0.0,
        fields.number("length", 0.0, 20.0),
        fields.choice("unit", ("gape", "shank")),
        fields.text("source", None),
    )


def _winding(fields: Fields) -> Winding:
    return Winding(
        fields.number("value", 0.0, 10_000.0) or 0.0,
        fields.text("unit", None),
        fields.text("says", None),
        fields.text("source", None),
    )


def _proportion(fields: Fields) -> Proportion:
    nominal = fields.number("nominal", 0.0, 1000.0) or 0.0
    low, high = fields.number("low", 0.0, 1000.0), fields.number("high", 0.0, 1000.0)
    return Proportion(
        nominal,
        nominal if low is None else low,
        nominal if high is None else high,
        fields.text("unit", None),
        fields.text("source", None),
    )
