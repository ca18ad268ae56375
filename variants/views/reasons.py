"""An explanation on a terminal: each part with its numbers, rules and sources."""

from __future__ import annotations

from variants.design import ChangesConstraint, DesignProblem, RuleConstraint
from variants.explain import (
    Conflict,
    Explanation,
    Judgement,
    NearMiss,
    Obstacle,
    PartReason,
    judge_own_measures,
)
from variants.explain.wording import (
    departure_words,
    join_words,
    number_words,
    part_name,
    pluralize,
    source_items,
)
from variants.model import Term
from variants.rulebook import Count
from variants.text import printable
from variants.views.columns import wrap_indented


def explanation_lines(design: DesignProblem, explanation: Explanation) -> list[str]:
    """Return an explanation, line by line."""
    variant = explanation.variant
    lines = [f"Variant {variant.rank}, departure {departure_words(variant.departure)}"]
    for reason in explanation.parts:
        lines += ["", *_part_lines(design, reason)]
    if explanation.waived:
        lines += ["", "The dressing itself departs from these rules, so they are set aside:"]
        for rule in explanation.waived:
            lines += wrap_indented(f"{rule.says} [{rule.id}]", 2, 7)
    return lines


def refused_lines(design: DesignProblem) -> list[str]:
    """Return a note for each measure that the dressing states beyond a hard limit."""
    return [
        line
        for one in judge_own_measures(design)
        if not isinstance(one.rule, Count)
        for line in wrap_indented(f"Note: as written, {own_measure_words(one)}", 7)
    ]


def own_measure_words(judgement: Judgement) -> str:
    """Return what a dressing states against a rule, and which of the two stands."""
    rule = judgement.rule
    # What a rule would call right is not the question here.
    tested = (one._replace(target=None) for one in judgement.finding.numbers)
    numbers = "; ".join(map(number_words, tested))
    stands = (
        "it stands as written, and the rule is set aside for it"
        if isinstance(rule, Count)
        else "no fly is tied so, whoever states it"
    )
    return f"{numbers}. {rule.says} [{rule.id}]: {stands}."


def _part_lines(design: DesignProblem, reason: PartReason) -> list[str]:
    name = part_name(design.rulebook.trade.parts, reason.part)
    lines = wrap_indented(f"{name.upper()}  {reason.used.way.value}", 0, 7)
    lines += wrap_indented(f"asked  {printable(reason.asked.words)}", 2, 7)
    lines += wrap_indented(f"used   {printable(reason.used.words)}", 2, 7)
    if reason.used.items:
        lines += wrap_indented(f"from   {source_items(reason.used)}", 2, 7)
    for term in reason.terms:
        lines += wrap_indented(_term_words(term), 4, 7)
    for judgement in reason.judgements:
        cost = judgement.finding.cost
        numbers = "; ".join(number_words(number) for number in judgement.finding.numbers)
        kept = "hard, kept" if judgement.rule.is_hard and not cost else "kept"
        verdict = f"+{departure_words(cost)}" if cost else kept
        lines += wrap_indented(f"{verdict}  {judgement.rule.says} [{judgement.rule.id}]", 4, 7)
        if numbers:
            lines += wrap_indented(numbers, 10, 7)
        lines += wrap_indented(f"source: {judgement.rule.source}", 10, 7)
    return lines


def _term_words(term: Term) -> str:
    source = f" (source: {term.source})" if term.source else ""
    return f"+{departure_words(term.cost)}  {term.what}: {term.says}{source}"


def conflict_lines(design: DesignProblem, conflict: Conflict) -> list[str]:
    """Return why there is no variant, in trade words."""
    base = printable(design.request.base.name)
    if conflict.empty_parts:
        names = join_words((empty_words(design, part) for part in conflict.empty_parts), "or")
        return wrap_indented(
            f"No variant of {base}: nothing that is left in the box can be the {names}.", 0, 7
        )
    lines = wrap_indented(f"No variant of {base}: with this box these can't all be kept:", 0, 7)
    for obstacle in conflict.obstacles:
        lines += obstacle_lines(obstacle)
    return lines


def empty_words(design: DesignProblem, part: str) -> str:
    """Return a part that nothing can fill, with what was asked of it."""
    request = design.request
    name = part_name(design.rulebook.trade.parts, part)
    if part == "hook":
        name += f" in size {join_words(map(str, request.sizes or request.base.sizes), 'or')}"
    return f"{name} as written" if part in request.keep else name


def obstacle_lines(obstacle: Obstacle) -> list[str]:
    """Return one constraint of a conflict: rule, source, and what came nearest to keeping it."""
    constraint = obstacle.constraint
    if isinstance(constraint, ChangesConstraint):
        return wrap_indented(
            f"- at most {pluralize(constraint.at_most, 'part')} may change (as you asked)", 2, 7
        )
    if not isinstance(constraint, RuleConstraint):
        return wrap_indented(f"- enough must be left for the {join_words(constraint.parts)}", 2, 7)
    lines = wrap_indented(f"- {constraint.rule.says} [{constraint.rule.id}]", 2, 7)
    lines += wrap_indented(f"source: {constraint.rule.source}", 4, 7)
    if obstacle.nearest:
        lines += wrap_indented(_nearest_words(obstacle.nearest), 4, 7)
    return lines


def _nearest_words(nearest: NearMiss) -> str:
    owned = " with ".join(
        source_items(candidate) or candidate.words for candidate in nearest.chosen
    )
    return f"nearest: {owned}; {number_words(nearest.number)}"
