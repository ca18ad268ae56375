"""A batch of flies from one box: shared out, in bench order, with what is to be bought.

Flies wanted and a box come in; for each of them the closest variants are worked out with what they
take, and the stock is shared out among all (`allocate`). Out come the flies to tie, in the order
that changes hook, thread and style least, what runs out, and what is wanting.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from variants.design import DesignProblem, Request, Stock, build_problem, stock_of
from variants.design.search import search
from variants.explain import Effort, find_all_conflicts, find_repairs
from variants.geometry import Layout, Tied, Use, bench_order, cost_of, fly_geometry, uses_of
from variants.geometry.measured import measured
from variants.model import Box, Item, Variant
from variants.reading.batches import BatchFly
from variants.rulebook import Rulebook
from variants.survey.allocation import Allocation, Demand, TyingWay, allocate, scarce_stores

#: Sets of scarce stores are tried up to so many stores, and in so many rounds: a way that avoids
#: one store may empty another.
_MOST_AVOIDED, _ROUNDS = 4, 4
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Shortfall:
    """Flies that are wanted and can't be tied, and what would be needed for them.

    Attributes
    ----------
    wanted : BatchFly
    count : int
    needs : tuple of (Use, amount)
        What ran out, and how much of it is wanting, in the unit in which the item is counted; or,
        of a dressing that the box can't tie at all, what has to be bought for it, in pieces, mm or
        mg. None when nothing was found that would help.
    """

    wanted: BatchFly
    count: int
    needs: tuple[tuple[Use, float], ...]


@dataclass(frozen=True, slots=True)
class Store:
    """What is left of a lot of items, all alike, once the batch is tied."""

    items: tuple[Item, ...]
    taken: float
    left: float


@dataclass(frozen=True, slots=True)
class BatchPlan:
    """The whole plan.

    Attributes
    ----------
    tied : tuple of Tied
        In bench order.
    short : tuple of Short
    stores : tuple of Store
        What is taken from, the emptiest first.
    allocation : Allocation
    """

    tied: tuple[Tied, ...]
    short: tuple[Shortfall, ...]
    stores: tuple[Store, ...]
    allocation: Allocation


@dataclass(frozen=True, slots=True)
class _Option:
    design: DesignProblem
    variant: Variant
    uses: tuple[Use, ...]
    takes: Mapping[str, float]


def plan_batch(
    flies: Sequence[BatchFly],
    box: Box,
    rulebook: Rulebook,
    layout: Layout,
    water: str | None = None,
) -> BatchPlan:
    """Return how to tie a batch from a box: most flies first, then the least departure.

    Notes
    -----
    Of each dressing the closest variant may be tied, and, for every set of stores that the batch
    could empty, the closest one that takes of none of them: what a way does to the scarce stores is
    all that the sharing out turns on, so no other way could make the batch better. With more than
    `_MOST_AVOIDED` such stores for one dressing, single ones and all together are tried. What alike
    items hold is taken together; a store that is not counted never runs out.
    """
    lots: dict[str, tuple[Item, ...]] = {}
    planner = _Planner(box, rulebook, layout, water, lots)
    options = [planner.closest(one, frozenset()) for one in flies]
    for _ in range(_ROUNDS):
        stores = _measure_stores(lots)
        scarce = set(scarce_stores(_make_demands(flies, options), stores))
        before = sum(map(len, options))
        for one, own in zip(flies, options, strict=True):
            for avoided in _choose_avoided(own, scarce):
                planner.add(own, one, avoided)
        if sum(map(len, options)) == before:
            break
    stores = _measure_stores(lots)
    found = allocate(_make_demands(flies, options), stores)
    tied = [
        Tied(one, each.design, each.variant, each.uses, count, cost_of(each.uses))
        for one, own, counts in zip(flies, options, found.flies, strict=True)
        for each, count in zip(own, counts, strict=True)
        if count
    ]
    taken = _sum_taken(options, found)
    short = [
        Shortfall(
            one,
            missing,
            _list_shortfalls(own, missing, stores, taken)
            if own
            else planner.plan_purchases(one, missing),
        )
        for one, own, counts in zip(flies, options, found.flies, strict=True)
        if (missing := one.count - sum(counts))
    ]
    left = [
        Store(lots[key], amount, stores[key] - amount) for key, amount in taken.items() if amount
    ]
    left.sort(key=lambda one: (one.left / (one.left + one.taken), one.items[0].id))
    return BatchPlan(tuple(bench_order(tied)), tuple(short), tuple(left), found)


class _Planner:
    """Finds the ways to tie a fly, each with what it takes."""

    def __init__(
        self,
        box: Box,
        rulebook: Rulebook,
        layout: Layout,
        water: str | None,
        lots: dict[str, tuple[Item, ...]],
    ) -> None:
        self.box, self.rulebook, self.layout, self.water = box, rulebook, layout, water
        self.lots = lots
        self._stocks: dict[frozenset[str], Stock] = {}

    def closest(self, wanted: BatchFly, avoided: frozenset[str]) -> list[_Option]:
        """Return the closest variant that takes of none of some stores, if there is one."""
        gone = frozenset(item.id for key in avoided for item in self.lots[key])
        if gone not in self._stocks:
            self._stocks[gone] = stock_of(self.box, gone)
        request = Request(wanted.dressing, self.box, (wanted.size,), self.water, gone)
        design = build_problem(request, self.rulebook, self._stocks[gone])
        return [self._make_option(design, one) for one in search(design, 1).variants]

    def add(self, own: list[_Option], wanted: BatchFly, avoided: frozenset[str]) -> None:
        """Add the way that avoids some stores to those of a fly, unless it is among them."""
        for option in self.closest(wanted, avoided):
            known = {(one.variant.departure, tuple(sorted(one.takes))) for one in own}
            if (option.variant.departure, tuple(sorted(option.takes))) not in known:
                own.append(option)

    def plan_purchases(self, wanted: BatchFly, missing: int) -> tuple[tuple[Use, float], ...]:
        """Return what has to be bought for flies that the box can't tie, as `whynot` finds it."""
        request = Request(wanted.dressing, self.box, (wanted.size,), self.water)
        design = build_problem(request, self.rulebook, self._stocks.get(frozenset()))
        ways = find_repairs(design, find_all_conflicts(design))
        best = next((one for one in ways if one.effort is Effort.PURCHASE), None)
        if best is None:
            return ()
        owned = {item.id for item in self.box.items}
        return tuple(
            (use, taken.amount * missing)
            for use in self._make_option(best.design, best.variant).uses
            if use.items and use.items[0].id not in owned and (taken := measured(use)) is not None
        )

    def _make_option(self, design: DesignProblem, variant: Variant) -> _Option:
        geometry = fly_geometry(design, self.layout, variant)
        uses = uses_of(geometry, variant.chosen, self.layout)
        takes: dict[str, float] = {}
        for use in uses:
            if not use.items or any(item.amount is None for item in use.items):
                continue
            each = use.of(use.items[0])
            if each:
                key = _key(use)
                self.lots[key] = use.items
                takes[key] = takes.get(key, 0.0) + each
        return _Option(design, variant, uses, takes)


def _choose_avoided(own: Sequence[_Option], scarce: set[str]) -> list[frozenset[str]]:
    """Return the sets of scarce stores that a fly's ways take of, smallest first."""
    used = sorted({key for one in own for key in one.takes if key in scarce})
    if len(used) > _MOST_AVOIDED:
        return [*(frozenset({key}) for key in used), frozenset(used)]
    return [
        frozenset(several)
        for size in range(1, len(used) + 1)
        for several in combinations(used, size)
    ]


def _measure_stores(lots: Mapping[str, tuple[Item, ...]]) -> dict[str, float]:
    return {key: sum(_amount_left(item, items[0]) for item in items) for key, items in lots.items()}


def _make_demands(flies: Sequence[BatchFly], options: Sequence[Sequence[_Option]]) -> list[Demand]:
    return [
        Demand(one.count, tuple(TyingWay(each.variant.departure, each.takes) for each in own))
        for one, own in zip(flies, options, strict=True)
    ]


def _key(use: Use) -> str:
    return "\n".join(item.id for item in use.items)


def _amount_left(item: Item, first: Item) -> float:
    """Return what is left of an item, in the unit of another one that is alike."""
    if item.amount is None or first.amount is None:
        return 0.0
    return float(item.amount.to(first.amount.units).magnitude)


def _sum_taken(options: Sequence[Sequence[_Option]], found: Allocation) -> dict[str, float]:
    taken: dict[str, float] = {}
    for own, counts in zip(options, found.flies, strict=True):
        for each, count in zip(own, counts, strict=True):
            for key, amount in each.takes.items():
                taken[key] = taken.get(key, 0.0) + amount * count
    return taken


def _list_shortfalls(
    own: Sequence[_Option], missing: int, stores: Mapping[str, float], taken: Mapping[str, float]
) -> tuple[tuple[Use, float], ...]:
    """Return what ran out of the closest variant, and how much of it is wanting."""
    if not own:
        return ()
    needs = []
    for use in own[0].uses:
        key = _key(use)
        each = own[0].takes.get(key)
        if each is None:
            continue
        wanting = each * missing - (stores[key] - taken.get(key, 0.0))
        if wanting > _SLACK:
            needs.append((use, wanting))
    return tuple(needs)
