"""Names for items: for one that has none, and for those that share one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet

from variants.model import plain

#: By these, in this order, items of one name are distinguished.
_DISTINCTIVE = ("colour", "sizes", "length", "thickness", "side", "place")


def make_name(values: Mapping[str, str], taken: AbstractSet[str] = frozenset()) -> str:
    """Return a name for an item that has none: what it is, and a number if the name is taken.

    >>> make_name({"material": "hen cape", "colour": "blue dun", "sizes": "12-16"})
    'hen cape blue dun 12-16'

    Parameters
    ----------
    values : mapping of column to cell
    taken : set of str
        Names that are given, in plain form.
    """
    material, colour = values.get("material", ""), values.get("colour", "")
    words = material if colour.lower() in material.lower() else f"{material} {colour}"
    if values.get("sizes"):
        words = f"{words} {values['sizes']}"
    return _numbered(" ".join(words.split()) or "thing", taken)


def make_names_unique(rows: Sequence[Mapping[str, str]]) -> list[str]:
    """Return a name for each of several items: its own, or one with what distinguishes it.

    >>> capes = [{"item": "cape", "colour": "brown"}, {"item": "cape", "colour": "black"}]
    >>> make_names_unique(capes)
    ['cape brown', 'cape black']
    """
    by_name: dict[str, list[int]] = {}
    for place, row in enumerate(rows):
        by_name.setdefault(plain(row["item"]), []).append(place)
    found = [row["item"] for row in rows]
    taken = {name for name, alike in by_name.items() if len(alike) == 1}
    for alike in (places for places in by_name.values() if len(places) > 1):
        names = [found[place] for place in alike]
        for column in _DISTINCTIVE:
            if len(set(map(plain, names))) < len(names):
                cells = [rows[place].get(column, "") for place in alike]
                names = [_longer(*pair) for pair in zip(names, cells, strict=True)]
        for place, name in zip(alike, names, strict=True):
            found[place] = _numbered(name, taken)
            taken.add(plain(found[place]))
    return found


def _longer(name: str, cell: str) -> str:
    return f"{name} {cell}" if cell and plain(cell) not in plain(name) else name


def _numbered(base: str, taken: AbstractSet[str]) -> str:
    number, name = 2, base
    while plain(name) in taken:
        name, number = f"{base} {number}", number + 1
    return name
