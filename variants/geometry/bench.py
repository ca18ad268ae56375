"""At the bench: in which order the flies of a batch are tied, and what they take of each item.

The flies come in with what one of each uses; their order and the amounts to write off come out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import floor

from variants.design import DesignProblem
from variants.geometry.cost import Cost
from variants.geometry.uses import Use
from variants.model import THREAD, Item, Variant
from variants.reading.batches import BatchFly

#: Up to so many kinds of fly the bench order is the best of all; beyond, they are sorted.
_MOST_ORDERED = 12
#: What a change costs at the bench, told in one number (common practice: a spool is changed
#: sooner than the whole manner of tying).
_CHANGES = {"thread": 3, "size": 2, "style": 2, "dressing": 1}
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Tied:
    """So many flies of one variant.

    Attributes
    ----------
    wanted : BatchFly
    design : DesignProblem
    variant : Variant
    uses : tuple of Use
        Of one fly.
    count : int
    cost : Cost
        Of one fly.
    """

    wanted: BatchFly
    design: DesignProblem
    variant: Variant
    uses: tuple[Use, ...]
    count: int
    cost: Cost


def bench_order(tied: Sequence[Tied]) -> list[Tied]:
    """Return the flies in the order that changes thread, hook size and style least.

    Notes
    -----
    Held and Karp's dynamic programme over sets of flies, exact up to a dozen kinds; beyond, they
    are sorted by thread, size and style.
    """
    fixed = sorted(tied, key=_bench_key)
    if len(fixed) < 3 or len(fixed) > _MOST_ORDERED:
        return fixed
    count = len(fixed)
    change = [[_change(one, other) for other in fixed] for one in fixed]
    best: dict[tuple[int, int], tuple[int, tuple[int, ...]]] = {
        (1 << last, last): (0, (last,)) for last in range(count)
    }
    for done in range(1, 1 << count):
        for last in range(count):
            if (done, last) not in best:
                continue
            cost, path = best[done, last]
            for following in range(count):
                if done >> following & 1:
                    continue
                key = done | 1 << following, following
                further = cost + change[last][following], (*path, following)
                if key not in best or further < best[key]:
                    best[key] = further
    whole = (1 << count) - 1
    _, path = min(best[whole, last] for last in range(count))
    return [fixed[place] for place in path]


def _bench_key(one: Tied) -> tuple[str, int, str, str, int]:
    return (*_bench(one), one.variant.rank)


def _bench(one: Tied) -> tuple[str, int, str, str]:
    thread = one.variant.chosen.get(THREAD)
    base = one.wanted.dressing
    return thread.identity if thread else "", one.wanted.size, base.style, base.name


def _change(one: Tied, other: Tied) -> int:
    weights = tuple(_CHANGES.values())
    return sum(
        weight
        for weight, here, there in zip(weights, _bench(one), _bench(other), strict=True)
        if here != there
    )


@dataclass(frozen=True, slots=True)
class Shortage:
    """What runs short of one lot when flies are written off.

    Attributes
    ----------
    parts : tuple of str
        The parts that take from it.
    items : tuple of Item
        Alike, all there are of the lot.
    needed, left : float
        What the flies take and what the lot holds, in the unit in which its first item is counted.
    """

    parts: tuple[str, ...]
    items: tuple[Item, ...]
    needed: float
    left: float


@dataclass(frozen=True, slots=True)
class WriteOff:
    """What tied flies take of a box, and what is to be asked before it is written.

    Attributes
    ----------
    takes : mapping of item id to amount
        In the item's own unit, never more than it holds; for `BoxStore.take`.
    shortages : tuple of Shortage
        Lots that hold less than the flies take, the shortest first.
    emptied : tuple of Item
        Items of which nothing is left then, spare ones among them.
    """

    takes: Mapping[str, float]
    shortages: tuple[Shortage, ...]
    emptied: tuple[Item, ...]

    @property
    def has_to_be_asked(self) -> bool:
        """Whether the box says that this can't be so, or an item goes empty."""
        return bool(self.shortages or self.emptied)


def find_write_off(tied: Sequence[Tied]) -> WriteOff:
    """Return what flies take of each counted item, and what runs short.

    Notes
    -----
    Of alike items the emptiest is used up first. Whole flies are taken from one item as long as
    that goes; what no item holds whole is pieced together from what is left. Of a feather a part
    may take a share: the rest of it serves the next fly.
    """
    taking = _Taking()
    for one in tied:
        for use in one.uses:
            if use.items and all(item.amount is not None for item in use.items):
                taking.take(use, one.count)
    takes = {item: amount for item, amount in taking.taken.items() if amount > _SLACK}
    emptied = [taking.items[item] for item in takes if _is_gone(taking.items[item], takes)]
    shortages = sorted(taking.shortages(), key=lambda one: (one.left / one.needed, one.parts))
    return WriteOff(takes, tuple(shortages), tuple(sorted(emptied, key=lambda item: item.id)))


def _is_gone(item: Item, takes: Mapping[str, float]) -> bool:
    return item.amount is not None and takes[item.id] >= float(item.amount.magnitude) - _SLACK


class _Taking:
    """Amounts taken off items, one use after another."""

    def __init__(self) -> None:
        self.items: dict[str, Item] = {}
        self.left: dict[str, float] = {}
        self.taken: dict[str, float] = {}
        self._lots: dict[tuple[str, ...], list[tuple[Use, int]]] = {}
        self._wanting: dict[tuple[str, ...], float] = {}

    def take(self, use: Use, flies: int) -> None:
        """Take what some flies use of a lot: whole flies from one item, then what is left."""
        lot = tuple(item.id for item in use.items)
        self._lots.setdefault(lot, []).append((use, flies))
        for owned in use.items:
            if owned.amount is not None:
                self.items[owned.id] = owned
                self.left.setdefault(owned.id, float(owned.amount.magnitude))
        each = {owned.id: use.of(owned) or 0.0 for owned in use.items}
        emptiest = sorted((one for one in lot if each[one]), key=lambda one: (self.left[one], one))
        wanting = float(flies)
        for is_whole in (True, False):
            for item in emptiest:
                share = max(0.0, self.left[item]) / each[item]
                count = min(wanting, float(floor(share + _SLACK)) if is_whole else share)
                self.left[item] -= count * each[item]
                self.taken[item] = self.taken.get(item, 0.0) + count * each[item]
                wanting -= count
        if emptiest and wanting > _SLACK:
            self._wanting[lot] = self._wanting.get(lot, 0.0) + wanting * each[lot[0]]

    def shortages(self) -> Iterator[Shortage]:
        """Yield the lots of which more is wanted than they hold."""
        for lot, wanting in self._wanting.items():
            uses = self._lots[lot]
            first = uses[0][0].items
            needed = sum((use.of(first[0]) or 0.0) * flies for use, flies in uses)
            parts = tuple(dict.fromkeys(use.part for use, _ in uses))
            yield Shortage(parts, first, needed, max(0.0, needed - wanting))
