"""What to buy, on a terminal and as JSON."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil, inf
from typing import Any

from variants.explain.wording import departure_words, join_words, part_name, pluralize
from variants.geometry.targets import gauge_size, will_do
from variants.rulebook import LENGTH, Rulebook
from variants.survey.purchases import Gain, Offer, Purchases
from variants.survey.wants import Spread, Want
from variants.text import printable
from variants.views.amounts import taken_words
from variants.views.columns import wrap
from variants.views.shopping import PINCH_MG

VERSION = 2
#: Before what is to be asked for of a purchase.
_INDENT = " " * 10
#: So many names of dressings are told for each purchase.
_NAMES = 4
#: What a gain asks for of each thing that it buys.
Wanted = Callable[[Gain], list[Want]]


def purchase_lines(
    found: Purchases, book: int, best: int, rulebook: Rulebook, wanted: Wanted
) -> list[str]:
    """Return the answer.

    Parameters
    ----------
    found : Purchases
    book : int
        How many dressings were looked at.
    best : int
        How many lines of each kind are shown.
    rulebook : Rulebook
    wanted : callable
        Tells what a gain asks for of each thing that it buys.
    """
    if not found.single and not found.sets:
        money = "" if found.budget is None else f" for {found.budget:.2f}"
        dressings = pluralize(book, "dressing")
        told = f"Nothing that could be bought{money} brings any of {dressings} nearer."
        return [*wrap(told), *_unpriced_lines(found)]
    lines = ["One purchase", "  Opens  As written  Saves   Price  What"]
    for gain in found.single[:best]:
        lines += _gain_lines(gain, rulebook, wanted)
    if found.basket is not None:
        cost = f"The best for the money, {found.basket.price or 0.0:.2f} in all"
        lines += ["", cost, "  Opens  As written  Saves   Price  What"]
        lines += _gain_lines(found.basket, rulebook, wanted)
    if found.sets:
        lines += ["", "Several that work together", "  Opens  As written  Saves   Price  What"]
        for gain in found.sets[:best]:
            lines += _gain_lines(gain, rulebook, wanted)
    told = (
        "Opens: dressings that could not be tied, or departed too far, and now can."
        " As written: dressings that can now be tied as written. Saves: how much less the"
        f" others depart, in sum, over {pluralize(book, 'dressing')}."
        f" {proof_words(found)}"
    )
    return [*lines, "", *wrap(told), *_unpriced_lines(found)]


def _unpriced_lines(found: Purchases) -> list[str]:
    if not found.unpriced:
        return []
    return wrap(f"{pluralize(found.unpriced, 'purchase')} without a known price left out.")


def proof_words(found: Purchases) -> str:
    """Return what was tried and how far it is proven, as a sentence."""
    told = ["Every purchase was tried with every dressing"]
    if found.basket is not None:
        proven = "no other set does more for the money"
        unproven = "there are too many sets for the money to try all"
        told.append(proven if found.is_basket_proven else unproven)
    if found.sets:
        proven = "no other pair does more beyond what its two do one by one"
        unproven = "there are too many pairs that might do more to try all"
        told.append(proven if found.are_pairs_proven else unproven)
    elif found.largest_set > 1:
        of_which = "" if found.are_pairs_proven else " of those tried"
        told.append(f"no two together{of_which} do more than one by one")
    if any(len(one.offers) > 2 for one in found.sets):
        told.append("sets of three are made of the best pairs and the best single ones")
    return f"{'; '.join(told)}."


def _gain_lines(gain: Gain, rulebook: Rulebook, wanted: Wanted) -> list[str]:
    price = "" if gain.price is None else f"{gain.price:.2f}"
    head = (
        f"  {len(gain.opened):>5}  {len(gain.as_written):>10}  {departure_words(gain.saved):>5}"
        f"  {price:>6}  "
    )
    several = len(gain.offers) > 1
    told = f"{len(gain.offers)} things" if several else _offer_words(gain.offers[0])
    names = list(dict.fromkeys([*gain.opened, *gain.as_written]))
    nearer = [name for name in gain.brought_nearer if name not in names]
    if names:
        told += f": {_names(names)}"
    if nearer:
        told += f"{';' if names else ':'} nearer {_names(nearer)}"
    lines = wrap(told, initial_indent=head, subsequent_indent=" " * (len(head) + 2))
    for want in wanted(gain):
        told = want_words(want, rulebook)
        if several:
            cost = "" if want.offer.price is None else f", {want.offer.price:.2f}"
            told = f"{_offer_words(want.offer)}{cost}, {told}"
        lines += wrap(told, initial_indent=_INDENT, subsequent_indent=_INDENT + "  ")
    return lines


def _names(names: Sequence[str]) -> str:
    shown = [printable(name) for name in names[:_NAMES]]
    rest = len(names) - len(shown)
    return join_words([*shown, f"{rest} more"] if rest else shown)


def want_words(want: Want, rulebook: Rulebook) -> str:
    """Return what to ask for: for which part and hooks, how long or thick, and how much."""
    parts = rulebook.trade.parts
    told = f"for the {join_words(part_name(parts, part) for part in want.parts)}"
    if want.sizes and want.offer.size is None:
        least, most = want.sizes[0], want.sizes[-1]
        told += f" on size {most}" if least == most else f" on sizes {least} to {most}"
    for (part, attribute), spread in want.measures.items():
        name = f"{part_name(parts, part)} " if len(want.parts) > 1 else ""
        told += f", {name}{_measure_words(part, attribute, spread, rulebook)}"
    flies = "1 fly" if want.flies == 1 else f"{want.flies} flies"
    return f"{told}; at least {_least_words(want)} for {flies}"


def _least_words(want: Want) -> str:
    if want.pieces is None:
        told = taken_words(None, want.length_mm, want.mass_mg)
        is_pinch = want.length_mm is None and (want.mass_mg or PINCH_MG) < PINCH_MG
        return f"a pinch ({told})" if is_pinch else told
    return pluralize(ceil(want.pieces), "piece" if want.offer.size is None else "hook")


def _measure_words(part: str, attribute: str, spread: Spread, rulebook: Rulebook) -> str:
    if attribute == "denier":
        return _spread_words(spread, "denier", 0)
    if attribute != LENGTH:
        return _spread_words(spread, "mm thick", 2)
    told = _spread_words(spread, "mm long", 1)
    if rulebook.trade.part_kind(part).gauged:
        sizes = [gauge_size(rulebook, length) for length in (spread.least, spread.most)]
        told += f", gauge size {' to '.join(str(one) for one in dict.fromkeys(sizes))}"
    return told


def _spread_words(spread: Spread, unit: str, digits: int) -> str:
    least, most = (f"{one:.{digits}f}" for one in (spread.least, spread.most))
    enough = will_do(spread.low, spread.high, digits)
    if least == most:
        return f"{least} {unit} ({enough})"
    if spread.low > spread.high:
        enough = "no one measure does"
    return f"{least} to {most} {unit} ({enough} for all)"


def _offer_words(offer: Offer) -> str:
    told = printable(offer.words)
    return f"{told} (stands for {printable(offer.stands_for)})" if offer.stands_for else told


def purchases_json(
    found: Purchases, best: int, rulebook: Rulebook, wanted: Wanted
) -> dict[str, Any]:
    """Return the best gains of each kind in their documented JSON shape."""
    return {
        "version": VERSION,
        "single": [_gain_json(one, rulebook, wanted) for one in found.single[:best]],
        "sets": [_gain_json(one, rulebook, wanted) for one in found.sets[:best]],
        "basket": None if found.basket is None else _gain_json(found.basket, rulebook, wanted),
        "basket_proven": found.is_basket_proven,
        "unpriced": found.unpriced,
        "pairs_proven": found.are_pairs_proven,
    }


def _gain_json(gain: Gain, rulebook: Rulebook, wanted: Wanted) -> dict[str, Any]:
    return {
        "purchases": [
            {
                "material": want.offer.ingredient.material.id,
                "colour": want.offer.ingredient.colour.id if want.offer.ingredient.colour else None,
                "colour_family": (
                    want.offer.ingredient.colour.family if want.offer.ingredient.colour else None
                ),
                "size": want.offer.size,
                "stands_for": want.offer.stands_for or None,
                "price": want.offer.price,
                "parts": list(want.parts),
                "hook_sizes": list(want.sizes),
                "measures": [
                    _measure_json(part, attribute, spread, rulebook)
                    for (part, attribute), spread in want.measures.items()
                ],
                "amount": {
                    "flies": want.flies,
                    "pieces": want.pieces,
                    "length_mm": want.length_mm,
                    "mass_mg": want.mass_mg,
                },
            }
            for want in wanted(gain)
        ],
        "opened": list(gain.opened),
        "as_written": list(gain.as_written),
        "saved": gain.saved / 1000,
        "price": gain.price,
    }


def _measure_json(part: str, attribute: str, spread: Spread, rulebook: Rulebook) -> dict[str, Any]:
    gauged = attribute == LENGTH and rulebook.trade.part_kind(part).gauged
    return {
        "part": part,
        "measure": attribute,
        "right": [spread.least, spread.most],
        "low": spread.low,
        "high": spread.high if spread.high < inf else None,
        "gauge": [gauge_size(rulebook, one) for one in (spread.least, spread.most)]
        if gauged
        else None,
    }
