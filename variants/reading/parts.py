"""The parts table to `PartKind`: what each part is, and what it has of the part it is like."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from variants.model import FORMS, STANDS, PartKind, Style, StylePart
from variants.reading.fields import Fields

PART_COLUMNS = (
    "id", "name", "also", "tying_order", "functions", "says", "form", "over", "stands", "layer",
    "gauged", "like", "source",
)  # fmt: skip
#: What a part is that tells neither form nor whom it is like.
_USUAL_FORM, _USUAL_STAND = "bunch", "above"


def read_part(fields: Fields) -> PartKind:
    """Return one row of the table as it stands there; `with_inherited` fills in the rest."""
    functions = fields.words("functions")
    own, form = fields.text("id", None), fields.choice("form", FORMS)
    like = fields.text("like")
    if not like and not form:
        # What serves as a hackle is a hackle, where its row says no more.
        like = next((one for one in functions if one != own), "")
    return PartKind(
        id=own,
        name=fields.text("name", None),
        also=fields.words("also"),
        tying_order=fields.whole("tying_order", 0, 1000) or 0,
        functions=frozenset(functions),
        says=fields.text("says"),
        source=fields.text("source", None),
        like=like,
        form=form,
        over=fields.text("over"),
        stands=fields.choice("stands", STANDS),
        layer=fields.whole("layer", 0, 1000) or 0,
        gauged=bool(fields.flag("gauged")),
    )


def with_inherited(parts: Mapping[str, PartKind]) -> dict[str, PartKind]:
    """Return the parts, each with what the part it is like tells and its own row does not.

    A part that is like itself, or like none of the table, is as if it named nobody.
    """
    found: dict[str, PartKind] = {}
    for part in parts:
        _inherit(part, parts, found, ())
    return {part: found[part] for part in parts}


def _inherit(
    part: str, parts: Mapping[str, PartKind], found: dict[str, PartKind], below: tuple[str, ...]
) -> PartKind:
    if part in found:
        return found[part]
    own = parts[part]
    above = None
    if own.like in parts and own.like not in (*below, part):
        above = _inherit(own.like, parts, found, (*below, part))
    form = own.form or (above.form if above else _USUAL_FORM)
    stands = own.stands or (above.stands if above else "")
    if form == _USUAL_FORM:
        stands = stands or _USUAL_STAND
    kin = dict.fromkeys(filter(None, (*(above.lineage if above else ()), stands, form)))
    found[part] = replace(
        own,
        like=above.id if above else "",
        form=form,
        over=own.over or (above.over if above else ""),
        stands=stands,
        layer=own.layer or (above.layer if above else own.tying_order),
        gauged=own.gauged or bool(above and above.gauged),
        kin=tuple(one for one in kin if one != part),
    )
    return found[part]


def parts_alike(style: Style, kinds: Iterable[PartKind]) -> tuple[StylePart, ...]:
    """Return what a dressing of a style may have because it is like a part that the style names."""
    own = {part.part: part for part in style.parts}
    return tuple(
        replace(own[near], part=kind.id, optional=True, like=near)
        for kind in kinds
        if kind.like and kind.id not in own
        if (near := next((one for one in kind.lineage if one in own), "")) and kind.is_like(near)
    )
