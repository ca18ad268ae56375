"""Best-first search over classes: answers in order of weight, each proven when it is handed out.

The search walks prefixes of an assignment, part by part along the elimination's order, always from
the prefix with the least f, the weight of the prefix plus the least weight of its completions.

Why the order is right. (1) f never exceeds the weight of any completion: `Bounds` is exact over all
judges but the wide ones, and a wide judge is counted as far as the assigned parts alone foresee,
which only grows. (2) At any time the heap holds, for every answer not yet handed out, an entry that
covers it: a prefix covers its completions; `Siblings` cover those of all classes not yet tried,
under the floor of the cheapest of them; taking an entry off puts back entries that cover the same.
(3) So when a complete choice is taken off with its own weight as f, no answer left weighs less.

Dressings. When only distinct dressings are wanted, a prefix is dropped if an earlier one made the
same of every part and looks the same to every judge with parts still open, and may change as many.
Both have the same completions; the earlier one was taken off first, so weighs less, and whatever
dressing the later one leads to, the earlier one makes it at less weight.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence

from variants.search.ahead import live_views, onward_view, wide_judges
from variants.search.bounds import Bounds, Flags, Memory, heard
from variants.search.elimination import Elimination
from variants.search.entries import Entry, Members, Prefix, Siblings
from variants.search.members import Answer, spread_members
from variants.search.network import Network
from variants.search.watch import Watch


class BestFirst:
    """An iterator over the answers of a network, in order of weight.

    Parameters
    ----------
    network : Network
    distinct : bool
        Hand out each dressing once, at its least weight.
    flags : Flags, optional
        Which parts must be changed or must not.
    memory : Memory, optional
        To be shared by several searches over the network.
    watch : Watch, optional
    horizon : int, optional
        Thousandths; the search ends before the first answer that departs so far.

    Attributes
    ----------
    bound : int
        Thousandths; no answer still to come departs less.
    steps : int
        Entries taken off the heap so far.
    """

    def __init__(
        self,
        network: Network,
        *,
        distinct: bool = False,
        flags: Flags | None = None,
        memory: Memory | None = None,
        watch: Watch | None = None,
        horizon: int | None = None,
    ) -> None:
        self.network, self.distinct = network, distinct
        self._end = network.never if horizon is None else horizon * network.unit
        self._last_step: int | None = None
        self.bound, self.steps = 0, 0
        self._watch = watch or Watch()
        #: (priority, number, f, entry); the priority is f until the search is hurried.
        self._heap: list[tuple[int, int, int, Entry]] = []
        self._serial = 0
        self._is_hurried = False
        self._seen: set[tuple[object, ...]] = set()
        if network.is_hopeless:
            return
        memory = memory or Memory(Elimination(network))
        self._tree = memory.tree
        self._bounds = Bounds(memory, flags, self._watch)
        count = len(network.parts)
        self._rest = self._tree.rest
        self._floors = [
            self._bounds.floor_of((*self._tree.children[part], *rest))
            for part, rest in zip(self._tree.order, self._rest, strict=True)
        ]
        self._wide = [wide_judges(self._tree, depth) for depth in range(count)]
        depths = range(count) if distinct else ()
        self._live = [live_views(self._tree, depth) for depth in depths]
        self._onward = [onward_view(self._tree, depth) for depth in depths]
        floor = self._bounds.floor_of(self._tree.roots)
        budget = min(network.at_most_changed, count)
        least = floor[min(budget, len(floor) - 1)]
        if least < network.never:
            self._push(least, Siblings(0, 0, 0, [-1] * count, budget))

    @property
    def floor(self) -> int | None:
        """A weight that no answer still to come is below; None when there is none to come."""
        return self._heap[0][2] if self._heap else None

    @property
    def still_open(self) -> int | None:
        """That weight as a departure in thousandths."""
        return None if self.floor is None else self.floor // self.network.unit

    def look_beyond(self, steps: int) -> Iterator[Answer]:
        """Yield what comes after the horizon, for so many steps at most.

        These are answers, but others that are missing here may come before them.
        """
        self._end, self._last_step = self.network.never, self.steps + steps
        yield from self

    def leftovers(self) -> Iterator[Answer]:
        """Yield answers soon, but in no order; for a search that was stopped.

        It goes depth first from now on.
        """
        self._is_hurried = True
        self._heap = [
            (self._priority(f, entry), number, f, entry) for _, number, f, entry in self._heap
        ]
        heapq.heapify(self._heap)
        return self

    def __iter__(self) -> Iterator[Answer]:
        return self

    def __next__(self) -> Answer:
        """Return the next answer.

        Raises
        ------
        StopIteration
            When there is none.
        TimeUpError
            When the watch says so; `bound` stays true, and the search may be gone on with.
        """
        unit = self.network.unit
        while heap := self._heap:
            self._watch.look()
            # The entry stays on the heap until its successors are known, so that nothing is lost
            # when the time limit or the user breaks in.
            _, _, f, entry = heap[0]
            self.steps += 1
            if not self._is_hurried:
                if f >= self._end or self.steps == self._last_step:
                    break
                self.bound = f // unit
                self._watch.hear(self.bound, self.steps)
            if isinstance(entry, Siblings):
                self._try_siblings(f, entry)
            elif isinstance(entry, Prefix):
                self._put_back(*self._grown(f, entry))
            elif self.distinct and self._is_known(self._made(entry.chosen)):
                heapq.heappop(heap)
            else:
                answer = entry.next
                following = next(entry.rest, None)
                if following is None:
                    heapq.heappop(heap)
                else:
                    self._put_back(following[0], Members(entry.chosen, following, entry.rest))
                return answer
        raise StopIteration

    def _priority(self, f: int, entry: Entry) -> int:
        if not self._is_hurried or isinstance(entry, Members):
            return f
        depth = (entry if isinstance(entry, Siblings) else entry.siblings).depth
        return f + (len(self.network.parts) - depth) * self.network.never

    def _push(self, f: int, entry: Entry) -> None:
        self._serial += 1
        heapq.heappush(self._heap, (self._priority(f, entry), self._serial, f, entry))

    def _put_back(self, f: int, entry: Entry | None) -> None:
        """Put an entry in the place of the one on top."""
        if entry is None:
            heapq.heappop(self._heap)
        else:
            self._serial += 1
            heapq.heapreplace(self._heap, (self._priority(f, entry), self._serial, f, entry))

    def _try_siblings(self, f: int, siblings: Siblings) -> None:
        """Try classes, cheapest first, until another entry on the heap comes before the next."""
        if siblings.voices is None and not self._opened(siblings):
            heapq.heappop(self._heap)
            return
        network, never = self.network, self.network.never
        depth, part = siblings.depth, self._tree.order[siblings.depth]
        costs, floors = network.costs[part], self._floors[depth]
        before = siblings.weight + siblings.foreseen
        lowest = before + siblings.slack + floors[min(siblings.budget, len(floors) - 1)]
        following = min(self._heap[1:3], default=None)
        while siblings.mask:
            bit = siblings.mask & -siblings.mask
            one = bit.bit_length() - 1
            lower = lowest + costs[one]
            if lower >= never:
                break
            if following is not None and self._priority(lower, siblings) > following[0]:
                self._put_back(max(f, lower), siblings)
                return
            tried = self._try_class(siblings, one, bool(network.changed[part] & bit))
            if tried is not None:
                total, rest = tried
                prefix = Prefix(siblings, one, siblings.weight + total, rest)
                self._push(max(f, before + total + rest), prefix)
                following = min(self._heap[1:3], default=None)
            siblings.mask ^= bit
        heapq.heappop(self._heap)

    def _opened(self, siblings: Siblings) -> bool:
        """Find the classes that may follow a prefix; False when nothing new can come of them."""
        depth, chosen = siblings.depth, siblings.chosen
        if self.distinct and self._is_known(self._prefix_key(siblings)):
            return False
        part, rest = self._tree.order[depth], self._rest[depth]
        siblings.mask, siblings.voices = self._bounds.judged(part, chosen, siblings.budget)
        if siblings.budget >= len(self._tree.order) - depth:
            floor = sum([self._bounds.floors[part][-1] for part in rest])
            exact = self._bounds.spread(rest, chosen, len(chosen), self.network.never)
            siblings.slack = exact - floor
        return True

    def _try_class(self, siblings: Siblings, one: int, is_changed: bool) -> tuple[int, int] | None:
        """Return what a class adds, and the least weight of what is open then; None if useless."""
        never, depth = self.network.never, siblings.depth
        part = self._tree.order[depth]
        assert siblings.voices is not None
        total = self.network.costs[part][one] + heard(siblings.voices, part, one)
        if total >= never:
            return None
        alike = (0, False, 0)
        if self.distinct:
            alike = self.network.makes[part][one], is_changed, self._onward[depth][one]
            if siblings.least.get(alike, never) <= total:
                return None
        chosen = siblings.chosen
        chosen[part] = one
        left = siblings.budget - is_changed
        opened = (*self._tree.children[part], *self._rest[depth])
        rest = self._bounds.spread(opened, chosen, left, never)
        if self.distinct:
            siblings.least[alike] = total
        return None if rest >= never else (total, rest)

    def _grown(self, f: int, prefix: Prefix) -> tuple[int, Siblings | Members | None]:
        """Return a prefix's successor with its f, once the wide judges are heard."""
        siblings, network = prefix.siblings, self.network
        depth, part = siblings.depth, self._tree.order[siblings.depth]
        chosen = siblings.chosen.copy()
        chosen[part] = prefix.one
        weight, foreseen = prefix.weight, 0
        for judge, parts in self._wide[depth]:
            groups = tuple([judge.groups[one][chosen[one]] for one in parts])
            if len(parts) == len(judge.scope):
                weight += judge.judge(groups)
            else:
                foreseen += judge.foresee(parts, groups)
        f = max(f, weight + foreseen + prefix.rest)
        if f >= network.never:
            return f, None
        if depth + 1 < len(chosen):
            left = siblings.budget - (network.changed[part] >> prefix.one & 1)
            return f, Siblings(depth + 1, weight, foreseen, chosen, left)
        members = spread_members(network, chosen, weight)
        first = next(members)
        return weight, Members(chosen, first, iter(()) if self.distinct else members)

    def _is_known(self, key: tuple[object, ...]) -> bool:
        """Tell whether the key was met before, and remember it."""
        if key in self._seen:
            return True
        self._seen.add(key)
        return False

    def _prefix_key(self, siblings: Siblings) -> tuple[object, ...]:
        made = self._made(siblings.chosen, siblings.depth)
        seen = tuple([view[siblings.chosen[part]] for part, view in self._live[siblings.depth]])
        return (siblings.budget, made, seen)

    def _made(self, chosen: Sequence[int], depth: int | None = None) -> tuple[object, ...]:
        """Return what a choice makes of the parts assigned down to a depth."""
        makes = self.network.makes
        return tuple([makes[part][chosen[part]] for part in self._tree.order[:depth]])
