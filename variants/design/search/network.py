"""A constraint problem compiled for the search: candidates in classes, constraints by number.

Candidates of a part that make the same dressing and that no constraint over two parts and more can
tell apart form one *class* (interchangeable values: E. C. Freuder, "Eliminating interchangeable
values in constraint satisfaction problems", 1991). The search works on classes and looks at members
only when a solution is written out. Constraints over one part are added to the candidates' costs;
how many parts may differ becomes a number (`Network.at_most_changed`); stock becomes constraints
over the few items that could run short (`variants.design.search.contested_stock`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import prod

from variants.design import FlyConstraint
from variants.design.search.indexed_constraint import IndexedConstraint, Verdicts
from variants.design.search.interchangeable import Partition
from variants.model import Candidate

#: A cost, in thousandths, above every departure; marks what a hard rule forbids.
FORBIDDEN = 1 << 40


@dataclass
class Network:
    """Domains, classes and constraints, by the numbers of parts, candidates and classes.

    Attributes
    ----------
    parts : tuple of str
        The variables, in the order of the dressing.
    domains : list of list of Candidate
        What constraints over one part have left, by their keys.
    own : list of list of int
        What each candidate costs alone, in thousandths.
    unit : int
        What a thousandth weighs (see Notes).
    places : list of int
        For each part, what one place in its domain weighs.
    classes : list of list of list of int
        For each part and class, its candidates' numbers, cheapest first. Classes stand in order of
        their cheapest.
    costs : list of list of int
        For each part and class, the weight of its cheapest candidate.
    changed : list of int
        For each part, the set of classes that differ from the dressing, as bits.
    makes : list of list of int
        For each part and class, a number for what the candidates make of the part.
    constraints : list of IndexedConstraint
        Those over two parts and more that forbid or cost anything.
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
    constraints: list[IndexedConstraint] = field(default_factory=list)
    at_most_changed: int = 0

    def __post_init__(self) -> None:
        #: A weight above that of every choice.
        self.never = FORBIDDEN * self.unit

    @property
    def is_unsolvable(self) -> bool:
        """Whether some part has no candidate left, or more must change than may."""
        return self.at_most_changed < 0 or not all(self.classes)

    def weight(self, part: int, number: int) -> int:
        """Return what a candidate weighs alone."""
        return self.own[part][number] * self.unit + number * self.places[part]


def assemble_network(
    parts: tuple[str, ...],
    partitions: Sequence[Partition],
    joint: Sequence[FlyConstraint],
    at_most_changed: int,
    verdicts: Mapping[FlyConstraint, Verdicts],
) -> Network:
    """Return the network of partitioned domains and of the constraints between them.

    Parameters
    ----------
    parts : tuple of str
    partitions : sequence of Partition
        One for each part.
    joint : sequence of FlyConstraint
        Over two parts and more; one that looks at a part not in ``parts`` is left out.
    at_most_changed : int
    verdicts : mapping of FlyConstraint to dict
        Caches to go on with, where there are any.
    """
    sizes = [max(1, len(own.candidates)) for own in partitions]
    network = Network(
        parts,
        [own.candidates for own in partitions],
        [own.costs for own in partitions],
        prod(sizes),
        [prod(sizes[index + 1 :]) for index in range(len(parts))],
        at_most_changed=at_most_changed,
    )
    for index, own in enumerate(partitions):
        network.classes.append([one.members for one in own.classes])
        network.costs.append([network.weight(index, one.members[0]) for one in own.classes])
        network.changed.append(sum(1 << at for at, one in enumerate(own.classes) if one.is_changed))
        network.makes.append([one.makes for one in own.classes])
    number = {part: index for index, part in enumerate(parts)}
    for constraint in joint:
        if number.keys() >= set(constraint.parts):
            scope = tuple([number[part] for part in constraint.parts])
            indexed = IndexedConstraint(
                constraint,
                scope,
                [partitions[part].project(constraint) for part in scope],
                [partitions[part].stands for part in scope],
                verdicts.get(constraint, {}),
                network.unit,
                network.never,
            )
            if not indexed.is_idle():
                network.constraints.append(indexed)
    return network
