"""Candidates of one part judged alone and sorted into classes: those that nothing tells apart.

A candidate's *look* is all that the constraints over two parts and more see in it, read once. Each
constraint's own projection is a few places of the look, so that nothing is read twice, and a box of
a hundred thousand items is read in one pass.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from operator import itemgetter

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
class Sorted:
    """Candidates of one part in classes.

    Attributes
    ----------
    candidates : list of Candidate
        By their keys.
    costs : list of int
        Thousandths, soft constraints over the part alone included.
    classes : list of Class
    glimpses : list of function
        For each constraint, what takes its projection from a look.
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
    part: str, survivors: Sequence[tuple[Candidate, int]], joint: Sequence[FlyConstraint]
) -> Sorted:
    """Class the candidates of a part.

    Parameters
    ----------
    part : str
    survivors : sequence of (Candidate, cost)
        What constraints over the part alone have left, and what each costs.
    joint : sequence of FlyConstraint
        All constraints over two parts and more, of this part or not.
    """
    reader = _Reader(part, joint)
    makes: dict[Hashable, int] = {}
    ordered = sorted(survivors, key=lambda survivor: survivor[0].key)
    found = Sorted([one for one, _ in ordered], [cost for _, cost in ordered], [], reader.glimpses)
    classes: dict[tuple[int, bool, Look], Class] = {}
    for number, candidate in enumerate(found.candidates):
        is_changed = candidate.is_changed
        made = makes.setdefault(_made_of(candidate, is_changed), len(makes))
        look = reader.look(candidate)
        one = classes.get((made, is_changed, look))
        if one is None:
            one = classes[made, is_changed, look] = Class(look, made, is_changed, [])
        one.members.append(number)
    for one in classes.values():
        one.members.sort(key=found.costs.__getitem__)
    found.classes = list(classes.values())
    return found


class LoneJudge:
    """Judges candidates of a part by the constraints over it alone.

    Each constraint is asked once for each distinct projection.
    """

    def __init__(self, part: str, unary: Sequence[FlyConstraint]) -> None:
        self._unary = unary
        self._reader = _Reader(part, unary)
        self._verdicts: dict[Look, int | None] = {}
        self._known: list[dict[Hashable, int | None]] = [{} for _ in unary]

    def verdict(self, candidate: Candidate) -> int | None:
        """Return what the constraints add to a candidate's cost, or None when one forbids it."""
        look = self._reader.look(candidate)
        if look not in self._verdicts:
            self._verdicts[look] = self._judged(candidate, look)
        return self._verdicts[look]

    def _judged(self, candidate: Candidate, look: Look) -> int | None:
        total = 0
        for constraint, glimpse, known in zip(
            self._unary, self._reader.glimpses, self._known, strict=True
        ):
            seen = glimpse(look)
            if seen not in known:
                known[seen] = constraint.verdict([candidate])
            verdict = known[seen]
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
