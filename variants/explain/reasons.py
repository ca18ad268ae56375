"""Why a variant stands: part by part, what was asked, what is used, what each rule tested.

Explanations are data; the words on the screen are made in the views.
"""

from __future__ import annotations

from dataclasses import dataclass

from variants.design import DesignProblem, RuleConstraint
from variants.model import HOOK, Candidate, Term, Trade, Variant
from variants.rulebook import TOGETHER, Count, Exclude, Finding, Measure, Rule


@dataclass(frozen=True, slots=True)
class Judgement:
    """A rule and what it found on the fly at hand."""

    rule: Rule
    finding: Finding


@dataclass(frozen=True, slots=True)
class PartReason:
    """One part of a variant, explained.

    Attributes
    ----------
    part : str
    asked, used : Candidate
    terms : tuple of Term
        The departure of the part alone.
    judgements : tuple of Judgement
        Of every rule that tested a number or a word on this part, or costs something; a rule over
        several parts stands with the first of them that is not the hook.
    """

    part: str
    asked: Candidate
    used: Candidate
    terms: tuple[Term, ...]
    judgements: tuple[Judgement, ...]


@dataclass(frozen=True, slots=True)
class Explanation:
    """A variant explained, with the rules that the dressing itself overrides."""

    variant: Variant
    parts: tuple[PartReason, ...]
    waived: tuple[Rule, ...]


def explain(design: DesignProblem, variant: Variant) -> Explanation:
    """Return what every rule tested on a variant, and what each part's departure is made of."""
    trade = design.rulebook.trade
    by_part: dict[str, list[Judgement]] = {part: [] for part in variant.chosen}
    for constraint in design.constraints:
        if not isinstance(constraint, RuleConstraint):
            continue
        finding = constraint.finding([variant.chosen[part] for part in constraint.parts])
        if _has_something_to_tell(constraint.rule, finding):
            place = next((part for part in constraint.parts if part != HOOK), HOOK)
            by_part[place].append(Judgement(constraint.rule, _in_names(finding, trade)))
    parts = tuple(
        PartReason(part, design.base[part], used, used.terms, tuple(by_part[part]))
        for part, used in variant.chosen.items()
    )
    return Explanation(variant, parts, design.waived)


def judge_own_measures(design: DesignProblem) -> list[Judgement]:
    """Return how the rules judge what the dressing states itself: counts, lengths, thicknesses.

    A rule that such a count breaks is set aside for it, and a hard rule that bounds a measure is
    not; of both, those are returned that the dressing as written breaks.
    """
    fly = {part: one.attributes for part, one in design.base.items()}
    broken = [Judgement(rule, rule.judge(fly)) for rule in design.waived if isinstance(rule, Count)]
    stating = {
        part.id
        for part in design.request.base.parts
        if part.length is not None or part.thickness is not None
    }
    for rule in design.rules:
        if isinstance(rule, Measure) and rule.is_hard and rule.part in stating:
            finding = rule.judge(fly)
            if not finding.kept:
                broken.append(Judgement(rule, finding))
    return broken


def _in_names(finding: Finding, trade: Trade) -> Finding:
    """Return a finding that tells materials by their names instead of their ids."""
    numbers = tuple(
        number._replace(value=_names(number.value, trade))
        if isinstance(number.value, str) and number.what.endswith(" material")
        else number
        for number in finding.numbers
    )
    return finding._replace(numbers=numbers)


def _names(ids: str, trade: Trade) -> str:
    found = (trade.materials.get(one) for one in ids.split(TOGETHER))
    names = [material.name for material in found if material is not None]
    return " with ".join(names) or ids


def _has_something_to_tell(rule: Rule, finding: Finding) -> bool:
    """Tell a rule that tested something from one whose case did not arise on this fly."""
    if finding.cost:
        return True
    return finding.applies and bool(finding.numbers) and not isinstance(rule, Exclude)
