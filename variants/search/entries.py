"""What the heap of the best-first search holds: each entry covers answers not yet handed out."""

from __future__ import annotations

from collections.abc import Iterator

from variants.search.bounds import Voice
from variants.search.members import Answer


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
        None until the first class is tried.
    slack : int
        By how much the other open parts are known to weigh more than their floor.
    least : dict
        The least weight met of classes that differ in nothing else.
    """

    __slots__ = (
        "budget",
        "chosen",
        "depth",
        "foreseen",
        "least",
        "mask",
        "slack",
        "voices",
        "weight",
    )

    def __init__(
        self, depth: int, weight: int, foreseen: int, chosen: list[int], budget: int
    ) -> None:
        self.depth, self.weight, self.foreseen = depth, weight, foreseen
        self.chosen, self.budget = chosen, budget
        self.mask, self.slack = 0, 0
        self.voices: list[Voice] | None = None
        self.least: dict[tuple[int, bool, int], int] = {}


class Prefix:
    """A class tried for the part after a prefix: the weight with it, and the least of the rest."""

    __slots__ = ("one", "rest", "siblings", "weight")

    def __init__(self, siblings: Siblings, one: int, weight: int, rest: int) -> None:
        self.siblings, self.one, self.weight, self.rest = siblings, one, weight, rest


class Members:
    """The choices of candidates that a complete choice of classes stands for, cheapest first."""

    __slots__ = ("chosen", "next", "rest")

    def __init__(self, chosen: list[int], following: Answer, rest: Iterator[Answer]) -> None:
        self.chosen, self.next, self.rest = chosen, following, rest


Entry = Siblings | Prefix | Members
