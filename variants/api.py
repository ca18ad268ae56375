"""The public functions, one page of them; everything else may change between versions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from variants.explain import Explanation, explain
from variants.model import Box, Dressing, Variant
from variants.notebook import shown_dressing, shown_variant
from variants.problem import DesignProblem, Request, build_problem
from variants.reading import read_box, read_dressing
from variants.rulebook import Rulebook, load_rulebook
from variants.search import variants_of

if TYPE_CHECKING:
    import networkx as nx

__all__ = [
    "Explanation",
    "derive",
    "explain",
    "load_box",
    "load_dressing",
    "load_rules",
    "propose",
]


def load_rules(*folders: str | Path) -> Rulebook:
    """Load the trade's tables and rules, then folders of your own that add or override by id.

    Raises
    ------
    variants.reading.InputError
        With every fault of every file.
    """
    return load_rulebook(folders)


def load_dressing(path: str | Path, rules: Rulebook) -> Dressing:
    """Read a dressing file; ``-`` is standard input. Raises `InputError` with every fault.

    A notebook shows the dressing as a drawing.
    """
    return shown_dressing(read_dressing(path, rules.trade), rules)


def load_box(path: str | Path, rules: Rulebook) -> Box:
    """Read a box file; ``-`` is standard input. Raises `InputError` with every fault."""
    return read_box(path, rules.trade)


def propose(
    dressing: Dressing,
    box: Box,
    rules: Rulebook,
    *,
    best: int = 10,
    different: bool = False,
    sizes: Sequence[int] = (),
    water: str | None = None,
    missing: Iterable[str] = (),
    keep: Iterable[str] = (),
    max_changes: int | None = None,
) -> tuple[DesignProblem, list[Variant]]:
    """Return the closest valid variants of a dressing that a box can tie, in proven order.

    Parameters
    ----------
    dressing, box, rules
    best : int
        How many variants at most.
    different : bool
        Only the best variant of each set of changed parts.
    sizes : sequence of int
        Hook sizes to tie; the dressing's own when empty.
    water : str, optional
        ``slow``, ``medium`` or ``fast``.
    missing, keep : iterable of str
        Part ids (or, for missing, item and material ids) that are gone, or must stay as written.
    max_changes : int, optional
        How many parts may differ.

    Returns
    -------
    DesignProblem, list of Variant
        The problem is what `explain` and `derive` need; the list is empty when none is valid. A
        notebook shows each variant as a drawing.
    """
    request = Request(
        dressing, box, tuple(sizes), water, frozenset(missing), frozenset(keep), max_changes
    )
    design = build_problem(request, rules)
    found = islice(variants_of(design, different=different), best)
    return design, [shown_variant(variant, design) for variant in found]


def derive(design: DesignProblem, variants: Iterable[Variant]) -> nx.DiGraph[str]:
    """Return the derivation graph from the base to the variants; see `variants.derivation`.

    A notebook shows it with the flies' pictures.
    """
    from variants.notebook.graph import derivation

    return derivation(design, variants)
