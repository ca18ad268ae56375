"""Which named dressings a dressing equals, or stands nearest to.

A name is no key: one dressing may carry several names, and one name several dressings. So dressings
are compared part by part, hook and thread left aside, and names are only what is told in the end.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from variants.design import ingredient_terms
from variants.model import HOOK, THREAD, Candidate, Dressing, Ingredient, Style
from variants.rulebook import THOUSANDTHS, Rulebook

#: What a fly is made of: for each part, the materials and colours in it.
Make = frozenset[tuple[str, tuple[tuple[str, str], ...]]]
_ASIDE = (HOOK, THREAD)


@dataclass(frozen=True, slots=True)
class Kin:
    """A dressing of a book, and how it differs from the one at hand.

    Attributes
    ----------
    dressing : Dressing
    differing : tuple of str
        Ids of the parts that differ, or that only one of the two has.
    distance : int
        Thousandths, by the same weights and likeness as the departure.
    """

    dressing: Dressing
    differing: tuple[str, ...]
    distance: int

    @property
    def is_same(self) -> bool:
        """Whether both are one dressing."""
        return not self.differing


def make_of(parts: Mapping[str, Sequence[Ingredient]]) -> Make:
    """Return what identifies a fly's make."""
    return frozenset(
        (part, tuple(sorted(one.key for one in ingredients)))
        for part, ingredients in parts.items()
        if part not in _ASIDE and ingredients
    )


def ingredients_of(dressing: Dressing) -> dict[str, Sequence[Ingredient]]:
    """Return the ingredients of each part of a dressing."""
    return {part.id: part.ingredients for part in dressing.parts}


def find_kin(dressing: Dressing, book: Iterable[Dressing], rulebook: Rulebook) -> list[Kin]:
    """Return the dressings of a book, nearest first; ties by the number of parts, then by name.

    Only dressings of the same style are kin.
    """
    style = rulebook.trade.styles[dressing.style]
    found = [
        _compare(dressing, other, style, rulebook)
        for other in book
        if other.style == dressing.style
    ]
    return sorted(found, key=lambda kin: (kin.distance, len(kin.differing), kin.dressing.name))


def _compare(one: Dressing, other: Dressing, style: Style, rulebook: Rulebook) -> Kin:
    mine, theirs = ingredients_of(one), ingredients_of(other)
    differing, distance = [], 0
    for style_part in (*style.parts, *style.more):
        part = style_part.part
        here, there = mine.get(part, ()), theirs.get(part, ())
        if part in _ASIDE or make_of({part: here}) == make_of({part: there}):
            continue
        differing.append(part)
        apart = _measure_distance(here, there, part, style.id, rulebook)
        distance += round(style_part.weight * apart)
    return Kin(other, tuple(differing), distance)


def _measure_distance(
    here: Sequence[Ingredient],
    there: Sequence[Ingredient],
    part: str,
    style: str,
    rulebook: Rulebook,
) -> int:
    """Return how far two fillings of a part are apart, 0 to about 1000.

    Things wound together have no order: each is held against the likest of the other's that is
    left, and one that is left over counts in full.
    """
    most, likeness = max(len(here), len(there)), rulebook.likeness
    costs = sorted(
        (
            sum(term.cost for term in ingredient_terms(likeness, mine, theirs, part, style)),
            row,
            column,
        )
        for row, mine in enumerate(here)
        for column, theirs in enumerate(there)
    )
    rows, columns, apart = set(range(len(here))), set(range(len(there))), 0
    for cost, row, column in costs:
        if row in rows and column in columns:
            rows.remove(row)
            columns.remove(column)
            apart += cost
    apart += THOUSANDTHS * (len(rows) + len(columns))
    return -(-apart // most)


class Names:
    """The names that dressings of a book carry, by what they are made of."""

    def __init__(self, book: Iterable[Dressing]) -> None:
        self._names: dict[tuple[str, Make], list[str]] = {}
        for dressing in book:
            for way in dressing.ways():
                key = dressing.style, make_of(ingredients_of(way))
                self._names.setdefault(key, []).append(dressing.name)

    def of(self, style: str, chosen: Mapping[str, Candidate]) -> tuple[str, ...]:
        """Return the names of a variant that already has some."""
        parts = {part: candidate.ingredients for part, candidate in chosen.items()}
        return tuple(dict.fromkeys(self._names.get((style, make_of(parts)), ())))
