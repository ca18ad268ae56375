"""A tyer's hackle gauge against the rule: how its readings run, and what is true of them.

A few readings of known lengths come in; a straight line comes out by least squares, with its
uncertainty, and corrects what is measured afterwards.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import sqrt
from pathlib import Path

from variants.model import Box, Item
from variants.reading import Faults, read_sheet_table

COLUMNS = ("known", "read", "note")
#: Fewer readings than this tell an offset but no slope.
_FOR_A_SLOPE = 3


@dataclass(frozen=True, slots=True)
class Gauge:
    """How a gauge reads: ``read = offset + slope * true``.

    Attributes
    ----------
    offset_mm, slope : float
    spread_mm : float or None
        Standard deviation of a reading about the line, n - 2 in the denominator (n - 1 for an
        offset alone); None when there are too few readings to tell.
    readings : int
    """

    offset_mm: float
    slope: float
    spread_mm: float | None
    readings: int

    def true_mm(self, read_mm: float) -> float:
        """Return the true length of what reads so."""
        return (read_mm - self.offset_mm) / self.slope

    def reads_mm(self, true_mm: float) -> float:
        """Return what a true length reads on the gauge."""
        return self.offset_mm + self.slope * true_mm

    @property
    def uncertainty_mm(self) -> float | None:
        """Standard uncertainty of one corrected reading."""
        return None if self.spread_mm is None else self.spread_mm / self.slope


def fit_gauge(pairs: Sequence[tuple[float, float]]) -> Gauge:
    """Fit a line to readings.

    Parameters
    ----------
    pairs : sequence of (known mm, read mm)
        One gives an offset; two or more differing ones a mean offset; three or more a slope too.

    Raises
    ------
    ValueError
        Without any reading, or when the slope comes out at or below naught.

    Notes
    -----
    Ordinary least squares of read on known: ``slope = Sxy / Sxx``,
    ``offset = mean(read) - slope mean(known)``.

    Examples
    --------
    >>> gauge = fit_gauge([(5.0, 5.5), (10.0, 10.5)])
    >>> gauge.offset_mm, gauge.true_mm(8.0)
    (0.5, 7.5)
    """
    if not pairs:
        raise ValueError("a gauge needs at least one reading of a known length")
    count = len(pairs)
    mean_known = sum(known for known, _ in pairs) / count
    mean_read = sum(read for _, read in pairs) / count
    across = sum((known - mean_known) ** 2 for known, _ in pairs)
    slope, free = 1.0, 1
    if count >= _FOR_A_SLOPE and across > 0:
        both = sum((known - mean_known) * (read - mean_read) for known, read in pairs)
        slope, free = both / across, 2
        if not slope > 0:
            raise ValueError("the readings fall where the known lengths rise")
    offset = mean_read - slope * mean_known
    spread = None
    if count > free:
        rest = sum((read - offset - slope * known) ** 2 for known, read in pairs)
        spread = sqrt(rest / (count - free))
    return Gauge(offset, slope, spread, count)


def read_gauge(path: str | Path) -> Gauge:
    """Read a gauge's readings: a sheet with the columns ``known`` and ``read``, such as 8 mm.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    faults = Faults()
    pairs: list[tuple[float, float]] = []
    rows = read_sheet_table(path, COLUMNS, ("known", "read"), faults, ("known", "read"))
    for row in rows:
        fields = row.fields(faults)
        told = [fields.quantity(name) for name in ("known", "read")]
        fields.text("note")
        fields.finish()
        lengths = [one.to("mm").magnitude for one in told if one is not None and one.check("mm")]
        if len(lengths) == len(told):
            pairs.append((float(lengths[0]), float(lengths[1])))
        elif all(one is not None for one in told):
            fields.wrong("known", "both have to be lengths", "write 8 mm, or 5/16 in")
    faults.stop_if_any()
    try:
        return fit_gauge(pairs)
    except ValueError as problem:
        from variants.model import Origin

        faults.add(Origin(str(path), 1), str(problem), "measure a few strips of known length")
        faults.stop_if_any()
        raise


def correct_lengths(box: Box, gauge: Gauge) -> Box:
    """Return a box whose measured barb lengths are set right for the gauge they were read on."""
    return replace(box, items=tuple(_correct_item(item, gauge) for item in box.items))


def _correct_item(item: Item, gauge: Gauge) -> Item:
    if item.length_mm is None:
        return item
    shortest, longest = (max(0.1, gauge.true_mm(one)) for one in item.length_mm)
    return replace(item, length_mm=(shortest, longest))
