"""The search in bounded memory: depth first, over one window of weights after another.

What a window takes in is found by going through all prefixes whose f is below its upper end, in no
order, and sorted. Nothing but the answers of one window is kept, so that memory stays bounded; the
price is that each window goes again through what lies below it. The first window opens where the
best-first search left off, and the next where the last one ended or, if nothing is near, at the
least f that was cut off, so no answer is passed over.
"""

from __future__ import annotations

from collections.abc import Iterator

from variants.design.search.expansion import Entry, Expansion, Members, Prefix, Siblings
from variants.design.search.members import Answer

#: Width of the first window in thousandths, and how many answers make one too wide.
FIRST_WIDTH, MANY = 4, 20_000
#: What the depth-first search finds: an answer, and what it makes of each part.
Found = tuple[Answer, tuple[int, ...]]


class Cut:
    """Where a depth-first search turns back, and the least f at which it has done so."""

    def __init__(self, high: int) -> None:
        self.high = high
        self.beyond: int | None = None

    def cuts(self, f: int) -> bool:
        """Tell whether something is cut off, and note its f if it is."""
        if f < self.high:
            return False
        self.beyond = f if self.beyond is None else min(self.beyond, f)
        return True


def depth_first(expansion: Expansion, entry: Entry, cut: Cut) -> Iterator[Found]:
    """Yield all answers that an entry covers and that are not cut off, in no order."""
    if isinstance(entry, Members):
        following: Answer | None = entry.next
        while following is not None and not cut.cuts(following[0]):
            yield following, entry.made
            following = next(entry.rest, None)
        return
    if isinstance(entry, Prefix):
        grown = None if cut.cuts(entry.f) else expansion.grow(entry)
        if grown is not None and not cut.cuts(grown[0]):
            yield from depth_first(expansion, grown[1], cut)
        return
    if entry.voices is None:
        expansion.open(entry)
    while (floor := expansion.floor(entry)) is not None and not cut.cuts(floor):
        prefix = expansion.try_next(entry)
        if prefix is not None:
            yield from depth_first(expansion, prefix, cut)


class Windows:
    """An iterator over answers from some weight on, in order, in bounded memory.

    Parameters
    ----------
    expansion : Expansion
    given : set
        What dressings handed out before make of each part; more are entered.
    low : int
        The weight.
    """

    def __init__(self, expansion: Expansion, given: set[tuple[int, ...]], low: int) -> None:
        self._expansion, self._given, self._low = expansion, given, low
        self._width = FIRST_WIDTH * expansion.network.unit
        self._found: list[Found] = []
        self._ready: list[Answer] = []
        self._is_over = False

    @property
    def floor(self) -> int | None:
        """A weight that no answer still to come is below; None when there is none to come."""
        if self._ready:
            return self._ready[-1][0]
        return None if self._is_over else self._low

    def next_below(self, end: int) -> Answer:
        """Return the next answer below a weight; raise StopIteration when there is none."""
        while (floor := self.floor) is not None and floor < end:
            if self._ready:
                return self._ready.pop()
            self._look_into_next()
        raise StopIteration

    def _look_into_next(self) -> None:
        expansion, low = self._expansion, self._low
        cut = Cut(low + self._width)
        self._found = []
        root = expansion.root()
        if root is not None:
            for found in depth_first(expansion, root[1], cut):
                if found[0][0] >= low:
                    self._found.append(found)
        self._found.sort()
        for answer, made in self._found:
            if expansion.distinct:
                if made in self._given:
                    continue
                self._given.add(made)
            self._ready.append(answer)
        self._ready.reverse()
        if cut.beyond is None:
            self._is_over = True
        else:
            self._low = cut.beyond
        if not self._found:
            self._width *= 2
        elif len(self._found) > MANY:
            self._width = max(expansion.network.unit, self._width // 2)

    def leftovers(self) -> Iterator[Answer]:
        """Yield what the window that was broken off had found, in no order."""
        yield from reversed(self._ready)
        if not self._ready:
            yield from (answer for answer, made in self._found if made not in self._given)


def finish(expansion: Expansion, entries: list[tuple[int, Entry]]) -> Iterator[Found]:
    """Yield answers soon, from entries with their f, the nearest to being complete first."""
    cut = Cut(expansion.network.never)
    for _, entry in sorted(entries, key=lambda one: (-_depth(one[1], expansion), one[0])):
        yield from depth_first(expansion, entry, cut)


def _depth(entry: Entry, expansion: Expansion) -> int:
    if isinstance(entry, Siblings):
        return entry.depth
    return entry.siblings.depth if isinstance(entry, Prefix) else len(expansion.network.parts)
