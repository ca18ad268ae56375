"""Style files (TOML) to `Style`: how a fly is built and fished, its parts in tying order."""

from __future__ import annotations

from variants.model import Style, StylePart
from variants.reading.faults import Faults, shown
from variants.reading.fields import Fields
from variants.reading.toml import TomlDocument

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
    )
    fields.finish()
    return style, {"": fields, **{name: record for name, (_part, record) in parts.items()}}


def _parts(
    document: TomlDocument, fields: Fields, faults: Faults
) -> dict[str, tuple[StylePart, Fields]]:
    tables = fields.raw("part")
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
