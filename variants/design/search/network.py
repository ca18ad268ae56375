"""A constraint problem compiled for the search: candidates in classes, constraints as judges.

Candidates of a part that make the same dressing and look alike to every constraint over two parts
and more form one *class*; the search works on classes and looks at members only when an answer is
written out. What looks at one part is folded into the candidates' costs; how many parts may differ
becomes a number (`Network.at_most_changed`); stock becomes judges over the few items that could run
short (`variants.design.search.stock`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import prod

from variants.design import FlyConstraint
from variants.design.search.classes import Sorted
from variants.design.search.folding import fold
from variants.design.search.judge import Judge
from variants.design.search.witness import Verdicts, Witness
from variants.model import Candidate

#: A cost, in thousandths, above every departure; marks what a hard rule forbids.
FORBIDDEN = 1 << 40


@dataclass
class Network:
    """Domains, classes and judges, by the numbers of parts, candidates and classes.

    Attributes
    ----------
    parts : tuple of str
        The variables, in the order of the dressing.
    domains : list of list of Candidate
        What constraints over one part have left, by their keys.
    own : list of list of int
        What each candidate costs alone, in thousandths.
    classes : list of list of list of int
        For each part and class, its candidates' numbers, cheapest first. Classes stand in order of
        their cheapest.
    costs : list of list of int
        For each part and class, the weight of its cheapest candidate (see Notes), with what
        constraints add that can tell the classes of no other part apart.
    changed : list of int
        For each part, the set of classes that differ from the dressing, as bits.
    makes : list of list of int
        For each part and class, a number for what the candidates make of the part.
    judges : list of Judge
        The constraints that tell apart classes of two parts and more.
    at_most_changed : int
        How many parts may differ.

    Notes
    -----
    All costs inside the search are *weights*: ``cost * unit + places``, where ``places`` is below
    ``unit`` and counts the places of the chosen candidates in their domains as digits of one
    number, first part first. Weights add up like costs, no two choices weigh the same, and the
    order of weights is the order of costs with ties broken by the candidates' keys, part by part.
    """

    parts: tuple[str, ...]
    domains: list[list[Candidate]]
    own: list[list[int]]
    unit: int
    places: list[int]
    classes: list[list[list[int]]] = field(default_factory=list)
    costs: list[list[int]] = field(default_factory=list)
    changed: list[int] = field(default_factory=list)
    makes: list[list[int]] = field(default_factory=list)
    judges: list[Judge] = field(default_factory=list)
    at_most_changed: int = 0

    @property
    def is_hopeless(self) -> bool:
        """Whether some part has no candidate left, or more must change than may."""
        return self.at_most_changed < 0 or not all(self.classes)

    def __post_init__(self) -> None:
        #: A weight above that of every choice.
        self.never = FORBIDDEN * self.unit

    def weight(self, part: int, number: int) -> int:
        """Return what a candidate weighs alone."""
        return self.own[part][number] * self.unit + number * self.places[part]

    def restricted(self, parts: Sequence[int]) -> Network:
        """Return the network of some parts alone, with the judges over no others; weights stay."""
        number = {part: index for index, part in enumerate(parts)}
        other = Network(
            tuple([self.parts[part] for part in parts]),
            [self.domains[part] for part in parts],
            [self.own[part] for part in parts],
            self.unit,
            [self.places[part] for part in parts],
            [self.classes[part] for part in parts],
            [self.costs[part] for part in parts],
            [self.changed[part] for part in parts],
            [self.makes[part] for part in parts],
            at_most_changed=min(self.at_most_changed, len(parts)),
        )
        other.judges += [
            judge.renumbered(number) for judge in self.judges if number.keys() >= {*judge.scope}
        ]
        return other


def assemble(
    parts: tuple[str, ...],
    survivors: Sequence[Sorted],
    joint: Sequence[FlyConstraint],
    at_most: int,
    known: Mapping[FlyConstraint, Verdicts],
) -> Network:
    """Return the network of parts sorted into classes, and of the constraints between them.

    Constraints that look at other parts as well are left out.
    """
    sizes = [max(1, len(found.candidates)) for found in survivors]
    network = Network(
        parts,
        [found.candidates for found in survivors],
        [found.costs for found in survivors],
        prod(sizes),
        [prod(sizes[index + 1 :]) for index in range(len(parts))],
        at_most_changed=at_most,
    )
    live = [list(range(len(found.classes))) for found in survivors]
    weights = [
        [network.weight(index, one.members[0]) for one in found.classes]
        for index, found in enumerate(survivors)
    ]
    witnesses = fold(_witnesses(network, survivors, joint, known), live, weights, network.unit)
    orders = [
        sorted(own, key=weighed.__getitem__) for own, weighed in zip(live, weights, strict=True)
    ]
    for found, order, weighed in zip(survivors, orders, weights, strict=True):
        ordered = [found.classes[at] for at in order]
        network.classes.append([one.members for one in ordered])
        network.costs.append([weighed[at] for at in order])
        network.changed.append(sum(1 << at for at, one in enumerate(ordered) if one.is_changed))
        network.makes.append([one.makes for one in ordered])
    for one in witnesses:
        judge = Judge(one.in_order(orders), network.unit, network.never)
        if not judge.is_idle():
            network.judges.append(judge)
    return network


def _witnesses(
    network: Network,
    survivors: Sequence[Sorted],
    joint: Sequence[FlyConstraint],
    known: Mapping[FlyConstraint, Verdicts],
) -> Iterator[Witness]:
    """Yield the constraints with what they see; none that looks at other parts as well."""
    number = {part: index for index, part in enumerate(network.parts)}
    stands = [[found.candidates[one.members[0]] for one in found.classes] for found in survivors]
    for at, constraint in enumerate(joint):
        if not number.keys() >= set(constraint.parts):
            continue
        scope = tuple([number[part] for part in constraint.parts])
        seen = [
            [survivors[part].glimpses[at](one.look) for one in survivors[part].classes]
            for part in scope
        ]
        own = known.get(constraint)
        yield Witness(
            constraint, scope, seen, [stands[part] for part in scope], {} if own is None else own
        )
