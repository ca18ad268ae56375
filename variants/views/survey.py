"""The answer of `tieable` on a terminal: what can be tied tonight, box by box."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from variants.explain.wording import departure_words, join_words, part_name, pluralize
from variants.model import PartKind, Trade
from variants.survey import Block, BoxStanding, Outlook, Survey, Swap
from variants.text import printable
from variants.views.columns import WIDTH, shortened, wrap

_NAME_WIDTH = 26
#: Version of the JSON shape.
VERSION = 1


def survey_lines(
    survey: Survey, boxes: Sequence[tuple[str, int]], trade: Trade, at_most: int
) -> list[str]:
    """Return the whole answer.

    Parameters
    ----------
    survey : Survey
    boxes : sequence of (name, number of items)
    trade : Trade
    at_most : int
        Thousandths; what departs more is told as too far off.
    """
    lines: list[str] = []
    for name, items in boxes:
        own = [one for one in survey.outlooks if one.box == name]
        lines += [
            "",
            *_box_lines(own, f"{printable(name)}, {pluralize(items, 'item')}", trade, at_most),
        ]
    if len(boxes) > 1:
        lines += ["", *_comparison(survey, [name for name, _ in boxes])]
    if not survey.is_complete:
        done = pluralize(len(survey.outlooks), "answer")
        lines += ["", f"Stopped before the survey was done: {done} so far."]
    return lines[1:]


def _box_lines(outlooks: Sequence[Outlook], heading: str, trade: Trade, at_most: int) -> list[str]:
    written = _standing(outlooks, BoxStanding.AS_WRITTEN)
    changed = _standing(outlooks, BoxStanding.SUBSTITUTED)
    blocked = _standing(outlooks, BoxStanding.BLOCKED)
    far = _standing(outlooks, BoxStanding.TOO_FAR)
    lines = wrap(heading)
    if written:
        lines += ["", "As written"]
        lines += [_line(one) for one in _by_departure(written)]
    if changed:
        lines += ["", "With substitutions, closest first"]
        lines += [line for one in _by_departure(changed) for line in _changed_lines(one, trade)]
    if far:
        lines += ["", f"Too far off: more than {departure_words(at_most)}"]
        lines += [line for one in _by_departure(far) for line in _changed_lines(one, trade)]
    if blocked:
        lines += ["", "Blocked"]
        lines += [line for one in blocked for line in _blocked_lines(one, trade)]
    lines += ["", _total(outlooks)]
    return lines


def _standing(outlooks: Iterable[Outlook], standing: BoxStanding) -> list[Outlook]:
    return [one for one in outlooks if one.standing is standing]


def _by_departure(outlooks: Iterable[Outlook]) -> list[Outlook]:
    """Order by departure; dressings that depart alike stay in the book's order."""
    return sorted(outlooks, key=lambda one: one.departure or 0)


def _line(outlook: Outlook) -> str:
    name = shortened(printable(outlook.dressing), _NAME_WIDTH)
    size = "" if outlook.size is None else f"{outlook.size:>3}"
    return f"  {departure_words(outlook.departure or 0):>5} {size:>4}  {name}".rstrip()


def _changed_lines(outlook: Outlook, trade: Trade) -> list[str]:
    told = "; ".join(_swap(swap, trade.parts) for swap in outlook.swaps)
    first = _line(outlook)
    return wrap(f"{first}: {told}", subsequent_indent=" " * 15)


def _swap(swap: Swap, parts: Mapping[str, PartKind]) -> str:
    return f"{part_name(parts, swap.part)} {printable(swap.asked)} → {printable(swap.used)}"


def _blocked_lines(outlook: Outlook, trade: Trade) -> list[str]:
    told = "; ".join(_block(block, trade.parts) for block in outlook.blocks)
    return wrap(
        f"{printable(outlook.dressing)}: {told}",
        initial_indent="  ",
        subsequent_indent=" " * 15,
    )


def _block(block: Block, parts: Mapping[str, PartKind]) -> str:
    says = printable(block.says).rstrip(".")
    rule = f" [{block.rule}]" if block.rule else ""
    if not block.parts:
        return says
    return f"{join_words(part_name(parts, part) for part in block.parts)}: {says}{rule}"


def _counts(outlooks: Sequence[Outlook]) -> tuple[int, int, int, int]:
    written, near, far, blocked = (len(_standing(outlooks, one)) for one in BoxStanding)
    return written, near, far, blocked


def _total(outlooks: Sequence[Outlook]) -> str:
    written, near, far, blocked = _counts(outlooks)
    told = [f"{written} as written", f"{near} with substitutions"]
    told += [f"{far} too far off"] if far else []
    told += [f"{blocked} blocked"]
    return f"{pluralize(len(outlooks), 'dressing')}: {', '.join(told)}."


def _comparison(survey: Survey, boxes: Sequence[str]) -> list[str]:
    lines = ["As written  With changes  Blocked  Box"]
    for name in boxes:
        own = [one for one in survey.outlooks if one.box == name]
        written, near, far, blocked = _counts(own)
        counts = f"{written:>10}  {near:>12}  {far + blocked:>7}  "
        lines.append(counts + shortened(printable(name), WIDTH - len(counts)))
    return lines


def survey_json(survey: Survey) -> dict[str, Any]:
    """Return the survey in its documented JSON shape; departures as decimal numbers."""
    return {
        "version": VERSION,
        "complete": survey.is_complete,
        "outlooks": [_outlook_json(one) for one in survey.outlooks],
    }


def _outlook_json(outlook: Outlook) -> dict[str, Any]:
    return {
        "dressing": outlook.dressing,
        "style": outlook.style,
        "box": outlook.box,
        "standing": outlook.standing.value,
        "too_far": outlook.standing is BoxStanding.TOO_FAR,
        "size": outlook.size,
        "departure": None if outlook.departure is None else outlook.departure / 1000,
        "substitutions": [
            {"part": one.part, "asked": one.asked, "used": one.used} for one in outlook.swaps
        ],
        "blocked_by": [
            {"parts": list(one.parts), "rule": one.rule, "says": one.says} for one in outlook.blocks
        ],
    }
