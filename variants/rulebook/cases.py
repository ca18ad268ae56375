"""The small flies under ``keeps`` and ``breaks``, judged by the rule that states them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from variants.model import Fly
from variants.reading import Fault
from variants.rulebook.kinds import Count, Equal, Measure, Rule


def judge_cases(rules: Iterable[Rule]) -> list[Fault]:
    """Return what is wrong with the cases that rules state of themselves.

    A fly under ``keeps`` is kept and costs nothing, a measure off its nominal and a count off the
    dressing's own excepted; one under ``breaks`` is judged, and ruled out or made to pay.
    """
    return [
        Fault(rule.origin, f"{rule.id}: {problem}", remedy)
        for rule in rules
        for problem, remedy in _problems(rule)
    ]


def without_cases(rules: Iterable[Rule]) -> list[str]:
    """Return the ids of rules that state no fly that keeps them, or none that breaks them."""
    return [
        rule.id
        for rule in rules
        if not isinstance(rule, Equal) and not (rule.keeps and rule.breaks)
    ]


def _problems(rule: Rule) -> Iterator[tuple[str, str]]:
    for name, flies, is_right in (
        ("keeps", rule.keeps, _is_kept),
        ("breaks", rule.breaks, _is_broken),
    ):
        for number, fly in enumerate(flies, 1):
            if not is_right(rule, fly):
                says = _verdict(rule, fly)
                yield (
                    f"the fly {number} under {name} {says}",
                    "mend the rule, or move the fly"
                    if says != _SILENCE
                    else "give the fly every part and attribute that the rule looks at",
                )


_SILENCE = "is one that the rule says nothing of"


def _is_kept(rule: Rule, fly: Fly) -> bool:
    finding = rule.judge(fly)
    may_cost = isinstance(rule, Measure | Count)
    return finding.kept and (may_cost or not finding.cost) and not _pays_in_full(rule, fly)


def _is_broken(rule: Rule, fly: Fly) -> bool:
    finding = rule.judge(fly)
    return finding.applies and (not finding.kept or finding.cost > 0)


def _pays_in_full(rule: Rule, fly: Fly) -> bool:
    """Tell whether a fly pays all that a soft measure or count asks: it lies outside its bounds."""
    numbers = rule.judge(fly).numbers
    if rule.is_hard or not isinstance(rule, Measure | Count) or not numbers:
        return False
    value, low, high = numbers[0].value, numbers[0].low, numbers[0].high
    if not isinstance(value, int | float) or low is None or high is None:
        return False
    return not low * 0.999 <= value <= high * 1.001


def _verdict(rule: Rule, fly: Fly) -> str:
    finding = rule.judge(fly)
    if not finding.applies:
        return _SILENCE
    return "keeps the rule" if finding.kept and not finding.cost else "breaks the rule"
