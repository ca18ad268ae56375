"""A variant: a complete dressing that keeps every hard rule and comes from a base."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from variants.model.candidate import Candidate, Term


@dataclass(frozen=True, slots=True, eq=False)
class Variant:
    """A complete assignment of candidates to parts, with its departure.

    Attributes
    ----------
    rank : int
        Place in the proven order, counted from 1.
    chosen : mapping of part id to Candidate
        In the order of the dressing.
    departure : int
        Thousandths; 0 is the dressing as written.
    said : tuple of Term, or callable
        What soft rules add to the candidates' own terms, or what tells it: a search that looks
        through thousands of variants need not put any of that into words.
    """

    rank: int
    chosen: Mapping[str, Candidate]
    departure: int
    said: tuple[Term, ...] | Callable[[], tuple[Term, ...]] = ()

    @property
    def rule_terms(self) -> tuple[Term, ...]:
        """What soft rules add to the candidates' own terms."""
        return self.said if isinstance(self.said, tuple) else self.said()

    def __reduce__(self) -> tuple[type[Variant], tuple[object, ...]]:
        """Travel with the terms told: what tells them has the whole design in hand."""
        return Variant, (self.rank, self.chosen, self.departure, self.rule_terms)

    @property
    def changed(self) -> tuple[str, ...]:
        """Ids of the parts that differ from the base, in the order of the dressing."""
        return tuple(part for part, candidate in self.chosen.items() if candidate.is_changed)
