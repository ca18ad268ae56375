"""How a partial fly is gone on with: the step that every way of searching is made of.

An entry covers answers: `Siblings` those of all classes of the next part not yet tried after a
prefix, `Prefix` those of one class of it, `Members` those of a complete choice of classes. Its f
never exceeds the weight of any answer it covers: `Bounds` is exact over all judges but the wide
ones, and a wide judge is counted as far as the assigned parts alone foresee, which only grows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from variants.design.search.ahead import live_views, onward_view, wide_judges
from variants.design.search.bounds import Bounds, Voice, heard
from variants.design.search.members import Answer, spread_members


class Siblings:
    """The classes of the next part after a prefix, as far as not yet tried.

    Attributes
    ----------
    depth : int
        How many parts are assigned.
    weight : int
        Of the assigned parts, with all that judges said of them.
    foreseen : int
        What wide judges will add at least.
    chosen : list of int
        For each part its class, or -1.
    budget : int
        How many of the open parts may differ.
    mask : int
        Classes not yet tried, as bits.
    voices : list of Voice or None
        None until it is opened.
    base : int
        With a class's own weight added, a floor of what comes of it and of all dearer ones.
    least : dict
        The least weight met of classes that differ in nothing else.
    """

    __slots__ = (
        "base",
        "budget",
        "chosen",
        "depth",
        "foreseen",
        "least",
        "mask",
        "voices",
        "weight",
    )

    def __init__(
        self, depth: int, weight: int, foreseen: int, chosen: list[int], budget: int
    ) -> None:
        self.depth, self.weight, self.foreseen = depth, weight, foreseen
        self.chosen, self.budget = chosen, budget
        self.mask, self.base = 0, 0
        self.voices: list[Voice] | None = None
        self.least: dict[tuple[int, bool, int], int] = {}


class Prefix:
    """A class tried after a prefix: the weight with it, and the least weight of the rest."""

    __slots__ = ("one", "rest", "siblings", "weight")

    def __init__(self, siblings: Siblings, one: int, weight: int, rest: int) -> None:
        self.siblings, self.one, self.weight, self.rest = siblings, one, weight, rest

    @property
    def f(self) -> int:
        """A floor of all that it covers."""
        return self.siblings.foreseen + self.weight + self.rest


class Members:
    """The choices of candidates that a complete choice of classes stands for, lightest first."""

    __slots__ = ("made", "next", "rest")

    def __init__(self, made: tuple[int, ...], following: Answer, rest: Iterator[Answer]) -> None:
        self.made, self.next, self.rest = made, following, rest


Entry = Siblings | Prefix | Members


class Expansion:
    """Opens, tries and grows entries of one network.

    Parameters
    ----------
    bounds : Bounds
    distinct : bool
        Whether each dressing is wanted once only, at its least weight.
    """

    def __init__(self, bounds: Bounds, distinct: bool) -> None:
        self.bounds, self.network, self.tree = bounds, bounds.network, bounds.tree
        self.distinct = distinct
        depths = range(len(self.network.parts))
        self._floors = [
            bounds.floor_of((*self.tree.children[part], *rest))
            for part, rest in zip(self.tree.order, self.tree.rest, strict=True)
        ]
        self._wide = [wide_judges(self.tree, depth) for depth in depths]
        self._live = [live_views(self.tree, depth) for depth in depths if distinct]
        self._onward = [onward_view(self.tree, depth) for depth in depths if distinct]

    def root(self) -> tuple[int, Siblings] | None:
        """Return the entry that covers every answer with its f; None when there is no answer."""
        count = len(self.network.parts)
        floors = self.bounds.floor_of(self.tree.roots)
        budget = min(self.network.at_most_changed, count)
        least = floors[min(budget, len(floors) - 1)]
        if least >= self.network.never:
            return None
        return least, Siblings(0, 0, 0, [-1] * count, budget)

    def open(self, siblings: Siblings) -> None:
        """Find the classes that may follow a prefix."""
        depth, chosen = siblings.depth, siblings.chosen
        part, rest = self.tree.order[depth], self.tree.rest[depth]
        siblings.mask, siblings.voices = self.bounds.judged(part, chosen, siblings.budget)
        floors = self._floors[depth]
        siblings.base = siblings.weight + siblings.foreseen
        siblings.base += floors[min(siblings.budget, len(floors) - 1)]
        if siblings.budget >= len(self.tree.order) - depth:
            # No limit bites, so the other open parts are known exactly.
            exact = self.bounds.spread(rest, chosen, siblings.budget, self.network.never)
            siblings.base += exact - sum([self.bounds.floors[other][-1] for other in rest])

    def floor(self, siblings: Siblings) -> int | None:
        """Return a floor of what opened siblings still cover; None when that is nothing."""
        mask = siblings.mask
        if not mask:
            return None
        cheapest = (mask & -mask).bit_length() - 1
        floor = siblings.base + self.network.costs[self.tree.order[siblings.depth]][cheapest]
        return floor if floor < self.network.never else None

    def try_next(self, siblings: Siblings) -> Prefix | None:
        """Try the cheapest class not yet tried; None when nothing new can come of it."""
        self.bounds.watch.look()
        bit = siblings.mask & -siblings.mask
        part = self.tree.order[siblings.depth]
        is_changed = bool(self.network.changed[part] & bit)
        prefix = self._tried(siblings, part, bit.bit_length() - 1, is_changed)
        siblings.mask ^= bit
        return prefix

    def _tried(self, siblings: Siblings, part: int, one: int, is_changed: bool) -> Prefix | None:
        never, depth = self.network.never, siblings.depth
        assert siblings.voices is not None
        weight = siblings.weight + self.network.costs[part][one]
        weight += heard(siblings.voices, part, one)
        if weight >= never:
            return None
        alike = (0, False, 0)
        if self.distinct:
            alike = self.network.makes[part][one], is_changed, self._onward[depth][one]
            if siblings.least.get(alike, never) <= weight:
                return None
        siblings.chosen[part] = one
        opened = (*self.tree.children[part], *self.tree.rest[depth])
        rest = self.bounds.spread(opened, siblings.chosen, siblings.budget - is_changed, never)
        if self.distinct:
            siblings.least[alike] = weight
        return None if rest >= never else Prefix(siblings, one, weight, rest)

    def grow(self, prefix: Prefix) -> tuple[int, Siblings | Members] | None:
        """Return what follows a prefix, with its f, once the wide judges are heard."""
        siblings, network = prefix.siblings, self.network
        depth, part = siblings.depth, self.tree.order[siblings.depth]
        chosen = siblings.chosen.copy()
        chosen[part] = prefix.one
        weight, foreseen = prefix.weight, 0
        for judge, parts in self._wide[depth]:
            groups = tuple([judge.groups[one][chosen[one]] for one in parts])
            if len(parts) == len(judge.scope):
                weight += judge.judge(groups)
            else:
                foreseen += judge.foresee(parts, groups)
        f = weight + foreseen + prefix.rest
        if f >= network.never:
            return None
        if depth + 1 < len(chosen):
            left = siblings.budget - (network.changed[part] >> prefix.one & 1)
            return f, Siblings(depth + 1, weight, foreseen, chosen, left)
        members = spread_members(network, chosen, weight)
        first = next(members)
        made = self._made(chosen, len(chosen))
        return weight, Members(made, first, iter(()) if self.distinct else members)

    def state(self, siblings: Siblings) -> tuple[object, ...]:
        """Return all that the completions of a prefix depend on, and what it made of its parts."""
        seen = tuple([view[siblings.chosen[part]] for part, view in self._live[siblings.depth]])
        return (siblings.budget, self._made(siblings.chosen, siblings.depth), seen)

    def made_of_members(self, numbers: Sequence[int]) -> tuple[int, ...]:
        """Return what candidates, one for each part, make of the parts, as `Members.made` does."""
        classes = [
            next(at for at, members in enumerate(self.network.classes[part]) if number in members)
            for part, number in enumerate(numbers)
        ]
        return self._made(classes, len(classes))

    def _made(self, chosen: list[int], depth: int) -> tuple[int, ...]:
        makes = self.network.makes
        return tuple([makes[part][chosen[part]] for part in self.tree.order[:depth]])
