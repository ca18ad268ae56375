"""Blends of two or three of the owner's dubbings, nearer to the wanted shade than any alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from itertools import product
from math import dist, floor
from typing import TYPE_CHECKING

from variants.design.attributes_of import lot_attributes, together
from variants.design.departure import weighted
from variants.design.domain import AnyBatch, CandidateBatch, LazyBatch
from variants.design.stock import Stuff
from variants.model import Candidate, Colour, Ingredient, Part, StylePart, Term, Way
from variants.rulebook import (
    THOUSANDTHS,
    blend_shade,
    colour_attributes,
    delta_e,
    lab,
    may_reach,
    weighted_cost,
)

if TYPE_CHECKING:
    from variants.design.candidates import DomainBuilder

#: Parts by weight that are tried, by how many go in; finer shares can't be kept at the bench
#: (common practice).
RATIOS: Mapping[int, tuple[tuple[int, ...], ...]] = {
    2: ((1, 1), (2, 1), (1, 2), (3, 1), (1, 3)),
    3: ((1, 1, 1), (2, 1, 1), (1, 2, 1), (1, 1, 2)),
}
_LEAST_SHARE = min(min(parts) / sum(parts) for several in RATIOS.values() for parts in several)
#: Three together are made of so many dubbings, those that stand nearest by their material: who
#: would blend three does not search a whole chest (common practice).
AMONG_NEAREST = 12
#: A blend has to come nearer than any of its parts by so much, in CIEDE2000, to be worth it.
_NEARER_BY = 2.0
#: A rough average in CIELAB this far off can't come within reach; it spares the exact reckoning.
_HOPELESS = 25.0
#: What rounding may take from a blend's terms, in thousandths: half of one from each.
_ROUNDED = 24

_NUMBERS = {2: "two", 3: "three"}
#: A dubbing with what it departs by its material alone.
_Ranked = tuple[int, Stuff]


def find_blends(
    builder: DomainBuilder, part: Part, style_part: StylePart, stuffs: Sequence[Stuff]
) -> Iterator[AnyBatch]:
    """Yield the blends of two or three lots that serve in place of one dubbing of one shade.

    Notes
    -----
    Every two stuffs that are blended, and every three of the nearest, are tried in a few shares, as
    far as the search comes to them; the nearest share is kept when it comes within the
    convention's CIEDE2000 of the wanted shade, and nearer than any part of it alone.
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
    costs = [_material_cost(builder, part, stuff) for stuff in plain]
    order = sorted(range(len(plain)), key=lambda place: (costs[place], place))
    ranked = [(costs[place], plain[place]) for place in order]
    table = _Table(builder, part, style_part, ranked)
    for first in range(len(ranked) - 1):
        yield table.row((first,), first + 1)


@dataclass(frozen=True)
class _Table:
    """The dubbings for one part, nearest first, and the lazy batches of what they blend to."""

    builder: DomainBuilder
    part: Part
    style_part: StylePart
    ranked: Sequence[_Ranked]

    def row(self, with_these: tuple[int, ...], last: int) -> LazyBatch:
        """Return the blends of some stuffs with another, and with all that stand farther off.

        Notes
        -----
        In a blend each stuff weighs at least the least share, so none of the row is nearer than the
        nearest stuff at all the rest with the farthest at its least. Terms are rounded one by one,
        which may take half a thousandth from each.
        """
        nearest, farthest = self.ranked[with_these[0]][0], self.ranked[last][0]
        bound = (1.0 - _LEAST_SHARE) * nearest + _LEAST_SHARE * farthest
        bound += _trouble(self.builder, len(with_these) + 1) * self.style_part.weight
        expand = partial(self._expand, with_these, last)
        return LazyBatch(max(0, floor(bound) - _ROUNDED), expand)

    def _expand(self, with_these: tuple[int, ...], last: int) -> Iterator[AnyBatch]:
        """Yield a row's blends with stuff as near as the first, and lazy batches of the rest."""
        beyond, nearest = len(self.ranked), min(len(self.ranked), AMONG_NEAREST)
        if len(with_these) > 1:
            beyond = nearest
        cost = self.ranked[last][0]
        while last < beyond and self.ranked[last][0] == cost:
            places = (*with_these, last)
            last += 1
            yield from self._blend(places)
            if len(places) < max(RATIOS) and last < nearest:
                yield self.row(places, last)
        if last < beyond:
            yield self.row(with_these, last)

    def _blend(self, places: tuple[int, ...]) -> Iterator[AnyBatch]:
        """Yield the blend of the dubbings at some places, if there is one that serves."""
        wanted = _shade_of(self.part.ingredients[0])
        within = self.builder.rulebook.conventions.blend_within
        stuffs = [self.ranked[place][1] for place in places]
        if not may_reach(wanted, [_shade_of(stuff.ingredient) for stuff in stuffs], within):
            return
        stuffs.sort(key=lambda stuff: stuff.ingredient.key)
        shades = tuple([_shade_of(stuff.ingredient) for stuff in stuffs])
        best = _best_share(wanted, shades, within)
        if best is not None:
            yield _batch(self.builder, self.part, self.style_part, stuffs, *best)


def _trouble(builder: DomainBuilder, count: int) -> int:
    """Return what blending so many costs, before the part's weight: as much again for each."""
    return round(builder.rulebook.conventions.blend_trouble * THOUSANDTHS) * (count - 1)


def _material_cost(builder: DomainBuilder, part: Part, stuff: Stuff) -> int:
    return builder.near(part, part.ingredients[0]).material(stuff.ingredient.material)


def _shade_of(ingredient: Ingredient) -> str:
    assert ingredient.colour is not None  # only dubbings of one known shade are blended
    return ingredient.colour.hexes[0]


@lru_cache(maxsize=1 << 16)
def _best_share(
    wanted: str, shades: tuple[str, ...], within: float
) -> tuple[tuple[int, ...], str] | None:
    """Return the parts by weight and the shade of the nearest blend, or None when none serves."""
    alone = min([delta_e(wanted, shade) for shade in shades])
    reach = min(within, alone - _NEARER_BY)
    nearest: tuple[tuple[int, ...], str] | None = None
    if reach <= 0.0 or len(set(shades)) == 1:
        return None
    for parts in RATIOS[len(shades)]:
        if _is_hopeless(wanted, shades, parts) or not may_reach(wanted, shades, reach, parts):
            continue
        blend = blend_shade(shades, parts)
        apart = delta_e(wanted, blend)
        if apart < reach or apart == reach == within:
            nearest, reach = (parts, blend), apart
    return nearest


def _is_hopeless(wanted: str, shades: Sequence[str], parts: Sequence[int]) -> bool:
    whole = sum(parts)
    middle = [
        sum(share * channel for share, channel in zip(parts, channels, strict=True)) / whole
        for channels in zip(*(lab(shade) for shade in shades), strict=True)
    ]
    return dist(lab(wanted), middle) > _HOPELESS


def _batch(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    several: Sequence[Stuff],
    parts: tuple[int, ...],
    shade: str,
) -> CandidateBatch:
    """Return the batch of a blend; its cost is summed now, its words only when it is looked at."""
    style = builder.style.id
    wanted = part.ingredients[0]
    colour = _blended(wanted, parts, shade)
    cost = 0
    for stuff, share in zip(several, parts, strict=True):
        own = _material_costs(builder, part, stuff)
        cost += weighted_cost(own, style_part.weight * share / sum(parts))
    likeness = builder.rulebook.likeness
    shade_costs = likeness.colour_costs(wanted.colour, colour, part.id, style, wanted.material.kind)
    trouble = _trouble(builder, len(several))
    cost += weighted_cost(shade_costs, style_part.weight) + round(trouble * style_part.weight)
    return CandidateBatch(
        cost, partial(_blends, builder, part, style_part, several, parts, colour, cost)
    )


def _blended(wanted: Ingredient, parts: tuple[int, ...], shade: str) -> Colour:
    return Colour(
        id=shade.lower(),
        name=f"blended {_ratio(parts)}",
        family=wanted.colour.family if wanted.colour else "",
        hexes=(shade,),
        source="computed",
    )


def _ratio(parts: Sequence[int]) -> str:
    return ":".join(map(str, parts))


def _material_costs(builder: DomainBuilder, part: Part, stuff: Stuff) -> tuple[int, ...]:
    return builder.material_costs(part, part.ingredients[0], stuff.ingredient.material)


def _material_terms(builder: DomainBuilder, part: Part, stuff: Stuff) -> tuple[Term, ...]:
    return builder.material_terms(part, part.ingredients[0], stuff.ingredient.material)


def _terms(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    several: Sequence[Stuff],
    parts: tuple[int, ...],
    colour: Colour,
) -> tuple[Term, ...]:
    wanted = part.ingredients[0]
    terms: list[Term] = []
    for stuff, share in zip(several, parts, strict=True):
        own = _material_terms(builder, part, stuff)
        terms += weighted(own, style_part.weight * share / sum(parts))
    apart = delta_e(_shade_of(wanted), colour.hexes[0])
    says = (
        f"{_NUMBERS[len(several)]} dubbings blended {_ratio(parts)} by weight,"
        f" within dE {apart:.1f} of the shade wanted"
    )
    trouble = _trouble(builder, len(several))
    blend_term = Term("blend", trouble, says, "conventions: blend_trouble, blend_within")
    likeness = builder.rulebook.likeness
    shade_terms = likeness.colour(
        wanted.colour, colour, part.id, builder.style.id, wanted.material.kind
    )
    return (*terms, *weighted((*shade_terms, blend_term), style_part.weight))


def _blends(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    several: Sequence[Stuff],
    parts: tuple[int, ...],
    colour: Colour,
    cost: int,
) -> list[Candidate]:
    terms = partial(_terms, builder, part, style_part, several, parts, colour)
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
            cost,
        )
        for chosen in product(*(stuff.lots for stuff in several))
    ]
