"""The public functions and types, one page of them; everything else may change between versions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from variants.design import (
    DesignProblem,
    UnknownWordError,
    build_problem,
    find_entry,
    request_from_words,
)
from variants.design.search import variants_of
from variants.explain import (
    AllConflicts,
    Explanation,
    Repair,
    StandInQuery,
    StandIns,
    explain,
    find_all_conflicts,
    find_repairs,
    find_stand_ins,
)
from variants.model import Box, Dressing, Variant, plain
from variants.pictures.notebook import shown_dressing, shown_variant
from variants.reading import InputError, read_box, read_dressing
from variants.rulebook import Rulebook, load_rulebook
from variants.text import nearest, shown

if TYPE_CHECKING:
    import networkx as nx

    from variants.geometry import Use
    from variants.regions import Adaptation, Place

__all__ = [
    "Box",
    "DesignProblem",
    "Dressing",
    "Explanation",
    "InputError",
    "Rulebook",
    "Variant",
    "adapt",
    "derive",
    "draw",
    "instead",
    "load_box",
    "load_dressing",
    "load_region",
    "load_rules",
    "propose",
    "read_words",
    "reasons",
    "uses",
    "why_not",
]


def load_rules(*folders: str | Path) -> Rulebook:
    """Load the trade's tables and rules, then folders of your own that add or override by id.

    Raises
    ------
    InputError
        With every fault of every file.

    Examples
    --------
    >>> rules = load_rules()
    >>> rules.trade.material_names["otter"].name
    'otter fur'
    """
    return load_rulebook(folders)


def load_dressing(path: str | Path, rules: Rulebook) -> Dressing:
    """Read a dressing file; ``-`` is standard input.

    A notebook shows the dressing as a drawing.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    return shown_dressing(read_dressing(path, rules.trade), rules)


def load_box(path: str | Path, rules: Rulebook) -> Box:
    """Read a box file, CSV or XLSX; ``-`` is standard input.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    return read_box(path, rules.trade)


def read_words(text: str, rules: Rulebook, *, style: str | None = None) -> list[Dressing]:
    """Read dressings from the trade's plain words, as books and letters give them.

    Parameters
    ----------
    text : str
        Lines such as ``Body: peacock herl`` under a title.
    rules : Rulebook
    style : str, optional
        Name of the style, where the text states none.

    Returns
    -------
    list of Dressing
        What could be read, the author's first choice where he leaves one. What custom filled in,
        and what stayed dark, is told by ``flykin read``.

    Examples
    --------
    >>> rules = load_rules()
    >>> fly = read_words("Reed Cutter\\nBody: yellow floss\\nHackle: brown hen", rules, style="wet")
    >>> [(part.id, part.ingredients[0].words) for part in fly[0].parts][-2:]
    [('body', 'yellow silk floss'), ('hackle', 'brown hen neck hackle')]
    """
    from variants.reading import own_rules_folder
    from variants.reading.words import load_glossary, read_plain

    glossary = load_glossary([own_rules_folder()], rules.trade)
    style_id = (
        None if style is None else find_entry("style", style, rules.trade.style_names, "style").id
    )
    found = read_plain(text, glossary, style=style_id, file="(text)")
    return [shown_dressing(one.dressing, rules) for one in found if one.dressing is not None]


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
        Names of parts (or, for missing, of items and materials) that are gone, or must stay as
        written.
    max_changes : int, optional
        How many parts may differ.

    Returns
    -------
    DesignProblem, list of Variant
        The problem is what the other functions need; the list is empty when no variant is valid. A
        notebook shows each variant as a drawing.

    Raises
    ------
    ValueError
        When a name or a water is not known.
    """
    request = request_from_words(
        dressing,
        box,
        rules.trade,
        sizes=sizes,
        water=water,
        missing=missing,
        keep=keep,
        max_changes=max_changes,
    )
    design = build_problem(request, rules)
    found = islice(variants_of(design, different=different), best)
    return design, [shown_variant(variant, design) for variant in found]


def load_region(path: str | Path, rules: Rulebook) -> tuple[Place, ...]:
    """Read a region file; ``-`` is standard input.

    Returns
    -------
    tuple of Place
        One for each of its waters, with the rules of law, water and house that hold there;
        ``place.joined(rules)`` gives a rulebook for `propose` that keeps them.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    from variants.regions import load_law, read_places

    return read_places(path, rules, load_law(rules.trade))


def adapt(
    dressing: Dressing,
    box: Box,
    rules: Rulebook,
    place: Place,
    *,
    natural: str | None = None,
    kin: float | None = None,
    missing: Iterable[str] = (),
    keep: Iterable[str] = (),
) -> Adaptation:
    """Return what a dressing becomes on a water: the front of departure and distance.

    Parameters
    ----------
    dressing, box, rules
    place : Place
        One of those that `load_region` gives.
    natural : str, optional
        Name of the natural the fly shall be; by default the one that the dressing is nearest to.
    kin : float, optional
        How far a variant may depart and still be kin.
    missing, keep : iterable of str
        As in `propose`.

    Returns
    -------
    Adaptation
        Its ``front`` is the exact Pareto front, by rising departure and falling distance; each has
        ``variant``, ``departure``, ``distance`` and the ``terms`` of the distance; ``chosen`` is
        the one to tie first.

    Raises
    ------
    ValueError
        When a name is not known.
    """
    from variants.regions import adapt as adapted
    from variants.regions import load_weights, target_for

    names = {plain(one.name): one for one in place.region.naturals}
    if natural is not None and plain(natural) not in names:
        problem = f"{shown(natural)} is no natural of {place.name}"
        raise UnknownWordError("natural", problem, nearest(plain(natural), names))
    naturals = (names[plain(natural)],) if natural is not None else ()
    asked = request_from_words(dressing, box, rules.trade, missing=missing, keep=keep)
    target = target_for(dressing, place, rules, load_weights(rules.trade), naturals)
    return adapted(
        dressing,
        box,
        rules,
        target,
        within=kin,
        missing=asked.missing,
        keep=asked.keep,
    )


def reasons(design: DesignProblem, variant: Variant) -> Explanation:
    """Return what every rule tested on a variant, and what each part's departure is made of."""
    return explain(design, variant)


def why_not(design: DesignProblem) -> tuple[AllConflicts, list[Repair]]:
    """Return everything that keeps a dressing from being tied, and the ways out that were tried.

    Returns
    -------
    AllConflicts, list of Repair
        Each way out comes with the closest variant that it gives.
    """
    why = find_all_conflicts(design)
    return why, find_repairs(design, why)


def derive(design: DesignProblem, variants: Iterable[Variant]) -> nx.DiGraph[str]:
    """Return the derivation graph from the base to the variants; see `variants.explain.derivation`.

    A notebook shows it with the flies' pictures.
    """
    from variants.pictures.notebook.graph import derivation

    return derivation(design, variants)


def uses(design: DesignProblem, variant: Variant | None = None) -> tuple[Use, ...]:
    """Return what one fly uses of each material: lengths in mm, masses in mg, pieces.

    Without a variant, what the dressing as written uses.
    """
    from variants.geometry import fly_geometry, load_layout, uses_of

    layout = load_layout()
    chosen = design.base if variant is None else variant.chosen
    return uses_of(fly_geometry(design, layout, variant), chosen, layout)


def draw(design: DesignProblem, variant: Variant | None = None) -> str:
    """Return the fly drawn to scale, as SVG; without a variant, the dressing as written."""
    from variants.geometry import load_layout
    from variants.pictures import draw_fly

    return draw_fly(design, load_layout(), variant).svg


def instead(
    material: str,
    rules: Rulebook,
    *,
    part: str,
    style: str,
    colour: str | None = None,
    box: Box | None = None,
) -> StandIns:
    """Rank what serves in place of a material, from the whole table or from a box.

    Parameters
    ----------
    material, part, style, colour : str
        Their names.
    rules : Rulebook
    box : Box, optional
        Only what it holds and has left is offered.

    Raises
    ------
    ValueError
        When a name is not known, with the nearest that is.

    Examples
    --------
    >>> answer = instead("otter fur", load_rules(), part="body", style="dry upright")
    >>> answer.answers[0].first.material.name
    'beaver fur'
    """
    trade = rules.trade
    asked = StandInQuery(
        find_entry("material", material, trade.material_names, "material"),
        find_entry("part", part, trade.part_names, "part of a fly").id,
        find_entry("style", style, trade.style_names, "style").id,
        find_entry("colour", colour, trade.colour_names, "colour") if colour else None,
    )
    return find_stand_ins(rules.likeness, asked, box)
