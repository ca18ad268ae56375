"""Stock shared out among demands: as many flies as can be, then the least departure, exactly.

Demands come in, each with the ways in which one of its flies can be tied: what a way departs and
what it takes of which store. Numbers of flies by demand and way come out.

Notes
-----
Only stores that the demands could empty matter; a way that takes of none of them makes all dearer
ways of its demand needless. Where each way that is left takes one whole piece of one store at most,
the question is a minimum-cost flow of flies through stores (G. B. Dantzig's transportation problem,
1951), and networkx finds it by network simplex. Otherwise demands are taken one after the other,
and of all ways to share out so far those are kept that no other dominates in flies, departure and
every store left (dynamic programming with dominance: G. L. Nemhauser and Z. Ullmann, "Discrete
dynamic programming and capital allocation", Management Science 15, 1969): exact, whatever is taken.
Where there are too many ways for that, flies are given out greedily by the greatest regret, the
difference between the best way and the next one, and nothing is proven.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

#: So many ways to share out are searched exactly.
MOST_SHARES = 300_000
#: What is taken and left is compared in whole millionths, so that sums are exact.
_UNITS = 1_000_000


@dataclass(frozen=True, slots=True)
class TyingWay:
    """One way to tie a fly of an demand.

    Attributes
    ----------
    departure : int
        Thousandths.
    takes : mapping of store to amount
        More than 0 each.
    """

    departure: int
    takes: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Demand:
    """So many flies of one kind, with the ways to tie them."""

    wanted: int
    ways: tuple[TyingWay, ...]


@dataclass(frozen=True, slots=True)
class Allocation:
    """How many flies of each demand are tied in each way.

    Attributes
    ----------
    flies : tuple of tuple of int
        By demand, by way.
    tied : int
    departure : int
        Thousandths, over all flies.
    method : str
        ``flow`` or ``search``, both exact; ``steps`` when there are too many ways to share out for
        the search: then flies are given out one by one, each time where most would be lost by
        waiting, and nothing is proven.
    """

    flies: tuple[tuple[int, ...], ...]
    tied: int
    departure: int
    method: str


def allocate(demands: Sequence[Demand], stores: Mapping[str, float]) -> Allocation:
    """Share stores out among demands.

    Parameters
    ----------
    demands : sequence of Demand
    stores : mapping of store to what is in it
        A store that is not named here never runs out.
    """
    scarce = scarce_stores(demands, stores)
    kept = [_keep_useful(demand, scarce) for demand in demands]
    left = {store: round(stores[store] * _UNITS) for store in scarce}
    if _is_flow(demands, kept, scarce, stores):
        chosen = _allocate_by_flow(demands, kept, scarce, stores)
        method = "flow"
    elif _count_shares(demands, kept, left) <= MOST_SHARES:
        chosen = _allocate_by_search(demands, kept, left)
        method = "search"
    else:
        chosen = _allocate_greedily(demands, kept, left)
        method = "steps"
    tied = sum(map(sum, chosen))
    departure = sum(
        count * demand.ways[place].departure
        for demand, counts in zip(demands, chosen, strict=True)
        for place, count in enumerate(counts)
    )
    return Allocation(tuple(chosen), tied, departure, method)


def scarce_stores(demands: Sequence[Demand], stores: Mapping[str, float]) -> list[str]:
    """Return the stores that the demands could empty, were each to take most of them."""
    most: dict[str, float] = {}
    for demand in demands:
        for store in {store for way in demand.ways for store in way.takes}:
            each = max(way.takes.get(store, 0.0) for way in demand.ways)
            most[store] = most.get(store, 0.0) + each * demand.wanted
    return sorted(store for store, taken in most.items() if taken > stores.get(store, taken))


def _keep_useful(demand: Demand, scarce: Sequence[str]) -> list[int]:
    """Return the places of an demand's ways that no other one makes needless, cheapest first."""
    watched = set(scarce)
    taken = [{s: way.takes[s] for s in way.takes if s in watched} for way in demand.ways]
    cheapest = sorted(
        range(len(demand.ways)), key=lambda place: (demand.ways[place].departure, place)
    )
    kept: list[int] = []
    for place in cheapest:
        if not any(
            all(taken[place].get(store, 0.0) >= amount for store, amount in taken[other].items())
            for other in kept
        ):
            kept.append(place)
    return kept


def _is_flow(
    demands: Sequence[Demand],
    kept: Sequence[Sequence[int]],
    scarce: Sequence[str],
    stores: Mapping[str, float],
) -> bool:
    if any(stores[store] != int(stores[store]) for store in scarce):
        return False
    for demand, places in zip(demands, kept, strict=True):
        for place in places:
            taken = [demand.ways[place].takes.get(store, 0.0) for store in scarce]
            if any(amount not in (0.0, 1.0) for amount in taken) or sum(taken) > 1.0:
                return False
    return True


def _allocate_by_flow(
    demands: Sequence[Demand],
    kept: Sequence[Sequence[int]],
    scarce: Sequence[str],
    stores: Mapping[str, float],
) -> list[tuple[int, ...]]:
    """Send flies from demands through stores at the least cost.

    A fly that is left untied costs more than any departure could save.
    """
    import networkx as nx

    dearest = max((way.departure for demand in demands for way in demand.ways), default=0)
    untied = 1 + dearest * (1 + sum(demand.wanted for demand in demands))
    graph: nx.DiGraph[object] = nx.DiGraph()
    whole = sum(demand.wanted for demand in demands)
    graph.add_node("end", demand=whole)
    for store in scarce:
        graph.add_edge(("store", store), "end", capacity=int(stores[store]), weight=0)
    for number, (demand, places) in enumerate(zip(demands, kept, strict=True)):
        graph.add_node(number, demand=-demand.wanted)
        graph.add_edge(number, "end", weight=untied)
        for place in places:
            way = demand.ways[place]
            taken = [store for store in scarce if way.takes.get(store)]
            graph.add_edge(number, (number, place), weight=way.departure)
            graph.add_edge((number, place), ("store", taken[0]) if taken else "end", weight=0)
    flow = nx.min_cost_flow(graph)
    return [
        tuple(int(flow[number].get((number, place), 0)) for place in range(len(demand.ways)))
        for number, demand in enumerate(demands)
    ]


def _count_shares(
    demands: Sequence[Demand], kept: Sequence[Sequence[int]], left: Mapping[str, int]
) -> int:
    """Return a number of ways to share out that there are no more of."""
    whole = 1
    for demand, places in zip(demands, kept, strict=True):
        for place in places:
            takes = demand.ways[place].takes
            most = [left[s] // max(1, round(a * _UNITS)) for s, a in takes.items() if s in left]
            if most:
                whole *= 1 + min([demand.wanted, *most])
            if whole > MOST_SHARES:
                return whole
    return whole


def _allocate_greedily(
    demands: Sequence[Demand], kept: Sequence[Sequence[int]], left: Mapping[str, int]
) -> list[tuple[int, ...]]:
    """Give out one fly at a time, first to the demand that would lose most by waiting."""
    rest = dict(left)
    wanted = [demand.wanted for demand in demands]
    counts = [[0] * len(demand.ways) for demand in demands]

    def possible(number: int) -> list[int]:
        ways = demands[number].ways
        return [
            place
            for place in kept[number]
            if all(
                round(amount * _UNITS) <= rest[store]
                for store, amount in ways[place].takes.items()
                if store in rest
            )
        ]

    def loss(number: int, places: Sequence[int]) -> float:
        costs = [demands[number].ways[place].departure for place in places[:2]]
        return costs[1] - costs[0] if len(costs) > 1 else float("inf")

    while True:
        open_ = {
            number: places
            for number in range(len(demands))
            if wanted[number] and (places := possible(number))
        }
        if not open_:
            return [tuple(row) for row in counts]
        number = max(open_, key=lambda one: (loss(one, open_[one]), -one))
        place = open_[number][0]
        counts[number][place] += 1
        wanted[number] -= 1
        for store, amount in demands[number].ways[place].takes.items():
            if store in rest:
                rest[store] -= round(amount * _UNITS)


#: What is tied so far: flies untied, departure, what is left of each store; and how it came about.
_State = tuple[int, int, tuple[int, ...]]


def _allocate_by_search(
    demands: Sequence[Demand], kept: Sequence[Sequence[int]], left: Mapping[str, int]
) -> list[tuple[int, ...]]:
    stores = list(left)
    states: dict[_State, tuple[tuple[int, ...], ...]] = {
        (0, 0, tuple(left[store] for store in stores)): ()
    }
    for demand, places in zip(demands, kept, strict=True):
        takes = {
            place: tuple(
                round(demand.ways[place].takes.get(store, 0.0) * _UNITS) for store in stores
            )
            for place in places
        }
        grown: dict[_State, tuple[tuple[int, ...], ...]] = {}
        for state, history in states.items():
            for counts, after in _enumerate_shares(demand, places, takes, state):
                grown.setdefault(after, (*history, counts))
        states = _drop_dominated(grown)
    best = min(states, key=lambda state: (state[0], state[1], states[state]))
    return list(states[best])


def _enumerate_shares(
    demand: Demand,
    places: Sequence[int],
    takes: Mapping[int, tuple[int, ...]],
    state: _State,
) -> list[tuple[tuple[int, ...], _State]]:
    """Return every way to tie an demand's flies from what is left."""
    untied, departure, left = state
    found: list[tuple[tuple[int, ...], _State]] = []
    counts = [0] * len(demand.ways)

    def go(index: int, wanted: int, cost: int, rest: tuple[int, ...]) -> None:
        if index == len(places):
            found.append((tuple(counts), (untied + wanted, departure + cost, rest)))
            return
        place = places[index]
        each = takes[place]
        most = min(
            (have // take for have, take in zip(rest, each, strict=True) if take), default=wanted
        )
        free = not any(each)
        # A way that takes of nothing scarce is the last one, and is used for all that is left.
        for count in range(wanted if free else 0, min(most, wanted) + 1):
            counts[place] = count
            after = tuple(have - count * take for have, take in zip(rest, each, strict=True))
            go(index + 1, wanted - count, cost + count * demand.ways[place].departure, after)
        counts[place] = 0

    go(0, demand.wanted, 0, left)
    return found


def _drop_dominated(
    states: Mapping[_State, tuple[tuple[int, ...], ...]],
) -> dict[_State, tuple[tuple[int, ...], ...]]:
    """Keep the states that no other is as good as in everything."""
    kept: list[_State] = []
    for state in sorted(states, key=lambda one: (one[0], one[1], [-have for have in one[2]])):
        if not any(
            other[0] <= state[0]
            and other[1] <= state[1]
            and all(a >= b for a, b in zip(other[2], state[2], strict=True))
            for other in kept
        ):
            kept.append(state)
    return {state: states[state] for state in kept}
