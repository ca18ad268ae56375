"""Dressing files (TOML) to `Dressing`, every name checked against the trade's tables.

A dressing names itself, its style and hook sizes, then its parts in order::

    name = "…"
    style = "soft hackle"
    sizes = "12-16"

    [part.hackle]
    material = "hen neck"
    colour = "medium dun"
    turns = 2

Two materials wound or blended together stand as ``also = [{ material = "…", colour = "…" }]``.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from variants.model import Dressing, Ingredient, Origin, Part, PartKind, Style, Trade
from variants.reading.faults import Faults, shown
from variants.reading.fields import Fields
from variants.reading.toml import KeyPath, TomlDocument

if TYPE_CHECKING:
    from pint import Quantity

#: Counts that a dressing may ask for, part by part.
COUNTS = ("turns", "turns_behind", "turns_front", "fibres", "feathers")
_SIZES = re.compile(r"(\d{1,2})\s*(?:-|–|to)\s*(\d{1,2})")
_SMALLEST_HOOK, _LARGEST_HOOK = 24, 2


def parse_sizes(text: str) -> tuple[int, ...]:
    """Return hook sizes, largest hook first, from ``"14"``, ``"12-16"`` or ``"12, 14"``.

    A range steps by even numbers when both its ends are even, since hooks are sold so.

    Raises
    ------
    ValueError
        With what is wrong.

    Examples
    --------
    >>> parse_sizes("12-16")
    (12, 14, 16)
    """
    sizes: set[int] = set()
    for part in re.split(r"[,;]", text):
        part = part.strip()
        match = _SIZES.fullmatch(part)
        if match:
            low, high = int(match[1]), int(match[2])
            if low > high:
                raise ValueError(f"{shown(part)} runs backwards: write {high}-{low}")
            sizes.update(range(low, high + 1, 2 if low % 2 == high % 2 == 0 else 1))
        elif re.fullmatch(r"\d{1,2}", part):
            sizes.add(int(part))
        else:
            raise ValueError(f"{shown(part)} is not a hook size or a range of them")
    wrong = [size for size in sizes if not _LARGEST_HOOK <= size <= _SMALLEST_HOOK]
    if wrong:
        raise ValueError(f"size {wrong[0]} is not in the hook tables ({_LARGEST_HOOK} to {_SMALLEST_HOOK})")
    return tuple(sorted(sizes))


def read_dressing(path: str | Path, trade: Trade) -> Dressing:
    """Read one dressing; ``-`` is standard input.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    return dressing_of(TomlDocument.read(path), trade)


def dressing_of(document: TomlDocument, trade: Trade) -> Dressing:
    """Return the dressing that a TOML document holds; raises InputError with every fault."""
    faults = Faults()
    fields = _fields(document, document.value, (), faults)
    name = fields.text("name", None)
    style = fields.entry("style", trade.style_names, "style") if fields.text("style", None) else None
    sizes = _sizes(fields)
    size = fields.whole("size", _LARGEST_HOOK, _SMALLEST_HOOK)
    if size is not None and sizes and size not in sizes:
        fields.wrong("size", f"size {size} is not among the sizes", "name one of the sizes")
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
    return Fields(
        values, lambda field: document.origin((*path, field) if field else path), faults
    )


def _sizes(fields: Fields) -> tuple[int, ...]:
    raw = fields.raw("sizes")
    text = ", ".join(map(str, raw)) if isinstance(raw, list) else str(raw if raw is not None else "")
    if not text:
        fields.wrong("sizes", "the sizes are missing", 'state hook sizes, such as sizes = "12-16"')
        return ()
    try:
        return parse_sizes(text)
    except ValueError as problem:
        fields.wrong("sizes", str(problem), 'write sizes = "12-16" or sizes = [12, 14]')
        return ()


def _parts(
    document: TomlDocument, fields: Fields, style: Style | None, trade: Trade, faults: Faults
) -> tuple[Part, ...]:
    tables = fields.raw("part")
    if not isinstance(tables, dict) or not tables:
        fields.wrong("part", "the dressing has no parts", "add tables such as [part.hook], [part.body]")
        return ()
    parts: dict[str, Part] = {}
    for word, table in tables.items():
        path = ("part", word)
        if not isinstance(table, dict):
            fields.wrong("part", f"{shown(word)} is not a table of its own", f"write [part.{word}]")
            continue
        record = _fields(document, table, path, faults)
        kind = record.lookup("", word, trade.part_names, "part of a fly")
        if kind is None:
            continue
        if style is not None and style.part(kind.id) is None:
            record.wrong("", f"a {style.name} has no {kind.name}", "leave it out, or name another style")
        if kind.id in parts:
            record.wrong("", f"the {kind.name} is given twice", "keep one of the two")
        parts[kind.id] = _part(document, record, kind, path, trade, faults)
    if parts and "hook" not in parts:
        fields.wrong("part", "the dressing has no hook", "add a table [part.hook]")
    return tuple(parts.values())


def _part(
    document: TomlDocument,
    record: Fields,
    kind: PartKind,
    path: KeyPath,
    trade: Trade,
    faults: Faults,
) -> Part:
    ingredients = [_ingredient(record, trade, f"the {kind.name}")]
    also = record.raw("also")
    if also is not None and not isinstance(also, list):
        record.wrong("also", f"{shown(also)} is not a list", 'write also = [{ material = "…" }]')
        also = None
    for index, table in enumerate(also or []):
        if not isinstance(table, dict):
            record.wrong("also", f"{shown(table)} is not a table", 'write { material = "…" }')
            continue
        extra = _fields(document, table, (*path, "also", index), faults)
        ingredients.append(_ingredient(extra, trade, f"the {kind.name}"))
        extra.finish()
    counts = {
        name: count for name in COUNTS if (count := record.whole(name, 0, 500)) is not None
    }
    part = Part(
        id=kind.id,
        ingredients=tuple(found for found in ingredients if found is not None),
        length=_measure(record, "length"),
        thickness=record.quantity("thickness"),
        counts=counts,
        signature=bool(record.flag("signature", False)),
        note=record.text("note"),
        origin=record.origin(),
    )
    record.finish()
    return part


def _ingredient(record: Fields, trade: Trade, what: str) -> Ingredient | None:
    if not record.text("material"):
        record.wrong("material", f"{what} names no material", 'write material = "…"')
    material = record.entry("material", trade.material_names, "material")
    colour = record.entry("colour", trade.colour_names, "colour")
    if material is None:
        return None
    if colour is None and not record.has("colour") and material.natural_colour:
        colour = trade.colours.get(material.natural_colour)
    return Ingredient(material, colour)


def _measure(record: Fields, field: str) -> Quantity | None:
    quantity = record.quantity(field)
    if quantity is None:
        return None
    relative = any(quantity.check(f"[{unit}]") for unit in ("gape", "shank", "eye"))
    if not relative and not quantity.check("[length]"):
        record.wrong(field, f"'{quantity}' is not a length", 'write "9 mm" or "1.5 gape"')
        return None
    return quantity
