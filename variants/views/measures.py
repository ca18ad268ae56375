"""Target lengths and a gauge's correction, on a terminal."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from variants.explain.wording import part_name, pluralize
from variants.geometry import Gauge
from variants.geometry.targets import Target, inch_fraction
from variants.model import Trade
from variants.views.columns import wrap


def target_lines(found: Sequence[Target], trade: Trade, gauge: Gauge | None = None) -> list[str]:
    """Return the targets rule by rule, with what it says and its source below each."""
    lines: list[str] = []
    reads = "  on your gauge" if gauge is not None else ""
    for part, rule in dict.fromkeys((one.part, one.rule) for one in found):
        own = [one for one in found if one.rule == rule]
        lines += [
            part_name(trade.parts, part).upper(),
            f"  size  right          inch       allowed (mm)   gauge{reads}",
        ]
        for one in own:
            shown = "" if one.gauge_size is None else str(one.gauge_size)
            line = (
                f"  {one.size:>4}  {one.right_mm:5.1f} mm  {inch_fraction(one.right_mm):>9} in"
                f"   {one.low_mm:5.1f} to {one.high_mm:5.1f}  {shown:>5}"
            )
            if gauge is not None:
                line += f"  {gauge.reads_mm(one.right_mm):10.1f} mm"
            lines.append(line.rstrip())
        told = f"{own[0].says} [{own[0].rule}] Source: {own[0].source}"
        lines += wrap(told, initial_indent="  ", subsequent_indent="  ")
        lines.append("")
    if not lines:
        return ["No rule of this style tells a length, or the scale lacks these sizes."]
    return lines[:-1]


def gauge_lines(
    gauge: Gauge, reading_mm: float | None, shown_size: Callable[[float], int]
) -> list[str]:
    """Return how a gauge reads, how sure that is, and what one reading truly is."""
    told = (
        f"Your gauge, by {pluralize(gauge.readings, 'reading')}: it shows"
        f" {gauge.slope:.3f} of the true length {gauge.offset_mm:+.2f} mm."
    )
    if gauge.uncertainty_mm is None:
        told += " More readings would tell how sure that is."
    else:
        told += f" A corrected reading is good to about {gauge.uncertainty_mm:.2f} mm."
    if reading_mm is not None:
        true = gauge.true_mm(reading_mm)
        told += (
            f" {reading_mm:.1f} mm on it is truly {true:.1f} mm: right for a {shown_size(true)}."
        )
    return wrap(told)
