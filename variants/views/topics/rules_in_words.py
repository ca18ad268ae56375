"""A rule told in words: what it tests, when it speaks, what breaking it costs.

The words are made from the fields of the rule that the search itself judges by.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from variants.model import Trade
from variants.rulebook import Rule
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
        Row("weight", rule.weight_words),
        Row("styles", ", ".join(trade.styles[one].name for one in sorted(rule.styles)) or "all"),
        Row("waters", ", ".join(sorted(rule.waters)) or "all"),
        *_limits(rule),
        *(Row("tests", words) for words in rule.words()),
        *(Row("when", one.words) for one in getattr(rule, "when", ())),
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
