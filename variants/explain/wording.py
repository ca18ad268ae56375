"""Small wordings that every screen shares: numbers, parts, items; safe to print on a terminal."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from variants.design import DesignProblem, adapted_parts
from variants.model import Candidate, Item, Part, PartKind
from variants.rulebook import Number
from variants.text import printable


def departure_words(thousandths: int) -> str:
    """Return a departure as it is shown: two decimals, never rounding a difference to nothing.

    >>> departure_words(180), departure_words(3), departure_words(0)
    ('0.18', '0.003', '0.00')
    """
    return f"{thousandths / 1000:.3f}" if 0 < thousandths < 5 else f"{thousandths / 1000:.2f}"


def pluralize(count: int, what: str) -> str:
    """Return a count with its noun.

    >>> pluralize(1, "change"), pluralize(3, "change")
    ('1 change', '3 changes')
    """
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def part_name(parts: Mapping[str, PartKind], part: str) -> str:
    """Return a part's trade name."""
    return parts[part].name if part in parts else part


def as_written(design: DesignProblem) -> str:
    """Return that a dressing is as written, and the counts that the water changes of it."""
    changed = adapted_parts(design.base, design.rulebook.trade.parts)
    return f"as written, but for the water: {changed}" if changed else "as written"


def join_words(words: Iterable[str], joint: str = "and") -> str:
    """Return words as a sentence lists them.

    >>> join_words(["tail", "body", "hackle"])
    'tail, body and hackle'
    """
    *most, last = list(words)
    return f"{', '.join(most)} {joint} {last}" if most else last


def amount_left(item: Item) -> str:
    """Return what is left of an item: ``25 feathers``; empty when no count is kept.

    More than two places after the point nobody measures, unless there is nothing before them.
    """
    if item.amount is None:
        return ""
    number = float(item.amount.magnitude)
    shown = f"{number:.2g}" if number < 0.1 else f"{number:.2f}".rstrip("0").rstrip(".")
    if item.amount.check("[piece]"):
        return f"{shown} {item.amount.units}{'' if number == 1 else 's'}"
    return f"{shown} {item.amount.units:~}"


def item_words(items: tuple[Item, ...]) -> str:
    """Return an item, where it lies and what is left, and how many others are alike."""
    first = items[0]
    told = [f"“{printable(first.id)}”"]
    if first.place:
        told.append(printable(first.place))
    left = amount_left(first)
    if left:
        told.append(f"{left} left")
    if len(items) > 1:
        told.append(f"{len(items) - 1} more alike")
    return ", ".join(told)


def written_words(part: Part) -> str:
    """Return what a dressing writes for a part, with what else its author allows."""
    told = [" with ".join(dict.fromkeys(one.words for one in way.ingredients)) for way in part.ways]
    return join_words([*told, *(["nothing"] if part.may_go else [])], "or")


def source_items_of(items: Iterable[Item]) -> str:
    """Return several items, each with its place and what is left."""
    return "; ".join(item_words((item,)) for item in items)


def source_items(candidate: Candidate) -> str:
    """Return where a candidate's ingredients lie in the box."""
    return " + ".join(item_words(items) for items in candidate.items)


def number_words(number: Number) -> str:
    """Return a tested number with its bounds.

    Such as ``hackle length: 6.6 mm (right would be 7.5; allowed 6.3 to 8.9)``.
    """
    if isinstance(number.value, str):
        return f"{number.what}: {printable(number.value)}"
    unit = f" {number.unit}" if number.unit else ""
    told = f"{number.what}: {_short(number.value)}{unit}"
    bounds = []
    if number.target is not None and _short(number.target) != _short(number.value):
        bounds.append(f"right would be {_short(number.target)}")
    if number.low is not None and number.high is not None:
        bounds.append(f"allowed {_short(number.low)} to {_short(number.high)}")
    elif number.low is not None:
        bounds.append(f"at least {_short(number.low)}")
    elif number.high is not None:
        bounds.append(f"at most {_short(number.high)}")
    return f"{told} ({'; '.join(bounds)})" if bounds else told


def _short(value: float) -> str:
    if float(value) == int(value):
        return f"{value:.0f}"
    return f"{value:.2f}" if abs(value) < 1 else f"{value:.1f}"
