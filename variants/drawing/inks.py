"""Which inks a candidate is drawn in: its shades, and how a marking lays them along a barb."""

from __future__ import annotations

from dataclasses import dataclass

from variants.model import Candidate, Ingredient

#: What stuff without a colour of its own is drawn in.
_PLAIN = "#8d867a"
#: How a marking lays shades along a barb, from the stem out: (share of the barb, which shade).
#: Bars are as many as an eye tells apart at arm's length (common practice).
_ALONG: dict[str, tuple[tuple[float, int], ...]] = {
    "list-and-edge": ((0.4, 0), (1.0, 1)),
    "list-edge-and-tips": ((0.35, 0), (0.85, 1), (1.0, 0)),
    "tipped": ((0.78, 0), (1.0, 1)),
    "laced": ((0.75, 1), (1.0, 0)),
    "spangled": ((0.85, 0), (1.0, 1)),
}
_BARS = {
    "barred": 5,
    "soft-barred": 5,
    "fine-barred": 9,
    "bold-barred": 3,
    "pencilled": 9,
    "vermiculated": 11,
    "banded": 3,
}
_SPECKS = ("speckled", "mottled", "spotted", "splashed", "irregular", "mixed")


@dataclass(frozen=True, slots=True)
class Inks:
    """The shades of one ingredient, main one first, and its marking."""

    shades: tuple[str, ...]
    marking: str

    @property
    def main(self) -> str:
        """The shade seen first."""
        return self.shades[0]

    def other(self, place: int) -> str:
        """Return a shade by its place, the last one where there are fewer."""
        return self.shades[min(place, len(self.shades) - 1)]

    def along(self, chance: float) -> tuple[tuple[float, str], ...]:
        """Return where along a barb which shade ends, from the stem out.

        Parameters
        ----------
        chance : float
            0 to 1; shifts bars and specks, so that not all barbs are barred at the same height.
        """
        if len(self.shades) > 1 and self.marking in _ALONG:
            return tuple((end, self.other(place)) for end, place in _ALONG[self.marking])
        if len(self.shades) > 1 and self.marking in _BARS:
            count = _BARS[self.marking]
            step = 1.0 / count
            ends = [min(1.0, step * (place + 0.5 + 0.5 * chance)) for place in range(count)]
            return tuple(
                (end if place < count - 1 else 1.0, self.other(place % 2))
                for place, end in enumerate(ends)
            )
        if len(self.shades) > 1 and self.marking in _SPECKS:
            cut = 0.25 + 0.5 * chance
            return ((cut, self.main), (min(1.0, cut + 0.15), self.other(1)), (1.0, self.main))
        return ((1.0, self.main),)


def inks_of(candidate: Candidate) -> list[Inks]:
    """Return the inks of everything that a part is made of."""
    shade = candidate.attributes.get("shade")
    if candidate.attributes.get("blend") and isinstance(shade, str):
        return [Inks((shade.lower(),), "solid")]
    return [_inks(one) for one in candidate.ingredients] or [Inks((_PLAIN,), "solid")]


def _inks(ingredient: Ingredient) -> Inks:
    colour = ingredient.colour
    if colour is None or not colour.hexes:
        return Inks((_PLAIN,), "solid")
    return Inks(tuple(one.lower() for one in colour.hexes), colour.marking)
