"""Variants without needless changes: each part that differs has to.

A change is needless when the box holds the part as written and putting it back breaks no hard rule
and brings the fly no further from the dressing. Such a variant is valid but tells a tyer nothing:
the one without the change stands before it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from variants.design import DesignProblem, FlyConstraint, TimeUpError, Watch
from variants.design.search.dominance import remove_dominated
from variants.design.search.propose import Ended, SearchResult, search_within
from variants.model import Candidate, Variant

#: Each round asks for so many times more; after the last one the answer says it is not complete.
_GROWTH, _MOST = 5, 3000


@dataclass(frozen=True)
class _NeedCheck:
    """For each part, the candidates as written and the constraints that look at it."""

    written: Mapping[str, list[Candidate]]
    looking_at: Mapping[str, list[FlyConstraint]]

    @classmethod
    def of(cls, design: DesignProblem) -> _NeedCheck:
        written = {part: list(design.as_written(part)) for part in design.domains}
        looking_at: dict[str, list[FlyConstraint]] = {part: [] for part in design.domains}
        for constraint in design.constraints:
            for part in constraint.parts:
                looking_at[part].append(constraint)
        return cls(written, looking_at)

    def is_needed(self, variant: Variant) -> bool:
        """Tell whether every change of a variant has to be."""
        return not any(
            self._can_go_back(variant.chosen, part, candidate)
            for part in variant.changed
            for candidate in self.written[part]
        )

    def _can_go_back(self, chosen: Mapping[str, Candidate], part: str, written: Candidate) -> bool:
        before = self._cost(chosen, part)
        after = self._cost({**chosen, part: written}, part)
        return after is not None and before is not None and after <= before

    def _cost(self, chosen: Mapping[str, Candidate], part: str) -> int | None:
        """Return what a part and the constraints that look at it cost, or None when forbidden."""
        cost = chosen[part].cost
        for constraint in self.looking_at[part]:
            verdict = constraint.verdict([chosen[other] for other in constraint.parts])
            if verdict is None:
                return None
            cost += verdict
        return cost


def find_needed(design: DesignProblem, best: int) -> tuple[Variant, ...]:
    """Return the best variants that change no more than they must, as `search_needed` finds them.

    What breaks in, such as Ctrl-C, goes on to the caller, as from `search`.
    """
    result, _ = search_needed(design, best)
    if result.ended is Ended.INTERRUPTED:
        raise KeyboardInterrupt
    return result.so_far


def search_needed(
    design: DesignProblem,
    best: int,
    different: bool = False,
    watch: Watch | None = None,
) -> tuple[SearchResult, int | None]:
    """Search for the best variants that change no more than they must.

    Parameters are those of `search_within`, and so is the result: it may be unfinished.

    Returns
    -------
    SearchResult, int or None
        The number is how many variants were looked through when that was not enough to find all
        that were wanted; None where it was, or where the search was stopped.

    Notes
    -----
    Candidates that one as written is never worse than are dropped beforehand; what is then found in
    exact order is filtered, so that what is proven stays proven. The search is asked for more and
    more until enough are left; the first 3000 are looked at, at most.
    """
    check = _NeedCheck.of(design)
    try:
        design = remove_dominated(design, watch)
    except TimeUpError:
        return SearchResult((), Ended.STOPPED, 0, 0), None
    asked = best
    while True:
        result = search_within(design, asked, different, watch)
        kept = [variant for variant in result.so_far if check.is_needed(variant)]
        is_done = len(kept) >= best or len(result.so_far) < asked
        if is_done or not result.is_finished or asked >= _MOST:
            break
        asked = min(asked * _GROWTH, _MOST)
    proven = sum(variant.rank <= result.proven for variant in kept[:best])
    ranked = [replace(variant, rank=rank) for rank, variant in enumerate(kept[:best], start=1)]
    looked_through = None if is_done or not result.is_finished else len(result.so_far)
    return replace(result, so_far=tuple(ranked), proven=proven), looked_through
