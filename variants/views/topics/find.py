"""From the words of a topic to its pages: a topic, an entry of the tables, a rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from variants.model import plain
from variants.rulebook import Rule
from variants.views.topics.entries import (
    class_page,
    colour_page,
    marking_page,
    material_page,
    part_page,
    statute_page,
    style_page,
)
from variants.views.topics.lists import TOPICS, decision_page, rules_page
from variants.views.topics.page import Page, Row, Section
from variants.views.topics.rules_in_words import rule_page
from variants.views.topics.shelf import Shelf

_RULES = "rules "


def contents() -> Page:
    """Return the topics there are."""
    rows = tuple(Row(name, says) for name, (says, _make, _also) in TOPICS.items())
    return Page(
        "Topics",
        "Name a topic, or any style, part, material, class of stuff, colour, marking or rule by "
        "its name: flykin explain starling. Rules stand in square brackets in every answer.",
        (Section("", rows),),
    )


def pages(shelf: Shelf, words: str) -> list[Page]:
    """Return everything that some words name; nothing when they name nothing.

    >>> from variants.views.topics.shelf import read_shelf
    >>> [page.title for page in pages(read_shelf(), "dry hackle length")]
    ['Rule dry-hackle-length']
    """
    name = plain(words)
    found = _topics(shelf, name) or list(_entries(shelf, name))
    if not found and name.startswith(_RULES):
        found = list(_rules_about(shelf, name.removeprefix(_RULES)))
    return found


def _topics(shelf: Shelf, name: str) -> list[Page]:
    return [make(shelf) for topic, (_says, make, also) in TOPICS.items() if name in (topic, *also)]


def _entries(shelf: Shelf, name: str) -> Iterator[Page]:
    trade = shelf.trade
    if name in trade.style_names:
        yield style_page(shelf, trade.style_names[name])
    if name in trade.part_names:
        yield part_page(shelf, trade.part_names[name])
    if name in trade.material_names:
        yield material_page(shelf, trade.material_names[name])
    kind = {plain(id_): one for id_, one in shelf.classes.items()}.get(name)
    if kind is not None:
        yield class_page(shelf, kind)
    if name in trade.colour_names:
        yield colour_page(shelf, trade.colour_names[name])
    marking = {plain(one.name): one for one in trade.markings.values()}.get(name)
    if marking is not None:
        yield marking_page(shelf, marking)
    # A rule that speaks of a part because it is like another is told as "rule:part".
    rule = {plain(one.id): one for one in _all_rules(shelf)}.get(name.partition(":")[0])
    if rule is not None:
        yield _rule(shelf, rule)
    statute = {plain(id_): one for id_, one in shelf.law.statutes.items()}.get(name)
    if statute is not None:
        yield statute_page(shelf, statute)
    told = {plain(id_): one for id_, one in shelf.decisions.items() if one.says}.get(name)
    if told is not None:
        yield decision_page(told)


def _all_rules(shelf: Shelf) -> tuple[Rule, ...]:
    """Return the rules of the trade, and those that some waters have."""
    return (*shelf.rulebook.rules, *shelf.law.of_waters.values())


def _rule(shelf: Shelf, rule: Rule) -> Page:
    record, place = {}, ""
    for pattern in ("trade/*.toml", "law/*.toml"):
        for id_, table, where in shelf.places.records(pattern):
            if id_ == rule.id:
                record, place = dict(table), where
    return rule_page(rule, record, place, shelf.trade)


def _rules_about(shelf: Shelf, name: str) -> Iterator[Page]:
    """Yield the rules of a style, and those that look at a part."""
    style, part = shelf.trade.style_names.get(name), shelf.trade.part_names.get(name)
    if style is not None:
        yield _rules_where(shelf, f"Rules for {style.name}", lambda one: style.id in one.styles)
    if part is not None:
        yield _rules_where(
            shelf, f"Rules about the {part.name}", lambda one: any(map(part.is_like, one.parts))
        )


def _rules_where(shelf: Shelf, title: str, holds: Callable[[Rule], bool]) -> Page:
    return rules_page(title, filter(holds, shelf.rulebook.rules))


def names(shelf: Shelf) -> list[str]:
    """Return every name that a topic may have, to find the nearest to a misspelt one."""
    trade = shelf.trade
    return [
        *(name for topic, (_says, _make, also) in TOPICS.items() for name in (topic, *also)),
        *trade.style_names,
        *trade.part_names,
        *trade.material_names,
        *shelf.classes,
        *trade.colour_names,
        *(one.name for one in trade.markings.values()),
        *(rule.id for rule in _all_rules(shelf)),
        *shelf.law.statutes,
        *(id_ for id_, told in shelf.decisions.items() if told.says),
    ]
