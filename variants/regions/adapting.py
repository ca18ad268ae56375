"""A dressing adapted to a water: the variants that nothing beats both in kinship and in likeness.

Comes in: a base dressing, a box, a place and a natural. Goes out: an `Adaptation`, the exact Pareto
front of departure from the base and distance to the target, every variant with its terms. What law
and water forbid is in none of them, and the parts that make the fly itself stay as written.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from variants.design import DesignProblem, Request, Watch, build_problem, gc_paused
from variants.design.search import as_variant, pareto_front, search
from variants.model import Box, Candidate, Dressing, Natural, Term, Variant
from variants.regions.choices import counts_by_part, regional_choices
from variants.regions.place import Place
from variants.regions.target import RegionalTarget, suits_stage
from variants.regions.weights import RegionalWeights
from variants.rulebook import THOUSANDTHS, Rulebook


@dataclass(frozen=True, slots=True, eq=False)
class RegionalVariant:
    """One variant of the front.

    Attributes
    ----------
    variant : Variant
    distance : int
        To the target, in thousandths.
    terms : mapping of part to tuple of Term
        What the distance is made of; a part that is just as asked has none.
    """

    variant: Variant
    distance: int
    terms: Mapping[str, tuple[Term, ...]]

    @property
    def departure(self) -> int:
        """From the base, in thousandths."""
        return self.variant.departure

    @property
    def together(self) -> int:
        """Departure and distance in sum."""
        return self.departure + self.distance


@dataclass(frozen=True, eq=False)
class Adaptation:
    """What a dressing becomes on a water.

    Attributes
    ----------
    design : DesignProblem
        With the rules of the place.
    target : Target
    front : tuple of RegionalVariant
        By rising departure and falling distance; empty when no variant is kin enough.
    within : int
        Thousandths that a variant may depart and still be kin.
    base_distance : int
        How far the dressing as written is from the target.
    choices : mapping of part to candidates
        All that a variant may take; empty when a part can't be filled.
    measure : Distance
    """

    design: DesignProblem
    target: RegionalTarget
    front: tuple[RegionalVariant, ...]
    within: int
    base_distance: int
    choices: Mapping[str, Sequence[Candidate]]
    measure: Distance

    @cached_property
    def closest(self) -> int | None:
        """How far the closest variant departs, kin or not; None when no variant exists."""
        found = search(self.design, 1).variants
        return found[0].departure if found else None

    @cached_property
    def chosen(self) -> RegionalVariant | None:
        """The variant with the least sum of departure and distance: what to tie first."""
        return min(self.front, key=lambda one: (one.together, one.departure), default=None)


@gc_paused()
def adapt(
    base: Dressing,
    box: Box,
    rulebook: Rulebook,
    target: RegionalTarget,
    *,
    within: float | None = None,
    missing: frozenset[str] = frozenset(),
    keep: frozenset[str] = frozenset(),
    watch: Watch | None = None,
) -> Adaptation:
    """Return the front of a dressing on a water.

    Parameters
    ----------
    base : Dressing
    box : Box
    rulebook : Rulebook
        The trade's; the rules of the place are added.
    target : Target
        See `target_for`.
    within : float, optional
        How far a variant may depart and still be kin; by default what rules/regions says.
    missing, keep : frozenset of str
        As in `Request`.
    watch : Watch, optional

    Raises
    ------
    TimeUpError
        When the watch says so: a part of a front is no front.

    Notes
    -----
    Hook sizes from the author's to the natural's may be tied, each step at its departure. Both
    numbers are whole thousandths, so that the front is exact;
    see `variants.design.search.two_phase`.
    """
    request = Request(
        base,
        box,
        sizes=_sizes(base, target),
        water=target.place.water.speed,
        missing=missing,
        keep=keep,
    )
    design = build_problem(request, target.place.joined(rulebook), watch=watch)
    limit = target.weights.kin.numbers["within"] if within is None else within
    most = round(limit * THOUSANDTHS)
    distance = Distance(design, target)
    front = []
    choices: Mapping[str, Sequence[Candidate]] = {}
    if not design.empty_parts:
        choices = regional_choices(design, target, most, watch)
        points = pareto_front(choices, design.constraints, distance.of, most, watch)
        front = [
            distance.measure(as_variant(design, point.chosen, rank))
            for rank, point in enumerate(points, start=1)
        ]
    written = sum(distance.of(candidate) for candidate in design.base.values())
    return Adaptation(design, target, tuple(front), most, written, choices, distance)


class Distance:
    """The distance to a target, remembered for each candidate.

    Parameters
    ----------
    design : DesignProblem
    target : Target
    """

    def __init__(self, design: DesignProblem, target: RegionalTarget) -> None:
        self._target = target
        self._rules = counts_by_part(design.rules)
        self._known: dict[Candidate, tuple[Term, ...]] = {}

    def terms(self, candidate: Candidate) -> tuple[Term, ...]:
        """Return what a candidate adds, term by term."""
        found = self._known.get(candidate)
        if found is None:
            found = self._known[candidate] = self._target.terms(
                candidate, self._rules.get(candidate.part, ())
            )
        return found

    def of(self, candidate: Candidate) -> int:
        """Return what a candidate adds, in thousandths."""
        return sum([term.cost for term in self.terms(candidate)])

    def measure(self, variant: Variant) -> RegionalVariant:
        """Return a variant with its distance."""
        terms = {
            part: found
            for part, candidate in variant.chosen.items()
            if (found := self.terms(candidate))
        }
        total = sum(term.cost for found in terms.values() for term in found)
        return RegionalVariant(variant, total, terms)


def _sizes(base: Dressing, target: RegionalTarget) -> tuple[int, ...]:
    """Return the sizes from the author's to the one that the natural asks for."""
    sizes = (*base.sizes, target.hook_size)
    return tuple(sorted({*base.sizes, *range(min(sizes), max(sizes) + 1)}))


def target_for(
    base: Dressing,
    place: Place,
    rulebook: Rulebook,
    weights: RegionalWeights,
    naturals: Sequence[Natural] = (),
) -> RegionalTarget:
    """Return the target for the natural that a dressing is nearest to.

    Parameters
    ----------
    base : Dressing
    place : Place
    rulebook : Rulebook
    weights : RegionalWeights
    naturals : sequence of Natural
        Those to choose among; by default all of the region's.

    Notes
    -----
    Naturals that are met where flies of the dressing's style are fished come first: a floating fly
    is rather an adult's likeness than a nymph's.
    """
    style = rulebook.trade.styles[base.style]
    joined = place.joined(rulebook)
    # Without a box only the dressing as written is looked at.
    request = Request(base, Box(()), water=place.water.speed)
    design = build_problem(request, joined)
    targets = [
        RegionalTarget(place, natural, style, joined, weights)
        for natural in naturals or place.region.naturals
    ]

    def apart(target: RegionalTarget) -> tuple[bool, int]:
        distance = Distance(design, target)
        total = sum(distance.of(candidate) for candidate in design.base.values())
        return not suits_stage(style, target.natural.stage), total

    return min(targets, key=apart)
