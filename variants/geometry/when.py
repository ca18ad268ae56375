"""What else has to be on a fly for a row of a table to speak of it.

A cell such as ``post; no rib; wing of hair`` comes in; `When`s come out, and of several rows the
one that knows most of a fly is found.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from variants.model import HOOK, STANDARD_HOOK, Candidate, HookModel, PartKind
from variants.reading import Fields

#: The row of any style.
ANY = "any"
#: For each part on a fly, the words for what fills it.
Stuffs = Mapping[str, frozenset[str]]
BARBED, BARBLESS = "barbed", "barbless"
_Row = TypeVar("_Row")


@dataclass(frozen=True, slots=True)
class When:
    """A part that has to be there, of some stuff or of any; or that must not be.

    Attributes
    ----------
    part : str
    stuff : str
        A material's id or a class, ``barbed`` or ``barbless`` of a hook; empty for any.
    is_absent : bool
    """

    part: str
    stuff: str = ""
    is_absent: bool = False

    def holds(self, fly: Stuffs) -> bool:
        """Tell whether it is so on a fly."""
        is_there = self.part in fly and (not self.stuff or self.stuff in fly[self.part])
        return is_there is not self.is_absent


def read_when(fields: Fields) -> tuple[When, ...]:
    """Return what the column ``when`` of a row asks.

    Examples
    --------
    >>> from variants.reading import Faults
    >>> read_when(Fields({"when": "no rib; wing of hair"}, lambda field: None, Faults()))
    (When(part='rib', stuff='', is_absent=True), When(part='wing', stuff='hair', is_absent=False))
    """
    found = []
    for words in fields.words("when"):
        part, _, stuff = words.removeprefix("no ").partition(" of ")
        found.append(When(part.strip(), stuff.strip(), words.startswith("no ")))
    return tuple(found)


def stuffs_of(
    chosen: Mapping[str, Candidate],
    models: Mapping[str, HookModel],
    kinds: Mapping[str, PartKind],
) -> Stuffs:
    """Return the words for what fills each part: material, class, and whether a hook has a barb.

    What is like a part that the fly lacks stands in its place as well.
    """
    found = {
        part: frozenset(
            word for one in filled.ingredients for word in (one.material.id, one.material.kind)
        )
        for part, filled in chosen.items()
        if filled.ingredients
    }
    if HOOK in found:
        model = models.get(chosen[HOOK].ingredients[0].material.id, STANDARD_HOOK)
        found[HOOK] |= {BARBED if model.is_barbed else BARBLESS}
    for part in tuple(found):
        like = kinds[part].like if part in kinds else ""
        if like:
            found.setdefault(like, found[part])
    return found


def closest(
    rows: Iterable[tuple[str, tuple[When, ...], _Row]], styles: Sequence[str], fly: Stuffs
) -> _Row | None:
    """Return, of rows with style and conditions, the one that knows most of a fly.

    Parameters
    ----------
    rows : iterable of (style, conditions, row)
    styles : sequence of str
        The fly's style and those that it is like, the nearest first: the first of them that has
        rows here speaks for the others.
    fly : mapping

    Notes
    -----
    One with more conditions beats one with fewer, then a style's own beats that of any style, and a
    later one an earlier. None where none speaks of it.
    """
    rows = tuple(rows)
    named = {own for own, _when, _row in rows}
    style = next((one for one in styles if one in named), ANY)
    speaking = [
        ((len(when), own != ANY), row)
        for own, when, row in rows
        if own in (ANY, style) and all(one.holds(fly) for one in when)
    ]
    best = max((key for key, _ in speaking), default=None)
    return next((row for key, row in reversed(speaking) if key == best), None)
