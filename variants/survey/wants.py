"""What to ask for in the shop: how long or thick a purchase has to be, and how much of it.

A gain comes in, with the flies that would be tied with what is bought; for each thing bought its
measures and its least amount come out. Both are taken from those flies: what the rules ask of the
part on their hooks, and what the flies use.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from variants.design import DesignProblem, build_problem
from variants.design.search import Closest
from variants.geometry import Layout, Use, fly_geometry, uses_of
from variants.geometry.targets import Span, find_span
from variants.model import HOOK, Box, Dressing, Variant
from variants.rulebook import LENGTH, Rulebook
from variants.survey.gains import Gain
from variants.survey.offers import BOUGHT, Offer
from variants.survey.survey import Wishes

#: What a shop sells stuff by, beside its colour.
_MEASURED = (LENGTH, "thickness_mm", "denier")


@dataclass(frozen=True, slots=True)
class Spread:
    """What several flies ask a part to measure.

    Attributes
    ----------
    least, most : float
        The least and the most that is right for any of them.
    low, high : float
        What will do for every one of them; low is above high where nothing does, and there is no
        high where stuff is cut to length.
    """

    least: float
    most: float
    low: float
    high: float

    def and_span(self, span: Span) -> Spread:
        """Return what these flies ask and another one."""
        return Spread(
            min(self.least, span.right),
            max(self.most, span.right),
            max(self.low, span.low),
            min(self.high, span.high),
        )


@dataclass(frozen=True, slots=True)
class Want:
    """What the flies ask of one thing that is bought.

    Attributes
    ----------
    offer : Offer
    parts : tuple of str
        Ids of the parts that it would fill.
    sizes : tuple of int
        Hook sizes of those flies.
    measures : dict of (part, attribute) to Spread
    flies : int
        How many flies the amount is for.
    pieces, length_mm, mass_mg : float or None
        What they take of it in all, in what it is counted in; None where that is not reckoned.
    """

    offer: Offer
    parts: tuple[str, ...]
    sizes: tuple[int, ...]
    measures: Mapping[tuple[str, str], Spread]
    flies: int
    pieces: float | None
    length_mm: float | None
    mass_mg: float | None


@dataclass
class _Collected:
    parts: dict[str, None] = field(default_factory=dict)
    sizes: set[int] = field(default_factory=set)
    measures: dict[tuple[str, str], Spread] = field(default_factory=dict)
    uses: list[Use] = field(default_factory=list)
    flies: int = 0


def find_wants(
    gain: Gain,
    dressings: Sequence[Dressing],
    rulebook: Rulebook,
    layout: Layout,
    wishes: Wishes,
    flies: int = 1,
) -> list[Want]:
    """Return what to ask for of each thing that a gain buys.

    Parameters
    ----------
    gain : Gain
    dressings : sequence of Dressing
        The book.
    rulebook : Rulebook
    layout : Layout
    wishes : Wishes
    flies : int
        So many of each dressing that it opens or brings nearer are to be tied.
    """
    gathered = {offer.key: _Collected() for offer in gain.offers}
    for place, closest in gain.nearer:
        request = wishes.request(dressings[place], Box(()))
        design = build_problem(request, rulebook)
        uses = _uses(design, closest, layout)
        for offer in gain.offers:
            _collect(gathered[offer.key], offer, design, closest, uses)
    return [_make_want(offer, gathered[offer.key], flies) for offer in gain.offers]


def _uses(design: DesignProblem, closest: Closest, layout: Layout) -> tuple[Use, ...]:
    """Return what the fly uses; nothing where its hook's dimensions are not known."""
    variant = Variant(1, closest.chosen, closest.departure)
    try:
        geometry = fly_geometry(design, layout, variant)
    except ValueError:
        return ()
    return uses_of(geometry, variant.chosen, layout)


def _collect(
    found: _Collected,
    offer: Offer,
    design: DesignProblem,
    closest: Closest,
    uses: Sequence[Use],
) -> None:
    hook = closest.chosen[HOOK].attributes if HOOK in closest.chosen else {}
    size = hook.get("size")
    parts = [
        part
        for part, candidate in closest.chosen.items()
        if any(
            items and _is_bought(offer, items[0].id, ingredient.key, items[0].sizes)
            for ingredient, items in zip(candidate.ingredients, candidate.items, strict=False)
        )
    ]
    found.flies += bool(parts)
    for part in parts:
        found.parts[part] = None
        if isinstance(size, int):
            found.sizes.add(size)
        for attribute in _MEASURED:
            span = find_span(design.rules, part, hook, attribute)
            if span is not None:
                old = found.measures.get((part, attribute))
                first = Spread(span.right, span.right, span.low, span.high)
                found.measures[part, attribute] = old.and_span(span) if old else first
    found.uses += [
        use
        for use in uses
        if use.items and _is_bought(offer, use.items[0].id, use.ingredient.key, use.items[0].sizes)
    ]


def _is_bought(
    offer: Offer, item: str, key: tuple[str, str], sizes: tuple[int, ...] | None
) -> bool:
    """Tell whether an item of a fly is the thing bought."""
    if not item.startswith(BOUGHT) or key != offer.ingredient.key:
        return False
    return offer.size is None or sizes == (offer.size,)


def _make_want(offer: Offer, found: _Collected, flies: int) -> Want:
    pieces = [use.pieces for use in found.uses if use.pieces is not None]
    lengths = [
        use.length_mm for use in found.uses if use.pieces is None and use.length_mm is not None
    ]
    masses = [
        use.mass_mg
        for use in found.uses
        if use.pieces is None and use.length_mm is None and use.mass_mg is not None
    ]
    return Want(
        offer,
        tuple(found.parts),
        tuple(sorted(found.sizes)),
        found.measures,
        flies * found.flies,
        flies * sum(pieces) if pieces else None,
        flies * sum(lengths) if lengths else None,
        flies * sum(masses) if masses else None,
    )
