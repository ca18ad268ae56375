"""A variant: a complete dressing that keeps every hard rule and comes from a base."""

from __future__ import annotations

from collections.abc import Mapping
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
    rule_terms : tuple of Term
        What soft rules add to the candidates' own terms.
    """

    rank: int
    chosen: Mapping[str, Candidate]
    departure: int
    rule_terms: tuple[Term, ...] = ()

    @property
    def changed(self) -> tuple[str, ...]:
        """Ids of the parts that differ from the base, in the order of the dressing."""
        return tuple(part for part, candidate in self.chosen.items() if candidate.is_changed)
