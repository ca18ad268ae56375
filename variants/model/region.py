"""A region: its waters with their rules, the naturals on them, and whose law holds there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from variants.model.colour import Colour
from variants.model.origin import NOWHERE, Origin

#: How fast a water runs, in the words of rules and region files.
WATERS = ("slow", "medium", "fast")
CLARITIES = ("clear", "tinged", "coloured")
SURFACES = ("smooth", "rippled", "broken")


@dataclass(frozen=True, slots=True)
class WaterRules:
    """What the water's owner asks for.

    Attributes
    ----------
    barbless, no_lead, fly_only : bool
    pressed_barb : bool
        Where only barbless hooks may be used: whether a barb pressed flat counts as none.
    largest_hook : int or None
        Size of the largest hook allowed; a smaller number is a larger hook.
    most_hooks : int or None
        How many hooks may be on one line.
    most_points : int or None
        How many points a hook may have: 1 bars doubles and trebles, 2 trebles.
    largest_gape_mm : float or None
    unweighted, no_scent : bool
        Scent is put on a fly that is tied: it is told, and nothing can be judged.
    """

    barbless: bool = False
    no_lead: bool = False
    fly_only: bool = False
    pressed_barb: bool = False
    largest_hook: int | None = None
    most_hooks: int | None = None
    most_points: int | None = None
    largest_gape_mm: float | None = None
    unweighted: bool = False
    no_scent: bool = False


@dataclass(frozen=True, slots=True)
class Water:
    """One water: ``speed``, ``clarity`` and ``surface`` are words, ``depth_m`` is in metres."""

    name: str
    speed: str
    clarity: str
    surface: str
    depth_m: float | None
    rules: WaterRules
    origin: Origin = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Natural:
    """An insect, or other food, that trout take there.

    Attributes
    ----------
    name, order, stage : str
    months : tuple of int
        From 1; a range may run over the turn of the year.
    body_mm : tuple of float
        Shortest and longest body, without tails.
    body, wing, legs : Colour or None
        None where the natural shows none.
    """

    name: str
    order: str
    stage: str
    months: tuple[int, ...]
    body_mm: tuple[float, float]
    body: Colour | None = None
    wing: Colour | None = None
    legs: Colour | None = None
    origin: Origin = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Region:
    """A place to fish.

    Attributes
    ----------
    name : str
    jurisdiction : str
        Id of the tables of law, or empty.
    waters, naturals : tuple
    palette : mapping of part to colour ids
        The colours that flies are dressed in there, part by part.
    origin : Origin
    """

    name: str
    jurisdiction: str
    waters: tuple[Water, ...]
    naturals: tuple[Natural, ...]
    palette: Mapping[str, frozenset[str]] = field(default_factory=dict)
    origin: Origin = field(default=NOWHERE, compare=False)

    def naturals_in(self, month: int) -> tuple[Natural, ...]:
        """Return the naturals of a month, counted from 1."""
        return tuple(natural for natural in self.naturals if month in natural.months)
