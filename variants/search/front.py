"""The exact Pareto front of a problem under two costs: nothing is better in both.

Candidates, constraints and a second cost for each candidate come in; the front goes out, with proof
that no other choice is as good in one cost and better in the other. The first cost is what the
search always minimises: candidates' own costs and what constraints add.

The parts are filled one after another. What is filled so far is a *label*: its two costs, and the
*context*, all that constraints with parts still open see of it. Labels of one context have the same
completions, so a label that another of its context dominates leads to nothing new (the bucket
elimination of E. Rollon and J. Larrosa, "Bucket elimination for multiobjective optimization
problems", Journal of Heuristics 12, 2006, 307-328, run forward). A label is dropped too when even
the least of what is open can't bring it below the bound or out of the shadow of answers known.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from variants.model import Candidate
from variants.problem import FlyConstraint
from variants.search.filling import (
    ClassJudge,
    Context,
    FilledPart,
    Step,
    in_order,
    options_of,
    stock_spelt_out,
)
from variants.search.watch import Watch

#: So many labels are kept, of each step, by the first run that looks for some answers quickly.
_QUICK = 400
#: Weights of the two costs by which the first run ranks labels: from the one cost to the other.
_SLOPES = ((8, 1), (3, 1), (1, 1), (1, 3), (1, 8))
#: First cost, second cost, the label before, and the candidate's place among the part's.
_Label = tuple[int, int, "_Label | None", int]


@dataclass(frozen=True, slots=True)
class Point:
    """One answer of a front.

    Attributes
    ----------
    first, second : int
        Thousandths.
    chosen : mapping of part to Candidate
    """

    first: int
    second: int
    chosen: Mapping[str, Candidate]


def pareto_front(
    domains: Mapping[str, Sequence[Candidate]],
    constraints: Iterable[FlyConstraint],
    second: Callable[[Candidate], int],
    within: int,
    watch: Watch | None = None,
) -> list[Point]:
    """Return the front, by rising first cost and falling second.

    Parameters
    ----------
    domains : mapping of part to candidates
    constraints : iterable of FlyConstraint
    second : callable
        What a candidate costs in the second way, in thousandths; never less than 0.
    within : int
        The first cost may not be above this.
    watch : Watch, optional

    Raises
    ------
    TimeUpError
        When the watch says so.

    Notes
    -----
    Of choices that cost the same in both ways one is told, by the candidates' keys.
    """
    sweep = _Sweep(domains, tuple(constraints), second, within, watch or Watch())
    if sweep.is_hopeless:
        return []
    known = sweep.run([], most=_QUICK)
    return _front([*known, *sweep.run(_front(known))])


class _Sweep:
    """One problem, its parts in a fixed order, ready to be swept from the first to the last."""

    def __init__(
        self,
        domains: Mapping[str, Sequence[Candidate]],
        constraints: Sequence[FlyConstraint],
        second: Callable[[Candidate], int],
        within: int,
        watch: Watch,
    ) -> None:
        self._watch, self._within = watch, within
        self._names = tuple(domains)
        given = stock_spelt_out(constraints, domains)
        unary = [one for one in given if len(one.parts) == 1]
        joint = [one for one in given if len(one.parts) > 1]
        options = {
            part: options_of(part, domain, [one for one in unary if part in one.parts], second)
            for part, domain in domains.items()
        }
        self.is_hopeless = not all(options.values())
        if self.is_hopeless:
            return
        least = {part: min(one[0] for one in found) for part, found in options.items()}
        slack = within - sum(least.values())
        self.is_hopeless = slack < 0
        if self.is_hopeless:
            return
        parts = {
            part: FilledPart(part, [one for one in found if one[0] - least[part] <= slack], joint)
            for part, found in options.items()
        }
        self._order = [parts[part] for part in in_order(parts, joint)]
        self._plan(joint, parts)
        self._bound_the_rest()

    def _plan(self, joint: Sequence[FlyConstraint], parts: Mapping[str, FilledPart]) -> None:
        """Work out, for each step, which parts are in the context and who judges."""
        filled: set[str] = set()
        live: list[str] = []
        self._steps: list[Step] = []
        for part in self._order:
            before = tuple(live)
            filled.add(part.part)
            ripe = [
                at for at, one in enumerate(joint)
                if part.part in one.parts and filled.issuperset(one.parts)
            ]  # fmt: skip
            still_open = {at for at, one in enumerate(joint) if not filled.issuperset(one.parts)}
            live = [
                one.part
                for one in self._order
                if one.part in filled and any(at in still_open for at in one.seen_by)
            ]
            places = {name: place for place, name in enumerate((*before, part.part))}
            self._steps.append(
                Step(
                    part,
                    [
                        (ClassJudge(joint[at], parts, at), [places[one] for one in joint[at].parts])
                        for at in ripe
                    ],
                    [(places[name], parts[name].merged(still_open)) for name in live],
                )
            )

    def _bound_the_rest(self) -> None:
        """Work out the least that the parts after each step cost, both ways and weighed."""
        self._rest: list[tuple[int, int, tuple[int, ...]]] = [(0, 0, (0,) * len(_SLOPES))]
        for part in reversed(self._order):
            first, other, weighed = self._rest[-1]
            own = [part.options[place] for places in part.classes for place in places]
            self._rest.append(
                (
                    first + min(one[0] for one in own),
                    other + min(one[1] for one in own),
                    tuple(
                        least + min(a * one[0] + b * one[1] for one in own)
                        for least, (a, b) in zip(weighed, _SLOPES, strict=True)
                    ),
                )
            )
        self._rest.reverse()

    def run(self, known: Sequence[Point], most: int | None = None) -> list[Point]:
        """Return answers: all of the front that known ones don't cover, or some of it quickly.

        Parameters
        ----------
        known : sequence of Point
            A front; nothing in its shadow is followed.
        most : int, optional
            How many labels to keep for each slope; then the answers are some, without proof.
        """
        shadow = _Shadow(known, self._within)
        labels: dict[Context, list[_Label]] = {(): [(0, 0, None, -1)]}
        for at, step in enumerate(self._steps):
            labels = self._filled(step, labels, self._rest[at + 1], shadow)
            if most is not None:
                labels = _nearest(labels, most)
        return [self._point(label) for label in labels.get((), [])]

    def _filled(
        self,
        step: Step,
        labels: Mapping[Context, Sequence[_Label]],
        rest: tuple[int, int, tuple[int, ...]],
        shadow: _Shadow,
    ) -> dict[Context, list[_Label]]:
        """Return the labels with one more part filled."""
        grown: dict[Context, list[_Label]] = {}
        least_first, least_second, weighed = rest
        options = step.part.options
        for context, here in labels.items():
            self._watch.look()
            for number, places in enumerate(step.part.classes):
                extra = step.verdict((*context, number))
                if extra is None:
                    continue
                following: list[_Label] | None = None
                for label in here:
                    for place in places:
                        first = label[0] + options[place][0] + extra
                        second = label[1] + options[place][1]
                        if shadow.covers(first, second, least_first, least_second, weighed):
                            continue
                        if following is None:
                            following = grown.setdefault(step.context((*context, number)), [])
                        following.append((first, second, label, place))
        return {context: _not_dominated(found) for context, found in grown.items()}

    def _point(self, label: _Label) -> Point:
        chosen: dict[str, Candidate] = {}
        following: _Label | None = label
        for part in reversed(self._order):
            assert following is not None  # there is a label for every part
            chosen[part.part] = part.options[following[3]][2]
            following = following[2]
        return Point(label[0], label[1], {part: chosen[part] for part in self._names})


class _Shadow:
    """Where answers that are known leave nothing to be found."""

    def __init__(self, known: Sequence[Point], within: int) -> None:
        self._firsts = [point.first for point in known]
        self._seconds = [point.second for point in known]
        # Between two neighbours of the front there is room below the first one's second cost and
        # before the second one's first cost: the corner of that room, by its slopes.
        ends = [*(first - 1 for first in self._firsts[1:]), within]
        self._corners = [
            tuple(a * end + b * (height - 1) for a, b in _SLOPES)
            for end, height in zip(ends, self._seconds, strict=False)  # none without any known
        ]
        self._within = within

    def covers(
        self, first: int, second: int, rest: int, rest_second: int, weighed: tuple[int, ...]
    ) -> bool:
        """Tell whether no completion of a label is worth anything."""
        low, high = first + rest, second + rest_second
        if low > self._within:
            return True
        start = bisect_right(self._firsts, low) - 1
        if start < 0:
            return False
        if self._seconds[start] <= high:
            return True
        bounds = [a * first + b * second + w for (a, b), w in zip(_SLOPES, weighed, strict=True)]
        for place in range(start, len(self._firsts)):
            if self._seconds[place] <= high:
                return True
            corner = self._corners[place]
            if all(bound <= end for bound, end in zip(bounds, corner, strict=True)):
                return False
        return True


def _not_dominated(labels: list[_Label]) -> list[_Label]:
    """Return the labels that none is better than in both costs, or as good as and earlier."""
    labels.sort(key=lambda label: (label[0], label[1]))
    kept: list[_Label] = []
    for label in labels:
        if not kept or label[1] < kept[-1][1]:
            kept.append(label)
    return kept


def _nearest(labels: Mapping[Context, list[_Label]], most: int) -> dict[Context, list[_Label]]:
    """Return the best labels by each slope."""
    every = [(context, label) for context, found in labels.items() for label in found]
    if len(every) <= most * len(_SLOPES):
        return dict(labels)
    kept: dict[int, tuple[Context, _Label]] = {}
    for a, b in _SLOPES:
        ranked = sorted(range(len(every)), key=lambda at: a * every[at][1][0] + b * every[at][1][1])
        kept.update({at: every[at] for at in ranked[:most]})
    found: dict[Context, list[_Label]] = {}
    for at in sorted(kept):
        found.setdefault(kept[at][0], []).append(kept[at][1])
    return found


def _front(points: Sequence[Point]) -> list[Point]:
    """Return the points that no other is better than in both costs, or as good as and earlier."""
    kept: list[Point] = []
    for point in sorted(points, key=lambda one: (one.first, one.second, _keys(one))):
        if not kept or point.second < kept[-1].second:
            kept.append(point)
    return kept


def _keys(point: Point) -> tuple[tuple[str, ...], ...]:
    return tuple(candidate.key for candidate in point.chosen.values())
