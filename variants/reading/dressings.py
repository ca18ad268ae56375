"""Dressing files (TOML) to `Dressing`, every name checked against the trade's tables.

A dressing names itself, its style and hook sizes, then its parts in order::

    name = "…"
    style = "soft hackle"
    sizes = "12-16"

    [part.hackle]
    material = "hen neck"
    colour = "medium dun"
    turns = 2

Two materials wound or blended together stand as ``also = [{ material = "…", colour = "…" }]``;
what else the author allows, as ``or = [{ material = "…", colour = "…" }, "nothing"]``.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from variants.model import (
    MOST_TOGETHER,
    Dressing,
    Ingredient,
    Origin,
    Part,
    PartKind,
    Style,
    Trade,
    plain,
)
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.reading.measures import asked_length, asked_thickness
from variants.reading.natural import find_natural_colour, means_natural
from variants.reading.sizes import LARGEST_HOOK, SMALLEST_HOOK, SizesError
from variants.reading.sizes import parse_sizes as parse_sizes
from variants.reading.toml import KeyPath, TomlDocument
from variants.text import shown

#: Counts that a dressing may ask for, part by part.
COUNTS = ("turns", "turns_behind", "turns_front", "fibres", "feathers")
#: Says among alternatives that the part may be left out.
NOTHING = "nothing"
_SIDES = {"turns_behind": "behind", "turns_front": "in front"}
_PARTS_HELP = "add tables such as [part.hook] and [part.body]"


def read_dressing(path: str | Path, trade: Trade) -> Dressing:
    """Read one dressing; ``-`` is standard input.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    return parse_dressing(TomlDocument.read(path), trade)


def parse_dressing(document: TomlDocument, trade: Trade) -> Dressing:
    """Return the dressing that a TOML document holds; raises InputError with every fault."""
    faults = Faults()
    if not document.value:
        remedy = "a dressing states its name, style and sizes, then its parts: [part.hook]"
        faults.add(document.origin(()), "holds no dressing", remedy)
        faults.stop_if_any()
    fields = _fields(document, document.value, (), faults)
    name = fields.text("name", None)
    style = _style(fields, trade)
    sizes = _sizes(fields)
    size = fields.whole("size", LARGEST_HOOK, SMALLEST_HOOK)
    if size is not None and sizes and size not in sizes:
        known = ", ".join(map(str, sizes))
        fields.wrong("size", f"size {size} is not among the sizes", f"write one of: {known}")
    source, note = fields.text("source"), fields.text("note")
    parts = _parts(document, fields, style, trade, faults)
    fields.finish()
    faults.stop_if_any()
    assert style is not None
    return Dressing(
        name=name,
        style=style.id,
        sizes=sizes,
        size=size if size is not None else sizes[len(sizes) // 2],
        parts=parts,
        source=source,
        note=note,
        origin=Origin(document.file),
    )


def _fields(
    document: TomlDocument, values: Mapping[str, object], path: KeyPath, faults: Faults
) -> Fields:
    return Fields(values, lambda field: document.origin((*path, field) if field else path), faults)


def _style(fields: Fields, trade: Trade) -> Style | None:
    name = fields.text("style", None)
    return fields.lookup("style", name, trade.style_names, "style") if name else None


def _sizes(fields: Fields) -> tuple[int, ...]:
    raw = fields.raw("sizes")
    if not fields.has("sizes") or raw == []:
        fields.wrong("sizes", "the sizes are missing", 'state hook sizes, such as sizes = "12-16"')
        return ()
    stated = raw if isinstance(raw, list) else [raw]
    sizes: set[int] = set()
    for one in stated:
        if isinstance(one, bool) or not isinstance(one, int | str):
            remedy = 'write sizes = "12-16" or sizes = [12, 14]'
            fields.wrong("sizes", f"{shown(one)} is not a hook size", remedy)
            return ()
        try:
            sizes.update(parse_sizes(one if isinstance(one, str) else shown(one)))
        except SizesError as problem:
            fields.wrong("sizes", problem.problem, problem.remedy)
            return ()
    return tuple(sorted(sizes))


def _parts(
    document: TomlDocument, fields: Fields, style: Style | None, trade: Trade, faults: Faults
) -> tuple[Part, ...]:
    tables = fields.raw("part")
    if not tables:
        fields.wrong("part", "the dressing has no parts", _PARTS_HELP)
        return ()
    if not isinstance(tables, dict):
        fields.wrong("part", f"{shown(tables)} is not a table of parts", _PARTS_HELP)
        return ()
    parts: dict[str, Part] = {}
    for word, table in tables.items():
        path = ("part", word)
        record = _fields(document, table if isinstance(table, dict) else {}, path, faults)
        kind = record.lookup("", word, trade.part_names, "part of a fly")
        if kind is None:
            continue
        if not isinstance(table, dict):
            record.wrong("", f"{shown(table)} is not a table of its own", f"write [part.{kind.id}]")
            continue
        if style is not None and style.part(kind.id) is None:
            remedy = "leave it out, or name another style"
            record.wrong("", f"a {style.name} has no {kind.name}", remedy)
        if kind.id in parts:
            first = next(other for other in tables if _means(other, kind.id, trade))
            line = document.origin(("part", first)).line
            problem = f"the {kind.name} already stands in line {line}"
            record.wrong("", problem, "keep one of the two")
        parts[kind.id] = _part(document, record, kind, path, trade, faults)
    if not any(_means(word, "hook", trade) for word in tables):
        fields.wrong("part", "the dressing has no hook", "add a table [part.hook]")
    return tuple(parts.values())


def _means(word: str, part_id: str, trade: Trade) -> bool:
    """Tell whether a word of the file names a part."""
    kind = trade.part_names.get(plain(word))
    return kind is not None and kind.id == part_id


def _part(
    document: TomlDocument,
    record: Fields,
    kind: PartKind,
    path: KeyPath,
    trade: Trade,
    faults: Faults,
) -> Part:
    ingredients = [
        _ingredient(record, trade, kind),
        *_others(document, record, kind, path, trade, faults),
    ]
    alternatives = _alternatives(document, record, kind, path, trade, faults)
    counts = {name: count for name in COUNTS if (count := record.whole(name, 0, 500)) is not None}
    _check_turns(record, counts)
    part = Part(
        id=kind.id,
        ingredients=tuple(found for found in ingredients if found is not None),
        length=asked_length(record, "length"),
        thickness=asked_thickness(record, "thickness"),
        counts=counts,
        signature=bool(record.flag("signature", False)),
        alternatives=alternatives,
        note=record.text("note"),
        origin=Origin(document.file, field=f"part.{kind.id}"),
    )
    record.finish()
    return part


def _check_turns(record: Fields, counts: Mapping[str, int]) -> None:
    """Refuse turns behind and in front of the wing that don't add up to the turns in all."""
    sides = [counts[name] for name in ("turns_behind", "turns_front") if name in counts]
    whole, both = counts.get("turns"), sum(sides)
    if whole is None or not sides or both == whole or (len(sides) == 1 and both < whole):
        return
    told = " and ".join(f"{counts[name]} {word}" for name, word in _SIDES.items() if name in counts)
    record.wrong("turns", f"{told} are not {whole} turns", f"write turns = {both}, or leave it out")


def _others(
    document: TomlDocument,
    record: Fields,
    kind: PartKind,
    path: KeyPath,
    trade: Trade,
    faults: Faults,
) -> list[Ingredient | None]:
    """Return what is wound or blended together with a part's first material."""
    remedy = 'write also = [{ material = "…", colour = "…" }]'
    tables = record.raw("also")
    if tables is None:
        return []
    if not isinstance(tables, list) or not tables:
        record.wrong("also", f"{shown(tables)} is not a list of materials", remedy)
        return []
    if len(tables) >= MOST_TOGETHER:
        problem = f"{1 + len(tables)} materials are too many for one part"
        record.wrong("also", problem, f"keep {MOST_TOGETHER} in all: nobody winds more together")
        return []
    found: list[Ingredient | None] = []
    for index, table in enumerate(tables):
        own = _fields(
            document, table if isinstance(table, dict) else {}, (*path, "also", index), faults
        )
        if isinstance(table, dict):
            found.append(_ingredient(own, trade, kind))
            own.finish()
        else:
            own.wrong("", f"{shown(table)} is not a material with its colour", remedy)
    return found


def _alternatives(
    document: TomlDocument,
    record: Fields,
    kind: PartKind,
    path: KeyPath,
    trade: Trade,
    faults: Faults,
) -> tuple[tuple[Ingredient, ...], ...]:
    """Return what else the author allows in a part's place."""
    remedy = f'write or = [{{ material = "…", colour = "…" }}] or or = ["{NOTHING}"]'
    told = record.raw("or")
    if told is None:
        return ()
    if not isinstance(told, list) or not told:
        record.wrong("or", f"{shown(told)} is not a list of materials", remedy)
        return ()
    found: list[tuple[Ingredient, ...]] = []
    for index, one in enumerate(told):
        own_path = (*path, "or", index)
        own = _fields(document, one if isinstance(one, dict) else {}, own_path, faults)
        if isinstance(one, dict):
            made_of = [_ingredient(own, trade, kind)]
            made_of += _others(document, own, kind, own_path, trade, faults)
            own.finish()
            found.append(tuple(each for each in made_of if each is not None))
        elif one == NOTHING and kind.id != "hook":
            found.append(())
        else:
            own.wrong("", f"{shown(one)} is not a material with its colour", remedy)
    return tuple(found)


def _ingredient(record: Fields, trade: Trade, kind: PartKind) -> Ingredient | None:
    material = record.entry("material", trade.material_names, "material")
    if means_natural(record.text("colour"), material):
        colour = find_natural_colour(material, trade) if material else None
    else:
        colour = record.entry("colour", trade.colour_names, "colour")
    if not record.has("material"):
        record.wrong("material", f"the {kind.name} names no material", 'write material = "…"')
    return Ingredient(material, colour) if material else None
