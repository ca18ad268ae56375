"""A constraint problem compiled for the search: numbered candidates, costs as tables.

Constraints over one part are folded into the domains. Constraints over two parts become one table
of costs for each pair of parts, worked out once for each pair of *projections* (what the rules look
at), not for each pair of candidates. What looks at three parts and more stays a test.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from variants.model import Candidate
from variants.problem import FlyConstraint

#: A cost above every departure; marks what a hard rule forbids.
FORBIDDEN = 1 << 40

#: For each candidate of one part, its row of costs against the candidates of another.
Table = list[list[int]]


@dataclass
class Network:
    """Domains, costs and tests, by the number of the part and of the candidate.

    Attributes
    ----------
    parts : tuple of str
        The variables, in the order of the dressing.
    domains : list of list of Candidate
        What unary constraints and missing partners have left, in stable order.
    costs : list of list of int
        What each candidate costs alone, soft unary rules included.
    tables : mapping of (part, part) to Table
        Both ways round.
    tests : list of (constraint, parts)
        Constraints over three parts and more.
    """

    parts: tuple[str, ...]
    domains: list[list[Candidate]]
    costs: list[list[int]]
    tables: dict[tuple[int, int], Table] = field(default_factory=dict)
    tests: list[tuple[FlyConstraint, tuple[int, ...]]] = field(default_factory=list)

    @property
    def is_hopeless(self) -> bool:
        """Whether some part has no candidate left."""
        return any(not domain for domain in self.domains)

    def restricted(self, allowed: Sequence[Sequence[int]]) -> Network:
        """Return the network with only these candidates of each part, by their numbers."""
        tables = {
            (one, other): [[table[i][j] for j in allowed[other]] for i in allowed[one]]
            for (one, other), table in self.tables.items()
        }
        return Network(
            self.parts,
            [[domain[i] for i in keep] for domain, keep in zip(self.domains, allowed, strict=True)],
            [[costs[i] for i in keep] for costs, keep in zip(self.costs, allowed, strict=True)],
            tables,
            self.tests,
        )


def compile_network(
    domains: Mapping[str, Sequence[Candidate]],
    constraints: Sequence[tuple[FlyConstraint, Sequence[str]]],
) -> Network:
    """Return the network of a problem as python-constraint hands it to a solver.

    Complexity: one judgement for each distinct projection (unary) or pair of projections (binary).
    """
    parts = tuple(domains)
    number = {part: index for index, part in enumerate(parts)}
    by_arity: dict[int, list[tuple[FlyConstraint, tuple[int, ...]]]] = {}
    for constraint, variables in constraints:
        numbered = constraint, tuple(number[part] for part in variables)
        by_arity.setdefault(min(len(variables), 3), []).append(numbered)
    network = Network(parts, [list(domains[part]) for part in parts], [])
    network.costs = [[candidate.cost for candidate in domain] for domain in network.domains]
    _fold_unary(network, [(one, scope[0]) for one, scope in by_arity.get(1, [])])
    _fill_tables(network, by_arity.get(2, []))
    network.tests = by_arity.get(3, [])
    return _without_partnerless(network)


def _fold_unary(network: Network, constraints: Sequence[tuple[FlyConstraint, int]]) -> None:
    for constraint, index in constraints:
        part = network.parts[index]
        verdicts: dict[object, int] = {}
        domain, costs = [], []
        for candidate, cost in zip(network.domains[index], network.costs[index], strict=True):
            seen = constraint.projection(part, candidate)
            if seen not in verdicts:
                verdicts[seen] = _judge(constraint, [candidate])
            if verdicts[seen] < FORBIDDEN:
                domain.append(candidate)
                costs.append(cost + verdicts[seen])
        network.domains[index], network.costs[index] = domain, costs


def _judge(constraint: FlyConstraint, chosen: Sequence[Candidate]) -> int:
    return constraint.cost(chosen) if constraint.allows(chosen) else FORBIDDEN


def _fill_tables(
    network: Network, constraints: Sequence[tuple[FlyConstraint, tuple[int, ...]]]
) -> None:
    by_pair: dict[tuple[int, int], list[FlyConstraint]] = {}
    for constraint, (one, other) in constraints:
        # A constraint states its parts in its own order; the table's key must keep it.
        by_pair.setdefault((one, other), []).append(constraint)
    for (one, other), together in by_pair.items():
        table = _table(network, one, other, together)
        if table is None:
            continue
        known = network.tables.get((one, other))
        if known is not None:
            table = [
                [min(a + b, FORBIDDEN) for a, b in zip(row, added, strict=True)]
                for row, added in zip(known, table, strict=True)
            ]
        network.tables[one, other] = table
        network.tables[other, one] = [list(column) for column in zip(*table, strict=True)]


def _table(
    network: Network, one: int, other: int, constraints: Sequence[FlyConstraint]
) -> Table | None:
    """Return the costs of all pairs, or None when nothing is ever forbidden or paid.

    Each constraint is judged for its own distinct projections only; the rows of all constraints
    are added once for each combination of them, and shared by the candidates that have it.
    """
    layers = [
        layer
        for constraint in constraints
        if (layer := _layer(network, one, other, constraint)) is not None
    ]
    if not layers:
        return None
    sums: dict[tuple[int, ...], list[int]] = {}
    table: Table = []
    for row_numbers in zip(*(numbers for numbers, _ in layers), strict=True):
        row = sums.get(row_numbers)
        if row is None:
            rows = [rows[number] for number, (_, rows) in zip(row_numbers, layers, strict=True)]
            row = rows[0] if len(rows) == 1 else [min(sum(costs), FORBIDDEN) for costs in zip(*rows, strict=True)]
            sums[row_numbers] = row
        table.append(row)
    return table


#: For each candidate the number of its row; the distinct rows.
_Layer = tuple[list[int], list[list[int]]]


def _layer(
    network: Network, one: int, other: int, constraint: FlyConstraint
) -> _Layer | None:
    """Return one constraint's costs over two parts, or None when they are all nothing."""
    row_groups, row_numbers = _grouped(network, one, constraint)
    column_groups, column_numbers = _grouped(network, other, constraint)
    rows: list[list[int]] = []
    for row in row_groups:
        costs = [_judge(constraint, [row, column]) for column in column_groups]
        rows.append([costs[number] for number in column_numbers])
    return (row_numbers, rows) if any(map(any, rows)) else None


def _grouped(
    network: Network, index: int, constraint: FlyConstraint
) -> tuple[list[Candidate], list[int]]:
    """Return one candidate for each distinct projection, and each candidate's projection number."""
    part = network.parts[index]
    groups: dict[object, int] = {}
    speakers: list[Candidate] = []
    numbers: list[int] = []
    for candidate in network.domains[index]:
        seen = constraint.projection(part, candidate)
        if seen not in groups:
            groups[seen] = len(speakers)
            speakers.append(candidate)
        numbers.append(groups[seen])
    return speakers, numbers


def _without_partnerless(network: Network) -> Network:
    """Drop candidates that no candidate of some other part can stand beside (arc consistency)."""
    while not network.is_hopeless:
        allowed = [
            [
                place
                for place in range(len(domain))
                if all(
                    min(table[place], default=FORBIDDEN) < FORBIDDEN
                    for (one, _other), table in network.tables.items()
                    if one == index
                )
            ]
            for index, domain in enumerate(network.domains)
        ]
        if all(len(keep) == len(d) for keep, d in zip(allowed, network.domains, strict=True)):
            break
        network = network.restricted(allowed)
    return network
