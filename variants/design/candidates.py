"""What may fill each part: from the box, two together, one for two, or nothing at all.

Domains are complete: every lot of the box whose material may serve the part (`serving`) stands in
it, though it is made into a candidate only when somebody comes to it. What is wrong for the fly is
for the rules to say, and what a place needs is part of the departure, so that a "no" can be
explained.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, partial

from variants.design.attributes_of import (
    is_of_stated_size,
    lot_attributes,
    written_attributes,
)
from variants.design.blends import find_blends
from variants.design.departure import Nearness, ingredient_terms, left_out_term
from variants.design.domain import AnyBatch, CandidateBatch, Domain, DuplicateFilter
from variants.design.dress import counts_of, dress, pieces_taken, share_taken
from variants.design.hooks import as_written_hook, hook_candidates
from variants.design.mixes import StuffKey, find_mixes, find_mixes_for_one
from variants.design.request import Request
from variants.design.serving import serving
from variants.design.singles import find_singles
from variants.design.stock import Lot, Stock, Stuff
from variants.model import (
    HOOK,
    Attributes,
    Candidate,
    Dressing,
    Ingredient,
    Material,
    Part,
    Style,
    StylePart,
    Term,
    Value,
    Way,
)
from variants.rulebook import ITEM_ATTRIBUTES, Count, Equal, Rule, Rulebook, item_attributes


@dataclass(frozen=True)
class DomainBuilder:
    """Builds the domains of one request.

    Attributes
    ----------
    rulebook : Rulebook
    request : Request
    style : Style
    rules : tuple of Rule
        Those that speak about the style on the water.
    stock : Stock
    """

    rulebook: Rulebook
    request: Request
    style: Style
    rules: tuple[Rule, ...]
    stock: Stock

    @property
    def base(self) -> Dressing:
        """The dressing asked for."""
        return self.request.base

    def domain(self, part: Part) -> Domain:
        """Return all candidates for a part of the dressing, made as far as they are looked at."""
        style_part = self.style.part(part.id)
        assert style_part is not None  # the reader refuses parts that the style lacks
        batches: list[AnyBatch] = []
        if part.id == HOOK:
            hooks = hook_candidates(part, style_part, self.stock, self.request, self.rulebook)
            batches += [CandidateBatch(hook.cost, partial(tuple, [hook])) for hook in hooks]
        else:
            batches += self._each_way(part, style_part)
            if part.may_go or (style_part.optional and not part.signature):
                left_out = self._left_out(part, style_part)
                batches.append(CandidateBatch(left_out.cost, partial(tuple, [left_out])))
        return Domain(batches, self._let_in(part), self._most(part))

    def filled(self, part: Part, with_any: Container[StuffKey] | None = None) -> Domain:
        """Return only the candidates that fill a part from the stock; it is not left out.

        ``with_any`` spares those, blends excepted, that are made of none of these stuffs.
        """
        style_part = self.style.part(part.id)
        assert style_part is not None  # the reader refuses parts that the style lacks
        if part.id == HOOK:
            return self.domain(part)
        batches = self._each_way(part, style_part, with_any)
        return Domain(batches, self._let_in(part), self._most(part))

    def is_scarce(self, part: Part) -> bool:
        """Tell whether something that could fill a part is of few pieces."""
        return any(stuff.is_scarce for way in part.ways for stuff in self._serving(way))

    def equals(self, part: Part) -> tuple[Equal, ...]:
        """Return the rules by which one stuff does the work of two in a part."""
        return self._equals_by_part.get(part.id, ())

    @cached_property
    def _equals_by_part(self) -> dict[str, tuple[Equal, ...]]:
        found: dict[str, tuple[Equal, ...]] = {}
        for rule in self.rules:
            if isinstance(rule, Equal):
                found[rule.part] = (*found.get(rule.part, ()), rule)
        return found

    def as_written(self, part: Part) -> Candidate:
        """Return the part as the dressing writes it, whether or not the box holds it."""
        if part.id == HOOK:
            return as_written_hook(part, self.request, self.rulebook)
        dressed = self._dressed(part, self._written(part))
        return Candidate(
            part.id,
            Way.AS_WRITTEN,
            part.ingredients,
            (),
            dressed,
            key=tuple(word for ingredient in part.ingredients for word in ingredient.key),
            share=self._share(part, dressed, part.ingredients, 1),
        )

    def _each_way(
        self, part: Part, style_part: StylePart, with_any: Container[StuffKey] | None = None
    ) -> Iterator[AnyBatch]:
        """Yield what the box offers for each way in which the author allows a part."""
        for way in part.ways:
            yield from self._from_box(way, style_part, with_any)

    def _let_in(self, part: Part) -> Callable[[Candidate], bool] | None:
        """Return what tells which candidates a part's domain lets in; None for all of them."""
        # Hooks are held against every way at once, each in each of its sizes.
        is_several = part.alternatives and part.id != HOOK
        once = DuplicateFilter(part.ways) if is_several else None
        if part.id not in self.request.keep:
            return once
        return lambda one: not one.is_changed and (once is None or once(one))

    def _most(self, part: Part) -> int | None:
        """Return what a candidate may cost at most: what is as written, hooks aside, is free."""
        return 0 if part.id in self.request.keep and part.id != HOOK else None

    def _from_box(
        self, part: Part, style_part: StylePart, with_any: Container[StuffKey] | None = None
    ) -> Iterator[AnyBatch]:
        yield from find_singles(self, part, style_part, with_any)
        stuffs = self._serving(part)
        if len(part.ingredients) > 1:
            yield from find_mixes(self, part, style_part, stuffs, with_any)
        else:
            yield from find_mixes_for_one(self, part, style_part, stuffs, with_any)
            yield from find_blends(self, part, style_part, stuffs)

    def by_material(self, part: Part) -> list[list[Stuff]]:
        """Return the box's stuffs that may be tried in a part, the colours of one together."""
        return serving(self.stock, part, self.style.id, self.rulebook.likeness)

    def _serving(self, part: Part) -> list[Stuff]:
        return [stuff for own in self.by_material(part) for stuff in own]

    def terms(self, part: Part, wanted: Ingredient, found: Ingredient) -> tuple[Term, ...]:
        """Return the terms, not yet weighted, of one stuff in another's place."""
        return ingredient_terms(self.rulebook.likeness, wanted, found, part.id, self.style.id)

    def near(self, part: Part, wanted: Ingredient, weight: float | None = None) -> Nearness:
        """Return what tells how far stuff stands from one of a part's ingredients.

        In a part of that weight; by default of the weight that the style gives it.
        """
        key = (part.id, wanted.key, weight)
        near = self._near.get(key)
        if near is None:
            if weight is None:
                style_part = self.style.part(part.id)
                assert style_part is not None  # the reader refuses parts that the style lacks
                weight = style_part.weight
            likeness = self.rulebook.likeness
            near = self._near[key] = Nearness(likeness, wanted, part.id, self.style.id, weight)
        return near

    @cached_property
    def _near(self) -> dict[tuple[str, tuple[str, str], float | None], Nearness]:
        return {}

    def material_terms(self, part: Part, wanted: Ingredient, found: Material) -> tuple[Term, ...]:
        """Return the terms, not yet weighted, of the material alone."""
        return self.rulebook.likeness.material(wanted.material, found, part.id, self.style.id)

    def material_costs(self, part: Part, wanted: Ingredient, found: Material) -> tuple[int, ...]:
        """Return what each of the terms of the material alone costs."""
        return self.rulebook.likeness.material_costs(wanted.material, found, part.id, self.style.id)

    def _left_out(self, part: Part, style_part: StylePart) -> Candidate:
        return Candidate(
            part.id,
            Way.AS_WRITTEN if part.may_go else Way.LEFT_OUT,
            (),
            (),
            {},
            () if part.may_go else (left_out_term(self.rulebook.conventions, style_part),),
            ("~",),  # after every name
        )

    def candidate(
        self,
        part: Part,
        way: Way,
        lots: Sequence[Lot],
        terms: tuple[Term, ...] | Callable[[], tuple[Term, ...]],
        attributes: Attributes,
        cost: int | None = None,
    ) -> Candidate:
        """Return a candidate made of lots, dressed as this part."""
        found = [lot.ingredient for lot in lots]
        dressed = self._dressed(part, attributes, found)
        uses = pieces_taken(dressed, self._counts(part), len(found))
        return Candidate(
            part.id,
            _way(way, dressed),
            tuple(found),
            tuple(lot.items for lot in lots),
            dressed,
            terms,
            tuple(word for lot in lots for word in lot.key),
            uses,
            cost,
            self._share(part, dressed, found, uses),
        )

    def single(
        self,
        part: Part,
        lot: Lot,
        way: Way,
        dressed: Attributes,
        terms: Callable[[], tuple[Term, ...]],
        cost: int,
    ) -> Candidate:
        """Return a candidate of one lot, of whose stuff it is known how it is dressed."""
        counts = self._counts(part)
        own = item_attributes(lot.item, self.rulebook.gauge)
        if own:
            dressed = {**dressed, **own}
            if counts and self._counts_see_items(part):
                attributes = lot_attributes(lot, self.rulebook)
                dressed = self._dressed(part, attributes, [lot.ingredient])
        uses = pieces_taken(dressed, counts, 1) if counts else 1
        share = self._share(part, dressed, [lot.ingredient], uses)
        return Candidate(
            part.id,
            _way(way, dressed),
            (lot.ingredient,),
            (lot.items,),
            dressed,
            terms,
            lot.key,
            uses,
            cost,
            share,
        )

    def _share(
        self, part: Part, dressed: Attributes, found: Sequence[Ingredient], uses: int
    ) -> Fraction | None:
        """Return the share of a feather that a part takes; None where it takes whole ones."""
        if uses > 1:
            return None
        kind, conventions = found[0].material.kind, self.rulebook.conventions
        return share_taken(
            self.rulebook.trade.part_kind(part.id), kind, dressed, len(found), conventions
        )

    def dressed_stuff(self, part: Part, stuff: Stuff) -> Attributes:
        """Return what rules read of a stuff as this part, whichever item it is."""
        return self._dressed(part, stuff.attributes, [stuff.ingredient])

    def _counts_see_items(self, part: Part) -> bool:
        """Tell whether how many turns are wound depends on what items have of their own."""
        return any(
            not ITEM_ATTRIBUTES.isdisjoint(rule.reads[part.id]) for rule in self._counts(part)
        )

    def _dressed(
        self, part: Part, attributes: Attributes, found: Sequence[Ingredient] = ()
    ) -> dict[str, Value]:
        found = found or part.ingredients
        counts, tied = self._counts(part), self._tied[part.id]
        return dress(part, attributes, found, self._written(part), counts, tied)

    def _written(self, part: Part) -> Attributes:
        key = part.id, tuple([one.key for one in part.ingredients])
        if key not in self._written_by_make:
            self._written_by_make[key] = written_attributes(part)
        return self._written_by_make[key]

    @cached_property
    def _written_by_make(self) -> dict[tuple[str, tuple[tuple[str, str], ...]], Attributes]:
        return {}

    def _counts(self, part: Part) -> tuple[Count, ...]:
        if part.id not in self._counts_by_part:
            self._counts_by_part[part.id] = counts_of(part, self.rules)
        return self._counts_by_part[part.id]

    @cached_property
    def _counts_by_part(self) -> dict[str, tuple[Count, ...]]:
        return {}

    @cached_property
    def _tied(self) -> dict[str, int]:
        """Place in the tying order by part."""
        return self.style.tying_order


def _way(way: Way, dressed: Attributes) -> Way:
    """Return how stuff fills a part: of another size than the dressing states, in its place."""
    return Way.SUBSTITUTE if way is Way.AS_WRITTEN and not is_of_stated_size(dressed) else way
