"""Best-first search over classes: answers in order of weight, each proven when it is handed out.

The search walks prefixes of an assignment, part by part along the elimination's order, always from
the entry with the least f (see `variants.design.search.expansion`).

Why the order is right. (1) f never exceeds the weight of any answer that an entry covers. (2) At
any time the heap holds, for every answer not yet handed out, an entry that covers it: taking an
entry off puts back entries that cover the same. (3) So when a complete choice is taken off with its
own weight as f, no answer left weighs less.

Dressings. When only distinct dressings are wanted, a prefix is dropped if an earlier one made the
same of every part and looks the same to every judge with parts still open, and may change as many.
Both have the same completions; the earlier one was taken off first, so weighs less, and whatever
dressing the later one leads to, the earlier one makes it at less weight.

Memory. When the heap has grown beyond `MOST_ENTRIES`, the search goes on over windows of weights,
which need no heap (see `variants.design.search.windows`).
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Sequence

from variants.design import Watch
from variants.design.search.bounds import Bounds, Flags, Memory
from variants.design.search.elimination import Elimination
from variants.design.search.expansion import Entry, Expansion, Members, Prefix, Siblings
from variants.design.search.members import Answer
from variants.design.search.network import Network
from variants.design.search.ordered import OrderedSearch
from variants.design.search.windows import Windows, finish

#: Entries on the heap from which on memory is saved; one takes some two kilobytes.
MOST_ENTRIES = 40_000


class BestFirst(OrderedSearch):
    """The search over all parts of a network at once.

    Parameters
    ----------
    network, distinct, watch, horizon
        As `OrderedSearch` takes them.
    flags : Flags, optional
        Which parts must be changed or must not.
    memory : Memory, optional
        To be shared by several searches over the network.
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
        super().__init__(network, distinct=distinct, watch=watch, horizon=horizon)
        self._heap: list[tuple[int, int, Entry]] = []
        self._serial = 0
        #: Prefixes met, and dressings handed out, when only distinct ones are wanted.
        self._met: set[tuple[object, ...]] = set()
        self._given: set[tuple[int, ...]] = set()
        self._windows: Windows | None = None
        if network.is_hopeless:
            return
        bounds = Bounds(memory or Memory(Elimination(network)), flags, self._watch)
        self._expansion = Expansion(bounds, distinct)
        root = self._expansion.root()
        if root is not None:
            self._push(*root)

    @property
    def floor(self) -> int | None:  # noqa: D102
        if self._windows is not None:
            return self._windows.floor
        return self._heap[0][0] if self._heap else None

    def go_on_from(self, weight: int, given: Iterable[Sequence[int]]) -> None:
        """Leave out what weighs less, and dressings that were given, as candidates' numbers.

        The search goes on in bounded memory.
        """
        if self.distinct:
            self._given.update(map(self._expansion.made_of_members, given))
        self._windows = Windows(self._expansion, self._given, weight)
        self._heap, self._met = [], set()

    def leftovers(self) -> Iterator[Answer]:  # noqa: D102
        if self._windows is not None:
            yield from self._windows.leftovers()
        elif self._heap:
            entries = [(f, entry) for f, _, entry in self._heap]
            for answer, made in finish(self._expansion, entries):
                if not self.distinct or made not in self._given:
                    self._given.add(made)
                    yield answer

    def __next__(self) -> Answer:
        """Return the next answer.

        Raises
        ------
        StopIteration
            When there is none.
        TimeUpError
            When the watch says so; `bound` stays true.
        """
        while self._windows is None and self._heap:
            self._watch.look()
            # The entry stays on the heap until its successors are known, so that nothing is lost
            # when the time limit or the user breaks in.
            f, _, entry = self._heap[0]
            if f >= self._end or self.steps == self._last_step:
                break
            self.steps += 1
            self.bound = f // self.network.unit
            self._watch.hear(self.bound, self.steps)
            if isinstance(entry, Siblings):
                self._try_siblings(f, entry)
            elif isinstance(entry, Prefix):
                self._put_back(f, self._expansion.grow(entry))
            elif not self.distinct or entry.made not in self._given:
                return self._hand_out(entry)
            else:
                heapq.heappop(self._heap)
            if len(self._heap) > MOST_ENTRIES:
                self._windows = Windows(self._expansion, self._given, self._heap[0][0])
                self._heap, self._met = [], set()
        if self._windows is None:
            raise StopIteration
        answer = self._windows.next_below(self._end)
        self.bound = answer[0] // self.network.unit
        return answer

    def _push(self, f: int, entry: Entry) -> None:
        self._serial += 1
        heapq.heappush(self._heap, (f, self._serial, entry))

    def _put_back(self, least: int, following: tuple[int, Entry] | None) -> None:
        """Put what follows from the entry on top in its place; f never falls."""
        if following is None:
            heapq.heappop(self._heap)
        else:
            self._serial += 1
            f, entry = following
            heapq.heapreplace(self._heap, (max(least, f), self._serial, entry))

    def _try_siblings(self, f: int, siblings: Siblings) -> None:
        """Try classes, cheapest first, until another entry on the heap comes before the next."""
        expansion = self._expansion
        if siblings.voices is None:
            if self.distinct and self._is_met(expansion.state(siblings)):
                heapq.heappop(self._heap)
                return
            expansion.open(siblings)
        following = min(self._heap[1:3], default=None)
        while (floor := expansion.floor(siblings)) is not None:
            if following is not None and floor > following[0]:
                self._put_back(f, (floor, siblings))
                return
            prefix = expansion.try_next(siblings)
            if prefix is not None:
                self._push(max(f, prefix.f), prefix)
                following = min(self._heap[1:3], default=None)
        heapq.heappop(self._heap)

    def _hand_out(self, members: Members) -> Answer:
        answer = members.next
        if self.distinct:
            self._given.add(members.made)
        following = next(members.rest, None)
        if following is None:
            heapq.heappop(self._heap)
        else:
            members = Members(members.made, following, members.rest)
            self._put_back(following[0], (following[0], members))
        return answer

    def _is_met(self, state: tuple[object, ...]) -> bool:
        """Tell whether a state was met before, and remember it."""
        if state in self._met:
            return True
        self._met.add(state)
        return False
