"""What purchases do for a book: what they open, what they bring nearer, how they rank.

Departures of each dressing with and without a purchase come in; gains come out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from variants.design.search import Closest
from variants.survey.lower_bounds import NEVER
from variants.survey.offers import Offer

#: What tells purchases apart: the keys of their offers.
Keys = tuple[tuple[str, ...], ...]


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
    brought_nearer : tuple of str
        Names of all dressings that depart less, or can be tied at all.
    nearer : tuple of (int, Closest)
        The same by their places in the book, and how they would then be tied.
    """

    offers: tuple[Offer, ...]
    opened: tuple[str, ...]
    as_written: tuple[str, ...]
    saved: int
    brought_nearer: tuple[str, ...] = ()
    nearer: tuple[tuple[int, Closest], ...] = ()

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
class Prospect:
    """One dressing of the book: what it departs now, and with each purchase that brings it nearer.

    Attributes
    ----------
    name : str
    departure : int
        Thousandths; `NEVER` where it can't be tied.
    changed : tuple of str
        Parts that the closest variant changes, or that nothing in the box can be.
    with_bought : mapping of Keys to Closest
        Only those that depart less.
    """

    name: str
    departure: int
    changed: tuple[str, ...]
    with_bought: Mapping[Keys, Closest]

    def saved(self, after: int) -> int:
        """Return by how much a departure falls; nothing where the dressing could not be tied."""
        return self.departure - after if self.departure < NEVER else 0


def gain_of(
    offers: tuple[Offer, ...], prospects: Sequence[Prospect], at_most: int | None
) -> Gain | None:
    """Return what purchases do for the book; None when they do nothing.

    Parameters
    ----------
    offers : tuple of Offer
    prospects : sequence of Prospect
        Of each dressing, in the order of the book.
    at_most : int or None
        Thousandths: what departs more counts as not tieable.
    """
    keys = tuple(one.key for one in offers)
    found = {
        place: closest
        for place, prospect in enumerate(prospects)
        if (closest := prospect.with_bought.get(keys)) is not None
    }
    return gain_from(offers, found, prospects, at_most)


def gain_from(
    offers: tuple[Offer, ...],
    found: Mapping[int, Closest],
    prospects: Sequence[Prospect],
    at_most: int | None,
) -> Gain | None:
    """Return what purchases do, given the closest variant of each dressing that they bring nearer.

    ``found`` is by the dressings' places in the book.
    """
    opened, as_written, nearer, saved = [], [], [], 0
    for place in sorted(found):
        prospect, closest = prospects[place], found[place]
        before, after = prospect.departure, closest.departure
        nearer.append((prospect.name, place, closest))
        if is_tieable(after, at_most) and not is_tieable(before, at_most):
            opened.append(prospect.name)
        if after == 0:
            as_written.append(prospect.name)
        saved += prospect.saved(after)
    if not opened and not saved:
        return None
    names = tuple(name for name, _, _ in nearer)
    places = tuple((place, closest) for _, place, closest in nearer)
    return Gain(offers, tuple(opened), tuple(as_written), saved, names, places)


def is_tieable(departure: int, at_most: int | None) -> bool:
    """Tell whether a departure counts as tieable."""
    return departure < NEVER and (at_most is None or departure <= at_most)
