"""What to buy, on a terminal and as JSON."""

from __future__ import annotations

from typing import Any

from variants.survey.purchases import Gain, Offer, Purchases
from variants.views.columns import wrap
from variants.views.words import counted, departure, listed, printable

WIDTH = 80
VERSION = 1
#: So many names of dressings are told for each purchase.
_NAMES = 4


def purchase_lines(found: Purchases, book: int, best: int) -> list[str]:
    """Return the answer.

    Parameters
    ----------
    found : Purchases
    book : int
        How many dressings were looked at.
    best : int
        How many lines of each kind are shown.
    """
    if not found.single and not found.sets:
        return [f"Nothing that could be bought brings any of {counted(book, 'dressing')} nearer."]
    lines = ["One purchase", "  Opens  As written  Saves   Price  What"]
    for gain in found.single[:best]:
        lines += _gain_lines(gain)
    if found.sets:
        lines += ["", "Several that work together", "  Opens  As written  Saves   Price  What"]
        for gain in found.sets[:best]:
            lines += _gain_lines(gain)
    told = (
        "Opens: dressings that could not be tied, or departed too far, and now can."
        " As written: dressings that can now be tied as written. Saves: how much less the"
        f" others depart, in sum, over {counted(book, 'dressing')}."
        " Single purchases are exact; sets are made of the best single ones, and of what single"
        " dressings want."
    )
    lines += ["", *wrap(told, WIDTH)]
    if found.unpriced:
        left = f"{counted(found.unpriced, 'purchase')} without a known price left out."
        lines += wrap(left, WIDTH)
    return lines


def _gain_lines(gain: Gain) -> list[str]:
    price = "" if gain.price is None else f"{gain.price:.2f}"
    head = (
        f"  {len(gain.opened):>5}  {len(gain.as_written):>10}  {departure(gain.saved):>5}"
        f"  {price:>6}  "
    )
    told = " with ".join(_offer_words(one) for one in gain.offers)
    names = list(dict.fromkeys([*gain.opened, *gain.as_written]))
    if names:
        shown = [printable(name) for name in names[:_NAMES]]
        rest = len(names) - len(shown)
        told += f": {listed([*shown, f'{rest} more'] if rest else shown)}"
    return wrap(told, WIDTH, initial_indent=head, subsequent_indent=" " * (len(head) + 2))


def _offer_words(offer: Offer) -> str:
    told = printable(offer.words)
    return f"{told} (stands for {printable(offer.stands_for)})" if offer.stands_for else told


def purchases_json(found: Purchases) -> dict[str, Any]:
    """Return the answer in its documented JSON shape."""
    return {
        "version": VERSION,
        "single": [_gain_json(one) for one in found.single],
        "sets": [_gain_json(one) for one in found.sets],
        "unpriced": found.unpriced,
    }


def _gain_json(gain: Gain) -> dict[str, Any]:
    return {
        "purchases": [
            {
                "material": one.ingredient.material.id,
                "colour": one.ingredient.colour.id if one.ingredient.colour else None,
                "size": one.size,
                "stands_for": one.stands_for or None,
                "price": one.price,
            }
            for one in gain.offers
        ],
        "opened": list(gain.opened),
        "as_written": list(gain.as_written),
        "saved": gain.saved / 1000,
        "price": gain.price,
    }
