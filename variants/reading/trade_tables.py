"""The tables of a rules folder to `Trade`; a second folder adds rows or overrides them by id."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TypeVar

from variants.model import (
    Colour,
    Hook,
    Marking,
    Material,
    PartKind,
    Style,
    StylePart,
    Substitute,
    Trade,
)
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.reading.tables import read_table
from variants.reading.toml import TomlDocument

COLOUR_COLUMNS = (
    "id", "name", "also", "family", "marking", "components",
    "hex", "hex_second", "hex_third", "note", "hex_source", "source",
)  # fmt: skip
MARKING_COLUMNS = ("id", "name", "says", "like", "source")
MATERIAL_COLUMNS = (
    "id", "name", "also", "class", "from", "functions", "stiffness", "water", "texture", "sheen",
    "durability", "translucency", "web", "hollow", "fibre_low_mm", "fibre_high_mm",
    "thickness_mm", "density_g_cm3", "dyes_well", "colours", "substitutes", "caution", "source",
    "note",
)  # fmt: skip
PART_COLUMNS = ("id", "name", "also", "tying_order", "functions", "says", "source")
SCALE_COLUMNS = ("scale", "size", "gape_mm", "shank_mm", "wire_mm", "eye_mm", "source")
HOOK_MODEL_COLUMNS = ("material", "length_x", "wire_x", "eye", "bend", "barb", "source")
WATERS = ("floats", "neutral", "soaks", "sinks")
TEXTURES = ("smooth", "fuzzy", "spiky", "segmented", "flat")

Entry = TypeVar("Entry", Colour, Marking, Material, PartKind)


def read_trade(folders: Sequence[Path]) -> Trade:
    """Read the tables of several rules folders, later ones overriding earlier ones by id.

    Raises
    ------
    InputError
        With every fault of every table.
    """
    faults = Faults()
    colours = _entries(folders, "colours.tsv", COLOUR_COLUMNS, _colour, faults)
    markings = _entries(folders, "markings.tsv", MARKING_COLUMNS, _marking, faults)
    materials = _entries(folders, "materials/*.tsv", MATERIAL_COLUMNS, _material, faults)
    parts = _entries(folders, "parts.tsv", PART_COLUMNS, _part_kind, faults)
    styles = {
        style.id: style
        for folder in folders
        for path in sorted(folder.glob("styles/*.toml"))
        if (style := _style(TomlDocument.read(path), faults)) is not None
    }
    hooks = _hooks(folders, faults)
    models = _hook_models(folders, faults)
    _check_references(materials, colours, folders, faults)
    faults.stop_if_any()
    return Trade(colours, markings, materials, parts, styles, hooks, models)


def _entries(
    folders: Sequence[Path],
    pattern: str,
    columns: Sequence[str],
    make: Callable[[Fields], Entry],
    faults: Faults,
) -> dict[str, Entry]:
    entries: dict[str, Entry] = {}
    for folder in folders:
        seen: dict[str, str] = {}
        for path in sorted(folder.glob(pattern)):
            for row in read_table(path, columns, ("id",), faults, tabs=True):
                fields = row.fields(faults)
                entry = make(fields)
                if entry.id in seen:
                    fields.wrong("id", f"'{entry.id}' already stands at {seen[entry.id]}")
                seen[entry.id] = str(fields.origin())
                entries[entry.id] = entry
    return entries


def _colour(fields: Fields) -> Colour:
    hexes = (fields.text("hex"), fields.text("hex_second"), fields.text("hex_third"))
    return Colour(
        id=fields.text("id", None),
        name=fields.text("name", None),
        also=fields.words("also"),
        family=fields.text("family"),
        marking=fields.text("marking") or "solid",
        components=fields.words("components"),
        hexes=tuple(value for value in hexes if value),
        source=fields.text("source", None),
        hex_source=fields.text("hex_source"),
        note=fields.text("note"),
    )


def _marking(fields: Fields) -> Marking:
    like: list[tuple[str, float]] = []
    for pair in fields.words("like"):
        other, _, distance = pair.partition(":")
        try:
            like.append((other.strip(), float(distance)))
        except ValueError:
            fields.wrong("like", f"'{pair}' is not 'marking: number'", "write barred: 0.3")
    return Marking(
        fields.text("id", None),
        fields.text("name", None),
        fields.text("says"),
        tuple(like),
        fields.text("source", None),
    )


def _material(fields: Fields) -> Material:
    low = fields.number("fibre_low_mm", 0, 100_000)
    high = fields.number("fibre_high_mm", 0, 100_000)
    return Material(
        id=fields.text("id", None),
        name=fields.text("name", None),
        also=fields.words("also"),
        kind=fields.text("class", None),
        comes_from=fields.text("from"),
        functions=frozenset(fields.words("functions")),
        stiffness=fields.whole("stiffness", 0, 4),
        water=fields.choice("water", WATERS, "neutral"),
        texture=fields.choice("texture", TEXTURES, "smooth"),
        sheen=fields.whole("sheen", 0, 4),
        durability=fields.whole("durability", 0, 4),
        translucency=fields.whole("translucency", 0, 4),
        web=fields.whole("web", 0, 4),
        hollow=fields.flag("hollow"),
        fibre_mm=(low, high) if low is not None and high else None,
        thickness_mm=fields.number("thickness_mm", 0, 50),
        density_g_cm3=fields.number("density_g_cm3", 0, 25),
        dyes_well=fields.flag("dyes_well"),
        colours=fields.words("colours"),
        substitutes=tuple(
            Substitute(name.strip(), difference.strip())
            for name, _, difference in (word.partition(":") for word in fields.words("substitutes"))
        ),
        caution=fields.text("caution"),
        source=fields.text("source", None),
        note=fields.text("note"),
    )


def _part_kind(fields: Fields) -> PartKind:
    return PartKind(
        id=fields.text("id", None),
        name=fields.text("name", None),
        also=fields.words("also"),
        tying_order=fields.whole("tying_order", 0, 1000) or 0,
        functions=frozenset(fields.words("functions")),
        says=fields.text("says"),
        source=fields.text("source", None),
    )


def _style(document: TomlDocument, faults: Faults) -> Style | None:
    fields = Fields(document.value, lambda field: document.origin((field,)), faults)
    tables = fields.raw("part")
    parts: list[StylePart] = []
    for index, table in enumerate(tables if isinstance(tables, list) else []):
        record = Fields(
            table,
            lambda field, index=index: document.origin(("part", index, field)),  # type: ignore[misc]
            faults,
        )
        parts.append(
            StylePart(
                part=record.text("part", None),
                weight=record.number("weight", 0, 10) or 0.0,
                optional=bool(record.flag("optional", False)),
                says=record.text("says"),
                source=record.text("source", None),
            )
        )
        record.finish()
    style = Style(
        id=fields.text("id", None),
        name=fields.text("name", None),
        also=fields.words("also"),
        says=fields.text("says", None),
        floats=bool(fields.flag("floats", False)),
        parts=tuple(parts),
        source=fields.text("source", None),
    )
    if not parts:
        fields.wrong("part", "the style has no parts", "add tables [[part]]")
    fields.finish()
    return style


def _hooks(folders: Sequence[Path], faults: Faults) -> dict[str, dict[int, Hook]]:
    scales: dict[str, dict[int, Hook]] = {}
    for folder in folders:
        for path in sorted(folder.glob("hooks/scales.tsv")):
            for row in read_table(path, SCALE_COLUMNS, ("scale", "size"), faults, tabs=True):
                fields = row.fields(faults)
                measures = [
                    fields.number(f"{name}_mm", 0, 100) for name in ("gape", "shank", "eye", "wire")
                ]
                size = fields.whole("size", 1, 32)
                fields.text("source", None)
                gape, shank, eye, wire = measures
                # A scale that tells lengths only (the old ones) can't carry hook-relative rules.
                if size and gape and shank and eye and wire:
                    scale = scales.setdefault(fields.text("scale", None), {})
                    scale[size] = Hook(size, gape, shank, eye, wire)
    return scales


def _hook_models(folders: Sequence[Path], faults: Faults) -> dict[str, tuple[int, int]]:
    models: dict[str, tuple[int, int]] = {}
    for folder in folders:
        for path in sorted(folder.glob("hooks/models.tsv")):
            for row in read_table(path, HOOK_MODEL_COLUMNS, ("material",), faults, tabs=True):
                fields = row.fields(faults)
                models[fields.text("material", None)] = (
                    fields.whole("length_x", -8, 10) or 0,
                    fields.whole("wire_x", -8, 8) or 0,
                )
                fields.text("source", None)
    return models


def _check_references(
    materials: dict[str, Material],
    colours: dict[str, Colour],
    folders: Sequence[Path],
    faults: Faults,
) -> None:
    """Note names that lead nowhere; the tables come from our folder and from the user's."""
    where = ", ".join(str(folder) for folder in folders)
    for material in materials.values():
        _note_unknown(material.id, "colour", material.colours, {*colours, "any"}, where, faults)
        names = [substitute.material for substitute in material.substitutes]
        _note_unknown(material.id, "substitute", names, set(materials), where, faults)


def _note_unknown(
    owner: str, what: str, names: Iterable[str], known: set[str], where: str, faults: Faults
) -> None:
    from variants.model import Origin

    for name in names:
        if name not in known:
            faults.add(Origin(where), f"material '{owner}' names the {what} '{name}', which no table has")
