"""Rules, stock and limits as python-constraint `Constraint` objects.

Each carries what it costs and what it looks at beside the hard test, so that our solver can read
its structure while the library's own solvers can run the same problem.
"""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Mapping, Sequence
from typing import Any

from constraint import Constraint

from variants.model import Candidate
from variants.problem.stock import PLENTY
from variants.rulebook import Finding, Rule


class FlyConstraint(Constraint):  # type: ignore[misc]
    """A constraint over some parts of a fly.

    Subclasses judge a choice of candidates, one for each of ``parts``.
    """

    parts: tuple[str, ...]

    @abstractmethod
    def allows(self, chosen: Sequence[Candidate]) -> bool:
        """Tell whether the candidates, in the order of ``parts``, may stand on one fly."""

    def cost(self, chosen: Sequence[Candidate]) -> int:
        """Return what they add to the departure, in thousandths."""
        return 0

    def projection(self, part: str, candidate: Candidate) -> object:
        """Return all that the constraint looks at in a candidate; equal ones are judged alike."""
        return candidate

    def may_still_allow(self, chosen: Mapping[str, Candidate]) -> bool:
        """Tell whether a partial choice can still be completed, as far as this can be seen."""
        return True

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
        self._reads = {part: tuple(sorted(rule.reads[part])) for part in self.parts}

    def finding(self, chosen: Sequence[Candidate]) -> Finding:
        """Return the rule's judgement of the candidates."""
        return self.rule.judge(
            {part: candidate.attributes for part, candidate in zip(self.parts, chosen, strict=True)}
        )

    def allows(self, chosen: Sequence[Candidate]) -> bool:  # noqa: D102
        return self.finding(chosen).kept

    def cost(self, chosen: Sequence[Candidate]) -> int:  # noqa: D102
        return self.finding(chosen).cost

    def projection(self, part: str, candidate: Candidate) -> object:  # noqa: D102
        attributes = candidate.attributes
        # A part that is left out has no attributes at all, which rules tell from unknown ones.
        return (bool(attributes), *(attributes.get(name) for name in self._reads[part]))


class StockConstraint(FlyConstraint):
    """One item can't give more pieces than are left of it, over all parts that use it."""

    def __init__(self, parts: Sequence[str]) -> None:
        self.parts = tuple(parts)

    def allows(self, chosen: Sequence[Candidate]) -> bool:  # noqa: D102
        used: dict[str, int] = {}
        for candidate in chosen:
            for item_id, left in scarce_items(candidate):
                used[item_id] = used.get(item_id, 0) + candidate.uses
                if used[item_id] > left:
                    return False
        return True

    def projection(self, part: str, candidate: Candidate) -> object:  # noqa: D102
        scarce = scarce_items(candidate)
        return (scarce, candidate.uses) if scarce else ()


def scarce_items(candidate: Candidate) -> tuple[tuple[str, int], ...]:
    """Return the items of which few pieces are left, with their count; such lots hold one item."""
    return tuple(
        (items[0].id, count)
        for items in candidate.items
        if len(items) == 1 and (count := items[0].count) is not None and count < PLENTY
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
