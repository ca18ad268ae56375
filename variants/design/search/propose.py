"""From a design problem to variants: runs the solver and makes variants of its solutions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from enum import Enum
from functools import partial

from constraint import Solver

from variants.design import DesignProblem, RuleConstraint, TimeUpError, Watch, gc_paused
from variants.design.search.reordering import ReorderingSolver
from variants.design.search.solver import BestFirstSolver
from variants.model import Candidate, Term, Variant

#: What each rule said of candidates beside each other.
KnownTerms = dict[tuple[RuleConstraint, tuple[Candidate, ...]], Term]
_UNKNOWN = Term("", 0)


class Ended(Enum):
    """How a search ended; the value says it in words."""

    PROVEN = "every variant listed is proven to be the next best"
    NONE_EXISTS = "it is proven that no variant exists"
    STOPPED = "the time limit came first"
    INTERRUPTED = "the user broke it off"


@dataclass(frozen=True, slots=True)
class SearchResult:
    """What a search has found so far, and what is proven of it: it may have been stopped.

    Attributes
    ----------
    so_far : tuple of Variant
        By departure. The first ``proven`` of them are the best there are, in order; any after those
        are valid, but better ones may exist.
    ended : Ended
    bound : int or None
        Thousandths: no variant that is not among the proven ones departs less. None when there is
        no other at all.
    proven : int
    """

    so_far: tuple[Variant, ...]
    ended: Ended
    bound: int | None
    proven: int

    @property
    def is_finished(self) -> bool:
        """Whether everything is proven."""
        return self.ended in (Ended.PROVEN, Ended.NONE_EXISTS)


@dataclass(frozen=True, slots=True)
class Finished(SearchResult):
    """The result of a search that came to its end: every variant in it is proven."""

    @property
    def variants(self) -> tuple[Variant, ...]:
        """The variants, the closest first; only a finished search has them by this name."""
        return self.so_far


def search(
    design: DesignProblem,
    best: int = 20,
    different: bool = False,
    watch: Watch | None = None,
    *,
    solver: Solver | None = None,
) -> Finished:
    """Search for the best variants, to the end.

    What breaks in, such as Ctrl-C, goes on to the caller: no part of an answer is ever returned.
    Whoever can use a part asks `search_within`.

    Parameters
    ----------
    design : DesignProblem
    best : int
        How many variants are wanted.
    different : bool
        Only the best variant of each set of changed parts.
    watch : Watch, optional
    solver : constraint.Solver, optional
        A solver of python-constraint in place of ours. It lists every solution of the problem
        before the first variant is known, so it serves for small problems, and as a check: the
        variants are the same.

    Raises
    ------
    ValueError
        When no variant is wanted.
    TimeUpError
        When the watch says so.
    NotImplementedError
        When the other solver has no ``getSolutionIter``.
    """
    run = _Run(design, best, different, watch or Watch(), solver)
    run.go_on()
    return run.finished()


def search_within(
    design: DesignProblem, best: int = 20, different: bool = False, watch: Watch | None = None
) -> SearchResult:
    """Search for the best variants, until they are proven, the time is up or the user breaks in.

    Parameters
    ----------
    design, best, different
        As in `search`.
    watch : Watch, optional
        The time limit, and who hears of each proven variant and of the rising bound.

    Returns
    -------
    SearchResult
        A `Finished` one, or what there was when the search was stopped.

    Raises
    ------
    ValueError
        When no variant is wanted.
    """
    run = _Run(design, best, different, watch or Watch())
    try:
        run.go_on()
    except TimeUpError:
        return run.stopped(Ended.STOPPED)
    except KeyboardInterrupt:
        return run.stopped(Ended.INTERRUPTED)
    return run.finished()


class _Run:
    """One search under way: what it has found, each the best there is beside those before it."""

    def __init__(
        self,
        design: DesignProblem,
        best: int,
        different: bool,
        watch: Watch,
        solver: Solver | None = None,
    ) -> None:
        if best < 1:
            raise ValueError("a search wants at least one variant")
        self._design, self._best, self._different, self._watch = design, best, different, watch
        self._solver: BestFirstSolver | ReorderingSolver
        if solver is None:
            self._solver = BestFirstSolver(
                distinct=not different, different=different, watch=watch, wanted=best
            )
        else:
            self._solver = ReorderingSolver(
                solver, distinct=not different, different=different, watch=watch
            )
        self._found: list[Variant] = []

    @gc_paused()
    def go_on(self) -> None:
        """Search until as many are found as are wanted, or there are no more."""
        if self._design.find_empty_parts(self._watch):
            return
        known: KnownTerms = {}
        found = self._found
        for departure, chosen in _solve(self._design, self._solver):
            found.append(as_variant(self._design, chosen, len(found) + 1, known, departure))
            self._watch.found(len(found), departure)
            if len(found) == self._best:
                break

    def finished(self) -> Finished:
        """Return the result of a search that has come to its end."""
        found, progress = tuple(self._found), self._solver.progress
        if not found:
            return Finished((), Ended.NONE_EXISTS, None, 0)
        return Finished(found, Ended.PROVEN, progress.least_left if progress else None, len(found))

    @gc_paused()
    def stopped(self, why: Ended) -> SearchResult:
        """Return what was found by then, and what can still be finished in a moment."""
        proven, progress = tuple(self._found), self._solver.progress
        self._watch.grant_grace()
        begun = _unproven(self._design, self._solver, self._different, self._best, proven)
        bound = progress.bound if progress else 0
        return SearchResult((*proven, *begun), why, bound, len(proven))


def _solve(
    design: DesignProblem, solver: BestFirstSolver | ReorderingSolver
) -> Iterator[tuple[int, Mapping[str, Candidate]]]:
    """Yield the solutions of the library's `Problem`, each with its departure in thousandths."""
    for chosen in design.problem(solver).getSolutionIter():
        assert solver.progress is not None  # it has just given one
        yield solver.progress.departure, chosen


def _unproven(
    design: DesignProblem,
    solver: BestFirstSolver | ReorderingSolver,
    different: bool,
    best: int,
    found: Sequence[Variant],
) -> list[Variant]:
    """Return what a stopped search can still finish in a moment, by departure."""
    begun: list[Variant] = []
    if solver.progress is None:
        return begun
    known = {_kind(variant, different) for variant in found}
    with suppress(TimeUpError, KeyboardInterrupt):
        for chosen in solver.progress.leftovers():
            variant = as_variant(design, chosen, 0)
            if _kind(variant, different) not in known:
                known.add(_kind(variant, different))
                begun.append(variant)
            if len(found) + len(begun) == best:
                break
    begun.sort(key=lambda variant: variant.departure)
    return [replace(one, rank=rank) for rank, one in enumerate(begun, start=len(found) + 1)]


def _kind(variant: Variant, different: bool) -> tuple[str, ...]:
    """Return what may be listed only once: a dressing, or a set of changed parts."""
    if different:
        return variant.changed
    return tuple(candidate.identity for candidate in variant.chosen.values())


def variants_of(design: DesignProblem, *, different: bool = False) -> Iterator[Variant]:
    """Yield the variants of a design problem in proven order.

    Parameters
    ----------
    design : DesignProblem
    different : bool
        Only the best variant of each set of changed parts.

    Notes
    -----
    An iterator: each variant is proven when it is yielded, and the caller may stop at any time.
    Choices that make the same dressing from other items of the box are one variant, the closest.
    """
    if design.empty_parts:
        return
    solver = BestFirstSolver(distinct=not different, different=different)
    known: KnownTerms = {}
    for rank, (departure, chosen) in enumerate(_solve(design, solver), start=1):
        yield as_variant(design, chosen, rank, known, departure)


def as_variant(
    design: DesignProblem,
    chosen: Mapping[str, Candidate],
    rank: int,
    known: KnownTerms | None = None,
    departure: int | None = None,
) -> Variant:
    """Return a complete choice as a variant.

    Parameters
    ----------
    design, chosen, rank
    known : dict, optional
        As `rule_terms` takes it.
    departure : int, optional
        Thousandths, where a search has found it; worked out anew otherwise.
    """
    ordered = {part: chosen[part] for part in design.domains}
    terms = partial(rule_terms, design, ordered, {} if known is None else known)
    if departure is None:
        departure = sum([candidate.cost for candidate in ordered.values()])
        departure += sum([term.cost for term in terms()])
    return Variant(rank, ordered, departure, terms)


def rule_terms(
    design: DesignProblem, chosen: Mapping[str, Candidate], known: KnownTerms | None = None
) -> tuple[Term, ...]:
    """Return what the soft rules add to a choice of candidates.

    ``known`` keeps what rules said of candidates, for further choices that share some.
    """
    known = {} if known is None else known
    terms = []
    for constraint in design.costing:
        beside = tuple([chosen[part] for part in constraint.parts])
        term = known.get((constraint, beside), _UNKNOWN)
        if term is _UNKNOWN:
            term = known[constraint, beside] = _term(constraint, beside)
        if term.cost:
            terms.append(term)
    return tuple(terms)


def _term(constraint: RuleConstraint, beside: Sequence[Candidate]) -> Term:
    rule = constraint.rule
    return Term(rule.id, constraint.finding(beside).cost, rule.says, rule.source)
