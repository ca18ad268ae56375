"""What is still to be judged at each depth of the search, worked out once for a network."""

from __future__ import annotations

from variants.design.search.elimination import Elimination, view_of
from variants.design.search.judge import Judge


def wide_judges(tree: Elimination, depth: int) -> list[tuple[Judge, tuple[int, ...]]]:
    """Return wide judges to be heard as the part at a depth is assigned, and their parts so far."""
    assigned = set(tree.order[: depth + 1])
    before = assigned - {tree.order[depth]}
    return [
        (judge, tuple(part for part in judge.scope if part in assigned))
        for judge in tree.wide
        if assigned & {*judge.scope} and not before >= {*judge.scope}
    ]


def live_views(tree: Elimination, depth: int) -> list[tuple[int, list[int]]]:
    """Return, once so many parts are assigned, what judges with open parts see of each of them.

    Parts of which they see nothing are left out.
    """
    assigned = tree.order[:depth]
    live = [judge for judge in tree.network.judges if not {*judge.scope} <= {*assigned}]
    views = [(part, view_of(tree.network, part, live)) for part in assigned]
    return [(part, view) for part, view in views if any(view)]


def onward_view(tree: Elimination, depth: int) -> list[int]:
    """Return what is still to be seen of the part assigned at a depth, for each of its classes."""
    assigned = set(tree.order[: depth + 1])
    ahead = [
        judge
        for judge in tree.network.judges
        if judge in tree.wide or not {*judge.scope} <= assigned
    ]
    return view_of(tree.network, tree.order[depth], ahead)
