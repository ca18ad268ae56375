"""Style files (TOML) to `Style`: how a fly is built and fished, its parts in tying order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from variants.model import Style, StylePart
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.reading.toml import TomlDocument
from variants.text import nearest, shown

_PARTS_HELP = "add tables [[part]], one for each part of the style"


def read_style(document: TomlDocument, faults: Faults) -> tuple[Style, dict[str, Fields]]:
    """Return the style of one file, and the records of its parts for faults that are found later.

    The style's own record stands under the empty text.
    """
    fields = Fields(document.value, lambda field: document.origin((field,)), faults)
    parts = _parts(document, fields, faults)
    style = Style(
        id=fields.text("id", None),
        name=fields.text("name", None),
        also=fields.words("also"),
        says=fields.text("says", None),
        floats=bool(fields.flag("floats", False)),
        parts=tuple(part for part, _record in parts.values()),
        source=fields.text("source", None),
        like=fields.text("like"),
        sets_aside=frozenset(fields.words("sets_aside")),
    )
    fields.finish()
    return style, {"": fields, **{name: record for name, (_part, record) in parts.items()}}


def _parts(
    document: TomlDocument, fields: Fields, faults: Faults
) -> dict[str, tuple[StylePart, Fields]]:
    tables = fields.raw("part")
    if not tables and fields.has("like"):
        return {}
    if not tables:
        fields.wrong("part", "the style has no parts", _PARTS_HELP)
        return {}
    if not isinstance(tables, list):
        fields.wrong("part", f"{shown(tables)} is not a list of parts", _PARTS_HELP)
        return {}
    parts: dict[str, tuple[StylePart, Fields]] = {}
    for index, table in enumerate(tables):
        record = Fields(
            table if isinstance(table, dict) else {},
            lambda field, index=index: document.origin(  # type: ignore[misc]
                ("part", index, field) if field else ("part", index)
            ),
            faults,
        )
        if not isinstance(table, dict):
            record.wrong("", f"{shown(table)} is not a part with its weight", _PARTS_HELP)
            continue
        part = _part(record)
        if part.part in parts:
            record.wrong("part", f"{shown(part.part)} stands twice in the style", "keep one")
        parts[part.part] = part, record
    return parts


def with_likeness(
    styles: Mapping[str, Style], records: Mapping[tuple[type, str], Fields], faults: Faults
) -> dict[str, Style]:
    """Return the styles, each with its lineage and the parts of the style it is like.

    A part that the style's own file has stands there as it says, in the place it has in the style
    it is like; one that this lacks goes last.

    Parameters
    ----------
    styles : mapping of id to Style
    records : mapping
        The record of each style, for what is wrong with it.
    faults : Faults
    """
    found: dict[str, Style] = {}
    for style in styles.values():
        fields = records[Style, style.id]
        lineage = [style.id]
        while like := styles[lineage[-1]].like:
            if like not in styles or like in lineage:
                known = styles.keys() - {style.id}
                problem = f"{shown(like)} is the id of no other style in the tables"
                if like in lineage:
                    problem = "the styles are like each other in a ring"
                fields.wrong("like", problem, "write the id of a style", nearest(like, known))
                break
            lineage.append(like)
        parts: dict[str, StylePart] = {}
        for name in reversed(lineage):
            parts |= {part.part: part for part in styles[name].parts}
        floats = next((styles[one].floats for one in lineage if _tells(records, one)), style.floats)
        found[style.id] = replace(
            style,
            floats=floats,
            kin=tuple(lineage[1:]),
            parts=tuple(parts.values()),
            sets_aside=frozenset().union(*(styles[name].sets_aside for name in lineage)),
        )
    return found


def _tells(records: Mapping[tuple[type, str], Fields], style: str) -> bool:
    return records[Style, style].has("floats")


def _part(record: Fields) -> StylePart:
    weight = record.number("weight", 0, 10)
    if weight is None and not record.has("weight"):
        record.wrong("weight", "the weight is missing", "state the weight")
    part = StylePart(
        part=record.text("part", None),
        weight=weight or 0.0,
        optional=bool(record.flag("optional", False)),
        says=record.text("says"),
        source=record.text("source", None),
        signature=frozenset(record.words("signature")),
    )
    record.finish()
    return part
