"""The differences worked out beforehand are the colour library's, for every two shades."""

from __future__ import annotations

import pytest

from tests.real import rulebook
from variants.rulebook.colours import delta_e_lab, lab_of
from variants.rulebook.shades import DECIMALS, SHADES_FILE, known_shades

RENEW = "renew it: python -m tests.rulebook.test_shades"
NOTE = (
    "# The shades of rules/colours.tsv in CIELAB (D65), and the CIEDE2000 difference of each from"
    " those above it,\n# by coloraide. Never written by hand:"
    " python -m tests.rulebook.test_shades\n"
)


def shades() -> list[str]:
    """Return every shade of the colour table."""
    colours = rulebook().trade.colours.values()
    return sorted({shade.lower() for colour in colours for shade in colour.hexes})


def renew() -> None:
    """Work out every difference anew: ``python -m tests.rulebook.test_shades``."""
    labs = [lab_of(shade) for shade in shades()]
    lines = [
        f"{shade}\t{' '.join(map(repr, here))}\t"
        + " ".join(f"{delta_e_lab(here, there):.{DECIMALS}f}" for there in labs[:place])
        for place, (shade, here) in enumerate(zip(shades(), labs, strict=True))
    ]
    SHADES_FILE.write_text(NOTE + "\n".join(lines) + "\n", encoding="utf-8")


def test_every_shade_is_as_the_library_converts_it() -> None:
    for shade in shades():
        assert known_shades().lab(shade) == pytest.approx(lab_of(shade)), RENEW


def test_every_difference_is_the_library_s() -> None:
    every = shades()
    labs = [lab_of(shade) for shade in every]
    for place, one in enumerate(every):
        for other in range(place):
            found = known_shades().difference(one, every[other])
            assert found is not None, RENEW
            assert abs(found - delta_e_lab(labs[place], labs[other])) < 10**-DECIMALS, RENEW
            assert found == known_shades().difference(every[other], one)


if __name__ == "__main__":
    renew()
