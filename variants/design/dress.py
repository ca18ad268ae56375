"""What depends on the part: counts for the water, tone, tying order, feathers taken."""

from __future__ import annotations

import math
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from variants.design.attributes_of import stated_thickness, tone
from variants.model import (
    SIZES,
    Attributes,
    Candidate,
    Ingredient,
    Part,
    PartKind,
    Value,
    asked_name,
)
from variants.rulebook import Conventions, Count, Rule

#: Class of stuff that is used barb by barb.
HERL = "herl"
#: Turns in all, and what they are made up of.
SPLIT = ("turns", "turns_behind", "turns_front")


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
    for name, size in stated_thickness(part).items():
        dressed[asked_name(name)] = size
    stated = stated_counts(part, counts)
    for name, asked in stated.items():
        dressed[name] = dressed[asked_name(name)] = asked
    ranges = {}
    for rule in counts:
        if rule.speaks_of({part.id: dressed}):
            chosen, wanted = rule.choose(dressed, written, stated.get(rule.count))
            dressed[rule.count], dressed[asked_name(rule.count)] = chosen, wanted
            ranges[rule.count] = rule.range_for(dressed, rule.water)
    _add_up(dressed, ranges)
    dressed["tone"] = tone(found, part.ingredients)
    dressed["tied"] = tied
    return dressed


def stated_counts(part: Part, counts: Iterable[Count]) -> dict[str, int]:
    """Return the counts that a dressing states of a part, and those that follow from them.

    Turns behind the wing and in front of it add up to the turns in all: two tell the third, and
    turns in all are halved by the wing, the odd one behind it, where rules count on both sides.
    """
    stated = dict(part.counts)
    whole, behind, front = (stated.get(name) for name in SPLIT)
    if whole is None and behind is not None and front is not None:
        stated["turns"] = behind + front
    elif whole is not None and {rule.count for rule in counts}.issuperset(SPLIT):
        if behind is None:
            behind = max(0, whole - front) if front is not None else whole - whole // 2
        stated |= {"turns_behind": behind, "turns_front": max(0, whole - behind)}
    return stated


def _add_up(dressed: dict[str, Value], ranges: Mapping[str, tuple[int, int]]) -> None:
    """Make the turns on both sides of the wing add up, each count within what its rule allows."""
    if not ranges.keys() >= set(SPLIT):
        return
    behind, front = (dressed[name] for name in SPLIT[1:])
    assert isinstance(behind, int)  # a rule has chosen them
    assert isinstance(front, int)
    whole = _within(behind + front, ranges["turns"])
    front = _within(whole - behind, ranges["turns_front"])
    behind = _within(whole - front, ranges["turns_behind"])
    dressed.update(zip(SPLIT, (whole, behind, front), strict=True))


def _within(value: int, bounds: tuple[int, int]) -> int:
    return min(max(value, bounds[0]), bounds[1])


def adapted_counts(used: Candidate) -> str:
    """Return the counts that differ from the dressing's: ``turns 6 → 10``."""
    return ", ".join(
        f"{name.replace('_', ' ')} {asked} → {value}" for name, asked, value in _adapted(used)
    )


def adapted_parts(chosen: Mapping[str, Candidate], parts: Mapping[str, PartKind]) -> str:
    """Return in which parts the counts differ from the dressing's: ``hackle turns 6 → 10``.

    Turns in all stand for those behind the wing and in front of it.
    """
    told = []
    for part, used in chosen.items():
        counts = {name: (asked, value) for name, asked, value in _adapted(used)}
        for name, (asked, value) in counts.items():
            if "turns" not in counts or name not in SPLIT[1:]:
                words = f"{parts[part].name} {name.replace('_', ' ')}"
                told.append(f"{words} {asked} → {value}")
    return ", ".join(told)


def own_counts(used: Candidate) -> Candidate:
    """Return a filling with the counts that the dressing asks."""
    asked = {name: asked for name, asked, _ in _adapted(used)}
    return used.varied({**used.attributes, **asked}, used.key) if asked else used


def _adapted(used: Candidate) -> Iterator[tuple[str, Value, Value]]:
    """Yield each count that differs from the dressing's, what that asks, and what it is."""
    for name, value in used.attributes.items():
        asked = used.attributes.get(asked_name(name))
        if asked is not None and asked != value and name not in SIZES:
            yield name, asked, value


def pieces_taken(attributes: Attributes, counts: Sequence[Count], together: int) -> int:
    """Return how many feathers one fly takes of each of the ingredients wound together."""
    pieces = 1
    for rule in counts:
        count = attributes.get(rule.count)
        if rule.each_piece and isinstance(count, int):
            pieces = max(pieces, rule.pieces(math.ceil(count / together)))
    return pieces


def share_taken(
    part: PartKind, kind: str, attributes: Attributes, together: int, conventions: Conventions
) -> Fraction | None:
    """Return the share of a feather that a part takes, where it is made of single barbs.

    Parameters
    ----------
    part : PartKind
    kind : str
        Class of the stuff.
    attributes : mapping
        Of what fills the part, its counts among them.
    together : int
        How many feathers give the barbs.
    conventions : Conventions
        Barbs that a feather gives, and that a part wound or drawn of them takes at most.

    Returns
    -------
    Fraction or None
        None where it takes whole feathers.
    """
    barbs = attributes.get("fibres")
    if not isinstance(barbs, int) or not barbs:
        if kind != HERL or part.takes_whole_feathers:
            return None
        barbs = int(conventions.wound_barbs)
    return Fraction(barbs, int(conventions.feather_barbs) * together)


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
