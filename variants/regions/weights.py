"""What a region asks of flies in general: rules/regions read into one value, with its sources.

Which part shows which colour of the natural and how much that matters, how fast a fly has to sink,
and hints for the bench. The region itself is not looked at here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from variants.model import CLARITIES, WATERS, Trade
from variants.reading import Faults, Fields, TomlDocument
from variants.rulebook import own_rules_folder

#: What of a natural has a colour, and what of a water a hint may follow.
SHOWN = ("body", "wing", "legs")
_BY: Mapping[str, tuple[str, ...]] = {"clarity": CLARITIES, "speed": WATERS}
_TABLES = ("kin", "size", "count", "palette", "sinking")
_NUMBERS = {
    "kin": ("within",),
    "size": ("weight", "span"),
    "count": ("weight",),
    "palette": ("weight",),
    "sinking": ("weight", "wire_weight"),
}


@dataclass(frozen=True, slots=True)
class RegionalDemand:
    """One general wish: its numbers by name, what it says, and its source."""

    numbers: Mapping[str, float]
    says: str
    source: str


@dataclass(frozen=True, slots=True)
class ShownColour:
    """Which colour of the natural a part shows, and how much that weighs."""

    part: str
    of: str
    weight: float
    source: str


@dataclass(frozen=True, slots=True)
class Hint:
    """A word for the bench: how thick, how many, by clarity or speed of the water."""

    classes: tuple[str, ...]
    parts: tuple[str, ...]
    styles: tuple[str, ...]
    by: str
    says: Mapping[str, str]
    source: str


@dataclass(frozen=True, slots=True)
class RegionalWeights:
    """All that regions ask, and how much it weighs in the distance to the target.

    Attributes
    ----------
    kin, size, count, palette, sinking : Asked
    colours : mapping of part to ShownColour
    classes : tuple of str
        Of sinking, slowest first.
    depths_m : tuple of float
        Down to each of these a class is enough; the last class has no end.
    hints : tuple of Hint
    """

    kin: RegionalDemand
    size: RegionalDemand
    count: RegionalDemand
    palette: RegionalDemand
    sinking: RegionalDemand
    colours: Mapping[str, ShownColour]
    classes: tuple[str, ...]
    depths_m: tuple[float, ...]
    hints: tuple[Hint, ...]


def load_weights(trade: Trade, extra: Sequence[str | Path] = ()) -> RegionalWeights:
    """Load our own tables of regions, then those in the ``regions`` folders of the user's.

    A user's ``target.toml`` stands in place of ours. How many turns and fibres a water asks is for
    the rules of counts to say.

    Raises
    ------
    InputError
        With every fault of every table.
    """
    faults = Faults()
    folders = [own_rules_folder(), *map(Path, extra)]
    targets = [folder / "regions" / "target.toml" for folder in folders]
    document = TomlDocument.read([path for path in targets if path.is_file()][-1])
    found = _target(document, trade, faults)
    faults.stop_if_any()
    return RegionalWeights(**found)


def _target(document: TomlDocument, trade: Trade, faults: Faults) -> dict[str, Any]:
    top = Fields(document.value, lambda field: document.origin((field,)), faults)
    found: dict[str, Any] = {}
    for name in _TABLES:
        fields = _table(document, (name,), top.raw(name), faults)
        found[name] = RegionalDemand(
            {number: fields.number(number, 0, 1000) or 0.0 for number in _NUMBERS[name]},
            fields.text("says", None),
            fields.text("source", None),
        )
        if name == "sinking":
            found["classes"] = fields.words("classes")
            found["depths_m"] = _depths(fields, len(found["classes"]))
        fields.finish()
    found["colours"] = {
        one.part: one
        for fields in _tables(document, top, "colour", faults)
        if (one := _colour(fields, trade))
    }
    found["hints"] = tuple(
        _hint(fields, trade) for fields in _tables(document, top, "hint", faults)
    )
    top.finish()
    return found


def _depths(fields: Fields, classes: int) -> tuple[float, ...]:
    depths = fields.raw("depths_m")
    if (
        not isinstance(depths, list)
        or len(depths) + 1 != classes
        or not all(isinstance(one, int | float) for one in depths)
        or sorted(depths) != depths
    ):
        problem = "are no rising depths, one fewer than there are classes"
        fields.wrong("depths_m", problem, "write such as [0.5, 1.5]")
        return ()
    return tuple(map(float, depths))


def _table(
    document: TomlDocument, path: tuple[str | int, ...], table: object, faults: Faults
) -> Fields:
    return Fields(table, lambda field: document.origin((*path, field) if field else path), faults)


def _tables(document: TomlDocument, top: Fields, kind: str, faults: Faults) -> list[Fields]:
    tables = top.raw(kind)
    return [
        _table(document, (kind, place), table, faults)
        for place, table in enumerate(tables if isinstance(tables, list) else ())
    ]


def _colour(fields: Fields, trade: Trade) -> ShownColour:
    part = fields.entry("part", trade.part_names, "part of a fly")
    one = ShownColour(
        part=part.id if part else "",
        of=fields.choice("of", SHOWN, None),
        weight=fields.number("weight", 0, 100) or 0.0,
        source=fields.text("source", None),
    )
    fields.finish()
    return one


def _hint(fields: Fields, trade: Trade) -> Hint:
    by = fields.choice("by", _BY, None)
    fields.text("id", None)
    styles = [
        fields.lookup("styles", name, trade.style_names, "style") for name in fields.words("styles")
    ]
    hint = Hint(
        classes=fields.words("classes"),
        parts=fields.words("parts"),
        styles=tuple(sorted(trade.with_likes(style.id for style in styles if style))),
        by=by,
        says={word: fields.text(word, None) for word in _BY.get(by, ())},
        source=fields.text("source", None),
    )
    fields.finish()
    return hint
