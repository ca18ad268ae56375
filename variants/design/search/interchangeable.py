"""Interchangeable candidates: those of one part that no constraint can tell apart, in classes.

All that constraints over two parts and more look at in a candidate is read once, into a *row* of
attributes; each constraint's own projection is a few places of the row. Candidates with one row
that make the same of the part are interchangeable (E. C. Freuder, "Eliminating interchangeable
values in constraint satisfaction problems", AAAI 1991, 227-233) and differ in cost alone.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from operator import itemgetter

from variants.design import FlyConstraint
from variants.model import Candidate

Row = tuple[object, ...]
#: Takes from a row what one constraint looks at.
Projection = Callable[[Row], Hashable]


@dataclass(slots=True)
class InterchangeableClass:
    """Candidates of one part that differ in nothing but cost and place.

    Attributes
    ----------
    row : tuple
    makes : int
        A number for what they make of the part; equal numbers, equal dressing.
    is_changed : bool
    members : list of int
        Places in `Partition.candidates`, cheapest first, then by place.
    """

    row: Row
    makes: int
    is_changed: bool
    members: list[int]


@dataclass(frozen=True)
class Partition:
    """Candidates of one part in classes.

    Attributes
    ----------
    candidates : list of Candidate
        By their keys.
    costs : list of int
        Thousandths, of each candidate, soft constraints over the part alone included.
    classes : list of InterchangeableClass
        By their cheapest member.
    projections : mapping of FlyConstraint to function
        For each constraint that looks at the part.
    """

    candidates: list[Candidate]
    costs: list[int]
    classes: list[InterchangeableClass]
    projections: Mapping[FlyConstraint, Projection]

    def project(self, constraint: FlyConstraint) -> list[Hashable]:
        """Return what a constraint looks at in each class."""
        project = self.projections[constraint]
        return [project(one.row) for one in self.classes]

    @cached_property
    def stands(self) -> list[Candidate]:
        """The cheapest candidate of each class."""
        return [self.candidates[one.members[0]] for one in self.classes]


class AttributeReader:
    """Reads in one go all that some constraints look at in the candidates of a part.

    Parameters
    ----------
    part : str
    constraints : sequence of FlyConstraint

    Attributes
    ----------
    projections : dict of FlyConstraint to function
        For each constraint that looks at the part, what takes its projection from a row.
    width : int
        How many places a row has.
    """

    def __init__(self, part: str, constraints: Sequence[FlyConstraint]) -> None:
        self.part = part
        own = {one: one.reads(part) for one in constraints if part in one.parts}
        self._names = sorted({name for names in own.values() if names for name in names})
        place = {name: at for at, name in enumerate(self._names, start=1)}
        #: Constraints that look at more than attributes.
        self._others = [one for one, names in own.items() if names is None]
        self.projections: dict[FlyConstraint, Projection] = {}
        self.width = 1 + len(self._names)
        for constraint, names in own.items():
            if names is None:
                self.projections[constraint] = itemgetter(self.width)
                self.width += 1
            else:
                self.projections[constraint] = itemgetter(0, *[place[name] for name in names])

    def read(self, candidate: Candidate) -> Row:
        """Return the row of a candidate."""
        attributes = candidate.attributes
        get = attributes.get
        # A part that is left out has no attributes at all, which rules tell from unknown ones.
        row = (bool(attributes), *[get(name) for name in self._names])
        if not self._others:
            return row
        return row + tuple([one.projection(self.part, candidate) for one in self._others])


@dataclass(slots=True)
class CandidateRow:
    """What is read of a candidate once, for however many networks it is sorted into.

    Attributes
    ----------
    candidate : Candidate
    cost : int
        Thousandths, soft constraints over the part alone included.
    makes : int
        A number for what it makes of the part.
    is_changed : bool
    row : tuple
        What the constraints of every network see of it.
    """

    candidate: Candidate
    cost: int
    makes: int
    is_changed: bool
    row: Row


class Partitioner:
    """Sorts the candidates of one part into classes.

    Parameters
    ----------
    part : str
    constraints : sequence of FlyConstraint
        Over two parts and more, of this part or not, that every network has.
    """

    def __init__(self, part: str, constraints: Sequence[FlyConstraint]) -> None:
        self.part = part
        self._reader = AttributeReader(part, constraints)
        self._makes: dict[Hashable, int] = {}

    def read(self, candidate: Candidate, cost: int) -> CandidateRow:
        """Return what constraints see of a candidate that costs so many thousandths."""
        is_changed = candidate.is_changed
        makes = self._makes.setdefault(_made_of(candidate, is_changed), len(self._makes))
        return CandidateRow(candidate, cost, makes, is_changed, self._reader.read(candidate))

    def partition(self, rows: Sequence[CandidateRow], more: Sequence[FlyConstraint]) -> Partition:
        """Return candidates in classes, told apart by some more constraints of one network too."""
        own = [one for one in more if self.part in one.parts]
        projections = dict(self._reader.projections)
        for place, constraint in enumerate(own, start=self._reader.width):
            projections[constraint] = itemgetter(place)
        ordered = sorted(rows, key=lambda one: one.candidate.key)
        costs = [one.cost for one in ordered]
        classes: dict[tuple[int, bool, Row], InterchangeableClass] = {}
        for number, one in enumerate(ordered):
            row = one.row
            if own:
                row = row + tuple([seen.projection(self.part, one.candidate) for seen in own])
            key = (one.makes, one.is_changed, row)
            same = classes.get(key)
            if same is None:
                same = classes[key] = InterchangeableClass(row, one.makes, one.is_changed, [])
            same.members.append(number)
        for same in classes.values():
            same.members.sort(key=costs.__getitem__)
        by_cost = sorted(classes.values(), key=lambda one: (costs[one.members[0]], one.members[0]))
        return Partition([one.candidate for one in ordered], costs, by_cost, projections)


class UnaryFilter:
    """Holds candidates of a part against the constraints over it alone (node consistency).

    Each constraint is asked once for each distinct projection.

    Parameters
    ----------
    part : str
    unary : sequence of FlyConstraint
    """

    def __init__(self, part: str, unary: Sequence[FlyConstraint]) -> None:
        self._reader = AttributeReader(part, unary)
        self._costs: dict[Row, int | None] = {}
        self._verdicts: dict[FlyConstraint, dict[Hashable, int | None]] = {one: {} for one in unary}

    def added_cost(self, candidate: Candidate) -> int | None:
        """Return what the constraints add to a candidate's cost, in thousandths.

        None when one forbids it.
        """
        row = self._reader.read(candidate)
        if row not in self._costs:
            self._costs[row] = self._ask(candidate, row)
        return self._costs[row]

    def _ask(self, candidate: Candidate, row: Row) -> int | None:
        total = 0
        for constraint, verdicts in self._verdicts.items():
            seen = self._reader.projections[constraint](row)
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
    if size is None:
        size = candidate.size_stated
    if len(candidate.ingredients) == 1:
        return (size, candidate.ingredients[0].key)
    return (size, tuple(sorted([one.key for one in candidate.ingredients])))
