"""Candidates of one part sorted into classes: those that no constraint tells apart.

A candidate's *look* is all that the constraints over two parts and more see in it, read once. Each
constraint's own projection is a few places of the look, so that nothing is read twice, and a box of
a hundred thousand items is read in one pass.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from operator import attrgetter, itemgetter

from variants.model import Candidate
from variants.problem import FlyConstraint

Look = tuple[object, ...]
Glimpse = Callable[[Look], Hashable]


@dataclass(slots=True)
class Class:
    """Candidates of one part that differ in nothing but cost and place.

    Attributes
    ----------
    look : tuple
    makes : int
        A number for what they make of the part; equal numbers, equal dressing.
    is_changed : bool
    members : list of int
        Cheapest first, then by place.
    """

    look: Look
    makes: int
    is_changed: bool
    members: list[int]


@dataclass(slots=True)
class Survivors:
    """What constraints over one part leave of its domain.

    Attributes
    ----------
    candidates : list of Candidate
        By their keys.
    costs : list of int
        Thousandths, soft constraints over the part alone included.
    classes : list of Class
    glimpses : dict of int to function
        For each constraint (by its number), what takes its projection from a look.
    """

    candidates: list[Candidate]
    costs: list[int]
    classes: list[Class]
    glimpses: list[Glimpse]


class _Reader:
    """Reads in one go all that some constraints look at in the candidates of a part."""

    def __init__(self, part: str, constraints: Sequence[FlyConstraint]) -> None:
        self.part = part
        reads = [
            constraint.reads(part) if part in constraint.parts else () for constraint in constraints
        ]
        self.names = sorted({name for names in reads if names is not None for name in names})
        place = {name: at for at, name in enumerate(self.names, start=1)}
        self.others = [one for one, names in zip(constraints, reads, strict=True) if names is None]
        self.glimpses: list[Glimpse] = []
        beyond = 1 + len(self.names)
        for names in reads:
            if names is None:
                self.glimpses.append(itemgetter(beyond))
                beyond += 1
            else:
                self.glimpses.append(itemgetter(0, *(place[name] for name in names)))

    def look(self, candidate: Candidate) -> Look:
        attributes = candidate.attributes
        get = attributes.get
        # A part that is left out has no attributes at all, which rules tell from unknown ones.
        look = (bool(attributes), *[get(name) for name in self.names])
        if not self.others:
            return look
        return look + tuple([one.projection(self.part, candidate) for one in self.others])


def sort_into_classes(
    part: str,
    domain: Sequence[Candidate],
    unary: Sequence[FlyConstraint],
    joint: Sequence[FlyConstraint],
) -> Survivors:
    """Judge the candidates of a part by the constraints over it alone, and class what is left.

    Parameters
    ----------
    part : str
    domain : sequence of Candidate
    unary, joint : sequence of FlyConstraint
        Those over the part alone; all those over two parts and more, of this part or not.
    """
    alone, beside = _Reader(part, unary), _Reader(part, joint)
    verdicts: dict[Look, int | None] = {}
    known: list[dict[Hashable, int | None]] = [{} for _ in unary]
    makes: dict[Hashable, int] = {}
    found = Survivors([], [], [], beside.glimpses)
    classes: dict[tuple[int, bool, Look], Class] = {}
    for candidate in sorted(domain, key=attrgetter("key")):
        look = alone.look(candidate)
        if look not in verdicts:
            verdicts[look] = _judged_alone(candidate, look, unary, alone.glimpses, known)
        extra = verdicts[look]
        if extra is None:
            continue
        is_changed = candidate.is_changed
        made = makes.setdefault(_made_of(candidate, is_changed), len(makes))
        seen = beside.look(candidate)
        one = classes.get((made, is_changed, seen))
        if one is None:
            one = classes[made, is_changed, seen] = Class(seen, made, is_changed, [])
        one.members.append(len(found.candidates))
        found.candidates.append(candidate)
        found.costs.append(candidate.cost + extra)
    for one in classes.values():
        one.members.sort(key=found.costs.__getitem__)
    found.classes = list(classes.values())
    return found


def _judged_alone(
    candidate: Candidate,
    look: Look,
    unary: Sequence[FlyConstraint],
    glimpses: Sequence[Glimpse],
    known: Sequence[dict[Hashable, int | None]],
) -> int | None:
    """Return what constraints over one part add, or None when one forbids the candidate."""
    total = 0
    for constraint, glimpse, verdicts in zip(unary, glimpses, known, strict=True):
        seen = glimpse(look)
        if seen not in verdicts:
            verdicts[seen] = constraint.verdict([candidate])
        verdict = verdicts[seen]
        if verdict is None:
            return None
        total += verdict
    return total


def _made_of(candidate: Candidate, is_changed: bool) -> Hashable:
    """Return what `Candidate.identity` tells apart, without spelling it out."""
    size = candidate.attributes.get("size")
    if not is_changed:
        return size
    if len(candidate.ingredients) == 1:
        return (size, candidate.ingredients[0].key)
    return (size, tuple(sorted([one.key for one in candidate.ingredients])))
