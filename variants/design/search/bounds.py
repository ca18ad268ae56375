"""Lower bounds: the exact least weight of the open parts of a partial fly, where it is asked for.

`ContextBounds.least_weight(part, ...)` is the least weight of a part and everything below it, given
the classes of its context and how many parts may still differ. By bucket elimination it is the
minimum over the part's classes of its own weight, what the constraints in its bucket add, and the
least weight of each child; the children share nothing but the count of changes, which
`ContextBounds.least_sum` gives out in the best way. The minimum is found by trying classes cheapest
first and stopping when a class's own weight plus the static bound of the children reaches the best
found (branch and bound), so that of thousands of classes a few are looked at.
"""

from __future__ import annotations

from collections.abc import Sequence

from variants.design import Watch
from variants.design.search.elimination import EliminationTree
from variants.design.search.indexed_constraint import Costs, IndexedConstraint

#: For each part: must be changed, must not be, or either (None).
ChangeFlags = tuple[bool | None, ...]
#: What a constraint adds to a part's classes: the group of each class, the weight of each group,
#: the constraint, and the groups of its other parts.
AddedCosts = tuple[list[int], Costs, IndexedConstraint, tuple[int, ...]]
#: Contexts kept at most; beyond this all are forgotten, and worked out again when asked for.
MOST_CONTEXTS = 1_000_000


class BoundCache:
    """What has been worked out for the contexts of one network, for all `ContextBounds` over it.

    Parameters
    ----------
    tree : EliminationTree

    Attributes
    ----------
    exact, at_least : list of dict
        For each part, by context: its least weight; a weight that its least is not below.
    static : dict
        Static bounds, by part and flags of its subtree.
    """

    def __init__(self, tree: EliminationTree) -> None:
        self.tree = tree
        count = len(tree.network.parts)
        self.exact: list[dict[tuple[int, ...], int]] = [{} for _ in range(count)]
        self.at_least: list[dict[tuple[int, ...], int]] = [{} for _ in range(count)]
        self.static: dict[tuple[int, int], list[int]] = {}
        self._contexts = 0

    def count_context(self) -> None:
        """Count one more context, and forget them all when there are too many."""
        self._contexts += 1
        if self._contexts > MOST_CONTEXTS:
            for known in (*self.exact, *self.at_least):
                known.clear()
            self._contexts = 0


class ContextBounds:
    """Least weights of completions under a choice of which parts must differ.

    Parameters
    ----------
    cache : BoundCache
    flags : ChangeFlags, optional
        Which parts must be changed or must not; by default all are free.
    watch : Watch, optional
        Is asked regularly whether to go on.
    """

    def __init__(
        self, cache: BoundCache, flags: ChangeFlags | None = None, watch: Watch | None = None
    ) -> None:
        self.tree, self._cache = cache.tree, cache
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
        self.static: list[list[int]] = [[] for _ in range(count)]
        self.static_below: list[list[int]] = [[] for _ in range(count)]
        for part in reversed(self.tree.order):
            self.static_below[part] = self.static_sum(self.tree.children[part])
            self.static[part] = self._find_static(part)
        self._lowest = [bounds[-1] for bounds in self.static]

    def _mask(self, part: int, flag: bool | None) -> int:
        everything = (1 << len(self.network.classes[part])) - 1
        changed = self.network.changed[part]
        return everything if flag is None else changed if flag else everything & ~changed

    def _find_static(self, part: int) -> list[int]:
        """Return, for each count of changes, a weight of the subtree by its parts' own costs alone.

        Where changes are not limited, one count stands for all.
        """
        known = self._cache.static.get((part, self._tags[part]))
        if known is not None:
            return known
        changed, costs, never = (
            self.network.changed[part],
            self.network.costs[part],
            self.network.never,
        )
        kept, altered = self.masks[part] & ~changed, self.masks[part] & changed
        plain = costs[_lowest_bit(kept)] if kept else never
        other = costs[_lowest_bit(altered)] if altered else never
        below = self.static_below[part]
        if self.is_limited:
            most = len(below) - 1
            bounds = [
                min(plain + below[min(count, most)], other + below[count - 1] if count else never)
                for count in range(self.tree.size[part] + 1)
            ]
        else:
            bounds = [min(plain, other) + below[-1]]
        self._cache.static[part, self._tags[part]] = bounds
        return bounds

    def static_sum(self, parts: Sequence[int]) -> list[int]:
        """Return, for each count of changes, the static bound of several subtrees together."""
        if not self.is_limited:
            return [sum([self.static[part][-1] for part in parts])]
        return _convolve([self.static[part] for part in parts])

    def least_weight(self, part: int, assigned: list[int], budget: int, limit: int) -> int:
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
            *[seen[assigned[other]] for other, seen in self.tree.contexts[part]],
        )
        exact = self._cache.exact[part]
        value = exact.get(key)
        if value is not None:
            return value
        at_least = self._cache.at_least[part]
        known = at_least.get(key)
        if known is None:
            known = self.static[part][min(budget, len(self.static[part]) - 1)]
        if known >= limit:
            return known
        value = self._minimise(part, assigned, budget, limit)
        self._cache.count_context()
        if value < limit or value >= self.network.never:
            exact[key] = value
        else:
            at_least[key] = value
        return value

    def _minimise(self, part: int, assigned: list[int], budget: int, limit: int) -> int:
        """Return the least over the part's classes if it is below the limit.

        Otherwise something that it is not below, as high as could be seen on the way.
        """
        self.watch.look()
        mask, added = self.open_classes(part, assigned, budget)
        costs, changed = self.network.costs[part], self.network.changed[part]
        children, below = self.tree.children[part], self.static_below[part]
        most = len(below) - 1
        lowest = below[min(budget, most)]
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
            for groups, known, constraint, beside in added:
                cost = known[groups[one]]
                if cost is None:
                    cost = constraint.fill(part, beside, groups[one], known)
                total += cost
            seen = total + below[left if left < most else most]
            if seen < least and children:
                assigned[part] = one
                seen = total + self.least_sum(children, assigned, left, least - total)
            if seen < least:
                least = seen
            elif seen < cut:
                cut = seen
        return least if least < limit else cut

    def open_classes(
        self, part: int, assigned: Sequence[int], budget: int
    ) -> tuple[int, list[AddedCosts]]:
        """Return the classes that nothing assigned forbids, as bits, and what constraints add."""
        mask = self.masks[part] if budget else self.masks[part] & ~self.network.changed[part]
        added: list[AddedCosts] = []
        for constraint, others in self.tree.buckets[part]:
            beside = tuple([constraint.groups[other][assigned[other]] for other in others])
            row = constraint.row(part, beside)
            mask &= row.allowed
            if not row.is_free:
                added.append((constraint.groups[part], row.costs, constraint, beside))
        return mask, added

    def least_sum(self, parts: Sequence[int], assigned: list[int], budget: int, limit: int) -> int:
        """Return the least weight of several open subtrees that share a number of changes.

        Something not below the limit when it is not below the limit.
        """
        if self.is_limited:
            sizes = [self.tree.size[part] for part in parts]
            if budget < sum(sizes):
                return self._share_changes(parts, sizes, assigned, budget)
        lowest = self._lowest
        total = 0
        for part in parts:
            total += lowest[part]
        for part in parts:
            if total >= limit:
                break
            least = lowest[part]
            total += self.least_weight(part, assigned, budget, limit - total + least) - least
        return total

    def _share_changes(
        self, parts: Sequence[int], sizes: Sequence[int], assigned: list[int], budget: int
    ) -> int:
        """Return the least weight of subtrees when not all of their parts may differ."""
        costs = [
            [
                self.least_weight(part, assigned, count, self.network.never)
                for count in range(min(budget, size) + 1)
            ]
            for part, size in zip(parts, sizes, strict=True)
        ]
        shared = _convolve(costs)
        return shared[min(budget, len(shared) - 1)]


def added_weight(added: Sequence[AddedCosts], part: int, one: int) -> int:
    """Return what the constraints add for a class."""
    total = 0
    for groups, costs, constraint, beside in added:
        cost = costs[groups[one]]
        if cost is None:
            cost = constraint.fill(part, beside, groups[one], costs)
        total += cost
    return total


def _lowest_bit(mask: int) -> int:
    return (mask & -mask).bit_length() - 1


def _convolve(costs: Sequence[Sequence[int]]) -> list[int]:
    """Return the least sum for each total count, given each term's costs by its own count.

    The min-plus convolution of the terms.
    """
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
