"""The tables of a rules folder to `Trade`; a second folder adds rows or overrides them by id."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

from variants.model import (
    Colour,
    Hook,
    HookModel,
    Marking,
    Material,
    Origin,
    PartKind,
    Style,
    StylePart,
    Substitute,
    Trade,
)
from variants.reading.builds import read_builds
from variants.reading.composing import WordComposer
from variants.reading.dangling import Records, check_references
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.reading.law_tables import add_law
from variants.reading.parts import PART_COLUMNS, parts_alike, read_part, with_inherited
from variants.reading.styles import read_style, with_likeness
from variants.reading.tables import read_table
from variants.reading.toml import TomlDocument
from variants.text import shown

COLOUR_COLUMNS = (
    "id", "name", "also", "family", "marking", "components",
    "hex", "hex_second", "hex_third", "made", "note", "hex_source", "source",
)  # fmt: skip
MARKING_COLUMNS = ("id", "name", "says", "like", "shares", "source")
MATERIAL_COLUMNS = (
    "id", "name", "also", "class", "from", "functions", "stiffness", "water", "texture", "sheen",
    "durability", "translucency", "web", "hollow", "fibre_low_mm", "fibre_high_mm",
    "thickness_mm", "density_g_cm3", "dyes_well", "colours", "substitutes", "caution", "source",
    "note",
)  # fmt: skip
SCALE_COLUMNS = ("scale", "size", "gape_mm", "shank_mm", "wire_mm", "eye_mm", "source")
HOOK_MODEL_COLUMNS = (
    "material", "length_x", "wire_x", "eye", "bend", "barb", "points", "shanks", "source",
)  # fmt: skip
LIKE_COLUMNS = ("id", "name", "also", "like", "class", "functions", "colours", "note", "source")
SCALE_KEYS, MODEL_KEYS = ("scale", "size"), ("material",)
WATERS = ("floats", "neutral", "soaks", "sinks")
TEXTURES = ("smooth", "fuzzy", "spiky", "crinkled", "segmented", "flat")

_HEX = re.compile(r"#[0-9A-Fa-f]{6}")
Entry = TypeVar("Entry", Colour, Marking, Material, PartKind)


def read_trade(folders: Sequence[Path]) -> Trade:
    """Read the tables of several rules folders, later ones overriding earlier ones by id.

    Raises
    ------
    InputError
        With every fault of every table; names that lead nowhere are told once all else is right.
    """
    faults = Faults()
    records: Records = {}
    read = _Tables(folders, faults, records)
    markings = read.entries("markings.tsv", MARKING_COLUMNS, _marking)
    trade = Trade(
        colours=read.colours(markings),
        markings=markings,
        materials=read.alike(read.entries("materials/*.tsv", MATERIAL_COLUMNS, _material)),
        parts=with_inherited(read.entries("parts.tsv", PART_COLUMNS, read_part)),
        styles=with_likeness(read.styles(), records, faults),
        hooks=read.hooks(),
        hook_models=read.hook_models(),
        builds=read_builds(folders, faults),
        composer=WordComposer(folders),
    )
    faults.stop_if_any()
    if len(folders) > 1:
        trade = replace(trade, added=_added(trade, folders[0]))
    check_references(trade, records)
    faults.stop_if_any()
    styles = {
        name: replace(style, more=parts_alike(style, trade.parts.values()))
        for name, style in trade.styles.items()
    }
    trade = replace(trade, styles=styles)
    trade = add_law(trade, read.rows, faults)
    faults.stop_if_any()
    return trade


def _added(trade: Trade, own: Path) -> frozenset[str]:
    """Return the ids of parts and styles that our own tables lack."""
    ours = _Tables((own,), Faults(), {})
    parts = ours.entries("parts.tsv", PART_COLUMNS, read_part)
    return frozenset({*trade.parts, *trade.styles} - {*parts, *ours.styles()})


@dataclass(frozen=True, slots=True)
class _Tables:
    """The folders being read, and the record of each entry for what is found wrong later."""

    folders: Sequence[Path]
    faults: Faults
    records: Records

    def rows(
        self, pattern: str, columns: Sequence[str], keys: Sequence[str]
    ) -> Iterator[tuple[Fields, tuple[str, ...]]]:
        """Yield each row with its key, noting a key that is missing or stands twice in a folder."""
        for folder in self.folders:
            seen: dict[tuple[str, ...], Origin] = {}
            for path in sorted(folder.glob(pattern)):
                for row in read_table(path, columns, keys, self.faults, tabs=True):
                    fields = row.fields(self.faults)
                    key = tuple(fields.text(name, None) for name in keys)
                    first = seen.setdefault(key, fields.origin())
                    if all(key) and first != fields.origin():
                        words = shown(" ".join(key))
                        fields.wrong(keys[-1], f"{words} already stands at {first}", "keep one")
                    yield fields, key

    def entries(
        self, pattern: str, columns: Sequence[str], make: Callable[[Fields], Entry]
    ) -> dict[str, Entry]:
        """Return the entries of the tables that a pattern names, by id."""
        entries: dict[str, Entry] = {}
        for fields, (entry_id,) in self.rows(pattern, columns, ("id",)):
            entry = entries[entry_id] = make(fields)
            self.records[type(entry), entry_id] = fields
        return entries

    def colours(self, markings: Mapping[str, Marking]) -> dict[str, Colour]:
        """Return the colours, each with how much its shades cover under its marking."""
        colours = self.entries("colours.tsv", COLOUR_COLUMNS, _colour)
        for name, colour in colours.items():
            marking = markings.get(colour.marking)
            if marking and len(marking.shares) == len(colour.hexes):
                colours[name] = replace(colour, cover=marking.shares)
        return colours

    def alike(self, materials: dict[str, Material]) -> dict[str, Material]:
        """Return the materials with those that take their grades from one that they are like."""
        for fields, (entry_id,) in self.rows("like.tsv", LIKE_COLUMNS, ("id",)):
            like = materials.get(fields.choice("like", materials, None))
            name, source = fields.text("name", None), fields.text("source", None)
            if like is None or entry_id in materials:
                continue
            materials[entry_id] = replace(
                like, id=entry_id, name=name, also=fields.words("also"), substitutes=(),
                kind=fields.text("class") or like.kind,
                functions=frozenset(fields.words("functions")) or like.functions,
                colours=fields.words("colours") or like.colours,
                note="; ".join(filter(None, (fields.text("note"), f"graded as {like.name}"))),
                source=source,
                graded_like=like.graded_like or like.id,
            )
            self.records[Material, entry_id] = fields
        return materials

    def styles(self) -> dict[str, Style]:
        """Return the styles, one file each."""
        styles: dict[str, Style] = {}
        for folder in self.folders:
            seen: dict[str, Path] = {}
            for path in sorted(folder.glob("styles/*.toml")):
                style, records = read_style(TomlDocument.read(path), self.faults)
                first = seen.setdefault(style.id, path)
                if first != path:
                    problem = f"{shown(style.id)} already stands in {first}"
                    records[""].wrong("id", problem, "keep one")
                styles[style.id] = style
                self.records[Style, style.id] = records[""]
                for part in style.parts:
                    self.records[StylePart, f"{style.id} {part.part}"] = records[part.part]
        return styles

    def hooks(self) -> dict[str, dict[int, Hook]]:
        """Return the dimensions of hooks by scale and size."""
        scales: dict[str, dict[int, Hook]] = {}
        for fields, (scale, _size) in self.rows("hooks/scales.tsv", SCALE_COLUMNS, SCALE_KEYS):
            size = fields.whole("size", 1, 32)
            gape, shank, eye, wire = (
                fields.number(f"{name}_mm", 0, 100) for name in ("gape", "shank", "eye", "wire")
            )
            fields.text("source", None)
            # A scale that tells lengths only (the old ones) can't carry hook-relative rules.
            if size and gape and shank and eye and wire:
                scales.setdefault(scale, {})[size] = Hook(size, gape, shank, eye, wire)
        return scales

    def hook_models(self) -> dict[str, HookModel]:
        """Return how each model of hook differs from the standard."""
        models: dict[str, HookModel] = {}
        for fields, (material,) in self.rows("hooks/models.tsv", HOOK_MODEL_COLUMNS, MODEL_KEYS):
            models[material] = HookModel(
                length_x=fields.whole("length_x", -8, 10) or 0,
                wire_x=fields.whole("wire_x", -8, 8) or 0,
                eye=fields.text("eye", None),
                bend=fields.text("bend", None),
                is_barbed=bool(fields.flag("barb", True)),
                points=fields.whole("points", 1, 4) or 1,
                shanks=fields.whole("shanks", 1, 4) or 1,
            )
            fields.text("source", None)
            self.records[Hook, material] = fields
        return models


def _colour(fields: Fields) -> Colour:
    hexes = tuple(fields.text(name) for name in ("hex", "hex_second", "hex_third"))
    for name, value in zip(("hex", "hex_second", "hex_third"), hexes, strict=True):
        if value and not _HEX.fullmatch(value):
            problem = f"{shown(value)} is no shade of the screen"
            fields.wrong(name, problem, "write # and six of 0-9, A-F")
    return Colour(
        id=fields.text("id", None),
        name=fields.text("name", None),
        also=fields.words("also"),
        family=fields.text("family"),
        marking=fields.text("marking") or "solid",
        components=fields.words("components"),
        hexes=tuple(value for value in hexes if value),
        is_made=bool(fields.flag("made")),
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
            problem = f"{shown(pair)} is not a marking with a number"
            fields.wrong("like", problem, "write barred: 0.3")
            continue
        if not 0 <= like[-1][1] <= 1:
            fields.wrong("like", f"{shown(pair)} is out of range", "write a number from 0 to 1")
    return Marking(
        id=fields.text("id", None),
        name=fields.text("name", None),
        says=fields.text("says"),
        like=tuple(like),
        shares=_shares(fields),
        source=fields.text("source", None),
    )


def _shares(fields: Fields) -> tuple[int, ...]:
    """Return the hundredths of a feather that each shade covers under a marking."""
    words = fields.words("shares")
    shares = tuple(int(word) for word in words if word.isascii() and word.isdigit())
    if words and (len(shares) < len(words) or sum(shares) != 100):
        problem = f"{shown('; '.join(words))} are no hundredths of a feather"
        fields.wrong("shares", problem, "write whole numbers that make 100, as 65; 35")
        return ()
    return shares


def _material(fields: Fields) -> Material:
    low = fields.number("fibre_low_mm", 0, 100_000)
    high = fields.number("fibre_high_mm", 0, 100_000)
    if low is not None and high is not None and low > high:
        problem = f"the longest fibre, {high:g} mm, is shorter than the shortest, {low:g} mm"
        fields.wrong("fibre_high_mm", problem, "write the shorter length in fibre_low_mm")
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
