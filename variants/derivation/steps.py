"""How a variant comes from its base: the shortest valid way through the lattice of changes.

A state is the base with some of the variant's changes made. A step makes one change; it is valid
when the dressing it leads to keeps every hard rule by itself, stock aside. Only where no such way
exists does a step make two or more changes at once, and then the rules that tie them are named.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations, pairwise

import networkx as nx

from variants.model import Candidate
from variants.problem import DesignProblem, RuleConstraint
from variants.rulebook import Rule
from variants.search import rule_terms

#: For each part of the dressing, the identity of what fills it.
NodeKey = tuple[str, ...]
_STEP, _NEW_NODE = 1000, 1


@dataclass(frozen=True, slots=True)
class Step:
    """One substitution, or several that rules tie together.

    Attributes
    ----------
    parts : tuple of str
    before, after : mapping of part to Candidate
        The whole dressing on either side.
    tied_by : tuple of Rule
        Rules that forbid the parts of a linked step to change one at a time.
    """

    parts: tuple[str, ...]
    before: Mapping[str, Candidate]
    after: Mapping[str, Candidate]
    tied_by: tuple[Rule, ...] = ()


@dataclass
class Pathfinder:
    """Finds the steps from the base to variants, remembering what it has judged.

    Attributes
    ----------
    design : DesignProblem
    known : set of NodeKey
        Dressings already in the derivation; ways through them are preferred, so that variants
        share their first steps.
    """

    design: DesignProblem
    known: set[NodeKey] = field(default_factory=set)
    _broken: dict[NodeKey, tuple[Rule, ...]] = field(default_factory=dict)

    def key(self, dressing: Mapping[str, Candidate]) -> NodeKey:
        """Return what identifies a dressing in the derivation."""
        return tuple(candidate.identity for candidate in dressing.values())

    def departure(self, dressing: Mapping[str, Candidate]) -> int:
        """Return a dressing's departure in thousandths."""
        own = sum(candidate.cost for candidate in dressing.values())
        return own + sum(term.cost for term in rule_terms(self.design, dressing))

    def broken_rules(self, dressing: Mapping[str, Candidate]) -> tuple[Rule, ...]:
        """Return the hard rules that a dressing breaks, stock aside."""
        key = self.key(dressing)
        if key not in self._broken:
            self._broken[key] = tuple(
                constraint.rule
                for constraint in self.design.constraints
                if isinstance(constraint, RuleConstraint)
                and not constraint.allows([dressing[part] for part in constraint.parts])
            )
        return self._broken[key]

    def steps(self, variant: Mapping[str, Candidate]) -> list[Step]:
        """Return the steps from the base to a variant, fewest first, sharing what is known."""
        base = self.design.base
        differing = tuple(
            part for part, candidate in variant.items() if candidate.identity != base[part].identity
        )
        if not differing:
            return []
        goal = (1 << len(differing)) - 1
        for together in range(1, len(differing) + 1):
            lattice = self._lattice(variant, differing, together)
            if lattice.has_node(goal) and lattice.has_node(0) and nx.has_path(lattice, 0, goal):
                masks = nx.shortest_path(lattice, 0, goal, weight="weight")
                return self._as_steps(variant, differing, masks)
        raise AssertionError("changing all parts at once always leads from base to variant")

    def _state(
        self, variant: Mapping[str, Candidate], differing: Sequence[str], mask: int
    ) -> dict[str, Candidate]:
        changed = {part for bit, part in enumerate(differing) if mask >> bit & 1}
        if len(changed) == len(differing):
            return dict(variant)
        return {
            part: variant[part] if part in changed else self.design.base[part] for part in variant
        }

    def _lattice(
        self, variant: Mapping[str, Candidate], differing: Sequence[str], together: int
    ) -> nx.DiGraph[int]:
        """Return the graph of valid states, with steps of up to ``together`` changes at once."""
        lattice: nx.DiGraph[int] = nx.DiGraph()
        goal = (1 << len(differing)) - 1
        states = {mask: self._state(variant, differing, mask) for mask in range(goal + 1)}
        valid = {
            mask
            for mask, state in states.items()
            if mask in (0, goal) or not self.broken_rules(state)
        }
        for mask in sorted(valid):
            free = [bit for bit in range(len(differing)) if not mask >> bit & 1]
            for count in range(1, together + 1):
                for bits in combinations(free, count):
                    after = mask | sum(1 << bit for bit in bits)
                    if after in valid:
                        is_new = self.key(states[after]) not in self.known
                        weight = _STEP * count * count + (_NEW_NODE if is_new else 0)
                        lattice.add_edge(mask, after, weight=weight)
        return lattice

    def _as_steps(
        self, variant: Mapping[str, Candidate], differing: Sequence[str], masks: Sequence[int]
    ) -> list[Step]:
        steps = []
        for mask, after in pairwise(masks):
            bits = [bit for bit in range(len(differing)) if (after & ~mask) >> bit & 1]
            tied_by: dict[str, Rule] = {}
            if len(bits) > 1:
                for bit in bits:
                    alone = self._state(variant, differing, mask | 1 << bit)
                    tied_by.update({rule.id: rule for rule in self.broken_rules(alone)})
            steps.append(
                Step(
                    tuple(differing[bit] for bit in bits),
                    self._state(variant, differing, mask),
                    self._state(variant, differing, after),
                    tuple(tied_by.values()),
                )
            )
        return steps
