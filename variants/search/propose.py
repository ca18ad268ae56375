"""From a design problem to variants: the search run, its answers put into the model's words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from variants.model import Candidate, Term, Variant
from variants.problem import DesignProblem, RuleConstraint
from variants.search.different import best_of_each_change
from variants.search.network import compile_network
from variants.search.solver import BestFirstSolver, as_assignment


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
    answers = _different(design) if different else _all(design)
    seen: set[tuple[str, ...]] = set()
    for chosen in answers:
        dressing = tuple(chosen[part].identity for part in design.domains)
        if dressing not in seen:
            seen.add(dressing)
            yield as_variant(design, chosen, len(seen))


def _all(design: DesignProblem) -> Iterator[Mapping[str, Candidate]]:
    solutions: Iterator[Mapping[str, Candidate]] = design.problem(
        BestFirstSolver()
    ).getSolutionIter()
    return solutions


def _different(design: DesignProblem) -> Iterator[Mapping[str, Candidate]]:
    network = compile_network(
        design.domains, [(constraint, constraint.parts) for constraint in design.constraints]
    )
    for _cost, chosen in best_of_each_change(network):
        yield as_assignment(network, chosen)


def as_variant(design: DesignProblem, chosen: Mapping[str, Candidate], rank: int) -> Variant:
    """Return a complete choice as a variant, its soft rules' terms worked out anew."""
    ordered = {part: chosen[part] for part in design.domains}
    terms = rule_terms(design, ordered)
    departure = sum(candidate.cost for candidate in ordered.values()) + sum(
        term.cost for term in terms
    )
    return Variant(rank, ordered, departure, terms)


def rule_terms(design: DesignProblem, chosen: Mapping[str, Candidate]) -> tuple[Term, ...]:
    """Return what the soft rules add to a choice of candidates."""
    terms = []
    for constraint in design.constraints:
        if isinstance(constraint, RuleConstraint):
            finding = constraint.finding([chosen[part] for part in constraint.parts])
            if finding.cost:
                rule = constraint.rule
                terms.append(Term(rule.id, finding.cost, rule.says, rule.source))
    return tuple(terms)
