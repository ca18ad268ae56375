"""A request made from words: names of parts, items and materials, hook sizes, a water.

The library, the commands, the page and the survey all ask through here; what they add is how a
refusal is shown.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TypeVar

from variants.design.request import Request
from variants.model import Box, Dressing, Trade, plain
from variants.reading import SizesError, parse_sizes
from variants.rulebook import WATERS
from variants.text import did_you_mean, nearest, shown

Entry = TypeVar("Entry")


class UnknownWordError(ValueError):
    """A word that means nothing here; the text says what would be right.

    Attributes
    ----------
    field : str
        What was asked with it: ``size``, ``water``, ``missing``, ``keep``...
    problem : str
        What is wrong, without the nearest names.
    near : tuple of str
        Known names close to the word.
    """

    def __init__(self, field: str, problem: str, near: Iterable[str] = ()) -> None:
        self.field, self.problem, self.near = field, problem, tuple(near)
        hint = did_you_mean(self.near)
        super().__init__(f"{problem}; {hint}" if hint else problem)


def request_from_words(
    base: Dressing,
    box: Box,
    trade: Trade,
    *,
    sizes: str | Sequence[int] = (),
    water: str | None = None,
    missing: Iterable[str] = (),
    keep: Iterable[str] = (),
    max_changes: int | None = None,
) -> Request:
    """Return the request that words ask about a dressing and a box.

    Parameters
    ----------
    base : Dressing
    box : Box
    trade : Trade
        Whose names are understood.
    sizes : str or sequence of int
        ``14`` or ``12-16``, or whole numbers; the dressing's own when empty.
    water : str, optional
        ``slow``, ``medium`` or ``fast``.
    missing : iterable of str
        Parts of the dressing, items of the box, materials, by any of their names.
    keep : iterable of str
        Parts of the dressing, by any of their names.
    max_changes : int, optional

    Raises
    ------
    UnknownWordError
        For the first word that means nothing here.
    """
    return Request(
        base,
        box,
        find_sizes(sizes) if isinstance(sizes, str) else tuple(sizes),
        find_water(water),
        frozenset(find_missing(name, box, trade, base) for name in missing),
        frozenset(find_part(name, base, trade) for name in keep),
        max_changes,
    )


def find_entry(field: str, name: str, names: Mapping[str, Entry], what: str) -> Entry:
    """Return the entry of a table that a name means; raises `UnknownWordError`."""
    found = names.get(plain(name))
    if found is None:
        problem = f"{shown(name)} is no {what} that the tables know"
        raise UnknownWordError(field, problem, nearest(plain(name), names))
    return found


def find_sizes(text: str | None) -> tuple[int, ...]:
    """Return hook sizes from ``14`` or ``12-16``; raises `UnknownWordError`."""
    try:
        return parse_sizes(text) if text else ()
    except SizesError as problem:
        raise UnknownWordError("size", str(problem)) from None


def find_water(water: str | None) -> str | None:
    """Return a water as it was given; raises `UnknownWordError` for one that is not known."""
    if water is not None and water not in WATERS:
        raise UnknownWordError("water", f"{shown(water)} is no water: {', '.join(WATERS)}")
    return water


def find_part(name: str, base: Dressing, trade: Trade) -> str:
    """Return the id of the part of a dressing that a name means; raises `UnknownWordError`."""
    part = trade.part_names.get(plain(name))
    if part is None or base.part(part.id) is None:
        near = nearest(name, [one.id for one in base.parts])
        raise UnknownWordError("keep", f"{shown(name)} is no part of this dressing", near)
    return part.id


def find_missing(name: str, box: Box, trade: Trade, base: Dressing | None = None) -> str:
    """Return the id of what a name means: a part of the dressing, an item, a material.

    Raises
    ------
    UnknownWordError
        When it means none of them.
    """
    part = trade.part_names.get(plain(name))
    if part is not None and base is not None and base.part(part.id) is not None:
        return part.id
    if box.item(name) is not None:
        return name
    material = trade.material_names.get(plain(name))
    if material is not None:
        return material.id
    parts = [one.id for one in base.parts] if base else []
    what = "part, item or material" if base else "item or material"
    names = [one.name for one in trade.materials.values()]
    near = nearest(name, [*parts, *(item.id for item in box.items), *names])
    raise UnknownWordError("missing", f"{shown(name)} is no {what} that is known here", near)
