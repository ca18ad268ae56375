"""One base on several waters: a variant for each, and the variants that serve more than one.

Comes in: the adaptations of one dressing to several places. Goes out: a `Family`, whose branches
end at the variant of each water and begin at common ancestors. An ancestor is one fly for several
waters: of the same stuff on the same hook, lawful on all of them, its turns as each water asks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, product
from typing import TYPE_CHECKING

from variants.design import FlyConstraint, pose_problem
from variants.design.search import BestFirstSolver, as_variant
from variants.explain.derivation import Branch, KnownDressing, derive_branches
from variants.model import Candidate, Term
from variants.regions.adapting import Adaptation, Distance, RegionalVariant

if TYPE_CHECKING:
    from variants.explain.derivation import Descent

#: What fills a part, whichever counts it is tied in.
Stuff = tuple[str, tuple[str, ...]]
#: The candidates of each part, sorted so.
ByStuff = dict[str, dict[Stuff, list[Candidate]]]


@dataclass(frozen=True, eq=False)
class Ancestor:
    """One fly for several waters.

    Attributes
    ----------
    places : tuple of int
        Of which adaptations, by their places in the family.
    variants : mapping of int to RegionalVariant
        The fly as each of these waters asks for it.
    """

    places: tuple[int, ...]
    variants: Mapping[int, RegionalVariant]

    @property
    def together(self) -> int:
        """Departures and distances of all its waters in sum."""
        return sum(one.together for one in self.variants.values())


def _is_same(narrower: Ancestor, wider: Ancestor) -> bool:
    """Tell whether a fly for some waters is of the same stuff as one for these and more."""
    if not set(narrower.places) <= set(wider.places):
        return False
    one, other = (side.variants[narrower.places[0]].variant.chosen for side in (narrower, wider))
    return all(one[part].identity == other[part].identity for part in one)


@dataclass(frozen=True, eq=False)
class Family:
    """What a dressing becomes on several waters.

    Attributes
    ----------
    adaptations : tuple of Adaptation
        One for each place.
    ancestors : tuple of Ancestor
        Those of most waters first; each lies within the next one that holds all of its waters.
    """

    adaptations: tuple[Adaptation, ...]
    ancestors: tuple[Ancestor, ...]

    def name(self, place: int) -> str:
        """Return the name of a place."""
        return self.adaptations[place].target.place.name

    def above(self, places: tuple[int, ...], end: RegionalVariant) -> Ancestor | None:
        """Return the nearest ancestor, of more waters than these, that is on the way to a fly.

        On the way is one whose every change the fly keeps: nothing is undone on the way down.
        """
        base = self.adaptations[places[0]].design.base
        wider = [
            one
            for one in self.ancestors
            if set(places) < set(one.places)
            and all(
                candidate.identity in (base[part].identity, end.variant.chosen[part].identity)
                for part, candidate in one.variants[places[0]].variant.chosen.items()
            )
        ]
        return min(wider, key=lambda one: len(one.places), default=None)

    @cached_property
    def descent(self) -> Descent:
        """The derivation, with the waters as its branches.

        A step towards one water is judged by the rules of that water; a step towards several by
        those of the first of them.
        """
        return derive_branches(self.adaptations[0].design, tuple(self._branches()))

    def _branches(self) -> Iterator[Branch]:
        for number, one in enumerate(self.ancestors, start=1):
            *most, last = map(self.name, one.places)
            words = f"for {', '.join(most)} and {last}"
            yield self._branch(one.places, one.variants[one.places[0]], f"a{number}", words)
        for place, adaptation in enumerate(self.adaptations):
            if adaptation.chosen is not None:
                words = f"for {self.name(place)}"
                yield self._branch((place,), adaptation.chosen, f"r{place + 1}", words)

    def _branch(
        self, places: tuple[int, ...], end: RegionalVariant, name: str, label: str
    ) -> Branch:
        first = places[0]
        design, above = self.adaptations[first].design, self.above(places, end)
        start = design.base if above is None else above.variants[first].variant.chosen
        known = KnownDressing(name, label, None, end.departure)
        return Branch(design, start, end.variant.chosen, known)


def family_of(adaptations: Sequence[Adaptation]) -> Family:
    """Return the family of one dressing adapted to several places.

    Notes
    -----
    Waters are joined two groups at a time, always those that one fly serves at the least cost
    beyond what each group's own fly costs, as long as there is such a fly. Each such fly is exact:
    of all that are kin enough and lawful on every one of its waters, its departures and distances
    come to least in sum.
    """
    groups: list[tuple[tuple[int, ...], int]] = [
        ((place,), one.chosen.together)
        for place, one in enumerate(adaptations)
        if one.chosen is not None
    ]
    by_stuff = [_group_by_stuff(one) for one in adaptations] if len(groups) > 1 else []
    known: dict[tuple[int, ...], Ancestor | None] = {}
    found: list[Ancestor] = []
    while len(groups) > 1:
        ways = []
        for one, other in combinations(range(len(groups)), 2):
            places = tuple(sorted((*groups[one][0], *groups[other][0])))
            if places not in known:
                known[places] = _common_ancestor(adaptations, by_stuff, places)
            joined = known[places]
            if joined is not None:
                extra = joined.together - groups[one][1] - groups[other][1]
                ways.append((extra, places, one, other, joined))
        if not ways:
            break
        _, places, one, other, joined = min(ways, key=lambda way: way[:2])
        groups = [group for at, group in enumerate(groups) if at not in (one, other)]
        groups.append((places, joined.together))
        # What serves more waters just as it is need not be told for fewer.
        found = [narrower for narrower in found if not _is_same(narrower, joined)]
        found.append(joined)
    return Family(tuple(adaptations), tuple(reversed(found)))


def _common_ancestor(
    adaptations: Sequence[Adaptation], by_stuff: Sequence[ByStuff], places: Sequence[int]
) -> Ancestor | None:
    """Return the fly that serves several waters best, or None when none serves them all."""
    joined = _JoinedProblem(
        [adaptations[place] for place in places], [by_stuff[place] for place in places]
    )
    chosen = joined.solution()
    if chosen is None:
        return None
    variants = {}
    for at, place in enumerate(places):
        adaptation = adaptations[place]
        own = {part: joined.sides[candidate][at] for part, candidate in chosen.items()}
        measured = joined.distances[at].measure(as_variant(adaptation.design, own, 0))
        if measured.departure > adaptation.within:
            return None
        variants[place] = measured
    return Ancestor(tuple(places), variants)


class _JoinedProblem:
    """Several designs of one dressing as one problem, each candidate standing in all of them."""

    def __init__(self, adaptations: Sequence[Adaptation], choices: Sequence[ByStuff]) -> None:
        self._adaptations = adaptations
        self.distances = [one.measure for one in adaptations]
        self.sides: dict[Candidate, tuple[Candidate, ...]] = {}
        self.domains: dict[str, list[Candidate]] = {
            part: [
                self._joint(own)
                for stuff in choices[0][part]
                if all(stuff in other.get(part, ()) for other in choices[1:])
                for own in product(*(other[part][stuff] for other in choices))
            ]
            for part in choices[0]
        }

    def _joint(self, own: tuple[Candidate, ...]) -> Candidate:
        first = own[0]
        cost = sum(
            one.cost + distance.of(one) for one, distance in zip(own, self.distances, strict=True)
        )
        joint = Candidate(
            first.part,
            first.way,
            first.ingredients,
            first.items,
            first.attributes,
            (Term("together", cost),),
            tuple(word for one in own for word in one.key),
            max(one.uses for one in own),
            share=None
            if any(one.share is None for one in own)
            else max(one.share for one in own if one.share is not None),
        )
        self.sides[joint] = own
        return joint

    def solution(self) -> dict[str, Candidate] | None:
        """Return the choice whose departures and distances come to least in sum."""
        if not self.domains or not all(self.domains.values()):
            return None
        constraints: list[FlyConstraint] = [
            _Side(constraint, at, self.sides)
            for at, adaptation in enumerate(self._adaptations)
            for constraint in adaptation.design.constraints
        ]
        solver = BestFirstSolver(wanted=1)
        problem = pose_problem(self.domains, constraints, solver)
        chosen: dict[str, Candidate] | None = problem.getSolution()
        return chosen


class _Side(FlyConstraint):
    """A constraint of one of several designs, over candidates that stand in all of them."""

    def __init__(
        self, inner: FlyConstraint, at: int, sides: Mapping[Candidate, tuple[Candidate, ...]]
    ) -> None:
        self.parts, self.is_hard = inner.parts, inner.is_hard
        self._inner, self._at, self._sides = inner, at, sides

    def _own(self, chosen: Sequence[Candidate]) -> list[Candidate]:
        return [self._sides[one][self._at] for one in chosen]

    def allows(self, chosen: Sequence[Candidate]) -> bool:
        return self._inner.allows(self._own(chosen))

    def cost(self, chosen: Sequence[Candidate]) -> int:
        return self._inner.cost(self._own(chosen))

    def verdict(self, chosen: Sequence[Candidate]) -> int | None:
        return self._inner.verdict(self._own(chosen))

    def projection(self, part: str, candidate: Candidate) -> object:
        return self._inner.projection(part, self._sides[candidate][self._at])

    def may_still_allow(self, chosen: Mapping[str, Candidate]) -> bool:
        return self._inner.may_still_allow(self._shown(chosen))

    def least_cost(self, chosen: Mapping[str, Candidate]) -> int:
        return self._inner.least_cost(self._shown(chosen))

    def _shown(self, chosen: Mapping[str, Candidate]) -> dict[str, Candidate]:
        return {part: self._sides[one][self._at] for part, one in chosen.items()}


def _group_by_stuff(adaptation: Adaptation) -> ByStuff:
    """Sort the candidates of each part by what they are of.

    Of those that differ in counts alone, and that no other part can tell apart, the best is kept.
    """
    found: ByStuff = {}
    for part, domain in adaptation.choices.items():
        own = [one for one in adaptation.design.constraints if part in one.parts]
        stuffs: dict[Stuff, list[Candidate]] = {}
        for candidate in domain:
            items = tuple(items[0].id for items in candidate.items)
            stuffs.setdefault((candidate.identity, items), []).append(candidate)
        known: dict[tuple[FlyConstraint, object], int | None] = {}
        found[part] = {
            stuff: alike
            if len(alike) == 1
            else _drop_dominated(alike, own, adaptation.measure, known)
            for stuff, alike in stuffs.items()
        }
    return found


def _drop_dominated(
    alike: Sequence[Candidate],
    constraints: Sequence[FlyConstraint],
    measure: Distance,
    known: dict[tuple[FlyConstraint, object], int | None],
) -> list[Candidate]:
    best: dict[tuple[object, ...], tuple[int, Candidate]] = {}
    for candidate in alike:
        cost: int | None = candidate.cost + measure.of(candidate)
        seen = []
        for one in constraints:
            look = one.projection(candidate.part, candidate)
            if len(one.parts) > 1:
                seen.append(look)
                continue
            if (one, look) not in known:
                known[one, look] = one.verdict([candidate])
            verdict = known[one, look]
            cost = None if verdict is None or cost is None else cost + verdict
            if cost is None:
                break
        if cost is not None and (tuple(seen) not in best or cost < best[tuple(seen)][0]):
            best[tuple(seen)] = (cost, candidate)
    return [candidate for _, candidate in best.values()]
