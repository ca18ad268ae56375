"""What depends on the part: counts for the water, tone, tying order, feathers taken."""

from __future__ import annotations

import math
from collections.abc import Container, Iterable, Sequence

from variants.model import Attributes, Ingredient, Part, Value
from variants.problem.attributes_of import tone
from variants.rulebook import Count, Rule


def dress(
    part: Part,
    attributes: Attributes,
    found: Sequence[Ingredient],
    written: Attributes,
    counts: Sequence[Count],
    tied: int,
) -> dict[str, Value]:
    """Return a material's attributes with those it has as this part of this dressing.

    Parameters
    ----------
    part : Part
        As the dressing writes it.
    attributes : mapping
        Of what fills it.
    found : sequence of Ingredient
        What fills it.
    written : mapping
        Attributes of the part as the dressing writes it.
    counts : sequence of Count
        The part's rules in force that decide turns and fibres for the water.
    tied : int
        Place in the style's tying order.
    """
    dressed = dict(attributes)
    for name, asked in part.counts.items():
        dressed[name] = dressed[f"{name}_asked"] = asked
    for rule in counts:
        if rule.speaks_of({part.id: dressed}):
            chosen, wanted = rule.choose(dressed, written, part.counts.get(rule.count))
            dressed[rule.count], dressed[f"{rule.count}_asked"] = chosen, wanted
    dressed["tone"] = tone(found, part.ingredients)
    dressed["tied"] = tied
    return dressed


def pieces_taken(attributes: Attributes, counts: Sequence[Count], together: int) -> int:
    """Return how many feathers one fly takes of each of the ingredients wound together."""
    pieces = 1
    for rule in counts:
        count = attributes.get(rule.count)
        if rule.each_piece and isinstance(count, int):
            pieces = max(pieces, rule.pieces(math.ceil(count / together)))
    return pieces


def idle_counts(part: str, rules: Iterable[Rule], fly: Container[str]) -> frozenset[str]:
    """Return the counts of a part that mean nothing on a fly, for want of the part beside it."""
    return frozenset(
        rule.count
        for rule in rules
        if isinstance(rule, Count) and rule.part == part and rule.beside and rule.beside not in fly
    )


def counts_of(part: Part, rules: Iterable[Rule]) -> tuple[Count, ...]:
    """Return the rules that count the turns, fibres or feathers of a part."""
    return tuple(rule for rule in rules if isinstance(rule, Count) and rule.part == part.id)
