"""Blends of two dubbings of the owner's that come nearer to the wanted shade than either."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache, partial
from itertools import combinations, product
from math import dist
from typing import TYPE_CHECKING

from variants.model import Attributes, Candidate, Colour, Ingredient, Part, StylePart, Term, Way
from variants.problem.attributes_of import lot_attributes, together
from variants.problem.departure import sum_of, weighted
from variants.problem.domain import Offer
from variants.problem.stock import Stuff
from variants.rulebook import THOUSANDTHS, blend_shade, colour_attributes, delta_e, lab

if TYPE_CHECKING:
    from variants.problem.candidates import DomainBuilder

#: Parts by weight that are tried; finer shares can't be kept at the bench (common practice).
RATIOS = ((1, 1), (2, 1), (1, 2), (3, 1), (1, 3))
#: A blend has to come nearer than either of its parts by so much, in CIEDE2000, to be worth it.
_NEARER_BY = 2.0
#: A rough average in CIELAB this far off can't come within reach; it spares the exact reckoning.
_HOPELESS = 25.0


def blend_offers(
    builder: DomainBuilder, part: Part, style_part: StylePart, stuffs: Sequence[Stuff]
) -> Iterator[Offer]:
    """Yield the blends of two lots that serve in place of one dubbing of one shade.

    Notes
    -----
    Every two stuffs that are blended are tried in five shares; the nearest share is kept when it
    comes within the convention's CIEDE2000 of the wanted shade, and nearer than either alone.
    """
    conventions = builder.rulebook.conventions
    wanted = part.ingredients[0]
    if wanted.material.kind not in conventions.blended or not wanted.colour:
        return
    if len(wanted.colour.hexes) != 1:
        return
    shade = wanted.colour.hexes[0]
    plain = [
        stuff
        for stuff in stuffs
        if stuff.ingredient.material.kind in conventions.blended
        and stuff.ingredient.colour
        and len(stuff.ingredient.colour.hexes) == 1
    ]
    for one, other in combinations(plain, 2):
        shades = _shade_of(one.ingredient), _shade_of(other.ingredient)
        best = _best_share(shade, shades, conventions.blend_within)
        if best is not None:
            yield _offer(builder, part, style_part, (one, other), *best)


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
    wanted, likeness, style = part.ingredients[0], builder.rulebook.likeness, builder.style.id
    ratio = f"{parts[0]}:{parts[1]}"
    colour = Colour(
        id=shade.lower(),
        name=f"blended {ratio}",
        family=wanted.colour.family if wanted.colour else "",
        hexes=(shade,),
        source="computed",
    )
    terms: list[Term] = []
    for stuff, share in zip(both, parts, strict=True):
        own = likeness.material(wanted.material, stuff.ingredient.material, part.id, style)
        terms += weighted(own, style_part.weight * share / sum(parts))
    trouble = round(builder.rulebook.conventions.blend_trouble * THOUSANDTHS)
    apart = delta_e(_shade_of(wanted), shade)
    says = f"two dubbings blended {ratio} by weight, within dE {apart:.1f} of the shade wanted"
    blend_term = Term("blend", trouble, says, "conventions: blend_trouble, blend_within")
    shade_terms = likeness.colour(wanted.colour, colour, part.id, style)
    terms += weighted((*shade_terms, blend_term), style_part.weight)
    own_attributes = {**colour_attributes(colour), "blend": ratio}
    make = partial(_blends, builder, part, both, tuple(terms), own_attributes)
    return Offer(sum_of(terms), make)


def _blends(
    builder: DomainBuilder,
    part: Part,
    both: tuple[Stuff, Stuff],
    terms: tuple[Term, ...],
    own_attributes: Attributes,
) -> list[Candidate]:
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
