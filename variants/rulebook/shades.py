"""The shades of the colour table and how far apart they stand, worked out beforehand.

The numbers are the colour library's own: a file of them is read in a millisecond, where the
library takes a tenth of a second to import and longer to compare a box's colours with a dressing's.
The file is made and checked by ``tests/rulebook/test_shades.py``. A shade that it lacks, such as
one of a user's own table, is left to the library.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path

Lab = tuple[float, float, float]
SHADES_FILE = Path(__file__).with_name("shades.tsv")
#: Decimals of a CIEDE2000 difference, as in the published pairs.
DECIMALS = 4


class Shades:
    """CIELAB values of shades, and the CIEDE2000 difference of any two.

    Parameters
    ----------
    lines : sequence of str
        For each shade, after tabs: its sRGB value ``#rrggbb`` in small letters, L*, a* and b*
        (D65), and its difference from each of the shades before it. Lines that begin with ``# ``
        are passed over.

    Notes
    -----
    Differences of a shade are made into numbers when one of them is first asked for.
    """

    def __init__(self, lines: Sequence[str]) -> None:
        self._places: dict[str, int] = {}
        self._labs: list[str] = []
        self._differences: list[str | list[float]] = []
        for line in lines:
            if line.startswith("# "):
                continue
            shade, lab, differences = line.split("\t", 2)
            self._places[shade] = len(self._places)
            self._labs.append(lab)
            self._differences.append(differences)

    def lab(self, shade: str) -> Lab | None:
        """Return the CIELAB value of a shade; None where the table lacks it.

        >>> Shades(["#ffffff\\t100.0 0.0 0.0\\t"]).lab("#ffffff")
        (100.0, 0.0, 0.0)
        """
        place = self._places.get(shade)
        if place is None:
            return None
        lightness, a, b = map(float, self._labs[place].split())
        return lightness, a, b

    def difference(self, one: str, other: str) -> float | None:
        """Return how far two shades stand apart; None where the table lacks either.

        >>> shades = Shades(["#000000\\t0.0 0.0 0.0\\t", "#ffffff\\t100.0 0.0 0.0\\t100.0"])
        >>> shades.difference("#ffffff", "#000000"), shades.difference("#000000", "#aabbcc")
        (100.0, None)
        """
        here, there = self._places.get(one), self._places.get(other)
        if here is None or there is None:
            return None
        if here == there:
            return 0.0
        if here < there:
            here, there = there, here
        differences = self._differences[here]
        if isinstance(differences, str):
            differences = self._differences[here] = [float(one) for one in differences.split()]
        return differences[there]


@cache
def known_shades() -> Shades:
    """Return the shades of Flykin's own colour table."""
    return Shades(SHADES_FILE.read_text(encoding="utf-8").splitlines())
