"""The kit of a class: what each place at the table wants, and whether the box holds it all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from variants.explain.wording import item_words, part_name
from variants.geometry import Use, supplies
from variants.model import Trade
from variants.text import printable
from variants.views.amounts import amount_words

#: A hair of slack: twelve lots of 0.1 feather are 1.2, whatever the last digit says.
_SLACK = 1e-9
#: Less dubbing than this is told as a pinch: no kitchen scale shows it (common practice).
_PINCH_MG = 50.0


@dataclass(frozen=True, slots=True)
class KitLine:
    """One thing to lay out.

    Attributes
    ----------
    part, stuff : str
        For which part, and what it is.
    each_place, in_all : str
        What a place at the table wants, and the whole class.
    from_box : str
        Where it lies; empty without a box.
    short_of : int
        For so many flies the box lacks it; 0 when it holds enough, or is not counted.
    gives : int or None
        So many flies the box gives of it; None when that is not counted.
    """

    part: str
    stuff: str
    each_place: str
    in_all: str
    from_box: str
    short_of: int
    gives: int | None


def kit_of(
    uses: Sequence[Use], trade: Trade, students: int, flies_each: int
) -> tuple[KitLine, ...]:
    """Return what a class takes, in the order of the dressing.

    Parameters
    ----------
    uses : sequence of Use
        Of one fly.
    trade : Trade
    students : int
    flies_each : int
        How many flies each of them ties.

    Notes
    -----
    What is counted in pieces is laid out whole: a place gets the feather that its tails are pulled
    from, while the class together may share some.
    """
    flies = students * flies_each
    given = {part: one.flies for one in supplies(uses) for part in one.parts}
    return tuple(
        KitLine(
            part=part_name(trade.parts, use.part),
            stuff=printable(use.ingredient.words),
            each_place=_laid_out(use, flies_each),
            in_all=_laid_out(use, flies),
            from_box=item_words(use.items) if use.items else "",
            short_of=max(0, flies - given.get(use.part, flies)) if use.items else 0,
            gives=given.get(use.part) if use.items else None,
        )
        for use in uses
    )


def _laid_out(use: Use, flies: int) -> str:
    if use.pieces is None:
        told = amount_words(use, flies)
        mass = use.mass_mg
        return f"a pinch ({told})" if mass and mass * flies < _PINCH_MG and "mg" in told else told
    whole = ceil(use.pieces * flies - _SLACK)
    return str(max(whole, floor(use.pieces * flies)))
