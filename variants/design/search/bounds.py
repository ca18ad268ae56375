"""The exact least weight of the open parts of a partial fly, worked out only where it is asked for.

`Bounds.least(part, …)` is the least weight of a part and everything below it, given the classes of
its context and how many parts may still differ. By the elimination it is the minimum over the
part's classes of its own weight, what the judges attached to it say, and the least of each child;
the children share nothing but the count of changes, which `Bounds.spread` shares out in the best
way. The minimum is found by trying classes cheapest first and stopping when a class's own weight
plus the static floor of the children reaches the best found, so that of thousands of classes a few
are looked at.
"""

from __future__ import annotations

from collections.abc import Sequence

from variants.design import Watch
from variants.design.search.elimination import Elimination
from variants.design.search.judge import Costs, Judge

#: For each part: must be changed, must not be, or either (None).
Flags = tuple[bool | None, ...]
#: What a judge says of a part's classes: (groups of classes, costs of groups, judge, other groups).
Voice = tuple[list[int], Costs, Judge, tuple[int, ...]]
#: Contexts remembered at most; beyond this all are forgotten, and worked out again when asked for.
MOST_CONTEXTS = 1_000_000


class Memory:
    """What has been worked out for the contexts of one network, shared by all `Bounds` over it."""

    def __init__(self, tree: Elimination) -> None:
        self.tree = tree
        count = len(tree.network.parts)
        self.exact: list[dict[tuple[int, ...], int]] = [{} for _ in range(count)]
        self.at_least: list[dict[tuple[int, ...], int]] = [{} for _ in range(count)]
        self.floors: dict[tuple[int, int], list[int]] = {}
        self.contexts = 0

    def count_context(self) -> None:
        """Count one more context, and forget them all when there are too many."""
        self.contexts += 1
        if self.contexts > MOST_CONTEXTS:
            for known in (*self.exact, *self.at_least):
                known.clear()
            self.contexts = 0


class Bounds:
    """Least weights of completions under a choice of which parts must differ.

    Parameters
    ----------
    memory : Memory
    flags : Flags, optional
        Which parts must be changed or must not; by default all are free.
    watch : Watch, optional
        Is asked regularly whether to go on.
    """

    def __init__(
        self, memory: Memory, flags: Flags | None = None, watch: Watch | None = None
    ) -> None:
        self.tree, self._memory = memory.tree, memory
        self.network = self.tree.network
        self.watch = watch or Watch()
        count = len(self.network.parts)
        self.is_limited = self.network.at_most_changed < count
        flags = flags or (None,) * count
        self.masks = [self._mask(part, flag) for part, flag in enumerate(flags)]
        digits = [0 if flag is None else 1 + flag for flag in flags]
        # Flags of a subtree as one number: contexts that agree on it share what is known.
        self._tags = [
            sum(digits[one] * 3**one for one in self.tree.below[part]) for part in range(count)
        ]
        self.floors: list[list[int]] = [[] for _ in range(count)]
        self._below: list[list[int]] = [[] for _ in range(count)]
        for part in reversed(self.tree.order):
            self._below[part] = self.floor_of(self.tree.children[part])
            self.floors[part] = self._floors(part)
        self._lowest = [floors[-1] for floors in self.floors]

    def _mask(self, part: int, flag: bool | None) -> int:
        everything = (1 << len(self.network.classes[part])) - 1
        changed = self.network.changed[part]
        return everything if flag is None else changed if flag else everything & ~changed

    def _floors(self, part: int) -> list[int]:
        """Return, for each count of changes, a weight the subtree can't be below, judges aside.

        Where changes are not limited, one count stands for all.
        """
        known = self._memory.floors.get((part, self._tags[part]))
        if known is not None:
            return known
        changed, costs, never = (
            self.network.changed[part],
            self.network.costs[part],
            self.network.never,
        )
        kept, altered = self.masks[part] & ~changed, self.masks[part] & changed
        plain = costs[_lowest(kept)] if kept else never
        other = costs[_lowest(altered)] if altered else never
        below = self._below[part]
        if self.is_limited:
            most = len(below) - 1
            floors = [
                min(plain + below[min(count, most)], other + below[count - 1] if count else never)
                for count in range(self.tree.size[part] + 1)
            ]
        else:
            floors = [min(plain, other) + below[-1]]
        self._memory.floors[part, self._tags[part]] = floors
        return floors

    def floor_of(self, parts: Sequence[int]) -> list[int]:
        """Return, for each count of changes, the floor of several subtrees together."""
        if not self.is_limited:
            return [sum([self.floors[part][-1] for part in parts])]
        return _shared_out([self.floors[part] for part in parts])

    def least(self, part: int, assigned: list[int], budget: int, limit: int) -> int:
        """Return the least weight of a part and all below it, or something not below the limit.

        Parameters
        ----------
        part : int
        assigned : list of int
            For each part its class; only the context's are looked at. Entries of parts below are
            overwritten.
        budget : int
            How many of these parts may differ.
        limit : int
            A weight from which on the answer does not matter.

        Notes
        -----
        Each context is worked out once; when the limit cut it short, what is known (it is not below
        that limit) is kept, and it is worked out again only if a higher limit asks for it.
        """
        if budget > self.tree.size[part]:
            budget = self.tree.size[part]
        key = (
            self._tags[part],
            budget,
            *[view[assigned[other]] for other, view in self.tree.views[part]],
        )
        exact = self._memory.exact[part]
        value = exact.get(key)
        if value is not None:
            return value
        at_least = self._memory.at_least[part]
        known = at_least.get(key)
        if known is None:
            known = self.floors[part][min(budget, len(self.floors[part]) - 1)]
        if known >= limit:
            return known
        value = self._try_classes(part, assigned, budget, limit)
        self._memory.count_context()
        if value < limit or value >= self.network.never:
            exact[key] = value
        else:
            at_least[key] = value
        return value

    def _try_classes(self, part: int, assigned: list[int], budget: int, limit: int) -> int:
        """Return the least over the part's classes if it is below the limit.

        Otherwise something that it is not below, as high as could be seen on the way.
        """
        self.watch.look()
        mask, voices = self.judged(part, assigned, budget)
        costs, changed = self.network.costs[part], self.network.changed[part]
        children, floors = self.tree.children[part], self._below[part]
        most = len(floors) - 1
        lowest = floors[min(budget, most)]
        least, cut = limit, self.network.never
        while mask:
            bit = mask & -mask
            mask ^= bit
            one = bit.bit_length() - 1
            total = costs[one]
            if total + lowest >= least:
                if total + lowest < cut:
                    cut = total + lowest
                break
            left = budget - 1 if changed & bit else budget
            for groups, known, judge, beside in voices:
                cost = known[groups[one]]
                total += judge.fill(part, beside, groups[one], known) if cost is None else cost
            seen = total + floors[left if left < most else most]
            if seen < least and children:
                assigned[part] = one
                seen = total + self.spread(children, assigned, left, least - total)
            if seen < least:
                least = seen
            elif seen < cut:
                cut = seen
        return least if least < limit else cut

    def judged(self, part: int, assigned: Sequence[int], budget: int) -> tuple[int, list[Voice]]:
        """Return the classes that nothing assigned forbids, as bits, and who else has a say."""
        mask = self.masks[part] if budget else self.masks[part] & ~self.network.changed[part]
        voices: list[Voice] = []
        for judge, others in self.tree.attached[part]:
            beside = tuple([judge.groups[other][assigned[other]] for other in others])
            row = judge.row(part, beside)
            mask &= row.allowed
            if not row.is_free:
                voices.append((judge.groups[part], row.costs, judge, beside))
        return mask, voices

    def spread(self, parts: Sequence[int], assigned: list[int], budget: int, limit: int) -> int:
        """Return the least weight of several open subtrees that share a number of changes.

        Something not below the limit when it is not below the limit.
        """
        if self.is_limited:
            sizes = [self.tree.size[part] for part in parts]
            if budget < sum(sizes):
                return self._shared(parts, sizes, assigned, budget)
        floors = self._lowest
        total = 0
        for part in parts:
            total += floors[part]
        for part in parts:
            if total >= limit:
                break
            floor = floors[part]
            total += self.least(part, assigned, budget, limit - total + floor) - floor
        return total

    def _shared(
        self, parts: Sequence[int], sizes: Sequence[int], assigned: list[int], budget: int
    ) -> int:
        """Return the least weight of subtrees when not all of their parts may differ."""
        costs = [
            [
                self.least(part, assigned, count, self.network.never)
                for count in range(min(budget, size) + 1)
            ]
            for part, size in zip(parts, sizes, strict=True)
        ]
        shared = _shared_out(costs)
        return shared[min(budget, len(shared) - 1)]


def heard(voices: Sequence[Voice], part: int, one: int) -> int:
    """Return what the judges add for a class."""
    total = 0
    for groups, costs, judge, beside in voices:
        cost = costs[groups[one]]
        if cost is None:
            cost = judge.fill(part, beside, groups[one], costs)
        total += cost
    return total


def _lowest(mask: int) -> int:
    return (mask & -mask).bit_length() - 1


def _shared_out(costs: Sequence[Sequence[int]]) -> list[int]:
    """Return the least sum for each total count, given each term's costs by its own count."""
    shared = [0]
    for own in costs:
        shared = [
            min(
                shared[count - spent] + own[spent]
                for spent in range(max(0, count - len(shared) + 1), min(count, len(own) - 1) + 1)
            )
            for count in range(len(shared) + len(own) - 1)
        ]
    return shared
