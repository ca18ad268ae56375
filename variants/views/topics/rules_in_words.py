"""A rule told in words: what it tests, when it speaks, what breaking it costs.

The words are made from the fields of the rule that the search itself judges by.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from variants.model import Trade
from variants.rulebook import Rule
from variants.rulebook.kinds import (
    Agree,
    Condition,
    Count,
    Equal,
    Exclude,
    Girth,
    Lawful,
    Measure,
    Order,
    Pair,
    Quality,
)
from variants.views.topics.page import Page, Row, Section

_SCHOOL = "speaks where your conventions.toml names it under schools"


def rule_page(rule: Rule, record: Mapping[str, object], place: str, trade: Trade) -> Page:
    """Return the page of a rule.

    Parameters
    ----------
    rule : Rule
    record : mapping
        Its table as it stands in the file, for the small flies that keep and break it.
    place : str
    trade : Trade
    """
    rows = [
        Row("kind", f"{rule.kind}: {_first_line(type(rule).__doc__)}"),
        Row("weight", _weight_words(rule)),
        Row("styles", ", ".join(trade.styles[one].name for one in sorted(rule.styles)) or "all"),
        Row("waters", ", ".join(sorted(rule.waters)) or "all"),
        *_limits(rule),
        *(Row("tests", words) for words in _tests(rule)),
        *(Row("when", condition_words(one)) for one in getattr(rule, "when", ())),
        *(Row("keeps it", _fly_words(fly)) for fly in _flies(record.get("keeps"))),
        *(Row("breaks it", _fly_words(fly)) for fly in _flies(record.get("breaks"))),
    ]
    return Page(f"Rule {rule.id}", rule.says, (Section("", tuple(rows)),), rule.source, place)


def _limits(rule: Rule) -> list[Row]:
    """Return where a rule speaks that is not the whole trade's, or not of every dressing."""
    told = (
        ("school", rule.school, f"{rule.school}: {_SCHOOL}"),
        ("beside", rule.beside, f"only where the dressing has a {rule.beside}"),
        ("without", rule.without, f"only where the dressing has no {rule.without}"),
    )
    return [Row(name, words) for name, value, words in told if value]


def _first_line(text: str | None) -> str:
    return (text or "").strip().split("\n")[0]


def _weight_words(rule: Rule) -> str:
    if isinstance(rule, Equal):
        return f"taking one for the other costs {rule.cost:g}, times the part's weight"
    if rule.is_hard:
        return "hard: a fly that breaks it is no variant"
    return f"soft: breaking it adds up to {rule.weight:g} to the departure"


def _tests(rule: Rule) -> list[str]:
    """Return what a rule tests, a sentence each."""
    match rule:
        case Measure():
            return _measure_words(rule)
        case Quality():
            return [condition_words(rule.must)]
        case Agree():
            return [_agree_words(rule)]
        case Exclude():
            return [f"never together: {'; '.join(map(condition_words, rule.meet))}"]
        case Girth():
            over = ", ".join(rule.over)
            return [f"{over} on the hook's wire are at most {rule.at_most:g} gapes across"]
        case Count():
            return _count_words(rule)
        case Equal():
            mixed, single = _listed(rule.mixed, " with "), _listed(rule.single, " or ")
            back = ", and the other way round" if rule.both_ways else ""
            return [f"{rule.part}: {single} for {mixed}{back}; {rule.difference}"]
        case Pair():
            return [f"the {rule.part} is a left and a right that match"]
        case Lawful():
            return _lawful_words(rule)
        case Order():
            needs = [f"a {rule.part} needs a {other}" for other in rule.needs]
            return needs + [f"the {rule.part} is tied before the {one}" for one in rule.before]
        case _:
            return []


def _measure_words(rule: Measure) -> list[str]:
    name = rule.attribute.removesuffix("_mm").replace("_", " ")
    unit = f" {rule.of}" if rule.attribute != "denier" else " denier"
    told = f"{rule.part} {name}: right at {rule.nominal:g}{unit}"
    words = [f"{told}, allowed {rule.low:g} to {rule.high:g}{unit}"]
    for cost, way in ((rule.short_cost, "short of"), (rule.long_cost, "beyond")):
        if cost:
            words.append(f"each tenth {way} what is right costs {cost:g}")
    if rule.trimmed:
        words.append("the butts are cut, so that any longer fibre serves")
    return words


def _agree_words(rule: Agree) -> str:
    both = f"{rule.first} and {rule.second}"
    if rule.attribute == "shade":
        words = f"{both} are within {rule.within:g} of a shade (CIEDE2000)"
    elif rule.within:
        words = f"{both} differ in {rule.attribute} by {rule.within:g} at most"
    else:
        words = f"{both} are alike in {rule.attribute}"
    if rule.is_hard:
        return words
    return f"{words}; {rule.scale:g} beyond that costs the whole weight"


def _count_words(rule: Count) -> list[str]:
    counts = [f"{water} {low} to {high}" for water, (low, high) in rule.bounds.items()]
    words = [f"{rule.part} {rule.count.replace('_', ' ')} by water: {', '.join(counts)}"]
    if rule.stiffness_scales:
        words.append("softer stuff takes more: the counts hold for stiffness 4")
    if rule.each_piece:
        words.append(f"one feather gives {rule.each_piece:g}")
    if rule.change_cost:
        words.append(f"each tenth away from the dressing's own count costs {rule.change_cost:g}")
    return words


def _lawful_words(rule: Lawful) -> list[str]:
    words = [rule.status]
    if rule.materials:
        words.append(f"of {_listed(rule.materials, ', ')}")
    if rule.materials and rule.on:
        words.append(f"as {_listed(rule.on, ' or ')}")
    if rule.statute:
        words.append(f"by {', '.join(filter(None, (rule.statute, rule.section)))}")
    return [" ".join(words)]


def condition_words(condition: Condition) -> str:
    """Return a condition as a sentence without its verb's ornaments: ``hackle stiffness ≥ 3``."""
    told = f"{condition.part} {condition.attribute.replace('_', ' ')}"
    tests = []
    if condition.among:
        tests.append(f"is {_listed(condition.among, ' or ')}")
    if condition.not_among:
        tests.append(f"is not {_listed(condition.not_among, ' or ')}")
    if condition.at_least is not None:
        tests.append(f"is at least {condition.at_least:g}")
    if condition.at_most is not None:
        tests.append(f"is at most {condition.at_most:g}")
    if condition.flag is not None:
        tests.append(f"is {'yes' if condition.flag else 'no'}")
    return f"{told} {' and '.join(tests)}" if tests else f"{told} is known"


def _listed(words: Iterable[str], joint: str) -> str:
    return joint.join(sorted(words))


def _flies(value: object) -> Sequence[Mapping[str, object]]:
    found = value if isinstance(value, list) else [value]
    return [fly for fly in found if isinstance(fly, dict)]


def _fly_words(fly: Mapping[str, object]) -> str:
    return "; ".join(f"{part}: {_attributes_words(told)}" for part, told in fly.items())


def _attributes_words(told: object) -> str:
    if not isinstance(told, dict):
        return str(told)
    return ", ".join(f"{name} {_value(value)}" for name, value in told.items())


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return " ".join(map(str, value)) if isinstance(value, list) else str(value)
