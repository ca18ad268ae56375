"""Which inks a candidate is drawn in: its shades, and how a marking lays them along a barb."""

from __future__ import annotations

from dataclasses import dataclass

from variants.geometry import Looks, MarkingLook
from variants.model import Candidate, Ingredient
from variants.pictures.paper import PAPER, blend, luma, shade

#: What stuff without a colour of its own is drawn in.
_PLAIN = "#8d867a"
_UNMARKED = MarkingLook("plain", (), 0, "")


@dataclass(frozen=True, slots=True)
class Mark:
    """A stretch of a barb in another shade than its ground: shares of the barb's length."""

    start: float
    end: float
    ink: str


@dataclass(frozen=True, slots=True)
class Inks:
    """The shades of one ingredient, main one first, its marking, and its family's hatching."""

    shades: tuple[str, ...]
    look: MarkingLook = _UNMARKED
    hatch: str = "plain"

    @property
    def main(self) -> str:
        """The shade seen first."""
        return self.shades[0]

    @property
    def ground(self) -> str:
        """The shade that most of a barb has, over which marks are laid."""
        if len(self.shades) > 1 and self.look.manner == "run":
            widest, start = (0.0, 0), 0.0
            for end, shade in self.look.steps:
                widest, start = max(widest, (end - start, shade)), end
            return self.other(widest[1])
        if len(self.shades) > 1 and self.look.manner == "bars":
            return max(self.shades, key=luma)
        return self.main

    def other(self, place: int) -> str:
        """Return a shade by its place, the last one where there are fewer."""
        return self.shades[min(place, len(self.shades) - 1)]

    def shade(self, share: float) -> Inks:
        """Return the same marking in darker (share below 0) or lighter shades."""
        return Inks(tuple(shade(one, share) for one in self.shades), self.look, self.hatch)

    def fade(self, share: float) -> Inks:
        """Return the same marking, faded into the paper as what lies farther off."""
        inks = tuple(blend(one, PAPER, share) for one in self.shades)
        return Inks(inks, self.look, self.hatch)

    def marks(self, chance: float) -> tuple[Mark, ...]:
        """Return what lies over the ground of a barb, from the stem out.

        Parameters
        ----------
        chance : float
            0 to 1; shifts bars and specks, so that they do not stand in file.
        """
        if len(self.shades) < 2:
            return ()
        if self.look.manner == "run":
            ground, found, start = self.ground, [], 0.0
            for end, shade in self.look.steps:
                if self.other(shade) != ground:
                    found.append(Mark(start, end, self.other(shade)))
                start = end
            return tuple(found)
        if self.look.manner == "bars":
            step = 1.0 / max(1, self.look.count)
            first = 0.15 + 0.35 * chance
            # Bars are darker than what lies between them; of three shades two take turns.
            inks = [one for one in self.shades if one != self.ground] or [self.main]
            return tuple(
                Mark(max(0.0, step * (bar + first - 0.28)), min(1.0, step * (bar + first + 0.24)),
                     inks[bar % len(inks)])
                for bar in range(self.look.count)
            )  # fmt: skip
        if self.look.manner == "specks":
            found = []
            for speck in range(self.look.count):
                at = (speck + 0.15 + 0.7 * ((chance * 7.3 + speck * 0.618) % 1.0)) / self.look.count
                found.append(Mark(at * 0.94, min(1.0, at * 0.94 + 0.09), self.other(1 + speck % 2)))
            return tuple(found)
        return ()


def inks_of(candidate: Candidate, looks: Looks) -> list[Inks]:
    """Return the inks of everything that a part is made of."""
    shade = candidate.attributes.get("shade")
    if candidate.attributes.get("blend") and isinstance(shade, str):
        first = candidate.ingredients[0].colour
        return [Inks((shade.lower(),), _UNMARKED, looks.hatch(first.family if first else ""))]
    return [_inks(one, looks) for one in candidate.ingredients] or [Inks((_PLAIN,))]


def _inks(ingredient: Ingredient, looks: Looks) -> Inks:
    colour = ingredient.colour
    if colour is None or not colour.hexes:
        return Inks((_PLAIN,))
    look = looks.markings.get(colour.marking, _UNMARKED)
    return Inks(tuple(one.lower() for one in colour.hexes), look, looks.hatch(colour.family))
