"""One problem searched again and again, with some of its parts filled otherwise or left out.

A thing bought changes what may fill a part or two; all else of the fly is as it was. What has been
read of the other candidates, and what rules have said of them, is kept from one search to the next.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from variants.design import DesignProblem
from variants.design.search.best_first import BestFirstSearch
from variants.design.search.compiler import NetworkCompiler
from variants.design.search.network import Network
from variants.design.search.widening import Assignment, WideningSearch
from variants.model import Candidate


@dataclass(frozen=True, slots=True)
class Closest:
    """The closest choice of candidates.

    Attributes
    ----------
    departure : int
        Thousandths.
    chosen : dict of part to Candidate
    """

    departure: int
    chosen: Assignment


class IncrementalSearch:
    """A design problem to be searched often.

    Parameters
    ----------
    design : DesignProblem
    """

    def __init__(self, design: DesignProblem) -> None:
        self._parts = frozenset(design.domains)
        self._compiler = NetworkCompiler.of(design.domains, design.constraints)

    def find_closest(
        self,
        filled: Mapping[str, Sequence[Candidate]] | None = None,
        *,
        without: Collection[str] = (),
        below: int | None = None,
    ) -> Closest | None:
        """Return the closest choice, proven to be; None when there is none.

        Parameters
        ----------
        filled : mapping of part to candidates, optional
            What fills some parts instead.
        without : collection of str
            Parts to be left out of account, with all constraints that look at them.
        below : int, optional
            Thousandths; a choice that does not depart less is as good as none.
        """
        if not self._parts - set(without):
            return Closest(0, {}) if below is None or below > 0 else None
        compiler = self._compiler.with_domains(filled or {}, without)
        search = WideningSearch(compiler, _start_search, wanted=1, below=below)
        for chosen in search:
            return Closest(search.departure, chosen)
        return None


def _start_search(network: Network, horizon: int | None) -> BestFirstSearch:
    return BestFirstSearch(network, horizon=horizon)
