"""The steps of one fly at the vice, in order, with their target lengths for its hook.

The fly's layout and what fills its parts come in; `Step`s go out. The words come from the table of
steps, the numbers from the geometry.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from variants.geometry import FlyGeometry, Layout, PartShape
from variants.geometry.targets import gauge_size, inch_fraction
from variants.model import Candidate
from variants.rulebook import Rulebook
from variants.sheet.steps_table import ANY, FINISH, StepRow, StepsTable

_BARBS = ("hackle", "palmer", "collar", "throat")
_SAME_MM = 0.05


@dataclass(frozen=True, slots=True)
class Target:
    """A length to set the dividers to.

    Attributes
    ----------
    right_mm, low_mm, high_mm : float
        What is right, and what the rule allows; the same where the layout alone tells.
    tied_mm : float
        What the stuff at hand gives.
    inches : str
        The right length as a fraction.
    gauge_size : int or None
        What a hackle gauge shows for it.
    """

    right_mm: float
    low_mm: float
    high_mm: float
    tied_mm: float
    inches: str
    gauge_size: int | None

    @property
    def words(self) -> str:
        """The length as it stands on the sheet."""
        told = [f"{self.right_mm:.1f} mm"]
        if self.high_mm - self.low_mm > _SAME_MM:
            told.append(f"({self.low_mm:.1f} to {self.high_mm:.1f})")
        return " ".join(told)

    @property
    def more(self) -> str:
        """The same length by other measures, and what is at hand where that differs."""
        told = [f"{self.inches} in"]
        if self.gauge_size is not None:
            told.append(f"gauge {self.gauge_size}")
        if abs(self.tied_mm - self.right_mm) > _SAME_MM:
            told.append(f"yours {self.tied_mm:.1f} mm")
        return ", ".join(told)


@dataclass(frozen=True, slots=True)
class Step:
    """One step: whose part, what is done, to which length, and where that comes from."""

    part: str
    says: str
    target: Target | None
    source: str


def steps_of(
    geometry: FlyGeometry,
    chosen: Mapping[str, Candidate],
    rulebook: Rulebook,
    layout: Layout,
    table: StepsTable,
) -> tuple[Step, ...]:
    """Return the steps of a fly in the order in which they are taken.

    Parameters
    ----------
    geometry : FlyGeometry
        Of these very candidates.
    chosen : mapping of part id to Candidate
    rulebook : Rulebook
    layout : Layout
    table : StepsTable
    """
    style = rulebook.trade.styles[geometry.style]
    filled = {part: one for part, one in chosen.items() if one.ingredients}
    order = [one.part for one in style.parts if one.part in filled]
    order += [part for part in filled if part not in order]
    told: list[tuple[tuple[int, int], Step]] = []
    for place, part in enumerate((*order, FINISH)):
        kind = filled[part].ingredients[0].material.kind if part in filled else ""
        build = layout.builds[kind].build if kind in layout.builds else ANY
        words = _words(part, filled.get(part), geometry)
        for count, row in enumerate(table.of(geometry.style, part, kind, build)):
            later = [order.index(one) for one in row.after if one in order]
            # A later step of a part comes after the steps of those that it waits for.
            moment = (max([place, *later]), 1 + place if later and max(later) > place else 0)
            target = None if count else _target(geometry.parts.get(part), rulebook)
            told.append((moment, _step(part, row, words, target)))
    return tuple(step for _, step in sorted(told, key=lambda one: one[0]))


def _step(part: str, row: StepRow, words: Mapping[str, str], target: Target | None) -> Step:
    return Step(part, row.told(words), target, row.source)


def _words(part: str, candidate: Candidate | None, fly: FlyGeometry) -> dict[str, str]:
    shape = fly.parts.get(part)
    words = {"head": _mm(fly.parts["head"].front_mm - fly.parts["head"].rear_mm)}
    words["behind_eye"] = words["head"]
    if candidate is not None:
        words["stuff"] = stuff_words(candidate)
    if shape is None:
        return words
    words |= {"rear": _mm(shape.rear_mm), "front": _mm(shape.front_mm)}
    words |= {name: str(count) for name, count in shape.counts.items() if count}
    if shape.cone is not None:
        words |= {"thin": _mm(shape.cone.rear_mm), "thick": _mm(shape.cone.front_mm)}
    return words


def stuff_words(candidate: Candidate) -> str:
    """Return what fills a part, without the hook's size, which the sheet tells at its head."""
    size = candidate.attributes.get("size")
    return candidate.words.removesuffix(f", size {size}")


def _mm(length: float) -> str:
    return f"{max(0.0, length):.1f}"


def _target(shape: PartShape | None, rulebook: Rulebook) -> Target | None:
    if shape is None or shape.length_mm is None or shape.right_mm is None:
        return None
    right = shape.right_mm
    return Target(
        right,
        right if shape.low_mm is None else shape.low_mm,
        right if shape.high_mm is None else shape.high_mm,
        shape.length_mm,
        inch_fraction(right),
        gauge_size(rulebook, right) if shape.part in _BARBS else None,
    )
