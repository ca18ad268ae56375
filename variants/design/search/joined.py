"""The search over parts that no constraint ties together: each group by itself, answers joined.

Once constraints that can tell one part's choices only are folded into it, most flies fall into
small groups of parts that nothing connects, many of one part alone. Their answers are searched
group by group, in order of weight, and joined: the weight of a whole answer is the sum of its
groups', and so is its places' number, so that order and ties are those of one search over all.

Why the order is right. A choice of the n-th answer of every group is on the heap or will be put
there by one that weighs no more: it is reached from exactly one other choice, by moving the group
that was moved last, or one after it, on by one answer. An entry whose answer is not yet known
carries the group's own bound for it, and is worked out when it comes to the top. (After E. L.
Lawler, 1972, as `variants.design.search.members` does for the members of classes.)

Dressings. Each group hands out what it makes once, at its least weight, and so does their product.
"""

from __future__ import annotations

import heapq
import weakref
from collections.abc import Iterator, Sequence
from itertools import islice

from variants.design import Watch
from variants.design.search import frontier
from variants.design.search.frontier import BestFirst
from variants.design.search.members import Answer
from variants.design.search.network import Network
from variants.design.search.ordered import OrderedSearch

#: How many answers of each group a search that was stopped looks for.
_LAST_ANSWERS = 4
#: A bound, a serial number, for each group the place of its answer, and the group moved last.
_Entry = tuple[int, int, tuple[int, ...], int]


def walk(
    network: Network,
    *,
    distinct: bool = False,
    watch: Watch | None = None,
    horizon: int | None = None,
) -> OrderedSearch:
    """Return the search over a network: joined of its groups where it has several.

    Takes what `BestFirst` does. Where not all parts may differ, that ties all together.
    """
    groups = groups_of(network)
    is_tied = network.at_most_changed < len(network.parts) or network.is_hopeless
    if is_tied or len(groups) < 2:
        return BestFirst(network, distinct=distinct, watch=watch, horizon=horizon)
    return Joined(network, groups, distinct=distinct, watch=watch, horizon=horizon)


def groups_of(network: Network) -> list[tuple[int, ...]]:
    """Return the parts in groups that no judge ties together, in the order of the dressing.

    >>> groups_of(Network(("hook", "tail"), [[], []], [[], []], 1, [1, 1]))
    [(0,), (1,)]
    """
    of = [{part} for part in range(len(network.parts))]
    for judge in network.judges:
        together = set().union(*(of[part] for part in judge.scope))
        for part in together:
            of[part] = together
    return [tuple(sorted(group)) for part, group in enumerate(of) if part == min(group)]


class _Group:
    """The answers of one group, cheapest first, as far as anybody has asked."""

    __slots__ = ("known", "parts", "search")

    def __init__(
        self, parts: tuple[int, ...], known: list[Answer], search: BestFirst | None = None
    ) -> None:
        self.parts, self.known, self.search = parts, known, search

    def floor(self, place: int) -> int | None:
        """Return a weight that the answer at a place is not below; None when there is none."""
        if place < len(self.known):
            return self.known[place][0]
        floor = self.search.floor if self.search is not None else None
        if floor is None or not self.known:
            return floor
        return max(floor, self.known[-1][0])

    def has(self, place: int) -> bool:
        """Look for the answer at a place; tell whether there is one within the search's end."""
        while len(self.known) <= place and self.search is not None:
            following = next(self.search, None)
            if following is None:
                return False
            self.known.append(following)
        return place < len(self.known)

    def leftovers(self) -> list[Answer]:
        """Return what is known or soon found, cheapest first; for a search that was stopped."""
        if self.search is None:
            return self.known
        return sorted([*self.known, *islice(self.search.leftovers(), _LAST_ANSWERS)])


class _Part(Watch):
    """Passes a whole search's watch on to the search of a group."""

    def __init__(self, whole: Joined, watch: Watch) -> None:
        # The whole search holds its groups' watches, so that this would close a cycle.
        self._whole, self._watch = weakref.proxy(whole), watch

    def look(self) -> None:
        self._watch.look()

    def hear(self, bound: int, steps: int) -> None:
        self._watch.hear(self._whole.bound, steps)


class Joined(OrderedSearch):
    """The search over a network of several groups.

    Parameters
    ----------
    network, distinct, watch, horizon
        As `OrderedSearch` takes them.
    groups : sequence of tuple of int
        As `groups_of` tells them.
    """

    def __init__(
        self,
        network: Network,
        groups: Sequence[tuple[int, ...]],
        *,
        distinct: bool = False,
        watch: Watch | None = None,
        horizon: int | None = None,
    ) -> None:
        super().__init__(network, distinct=distinct, watch=watch, horizon=horizon)
        self._given: list[tuple[int, ...]] = []
        #: The search over all parts at once, where joining would take too much memory.
        self._whole: BestFirst | None = None
        within = _Part(self, self._watch)
        self._groups = [_group(network, parts, distinct, within) for parts in groups]
        self._heap: list[_Entry] = []
        self._serial = 0
        least = self._least()
        if least is not None:
            self.end_at(self._end)
            # Nothing moved last: all groups' first answers are still to be looked for.
            self._push(sum(least), (0,) * len(groups), 0)

    def _least(self) -> list[int] | None:
        """Return what each group costs at least; None when one has no answer."""
        floors = [group.floor(0) for group in self._groups]
        least = [floor for floor in floors if floor is not None]
        return least if len(least) == len(floors) else None

    def end_at(self, weight: int, steps: int | None = None) -> None:
        """End so, and let no group search farther than that leaves to it when others cost least."""
        super().end_at(weight, steps)
        if self._whole is not None:
            self._whole.end_at(weight, steps)
            return
        least = self._least()
        if least is None:
            return
        spare = weight - sum(least)
        for group, own in zip(self._groups, least, strict=True):
            if group.search is not None:
                group.search.end_at(own + spare, steps)

    @property
    def floor(self) -> int | None:  # noqa: D102
        if self._whole is not None:
            return self._whole.floor
        return self._heap[0][0] if self._heap else None

    def leftovers(self) -> Iterator[Answer]:  # noqa: D102
        if self._whole is not None:
            yield from self._whole.leftovers()
            return
        given = set(self._given)
        self._groups = [_Group(group.parts, group.leftovers()) for group in self._groups]
        self._heap, self._end, self._last_step = [], self.network.never, None
        if all(group.known for group in self._groups):
            self._push(0, (0,) * len(self._groups), 0)
            yield from (answer for answer in self if answer[1] not in given)

    def __next__(self) -> Answer:
        """Return the next answer; raise StopIteration or TimeUpError as `BestFirst` does."""
        if self._whole is not None:
            return self._next_of_whole(self._whole)
        while self._heap:
            self._watch.look()
            # The entry stays on the heap until its successors are known.
            f, _, places, last = self._heap[0]
            if f >= self._end or self.steps == self._last_step:
                break
            self.steps += 1
            self.bound = f // self.network.unit
            self._watch.hear(self.bound, self.steps)
            weight = self._weight(places)
            if weight is None:
                floor = self._floor(places)
                if floor is None:
                    heapq.heappop(self._heap)
                elif floor > f:
                    self._replace(floor, places, last)
                else:
                    break  # a group has used up its steps
            elif weight > f:
                self._replace(weight, places, last)
            else:
                return self._hand_out(weight, places, last)
        raise StopIteration

    def _weight(self, places: Sequence[int]) -> int | None:
        """Return what a choice weighs; None when some group has no such answer, or not yet."""
        weight = 0
        for group, place in zip(self._groups, places, strict=True):
            if not group.has(place):
                return None
            weight += group.known[place][0]
        return weight

    def _floor(self, places: Sequence[int]) -> int | None:
        """Return a weight that a choice is not below; None when there is no such choice."""
        total = 0
        for group, place in zip(self._groups, places, strict=True):
            floor = group.floor(place)
            if floor is None:
                return None
            total += floor
        return total

    def _push(self, f: int, places: tuple[int, ...], last: int) -> None:
        self._serial += 1
        heapq.heappush(self._heap, (f, self._serial, places, last))

    def _replace(self, f: int, places: tuple[int, ...], last: int) -> None:
        self._serial += 1
        heapq.heapreplace(self._heap, (f, self._serial, places, last))

    def _hand_out(self, weight: int, places: tuple[int, ...], last: int) -> Answer:
        heapq.heappop(self._heap)
        for at in range(last, len(places)):
            group, place = self._groups[at], places[at] + 1
            floor = group.floor(place)
            if floor is not None:
                moved = weight - group.known[place - 1][0] + floor
                self._push(moved, (*places[:at], place, *places[at + 1 :]), at)
        numbers = [0] * len(self.network.parts)
        for group, place in zip(self._groups, places, strict=True):
            for part, number in zip(group.parts, group.known[place][1], strict=True):
                numbers[part] = number
        answer = weight, tuple(numbers)
        self._given.append(answer[1])
        if len(self._heap) > frontier.MOST_ENTRIES:
            self._go_on_as_a_whole(weight)
        return answer

    def _go_on_as_a_whole(self, weight: int) -> None:
        """Go on in bounded memory, beyond a weight."""
        whole = BestFirst(self.network, distinct=self.distinct, watch=self._watch)
        whole.end_at(self._end, None if self._last_step is None else self._last_step - self.steps)
        whole.go_on_from(weight + 1, self._given)
        self._whole, self._heap, self._groups, self._given = whole, [], [], []

    def _next_of_whole(self, whole: BestFirst) -> Answer:
        answer = next(whole)
        self.bound = whole.bound
        return answer


def _group(network: Network, parts: tuple[int, ...], distinct: bool, watch: Watch) -> _Group:
    """Return a group, ready to be asked; of one part alone, all answers are known at once."""
    if len(parts) > 1:
        return _Group(
            parts, [], BestFirst(network.restricted(parts), distinct=distinct, watch=watch)
        )
    part = parts[0]
    classes, costs, makes = network.classes[part], network.costs[part], network.makes[part]
    known: list[Answer] = []
    if distinct:
        made: set[int] = set()
        for members, cost, makes_of in zip(classes, costs, makes, strict=True):
            if makes_of not in made:
                made.add(makes_of)
                known.append((cost, (members[0],)))
    else:
        for members, cost in zip(classes, costs, strict=True):
            lightest = network.weight(part, members[0])
            known += [(cost - lightest + network.weight(part, one), (one,)) for one in members]
        known.sort()
    return _Group(parts, known)
