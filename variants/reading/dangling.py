"""Dangling references: names in the trade's tables that no other table has, with the nearest."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from variants.model import Colour, Hook, Marking, Material, PartKind, StylePart, Trade
from variants.reading.fields import Fields
from variants.text import nearest, shown

#: The record of each entry, by its type and id; a style's part by the style's id and its own.
Records = dict[tuple[type, str], Fields]
#: Stands among a material's colours for any colour that dye gives.
ANY_COLOUR = "any"


def check_references(trade: Trade, records: Mapping[tuple[type, str], Fields]) -> None:
    """Add a fault for every name in one table that another table lacks.

    The faults go to those that the records report to.
    """
    for colour in trade.colours.values():
        fields = records[Colour, colour.id]
        _note(fields, "marking", "marking", [colour.marking], trade.markings)
        _note(fields, "components", "colour", colour.components, trade.colours)
    for marking in trade.markings.values():
        others = [other for other, _distance in marking.like]
        _note(records[Marking, marking.id], "like", "marking", others, trade.markings)
    functions = {function for part in trade.parts.values() for function in part.functions}
    for material in trade.materials.values():
        fields = records[Material, material.id]
        _note(fields, "colours", "colour", material.colours, {*trade.colours, ANY_COLOUR})
        substitutes = [substitute.material for substitute in material.substitutes]
        _note(fields, "substitutes", "material", substitutes, trade.materials)
        _note(fields, "functions", "function of a part", sorted(material.functions), functions)
    for kind in trade.parts.values():
        fields = records[PartKind, kind.id]
        named = fields.text("like")
        _note(fields, "like", "part", [named] if named else [], trade.parts.keys() - {kind.id})
        _note(fields, "over", "part", [kind.over] if kind.over else [], trade.parts)
    for style in trade.styles.values():
        for part in style.parts:
            own = records.get((StylePart, f"{style.id} {part.part}"))
            if own is not None:  # what it has of the style it is like stands there
                _note(own, "part", "part", [part.part], trade.parts)
    for model in trade.hook_models:
        _note(records[Hook, model], "material", "material", [model], trade.materials)


def _note(
    fields: Fields, field: str, what: str, names: Iterable[str], known: Collection[str]
) -> None:
    for name in names:
        if name not in known:
            fields.wrong(
                field,
                f"{shown(name)} is the id of no {what} in the tables",
                f"write the id of a {what}, or add a row for it",
                nearest(name, known),
            )
