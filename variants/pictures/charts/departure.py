"""A departure broken down: a row for each variant, a column for each part that counts in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from variants.design import DesignProblem
from variants.explain import explain
from variants.explain.changes import find_changes
from variants.explain.wording import departure_words, part_name
from variants.model import Variant
from variants.pictures.charts.letters import wrap_words
from variants.pictures.charts.look import LIGHT
from variants.pictures.charts.svg import Element, Sheet

_LEFT, _HEAD, _COLUMN, _BAR, _TOTAL = 110.0, 132.0, 150.0, 14.0, 110.0
_NOTE, _LINE = 12.5, 16.0
#: What a term may be about, in the order of the bar, and how its share of the bar is drawn: by
#: lightness and by stroke, so that nobody has to tell hues apart.
_KINDS = ("stuff", "colour", "how it is used", "rules")
_FILLS: dict[str, dict[str, object]] = {
    "stuff": {"fill": LIGHT["ink"]},
    "colour": {"fill": LIGHT["changed"], "fill_opacity": 0.75},
    "how it is used": {"fill": LIGHT["rule"]},
    "rules": {"fill": LIGHT["paper"], "stroke_dasharray": "3 2"},
}
_COLOUR = ("colour", "marking", "blend")
_USE = ("mix", "part", "size", "count")


def departure_svg(design: DesignProblem, variants: Sequence[Variant]) -> str:
    """Return what each part adds to each variant's departure.

    Parameters
    ----------
    design : DesignProblem
    variants : sequence of Variant
        At least one.

    Notes
    -----
    A rule over several parts is counted where its explanation stands: with the first of them that
    is not the hook. Each row adds up to the variant's departure.
    """
    shares = {variant.rank: breakdown(design, variant) for variant in variants}
    parts = [
        part
        for part in design.base
        if any(sum(row.get(part, {}).values()) for row in shares.values())
    ]
    most = max([sum(row[part].values()) for row in shares.values() for part in row] + [1])
    title = f"{design.request.base.name}: departure part by part"
    sheet = Sheet(title, _describe(design, variants, shares))
    width = max(_LEFT + _COLUMN * len(parts) + _TOTAL, 640.0)
    sheet.words(sheet.top, 20, 34, title, 20, font_weight="600")
    _legend(sheet)
    trade = design.rulebook.trade
    for place, part in enumerate(parts):
        x = _LEFT + place * _COLUMN
        sheet.words(sheet.top, x, _HEAD - 16, part_name(trade.parts, part), 15, font_weight="600")
    total_x = _LEFT + len(parts) * _COLUMN
    sheet.words(sheet.top, total_x, _HEAD - 16, "in all", 15, font_weight="600")
    y = _HEAD
    for variant in variants:
        sheet.line(sheet.top, (20, y - 6), (width - 20, y - 6), stroke=LIGHT["rule"])
        row = sheet.group(sheet.top, data_variant=variant.rank * 1.0)
        sheet.words(row, 20, y + 14, f"variant {variant.rank}", 14)
        for place, part in enumerate(parts):
            _cell(sheet, row, _LEFT + place * _COLUMN, y + 2, part,
                  shares[variant.rank].get(part, {}), most)  # fmt: skip
        sheet.words(row, total_x, y + 14, departure_words(variant.departure), 15, font_weight="600")
        told = "; ".join(f"{one.part}: {one.words}" for one in find_changes(design, variant))
        lines = wrap_words(told or "as written", _NOTE, width - _LEFT - 20)
        for number, line in enumerate(lines):
            sheet.words(row, _LEFT, y + 36 + number * _LINE, line, _NOTE, font_style="italic",
                        fill=LIGHT["faint"])  # fmt: skip
        y += 36 + len(lines) * _LINE + 6
    return sheet.svg(width, y + 10)


def breakdown(design: DesignProblem, variant: Variant) -> dict[str, dict[str, int]]:
    """Return the thousandths that each part adds, by what they are about."""
    found: dict[str, dict[str, int]] = {}
    for reason in explain(design, variant).parts:
        own = found.setdefault(reason.part, dict.fromkeys(_KINDS, 0))
        for term in reason.terms:
            about = "colour" if term.what in _COLOUR else "stuff"
            own["how it is used" if term.what in _USE else about] += term.cost
        for one in reason.judgements:
            own["rules"] += one.finding.cost
    return found


def _describe(
    design: DesignProblem,
    variants: Sequence[Variant],
    shares: Mapping[int, Mapping[str, Mapping[str, int]]],
) -> str:
    parts = design.rulebook.trade.parts
    told = []
    for variant in variants:
        own = [
            f"{part_name(parts, part)} {departure_words(sum(share.values()))}"
            for part, share in shares[variant.rank].items()
            if sum(share.values())
        ]
        told.append(
            f"variant {variant.rank} departs {departure_words(variant.departure)}: "
            f"{', '.join(own) or 0}"
        )
    return "; ".join(told) + "."


def _legend(sheet: Sheet) -> None:
    x = 20.0
    for kind in _KINDS:
        sheet.box(sheet.top, x, 56, 22, _BAR, stroke=LIGHT["ink"], stroke_width=1, **_FILLS[kind])
        sheet.words(sheet.top, x + 28, 68, kind, 13)
        x += 52 + 8.5 * len(kind)


def _cell(
    sheet: Sheet, row: Element, x: float, y: float, part: str, share: Mapping[str, int], most: int
) -> None:
    total = sum(share.values())
    if not total:
        return
    scale = (_COLUMN - 62.0) / most
    group = sheet.group(row, data_part=part)
    at = x
    for kind in _KINDS:
        wide = max(0, share.get(kind, 0)) * scale
        if wide:
            sheet.box(group, at, y, wide, _BAR, stroke=LIGHT["ink"], stroke_width=1, **_FILLS[kind])
            at += wide
    sheet.words(group, at + 6, y + 12, departure_words(total), 13)
