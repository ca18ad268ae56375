"""Look-ahead: what constraints still have to say at each depth of the search.

Worked out once for a network, from its elimination tree.
"""

from __future__ import annotations

from variants.design.search.elimination import EliminationTree, number_projections
from variants.design.search.indexed_constraint import IndexedConstraint


def wide_constraints(
    tree: EliminationTree, depth: int
) -> list[tuple[IndexedConstraint, tuple[int, ...]]]:
    """Return the wide constraints to be asked as the part at a depth is assigned.

    Each comes with those of its parts that are assigned by then.
    """
    assigned = set(tree.order[: depth + 1])
    before = assigned - {tree.order[depth]}
    return [
        (one, tuple(part for part in one.scope if part in assigned))
        for one in tree.wide
        if assigned & {*one.scope} and not before >= {*one.scope}
    ]


def open_projections(tree: EliminationTree, depth: int) -> list[tuple[int, list[int]]]:
    """Return, once so many parts are assigned, what constraints with open parts see of each.

    Parts of which they see nothing are left out.
    """
    assigned = tree.order[:depth]
    live = [one for one in tree.network.constraints if not {*one.scope} <= {*assigned}]
    seen = [(part, number_projections(tree.network, part, live)) for part in assigned]
    return [(part, numbers) for part, numbers in seen if any(numbers)]


def next_projections(tree: EliminationTree, depth: int) -> list[int]:
    """Return what is still to be seen of the part assigned at a depth, for each of its classes."""
    assigned = set(tree.order[: depth + 1])
    ahead = [
        one for one in tree.network.constraints if one in tree.wide or not {*one.scope} <= assigned
    ]
    return number_projections(tree.network, tree.order[depth], ahead)
