"""A dressing and a variant that a notebook draws."""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from functools import cache
from typing import TYPE_CHECKING, Any

from variants.design import DesignProblem, Request, build_problem
from variants.model import Box, Dressing, Variant
from variants.rulebook import Rulebook

if TYPE_CHECKING:
    from variants.geometry import Layout


@dataclass(frozen=True, slots=True, eq=False)
class ShownDressing(Dressing):
    """A dressing with the rules by which it is drawn."""

    rules: Rulebook | None = field(default=None, repr=False)

    def _repr_svg_(self) -> str | None:
        """Return the fly as written, to scale."""
        if self.rules is None:
            return None
        design = build_problem(Request(_plain(self), Box(())), self.rules)
        return _draw(design, None)

    def __reduce__(self) -> tuple[Any, ...]:
        """Travel as a plain dressing: another process has rules of its own."""
        return _plain(self).__class__, tuple(getattr(self, one.name) for one in fields(Dressing))


@dataclass(frozen=True, slots=True, eq=False)
class ShownVariant(Variant):
    """A variant with the design that it solves."""

    design: DesignProblem | None = field(default=None, repr=False)

    def _repr_svg_(self) -> str | None:
        """Return the fly, to scale."""
        return None if self.design is None else _draw(self.design, self)


def shown_dressing(dressing: Dressing, rules: Rulebook) -> Dressing:
    """Return the same dressing, able to show itself."""
    told = {one.name: getattr(dressing, one.name) for one in fields(Dressing)}
    return ShownDressing(**told, rules=rules)


def shown_variant(variant: Variant, design: DesignProblem) -> Variant:
    """Return the same variant, able to show itself."""
    told = {one.name: getattr(variant, one.name) for one in fields(Variant)}
    return ShownVariant(**told, design=design)


def _plain(dressing: Dressing) -> Dressing:
    return Dressing(**{one.name: getattr(dressing, one.name) for one in fields(Dressing)})


def _draw(design: DesignProblem, variant: Variant | None) -> str | None:
    from variants.pictures import draw_fly

    try:
        return draw_fly(design, our_layout(), variant).svg
    except ValueError:
        # A hook of unknown size can't be drawn to scale; the notebook falls back on words.
        return None


@cache
def our_layout() -> Layout:
    """Return the layout that comes with Flykin."""
    from variants.geometry import load_layout

    return load_layout()
