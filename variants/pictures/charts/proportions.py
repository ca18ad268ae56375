"""Proportions against hook size: one small picture a part, all to one scale."""

from __future__ import annotations

from collections.abc import Sequence

from variants.explain.wording import part_name
from variants.geometry.targets import Target
from variants.model import Trade
from variants.pictures.charts.look import LIGHT
from variants.pictures.charts.svg import Element, Sheet

_WIDE, _HIGH, _COLUMNS = 340.0, 230.0, 3
_LEFT, _TOP, _GAP, _HEAD = 44.0, 44.0, 26.0, 76.0
#: So far from the edges the first and the last size stand, that their numbers are free.
_INSET = 20.0
_STEPS = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
_MOST_LINES = 6
#: With more sizes than this, every other number is written.
_MOST_NUMBERS = 8


def proportions_svg(targets: Sequence[Target], trade: Trade, title: str) -> str:
    """Return the right length of each part on each hook size, and what the rules allow.

    Parameters
    ----------
    targets : sequence of Target
        At least one.
    trade : Trade
    title : str

    Raises
    ------
    ValueError
        Without a target.
    """
    if not targets:
        raise ValueError("no rule of this style tells a length on these sizes")
    # A part has as many panels as rules tell its length: marabou tails go by another than barbs.
    panels = list(dict.fromkeys((one.part, one.rule) for one in targets))
    sheet = Sheet(title, _describe(targets, trade))
    columns = 2 if len(panels) == 4 else min(_COLUMNS, len(panels))
    rows = -(-len(panels) // columns)
    longest = max(one.high_mm for one in targets)
    step = next((one for one in _STEPS if longest / one <= _MOST_LINES), _STEPS[-1])
    sheet.words(sheet.top, 20, 34, title, 20, font_weight="600")
    sheet.words(sheet.top, 20, 54, "Line: the right length in mm. Grey: what the rules allow. "
                "Below: hook size.", 13, font_style="italic", fill=LIGHT["faint"])  # fmt: skip
    for place, (part, rule) in enumerate(panels):
        row, column = divmod(place, columns)
        group = sheet.group(sheet.top, data_part=part, transform=(
            f"translate({20 + column * (_WIDE + _GAP):g} {_HEAD + row * (_HIGH + _GAP):g})"
        ))  # fmt: skip
        own = [one for one in targets if one.rule == rule]
        _panel(sheet, group, part_name(trade.parts, part), own, longest, step)
    width = 40 + columns * _WIDE + (columns - 1) * _GAP
    return sheet.svg(max(width, 560), _HEAD + rows * (_HIGH + _GAP))


def _describe(targets: Sequence[Target], trade: Trade) -> str:
    told = "; ".join(
        f"{part_name(trade.parts, one.part)}, size {one.size}: {one.right_mm:.1f} mm, allowed"
        f" {one.low_mm:.1f} to {one.high_mm:.1f}"
        for one in targets
    )
    return f"{told}."


def _panel(
    sheet: Sheet, group: Element, name: str, own: Sequence[Target], longest: float, step: float
) -> None:
    floor, across = _HIGH - 24.0, _WIDE - _LEFT - 16.0
    pixels = (floor - _TOP) / longest
    places = [
        _LEFT + _INSET + (across - 2 * _INSET) * (place / (len(own) - 1) if len(own) > 1 else 0.5)
        for place in range(len(own))
    ]
    sheet.words(group, _LEFT, 18, name, 15, font_weight="600")
    lines = int(longest / step + 1e-9) + 1
    for line in range(lines):
        y = floor - line * step * pixels
        sheet.line(group, (_LEFT, y), (_WIDE - 16, y), stroke=LIGHT["rule"], stroke_width=0.8)
        label = f"{line * step:g} mm" if line == lines - 1 else f"{line * step:g}"
        sheet.words(group, _LEFT - 6, y + 4, label, 12, text_anchor="end", fill=LIGHT["faint"])
    upper = [(x, floor - one.high_mm * pixels) for x, one in zip(places, own, strict=True)]
    lower = [(x, floor - one.low_mm * pixels) for x, one in zip(places, own, strict=True)]
    if len(own) > 1:
        sheet.path(group, [*upper, *lower[::-1], upper[0]], stroke="none", fill=LIGHT["rule"],
                   fill_opacity=0.55, data_measure="allowed")  # fmt: skip
    else:
        sheet.line(group, upper[0], lower[0], stroke=LIGHT["rule"], stroke_width=6)
    right = [(x, floor - one.right_mm * pixels) for x, one in zip(places, own, strict=True)]
    sheet.path(group, right, stroke_width=2, stroke=LIGHT["ink"], data_measure="right",
               data_mm_per_pixel=f"{1 / pixels:.6f}")  # fmt: skip
    every = 1 if len(own) <= _MOST_NUMBERS else 2
    for place, ((x, y), one) in enumerate(zip(right, own, strict=True)):
        sheet.dot(group, x, y, 3, fill=LIGHT["ink"])
        sheet.words(group, x, floor + 17, str(one.size), 12, text_anchor="middle")
        if place % every == 0:
            sheet.words(group, x, y - 8, f"{one.right_mm:.1f}", 12, text_anchor="middle",
                        stroke=LIGHT["paper"], stroke_width=3, paint_order="stroke")  # fmt: skip
    sheet.line(group, (_LEFT, floor), (_WIDE - 16, floor))
