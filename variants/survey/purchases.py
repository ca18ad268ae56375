"""What to buy: the purchases that make most of a book tieable, each worked out by solving again.

A book, a box and the wishes of a survey come in; ranked purchases come out, alone and in sets. What
may be bought is what the dressings of the book write, each in its colour and hooks in their size,
and a lawful stand-in for what may not be had freely.

Notes
-----
*One purchase is exact*: every purchase that could matter to a dressing is tried by solving the
dressing again with it. It is passed over only where it cannot matter: a variant that is new has it
in one of the parts that it can serve, so it departs at least what the purchase costs there, and
what the rest of the fly, taken by itself, departs at least; if that is no less than the closest
variant departs already, nothing is gained.

*Sets are tried by a stated method*: all sets of the best single purchases (`AMONG_BEST` of them),
and for each dressing the things that its own closest variant changes, when they are few enough.
Each set that is tried is worked out exactly.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

from variants.explain.instead import Asked, find_instead
from variants.model import Box, Dressing, Ingredient, Item, Part
from variants.problem import (
    DesignProblem,
    Lot,
    Stock,
    build_problem,
    filled_domain,
    stock_of,
    weighted_sum,
)
from variants.rulebook import Equal, Rulebook
from variants.search import search
from variants.survey.survey import Wishes

#: Sets are made of so many of the best single purchases.
AMONG_BEST = 8
HOOK = "hook"
#: Hears how many of how many steps are done.
Progress = Callable[[int, int], None]
#: A departure that nothing reaches: of a dressing that can't be tied.
_NEVER = 1 << 40


@dataclass(frozen=True, slots=True)
class Offer:
    """Something to buy.

    Attributes
    ----------
    ingredient : Ingredient
    size : int or None
        Of a hook.
    stands_for : str
        Trade name of what it stands in for, where that may not be had freely; empty otherwise.
    price : float or None
    """

    ingredient: Ingredient
    size: int | None = None
    stands_for: str = ""
    price: float | None = None

    @property
    def key(self) -> tuple[str, ...]:
        """A stable key."""
        return (*self.ingredient.key, str(self.size or ""))

    @property
    def words(self) -> str:
        """What to ask for in the shop."""
        sized = "" if self.size is None else f", size {self.size}"
        return f"{self.ingredient.words}{sized}"


@dataclass(frozen=True, slots=True)
class Gain:
    """What one purchase, or several together, do for the book.

    Attributes
    ----------
    offers : tuple of Offer
    opened : tuple of str
        Names of dressings that could not be tied, or departed too far, and now can.
    as_written : tuple of str
        Names of dressings that can now be tied as written.
    saved : int
        Thousandths: by how much the departure of the dressings that could be tied falls in sum.
    """

    offers: tuple[Offer, ...]
    opened: tuple[str, ...]
    as_written: tuple[str, ...]
    saved: int

    @property
    def price(self) -> float | None:
        """What it costs in all; None when a price is not known."""
        prices = [one.price for one in self.offers]
        return None if None in prices else sum(price for price in prices if price is not None)

    @property
    def rank(self) -> tuple[object, ...]:
        """Best first: dressings opened, tied as written, departure saved; then price and name."""
        return (
            -len(self.opened),
            -len(self.as_written),
            -self.saved,
            self.price if self.price is not None else float("inf"),
            [one.key for one in self.offers],
        )


@dataclass(frozen=True, slots=True)
class Purchases:
    """The answer.

    Attributes
    ----------
    single : tuple of Gain
        Every purchase that gains anything, best first.
    sets : tuple of Gain
        Sets that gain more than the best of their smaller sets, best first.
    unpriced : int
        Purchases left out because a budget was set and no price of them is known.
    """

    single: tuple[Gain, ...]
    sets: tuple[Gain, ...]
    unpriced: int = 0


@dataclass
class _Case:
    """One dressing and how it stands with the box as it is."""

    dressing: Dressing
    design: DesignProblem
    departure: int
    least: dict[str, int]
    changed: tuple[str, ...] = ()
    costs: dict[tuple[str, ...], dict[str, int]] = field(default_factory=dict)
    rest: dict[frozenset[str], int] = field(default_factory=dict)


def find_purchases(
    dressings: Sequence[Dressing],
    box: Box,
    rulebook: Rulebook,
    wishes: Wishes | None = None,
    *,
    at_most: int | None = None,
    largest_set: int = 1,
    prices: Mapping[tuple[str, ...], float] | None = None,
    budget: float | None = None,
    progress: Progress | None = None,
) -> Purchases:
    """Return what to buy.

    Parameters
    ----------
    dressings, box, rulebook, wishes
        As for a survey.
    at_most : int, optional
        Thousandths: what departs more counts as not tieable.
    largest_set : int
        1 for single purchases alone; 2 or 3 for sets as well.
    prices : mapping, optional
        By `Offer.key`.
    budget : float, optional
        Nothing dearer in all is proposed.
    progress : callable, optional
    """
    shop = _Shop(dressings, box, rulebook, wishes or Wishes(), at_most)
    offers = _offers(dressings, shop.rulebook, shop.wishes, prices or {})
    unpriced = 0
    if budget is not None:
        unpriced = sum(one.price is None for one in offers)
        offers = [one for one in offers if one.price is not None and one.price <= budget]
    single: list[Gain] = []
    for done, offer in enumerate(offers, start=1):
        gain = shop.gain((offer,))
        if gain is not None:
            single.append(gain)
        if progress is not None:
            progress(done, len(offers))
    single.sort(key=lambda one: one.rank)
    sets = _sets(shop, single, offers, largest_set, budget) if largest_set > 1 else []
    return Purchases(tuple(single), tuple(sets), unpriced)


def _offers(
    dressings: Iterable[Dressing],
    rulebook: Rulebook,
    wishes: Wishes,
    prices: Mapping[tuple[str, ...], float],
) -> list[Offer]:
    """Return everything that the book asks for, each once, in the order of its keys."""
    found: dict[tuple[str, ...], Offer] = {}
    for dressing in dressings:
        for part in dressing.parts:
            for offer in _offers_for(dressing, part, rulebook, wishes):
                found.setdefault(offer.key, offer)
    return [
        Offer(one.ingredient, one.size, one.stands_for, prices.get(key, prices.get(key[:1])))
        for key, one in sorted(found.items())
    ]


def _offers_for(
    dressing: Dressing, part: Part, rulebook: Rulebook, wishes: Wishes
) -> Iterator[Offer]:
    if part.id == HOOK:
        for size in wishes.sizes or dressing.sizes:
            yield Offer(Ingredient(part.ingredients[0].material), size)
        return
    for ingredient in part.ingredients:
        material = ingredient.material
        natural = material.natural_colour
        colour = ingredient.colour or (rulebook.trade.colours.get(natural) if natural else None)
        if not material.caution and material.id not in wishes.missing:
            yield Offer(Ingredient(material, colour))
            continue
        asked = Asked(material, part.id, dressing.style, ingredient.colour)
        for answer in find_instead(rulebook.likeness, asked).answers:
            first = answer.first
            if not first.material.caution and first.material.id not in wishes.missing:
                shade = next(iter(first.colours), colour)
                yield Offer(Ingredient(first.material, shade), None, material.name)
                break


class _Shop:
    """The book and the box, ready to be solved again with something bought."""

    def __init__(
        self,
        dressings: Sequence[Dressing],
        box: Box,
        rulebook: Rulebook,
        wishes: Wishes,
        at_most: int | None,
    ) -> None:
        self.rulebook, self.wishes, self.at_most = rulebook, wishes, at_most
        self.box = box
        self.stock = stock_of(box, wishes.missing)
        self.cases = [self._case(dressing) for dressing in dressings]

    def _case(self, dressing: Dressing) -> _Case:
        request = self.wishes.request(dressing, self.box)
        design = build_problem(request, self.rulebook, self.stock)
        found = search(design, 1).variants
        least = {
            part: cost if (cost := domain.cost(0)) is not None else _NEVER  # type: ignore[attr-defined]
            for part, domain in design.domains.items()
        }
        if not found:
            return _Case(dressing, design, _NEVER, least, tuple(design.empty_parts))
        return _Case(dressing, design, found[0].departure, least, found[0].changed)

    def is_tieable(self, departure: int) -> bool:
        """Tell whether a departure counts as tieable."""
        return departure < _NEVER and (self.at_most is None or departure <= self.at_most)

    def gain(self, offers: tuple[Offer, ...]) -> Gain | None:
        """Return what purchases do for the book; None when they do nothing."""
        lots = [_lot(offer, number) for number, offer in enumerate(offers)]
        stock = Stock((*self.stock.lots, *lots))
        opened, as_written, saved = [], [], 0
        for case in self.cases:
            if len(offers) == 1:
                departure = self._with_one(case, offers[0], lots[0], stock)
            else:
                departure = self._with_several(case, offers, stock)
            if departure >= case.departure:
                continue
            if self.is_tieable(departure) and not self.is_tieable(case.departure):
                opened.append(case.dressing.name)
            if departure == 0:
                as_written.append(case.dressing.name)
            if case.departure < _NEVER:
                saved += case.departure - departure
        if not opened and not saved:
            return None
        return Gain(offers, tuple(opened), tuple(as_written), saved)

    def _with_one(self, case: _Case, offer: Offer, lot: Lot, stock: Stock) -> int:
        """Return what the closest variant departs with one purchase in the box."""
        costs = self._costs(case, offer)
        if len(costs) != 1:
            # It may be in several parts at once: all of the fly is found anew.
            is_far = self._floor(case, costs) >= case.departure
            return case.departure if is_far else self._anew(case, stock)
        ((part, cost),) = costs.items()
        # Told cheaply first, then by the rest of the fly, worked out once for each part.
        if sum(case.least.values()) - case.least[part] + cost >= case.departure:
            return case.departure
        rest = self._rest(case, frozenset({part}))
        if rest + cost >= case.departure:
            return case.departure
        alone = not self._goes_with_others(case, part, offer)
        domain = filled_domain(case.design, part, Stock((lot,)) if alone else stock)
        nearest = domain.cost(0)
        if nearest is None or (alone and rest + nearest >= case.departure):
            return case.departure
        domains = {**case.design.domains, part: domain}
        found = search(replace(case.design, domains=domains), 1).variants
        return min(case.departure, found[0].departure) if found else case.departure

    def _floor(self, case: _Case, costs: Mapping[str, int]) -> int:
        """Return what no variant is below that has a purchase in one or more of some parts."""
        if not costs:
            return _NEVER
        either = {part: min(cost, case.least[part]) for part, cost in costs.items()}
        extra = min(cost - either[part] for part, cost in costs.items())
        return self._rest(case, frozenset(costs)) + sum(either.values()) + extra

    def _anew(self, case: _Case, stock: Stock) -> int:
        design = build_problem(case.design.request, self.rulebook, stock)
        found = search(design, 1).variants
        return min(case.departure, found[0].departure) if found else case.departure

    def _rest(self, case: _Case, parts: frozenset[str]) -> int:
        """Return what the rest of a fly departs at least, whatever fills some parts."""
        if parts not in case.rest:
            design = case.design
            others = {name: one for name, one in design.domains.items() if name not in parts}
            constraints = tuple(one for one in design.constraints if not parts & set(one.parts))
            found = search(replace(design, domains=others, constraints=constraints), 1).variants
            case.rest[parts] = found[0].departure if found else _NEVER
        return case.rest[parts]

    def _with_several(self, case: _Case, offers: Sequence[Offer], stock: Stock) -> int:
        """Return what the closest variant departs with several purchases in the box."""
        least = dict(case.least)
        for offer in offers:
            for part, cost in self._costs(case, offer).items():
                least[part] = min(least[part], cost)
        if sum(least.values()) >= case.departure:
            return case.departure
        return self._anew(case, stock)

    def _costs(self, case: _Case, offer: Offer) -> dict[str, int]:
        """Return what a purchase costs at least in each part that it can serve."""
        if offer.key not in case.costs:
            found = offer.ingredient.material
            parts = self.rulebook.trade.parts
            case.costs[offer.key] = {
                part.id: self._least(case, part, offer)
                for part in case.dressing.parts
                if found.functions & parts[part.id].functions
            }
        return case.costs[offer.key]

    def _least(self, case: _Case, part: Part, offer: Offer) -> int:
        """Return a departure that no filling of a part with a purchase is below."""
        # In a mix or a blend it has only a share of the part.
        if part.id == HOOK or self._goes_with_others(case, part.id, offer):
            return 0
        style = self.rulebook.trade.styles[case.dressing.style]
        kind = style.part(part.id)
        terms = self.rulebook.likeness.material(
            part.ingredients[0].material, offer.ingredient.material, part.id, style.id
        )
        return weighted_sum(terms, kind.weight) if kind is not None else 0

    def _goes_with_others(self, case: _Case, part_id: str, offer: Offer) -> bool:
        """Tell whether a purchase may fill a part together with what the box holds."""
        part = case.dressing.part(part_id)
        if part is None or len(part.ingredients) > 1:
            return True
        if offer.ingredient.material.kind in self.rulebook.conventions.blended:
            return True
        colour = offer.ingredient.colour
        return colour is not None and any(
            colour.id in rule.mixed
            for rule in case.design.rules
            if isinstance(rule, Equal) and rule.part == part_id
        )


def _lot(offer: Offer, number: int) -> Lot:
    item = Item(
        f"bought {number}",
        offer.ingredient.material,
        offer.ingredient.colour,
        sizes=None if offer.size is None else (offer.size,),
    )
    return Lot(Ingredient(item.material, item.colour), (item,), None)


def _sets(
    shop: _Shop,
    single: Sequence[Gain],
    offers: Sequence[Offer],
    largest: int,
    budget: float | None,
) -> list[Gain]:
    best = [one.offers[0] for one in single[:AMONG_BEST]]
    chosen: dict[tuple[tuple[str, ...], ...], tuple[Offer, ...]] = {}
    for size in range(2, largest + 1):
        for several in combinations(best, size):
            ordered = tuple(sorted(several, key=lambda one: one.key))
            chosen[tuple(one.key for one in ordered)] = ordered
    for case in shop.cases:
        own = _wanting(case, shop, offers)
        if 2 <= len(own) <= largest:
            chosen[tuple(one.key for one in own)] = own
    alone = {one.offers[0].key: one for one in single}
    found = []
    for several in chosen.values():
        if budget is not None and sum(one.price or 0.0 for one in several) > budget:
            continue
        gain = shop.gain(several)
        if gain is not None and _works_together(gain, alone):
            found.append(gain)
    return sorted(found, key=lambda one: (one.rank[:3], len(one.offers), one.rank[3:]))


def _wanting(case: _Case, shop: _Shop, offers: Sequence[Offer]) -> tuple[Offer, ...]:
    """Return the purchases that a dressing's changed or empty parts ask for."""
    known = {one.key: one for one in offers}
    wanted = [
        known[offer.key]
        for name in case.changed
        if (part := case.dressing.part(name)) is not None
        for offer in _offers_for(case.dressing, part, shop.rulebook, shop.wishes)
        if offer.key in known and (offer.size is None or offer.size == case.dressing.size)
    ]
    return tuple(sorted({one.key: one for one in wanted}.values(), key=lambda one: one.key))


def _works_together(gain: Gain, alone: Mapping[tuple[str, ...], Gain]) -> bool:
    """Tell whether a set does more than its purchases do one by one."""
    parts = [alone[one.key] for one in gain.offers if one.key in alone]
    opened = {name for one in parts for name in one.opened}
    written = {name for one in parts for name in one.as_written}
    if set(gain.opened) - opened or set(gain.as_written) - written:
        return True
    return not opened and gain.saved > sum(one.saved for one in parts)
