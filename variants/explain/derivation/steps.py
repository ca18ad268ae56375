"""How a variant comes from its base: the shortest valid way through the lattice of changes.

A state is the base with some of the variant's changes made. A step makes one change; it is valid
when the dressing it leads to keeps every hard rule by itself, stock aside. Only where no such way
exists does a step make two or more changes at once, and then the rules that tie them are named.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from variants.design import DesignProblem, RuleConstraint
from variants.design.search import rule_terms
from variants.explain.derivation.lattice import Lattice, NoGood
from variants.model import Candidate
from variants.rulebook import Rule

#: For each part of the dressing, the identity of what fills it.
NodeKey = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DerivationStep:
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
    """Finds the steps from the base to variants, remembering which dressings are known.

    Attributes
    ----------
    design : DesignProblem
    known : set of NodeKey
        Dressings already in the derivation; ways through them are preferred, so that variants
        share their first steps.
    """

    design: DesignProblem
    known: set[NodeKey] = field(default_factory=set)

    def key(self, dressing: Mapping[str, Candidate]) -> NodeKey:
        """Return what identifies a dressing in the derivation."""
        return tuple(candidate.identity for candidate in dressing.values())

    def departure(self, dressing: Mapping[str, Candidate]) -> int:
        """Return a dressing's departure in thousandths."""
        own = sum(candidate.cost for candidate in dressing.values())
        return own + sum(term.cost for term in rule_terms(self.design, dressing))

    def steps(self, variant: Mapping[str, Candidate]) -> list[DerivationStep]:
        """Return the steps from the base to a variant, fewest first, sharing what is known."""
        base = self.design.base
        differing = tuple(
            part for part, candidate in variant.items() if candidate.identity != base[part].identity
        )
        if not differing:
            return []
        lattice = Lattice(
            len(differing), self._no_goods(variant, differing), self._known(variant, differing)
        )
        return [
            self._step(variant, differing, lattice, before, after)
            for before, after in pairwise(lattice.shortest_path())
        ]

    def _state(
        self, variant: Mapping[str, Candidate], differing: Sequence[str], mask: int
    ) -> dict[str, Candidate]:
        changed = {part for bit, part in enumerate(differing) if mask >> bit & 1}
        if len(changed) == len(differing):
            return dict(variant)
        return {
            part: variant[part] if part in changed else self.design.base[part] for part in variant
        }

    def _no_goods(self, variant: Mapping[str, Candidate], differing: Sequence[str]) -> list[NoGood]:
        """Return which changes, made and not made together, break which hard rule."""
        bit_of = {part: bit for bit, part in enumerate(differing)}
        found: list[NoGood] = []
        for constraint in self.design.constraints:
            if not (isinstance(constraint, RuleConstraint) and constraint.is_hard):
                continue
            bits = [bit_of[part] for part in constraint.parts if part in bit_of]
            scope = sum(1 << bit for bit in bits)
            for choice in range(1 << len(bits)):
                made = sum(1 << bit for place, bit in enumerate(bits) if choice >> place & 1)
                chosen = [
                    variant[part]
                    if part in bit_of and made >> bit_of[part] & 1
                    else self.design.base[part]
                    for part in constraint.parts
                ]
                if not constraint.allows(chosen):
                    found.append(NoGood(constraint.rule, scope, made))
        return found

    def _known(self, variant: Mapping[str, Candidate], differing: Sequence[str]) -> frozenset[int]:
        """Return the states on the way to a variant that the derivation holds already."""
        base = self.key(self.design.base)
        goal = self.key(variant)
        places = [place for place, part in enumerate(variant) if part in differing]
        states = set()
        for key in self.known:
            if all(one in (here, there) for one, here, there in zip(key, base, goal, strict=True)):
                made = (bit for bit, place in enumerate(places) if key[place] == goal[place])
                states.add(sum(1 << bit for bit in made))
        return frozenset(states)

    def _step(
        self,
        variant: Mapping[str, Candidate],
        differing: Sequence[str],
        lattice: Lattice,
        before: int,
        after: int,
    ) -> DerivationStep:
        bits = [bit for bit in range(len(differing)) if (after & ~before) >> bit & 1]
        tied_by: dict[str, Rule] = {}
        if len(bits) > 1:
            for bit in bits:
                tied_by.update({rule.id: rule for rule in lattice.broken_rules(before | 1 << bit)})
        return DerivationStep(
            tuple(differing[bit] for bit in bits),
            self._state(variant, differing, before),
            self._state(variant, differing, after),
            tuple(tied_by.values()),
        )
