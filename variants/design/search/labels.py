"""Label setting over the parts of a problem, one after another: every solution of a Pareto front.

What is filled so far is a *label*: its two costs, and the *context*, all that constraints with
parts still open see of it. Labels of one context have the same completions, so a label that another
of its context dominates leads to nothing new (the bucket elimination of E. Rollon and J. Larrosa,
"Bucket elimination for multiobjective optimization problems", Journal of Heuristics 12, 2006,
307-328, run forward). A label is pruned too when even the least costs of what is open can't bring
it out of the region that known solutions dominate.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from variants.design import FlyConstraint, Watch
from variants.design.search.pareto import SLOPES, DominatedRegion, LeastCosts, ParetoPoint
from variants.design.search.stages import (
    CachedConstraint,
    Context,
    Option,
    PartOptions,
    Stage,
    order_parts,
)
from variants.model import Candidate

#: First cost, second cost, the label before, and the candidate's place among the part's.
_Label = tuple[int, int, "_Label | None", int]


class LabelSetting:
    """One problem, its parts in a fixed order, ready to be filled from the first to the last.

    Parameters
    ----------
    options : mapping of part to options
        With what constraints over the part alone add.
    joint : sequence of FlyConstraint
        Constraints over two parts and more.
    watch : Watch
    """

    def __init__(
        self,
        options: Mapping[str, Sequence[Option]],
        joint: Sequence[FlyConstraint],
        watch: Watch,
    ) -> None:
        self._watch = watch
        self._names = tuple(options)
        parts = {part: PartOptions(part, found, joint) for part, found in options.items()}
        self._order = [parts[part] for part in order_parts(parts, joint)]
        self._plan(joint, parts)
        rest = [LeastCosts.sum(())]
        for filled in reversed(self._order):
            own = [filled.options[place] for places in filled.classes for place in places]
            rest.append(rest[-1].plus(LeastCosts.of(own)))
        #: What the parts after each stage cost at least.
        self._rest = rest[-2::-1]

    def _plan(self, joint: Sequence[FlyConstraint], parts: Mapping[str, PartOptions]) -> None:
        """Find, for each stage, the parts in the context and the constraints to be asked."""
        filled: set[str] = set()
        live: list[str] = []
        self._stages: list[Stage] = []
        for part in self._order:
            before = tuple(live)
            filled.add(part.part)
            ripe = [
                at
                for at, one in enumerate(joint)
                if part.part in one.parts and filled.issuperset(one.parts)
            ]
            still_open = {at for at, one in enumerate(joint) if not filled.issuperset(one.parts)}
            live = [
                one.part
                for one in self._order
                if one.part in filled and any(at in still_open for at in one.seen_by)
            ]
            places = {name: place for place, name in enumerate((*before, part.part))}
            self._stages.append(
                Stage(
                    part,
                    [
                        (
                            CachedConstraint(joint[at], parts, at),
                            [places[one] for one in joint[at].parts],
                        )
                        for at in ripe
                    ],
                    [(places[name], parts[name].merge(still_open)) for name in live],
                )
            )

    def run(self, region: DominatedRegion) -> list[ParetoPoint]:
        """Return all solutions of the front that are not dominated.

        Raises
        ------
        TimeUpError
            When the watch says so.
        """
        labels: dict[Context, list[_Label]] = {(): [(0, 0, None, -1)]}
        for stage, rest in zip(self._stages, self._rest, strict=True):
            labels = self._extend(stage, labels, rest, region)
        return [self._point(label) for label in labels.get((), [])]

    def _extend(
        self,
        stage: Stage,
        labels: Mapping[Context, Sequence[_Label]],
        rest: LeastCosts,
        region: DominatedRegion,
    ) -> dict[Context, list[_Label]]:
        """Return the labels with one more part filled."""
        grown: dict[Context, list[_Label]] = {}
        options = stage.part.options
        ideals = [
            LeastCosts.of(options[place] for place in places).plus(rest)
            for places in stage.part.classes
        ]
        for context, here in labels.items():
            ideal = _least(here)
            for number, places in enumerate(stage.part.classes):
                self._watch.look()
                # Most classes are too far for all of a context's labels; then nobody is asked.
                if region.dominates(ideal.plus(ideals[number])):
                    continue
                extra = stage.verdict((*context, number))
                if extra is None:
                    continue
                following: list[_Label] | None = None
                for label in here:
                    for place in places:
                        first = label[0] + options[place][0] + extra
                        second = label[1] + options[place][1]
                        if region.dominates(_at(first, second, rest)):
                            continue
                        if following is None:
                            following = grown.setdefault(stage.context((*context, number)), [])
                        following.append((first, second, label, place))
        return {context: _not_dominated(found) for context, found in grown.items()}

    def _point(self, label: _Label) -> ParetoPoint:
        chosen: dict[str, Candidate] = {}
        following: _Label | None = label
        for part in reversed(self._order):
            assert following is not None  # there is a label for every part
            chosen[part.part] = part.options[following[3]][2]
            following = following[2]
        return ParetoPoint(label[0], label[1], {part: chosen[part] for part in self._names})


def _least(labels: Iterable[_Label]) -> LeastCosts:
    costs = [(label[0], label[1]) for label in labels]
    return LeastCosts(
        min(first for first, _ in costs),
        min(second for _, second in costs),
        tuple([min([a * x + b * y for x, y in costs]) for a, b in SLOPES]),
    )


def _at(first: int, second: int, rest: LeastCosts) -> LeastCosts:
    """Return what a label and what is open cost at least together."""
    return LeastCosts(
        first + rest.first,
        second + rest.second,
        tuple([a * first + b * second + w for (a, b), w in zip(SLOPES, rest.weighed, strict=True)]),
    )


def _not_dominated(labels: list[_Label]) -> list[_Label]:
    """Return the labels that none is better than in both costs, or as good as and earlier."""
    labels.sort(key=lambda label: (label[0], label[1]))
    kept: list[_Label] = []
    for label in labels:
        if not kept or label[1] < kept[-1][1]:
            kept.append(label)
    return kept
