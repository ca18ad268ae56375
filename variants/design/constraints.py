"""Rules, stock and limits as python-constraint `Constraint` objects.

Each carries what it costs and what it looks at beside the hard test, so that our solver can read
its structure while the library's own solvers can run the same problem.
"""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from constraint import Constraint

from variants.design.stock import PLENTY
from variants.model import Candidate, Item
from variants.rulebook import Finding, Rule

#: A number of pieces; a share of a feather is exact.
Pieces = int | Fraction


class FlyConstraint(Constraint):  # type: ignore[misc]
    """A constraint over some parts of a fly.

    Subclasses judge a choice of candidates, one for each of ``parts``.
    """

    parts: tuple[str, ...]
    #: Whether it may ever forbid; a constraint that only costs says no.
    is_hard: bool = True

    @abstractmethod
    def allows(self, chosen: Sequence[Candidate]) -> bool:
        """Tell whether the candidates, in the order of ``parts``, may stand on one fly."""

    def cost(self, chosen: Sequence[Candidate]) -> int:
        """Return what they add to the departure, in thousandths; never less than 0."""
        return 0

    def verdict(self, chosen: Sequence[Candidate]) -> int | None:
        """Return the cost of the candidates, or None when they may not stand on one fly."""
        return self.cost(chosen) if self.allows(chosen) else None

    def reads(self, part: str) -> tuple[str, ...] | None:
        """Return the attributes of a part that its projection is made of.

        None when it looks at something else; then only `projection` tells.
        """
        return None

    def projection(self, part: str, candidate: Candidate) -> object:
        """Return all that the constraint looks at in a candidate; equal ones are judged alike."""
        return candidate

    def may_still_allow(self, chosen: Mapping[str, Candidate]) -> bool:
        """Tell whether a partial choice can still be completed, as far as this can be seen."""
        return True

    def least_cost(self, chosen: Mapping[str, Candidate]) -> int:
        """Return a cost that every completion of a partial choice pays at least."""
        return 0

    def preProcess(  # noqa: N802
        self,
        variables: Sequence[str],
        domains: Mapping[str, list[Candidate]],
        constraints: list[Any],
        vconstraints: Mapping[str, list[Any]],
    ) -> None:
        """Leave the problem whole.

        The library would apply a constraint over one part and then drop it, and its cost with it.
        """

    def __call__(
        self,
        variables: Sequence[str],
        domains: Mapping[str, list[Candidate]],
        assignments: Mapping[str, Candidate],
        forwardcheck: bool = False,
        **_options: Any,
    ) -> bool:
        """Run the hard test as python-constraint asks for it."""
        if all(variable in assignments for variable in variables):
            return self.allows([assignments[variable] for variable in self.parts])
        if forwardcheck:
            return bool(self.forwardCheck(variables, domains, assignments))
        return True


class RuleConstraint(FlyConstraint):
    """One rule of the trade over those of its parts that the dressing has."""

    def __init__(self, rule: Rule, parts: Sequence[str]) -> None:
        self.rule = rule
        self.parts = tuple(parts)
        self.is_hard = rule.is_hard
        self._reads = rule.reads_in_order

    def finding(self, chosen: Sequence[Candidate]) -> Finding:
        """Return the rule's judgement of the candidates."""
        return self.rule.judge(
            {part: candidate.attributes for part, candidate in zip(self.parts, chosen, strict=True)}
        )

    def allows(self, chosen: Sequence[Candidate]) -> bool:  # noqa: D102
        return self.finding(chosen).kept

    def cost(self, chosen: Sequence[Candidate]) -> int:  # noqa: D102
        return self.finding(chosen).cost

    def verdict(self, chosen: Sequence[Candidate]) -> int | None:  # noqa: D102
        finding = self.finding(chosen)
        return finding.cost if finding.kept else None

    def reads(self, part: str) -> tuple[str, ...]:  # noqa: D102
        return self._reads[part]

    def projection(self, part: str, candidate: Candidate) -> object:  # noqa: D102
        attributes = candidate.attributes
        # A part that is left out has no attributes at all, which rules tell from unknown ones.
        return (bool(attributes), *(attributes.get(name) for name in self._reads[part]))

    def may_still_allow(self, chosen: Mapping[str, Candidate]) -> bool:  # noqa: D102
        return not self.rule.only_grows or self._partial(chosen).kept

    def least_cost(self, chosen: Mapping[str, Candidate]) -> int:  # noqa: D102
        return self._partial(chosen).cost if self.rule.only_grows else 0

    def _partial(self, chosen: Mapping[str, Candidate]) -> Finding:
        return self.rule.judge({part: candidate.attributes for part, candidate in chosen.items()})


class StockConstraint(FlyConstraint):
    """One item can't give more pieces than are left of it, over all parts that use it."""

    def __init__(self, parts: Sequence[str]) -> None:
        self.parts = tuple(parts)

    def allows(self, chosen: Sequence[Candidate]) -> bool:  # noqa: D102
        used: dict[str, Pieces] = {}
        for candidate in chosen:
            for item_id, takes, left in scarce_items(candidate):
                used[item_id] = used.get(item_id, 0) + takes
                if used[item_id] > left:
                    return False
        return True

    def projection(self, part: str, candidate: Candidate) -> object:  # noqa: D102
        return scarce_items(candidate)

    def may_still_allow(self, chosen: Mapping[str, Candidate]) -> bool:  # noqa: D102
        return self.allows(tuple(chosen.values()))


def scarce_items(candidate: Candidate) -> tuple[tuple[str, Pieces, Pieces], ...]:
    """Return the items of which few pieces are left, what is taken, and what is left of each.

    Such lots hold one item. Where single barbs are taken of feathers it is a share of one, so that
    two parts may take of the same; sums are exact.
    """
    return tuple(
        (items[0].id, *_taken(candidate, items[0], count))
        for items in candidate.items
        if len(items) == 1 and (count := items[0].count) is not None and count < PLENTY
    )


def _taken(candidate: Candidate, item: Item, count: int) -> tuple[Pieces, Pieces]:
    if not item.is_in_feathers:
        return candidate.uses, count
    left = item.left
    return (
        candidate.uses if candidate.share is None else candidate.share,
        count if left is None else left,
    )


class ChangesConstraint(FlyConstraint):
    """At most so many parts differ from the dressing."""

    def __init__(self, parts: Sequence[str], at_most: int) -> None:
        self.parts = tuple(parts)
        self.at_most = at_most

    def allows(self, chosen: Sequence[Candidate]) -> bool:  # noqa: D102
        return sum(candidate.is_changed for candidate in chosen) <= self.at_most

    def projection(self, part: str, candidate: Candidate) -> object:  # noqa: D102
        return candidate.is_changed

    def may_still_allow(self, chosen: Mapping[str, Candidate]) -> bool:  # noqa: D102
        return sum(candidate.is_changed for candidate in chosen.values()) <= self.at_most
