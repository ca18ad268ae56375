"""Candidates of one part judged alone and sorted into classes: those that nothing tells apart.

A candidate's *look* is all that the constraints over two parts and more see in it, read once. Each
constraint's own projection is a few places of the look, so that nothing is read twice, and a box of
a hundred thousand items is read in one pass.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from operator import itemgetter

from variants.design import FlyConstraint
from variants.model import Candidate

Look = tuple[object, ...]
Glimpse = Callable[[Look], Hashable]
_NOTHING: Glimpse = itemgetter(0)


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
        own = [
            (at, one, one.reads(part)) for at, one in enumerate(constraints) if part in one.parts
        ]
        self.names = sorted({name for _, _, names in own if names is not None for name in names})
        place = {name: at for at, name in enumerate(self.names, start=1)}
        self.others = [one for _, one, names in own if names is None]
        # What does not look at the part sees all of its candidates alike.
        self.glimpses: list[Glimpse] = [_NOTHING] * len(constraints)
        beyond = 1 + len(self.names)
        for at, _, names in own:
            if names is None:
                self.glimpses[at] = itemgetter(beyond)
                beyond += 1
            else:
                self.glimpses[at] = itemgetter(0, *[place[name] for name in names])
        self.width = beyond

    def look(self, candidate: Candidate) -> Look:
        attributes = candidate.attributes
        get = attributes.get
        # A part that is left out has no attributes at all, which rules tell from unknown ones.
        look = (bool(attributes), *[get(name) for name in self.names])
        if not self.others:
            return look
        return look + tuple([one.projection(self.part, candidate) for one in self.others])


@dataclass(slots=True)
class Reading:
    """What is read of a candidate once, for however many networks it is sorted into.

    Attributes
    ----------
    candidate : Candidate
    cost : int
        Thousandths, soft constraints over the part alone included.
    makes : int
        A number for what it makes of the part.
    is_changed : bool
    look : tuple
        What the lasting constraints see of it.
    """

    candidate: Candidate
    cost: int
    makes: int
    is_changed: bool
    look: Look


class Readings:
    """Readings of the candidates of one part.

    Parameters
    ----------
    part : str
    lasting : sequence of FlyConstraint
        Constraints over two parts and more, of this part or not, that every network has.
    """

    def __init__(self, part: str, lasting: Sequence[FlyConstraint]) -> None:
        self.part, self.lasting = part, lasting
        self._reader = _Reader(part, lasting)
        self._makes: dict[Hashable, int] = {}

    def read(self, candidate: Candidate, cost: int) -> Reading:
        """Return what there is to be read of a candidate."""
        is_changed = candidate.is_changed
        makes = self._makes.setdefault(_made_of(candidate, is_changed), len(self._makes))
        return Reading(candidate, cost, makes, is_changed, self._reader.look(candidate))

    def sort_into_classes(
        self, survivors: Sequence[Reading], passing: Sequence[FlyConstraint]
    ) -> Sorted:
        """Class candidates of the part, for the lasting constraints and some passing ones."""
        ordered = sorted(survivors, key=lambda reading: reading.candidate.key)
        found = Sorted(
            [one.candidate for one in ordered],
            [one.cost for one in ordered],
            [],
            self._reader.glimpses + self._passing_glimpses(passing),
        )
        own = [one for one in passing if self.part in one.parts]
        classes: dict[tuple[int, bool, Look], Class] = {}
        for number, one in enumerate(ordered):
            look = one.look
            if own:
                look = look + tuple([seen.projection(self.part, one.candidate) for seen in own])
            key = (one.makes, one.is_changed, look)
            same = classes.get(key)
            if same is None:
                same = classes[key] = Class(look, one.makes, one.is_changed, [])
            same.members.append(number)
        for same in classes.values():
            same.members.sort(key=found.costs.__getitem__)
        found.classes = list(classes.values())
        return found

    def _passing_glimpses(self, passing: Sequence[FlyConstraint]) -> list[Glimpse]:
        glimpses: list[Glimpse] = []
        beyond = self._reader.width
        for one in passing:
            if self.part in one.parts:
                glimpses.append(itemgetter(beyond))
                beyond += 1
            else:
                glimpses.append(itemgetter(0))
        return glimpses


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
    if size is None:
        size = candidate.size_stated
    if len(candidate.ingredients) == 1:
        return (size, candidate.ingredients[0].key)
    return (size, tuple(sorted([one.key for one in candidate.ingredients])))
