"""Blends of two dubbings of the owner's that come nearer to the wanted shade than either."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache, partial
from itertools import product
from math import dist, floor
from typing import TYPE_CHECKING

from variants.model import Candidate, Colour, Ingredient, Part, StylePart, Term, Way
from variants.problem.attributes_of import lot_attributes, together
from variants.problem.departure import weighted, weighted_sum
from variants.problem.domain import Offer
from variants.problem.stock import Stuff
from variants.rulebook import THOUSANDTHS, blend_shade, colour_attributes, delta_e, lab

if TYPE_CHECKING:
    from variants.problem.candidates import DomainBuilder

#: Parts by weight that are tried; finer shares can't be kept at the bench (common practice).
RATIOS = ((1, 1), (2, 1), (1, 2), (3, 1), (1, 3))
_LEAST_SHARE = min(min(parts) / sum(parts) for parts in RATIOS)
#: A blend has to come nearer than either of its parts by so much, in CIEDE2000, to be worth it.
_NEARER_BY = 2.0
#: A rough average in CIELAB this far off can't come within reach; it spares the exact reckoning.
_HOPELESS = 25.0
#: What rounding may take from a blend's terms, in thousandths: half of one from each.
_ROUNDED = 16


def blend_offers(
    builder: DomainBuilder, part: Part, style_part: StylePart, stuffs: Sequence[Stuff]
) -> Iterator[Offer]:
    """Yield the blends of two lots that serve in place of one dubbing of one shade.

    Notes
    -----
    Every two stuffs that are blended are tried in five shares, as far as the search comes to them;
    the nearest share is kept when it comes within the convention's CIEDE2000 of the wanted shade,
    and nearer than either alone.
    """
    conventions = builder.rulebook.conventions
    wanted = part.ingredients[0]
    if wanted.material.kind not in conventions.blended or not wanted.colour:
        return
    if len(wanted.colour.hexes) != 1:
        return
    plain = [
        stuff
        for stuff in stuffs
        if stuff.ingredient.material.kind in conventions.blended
        and stuff.ingredient.colour
        and len(stuff.ingredient.colour.hexes) == 1
    ]
    costs = [_material_cost(builder, part, style_part, stuff) for stuff in plain]
    order = sorted(range(len(plain)), key=lambda place: (costs[place], place))
    ranked = [(costs[place], plain[place]) for place in order]
    for first in range(len(ranked) - 1):
        yield _row(builder, part, style_part, ranked, first, first + 1)


def _row(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    ranked: Sequence[tuple[int, Stuff]],
    first: int,
    second: int,
) -> Offer:
    """Return the promise of one stuff's blends with another and with all that stand farther off.

    Notes
    -----
    In a blend a stuff weighs at least the least share, so no blend of the row is nearer than the
    nearer stuff at its greatest share with the farther one at its least. Terms are rounded one by
    one, which may take half a thousandth from each.
    """
    bound = (1.0 - _LEAST_SHARE) * ranked[first][0] + _LEAST_SHARE * ranked[second][0]
    return Offer(
        max(0, floor(bound) - _ROUNDED),
        settle=partial(_settle_row, builder, part, style_part, ranked, first, second),
    )


def _settle_row(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    ranked: Sequence[tuple[int, Stuff]],
    first: int,
    second: int,
) -> Iterator[Offer]:
    both = ranked[first][1], ranked[second][1]
    if both[0].ingredient.key > both[1].ingredient.key:
        both = both[1], both[0]
    wanted = part.ingredients[0].colour
    assert wanted is not None  # dubbing without a shade is not blended
    shades = _shade_of(both[0].ingredient), _shade_of(both[1].ingredient)
    best = _best_share(wanted.hexes[0], shades, builder.rulebook.conventions.blend_within)
    if best is not None:
        yield _offer(builder, part, style_part, both, *best)
    if second + 1 < len(ranked):
        yield _row(builder, part, style_part, ranked, first, second + 1)


def _material_cost(builder: DomainBuilder, part: Part, style_part: StylePart, stuff: Stuff) -> int:
    return weighted_sum(_material_terms(builder, part, stuff), style_part.weight)


def _shade_of(ingredient: Ingredient) -> str:
    assert ingredient.colour is not None  # only dubbings of one known shade are blended
    return ingredient.colour.hexes[0]


@lru_cache(maxsize=1 << 16)
def _best_share(
    wanted: str, shades: tuple[str, str], within: float
) -> tuple[tuple[int, int], str] | None:
    """Return the parts by weight and the shade of the nearest blend, or None when none serves."""
    alone = min(delta_e(wanted, shade) for shade in shades)
    nearest: tuple[float, tuple[int, int], str] | None = None
    for parts in RATIOS:
        if _is_hopeless(wanted, shades, parts):
            continue
        blend = blend_shade(shades, parts)
        apart = delta_e(wanted, blend)
        if apart <= within and apart + _NEARER_BY < alone and (not nearest or apart < nearest[0]):
            nearest = apart, parts, blend
    return nearest[1:] if nearest else None


def _is_hopeless(wanted: str, shades: Sequence[str], parts: Sequence[int]) -> bool:
    one, other = (lab(shade) for shade in shades)
    share = parts[0] / sum(parts)
    middle = [share * a + (1 - share) * b for a, b in zip(one, other, strict=True)]
    return dist(lab(wanted), middle) > _HOPELESS


def _offer(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    both: tuple[Stuff, Stuff],
    parts: tuple[int, int],
    shade: str,
) -> Offer:
    """Return the offer of a blend; its cost is summed now, its words only when it is looked at."""
    style = builder.style.id
    wanted = part.ingredients[0]
    colour = _blended(wanted, parts, shade)
    cost = 0
    for stuff, share in zip(both, parts, strict=True):
        own = _material_terms(builder, part, stuff)
        cost += weighted_sum(own, style_part.weight * share / sum(parts))
    shade_terms = builder.rulebook.likeness.colour(wanted.colour, colour, part.id, style)
    trouble = round(builder.rulebook.conventions.blend_trouble * THOUSANDTHS)
    cost += weighted_sum(shade_terms, style_part.weight) + round(trouble * style_part.weight)
    return Offer(cost, partial(_blends, builder, part, style_part, both, parts, colour))


def _blended(wanted: Ingredient, parts: tuple[int, int], shade: str) -> Colour:
    return Colour(
        id=shade.lower(),
        name=f"blended {_ratio(parts)}",
        family=wanted.colour.family if wanted.colour else "",
        hexes=(shade,),
        source="computed",
    )


def _ratio(parts: Sequence[int]) -> str:
    return ":".join(map(str, parts))


def _material_terms(builder: DomainBuilder, part: Part, stuff: Stuff) -> tuple[Term, ...]:
    wanted, found = part.ingredients[0].material, stuff.ingredient.material
    return builder.rulebook.likeness.material(wanted, found, part.id, builder.style.id)


def _terms(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    both: tuple[Stuff, Stuff],
    parts: tuple[int, int],
    colour: Colour,
) -> tuple[Term, ...]:
    wanted = part.ingredients[0]
    terms: list[Term] = []
    for stuff, share in zip(both, parts, strict=True):
        own = _material_terms(builder, part, stuff)
        terms += weighted(own, style_part.weight * share / sum(parts))
    apart = delta_e(_shade_of(wanted), colour.hexes[0])
    says = (
        f"two dubbings blended {_ratio(parts)} by weight, within dE {apart:.1f} of the shade wanted"
    )
    trouble = round(builder.rulebook.conventions.blend_trouble * THOUSANDTHS)
    blend_term = Term("blend", trouble, says, "conventions: blend_trouble, blend_within")
    shade_terms = builder.rulebook.likeness.colour(wanted.colour, colour, part.id, builder.style.id)
    return (*terms, *weighted((*shade_terms, blend_term), style_part.weight))


def _blends(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    both: tuple[Stuff, Stuff],
    parts: tuple[int, int],
    colour: Colour,
) -> list[Candidate]:
    terms = _terms(builder, part, style_part, both, parts, colour)
    own_attributes = {**colour_attributes(colour), "blend": _ratio(parts)}
    return [
        builder.candidate(
            part,
            Way.MIXED,
            chosen,
            terms,
            {
                **together([lot_attributes(lot, builder.rulebook) for lot in chosen]),
                **own_attributes,
            },
        )
        for chosen in product(both[0].lots, both[1].lots)
    ]
