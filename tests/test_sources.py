"""A published fact without its source fails."""

from __future__ import annotations

import pytest

from tests.published.sources import SOURCES, fault_of, known_keys

PUBLISHED = SOURCES.parent
KNOWN = {"halford-1886"}


def marks(*args: object, **more: object) -> list[pytest.Mark]:
    return [pytest.mark.source.with_args(*args, **more).mark]


def test_a_key_with_a_page_will_do() -> None:
    assert fault_of(marks("halford-1886", "page 12"), True, KNOWN) is None


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ([], "is missing: a published fact has its source"),
        (marks("halford-1887", "page 12"), "the source 'halford-1887' stands in no sources.toml"),
        (marks("halford-1886", " "), "the source 'halford-1886' is named without a page"),
        (marks("halford-1886"), "is not a key and a page"),
        (marks("halford-1886", page="12"), "is not a key and a page"),
        (marks("halford-1886", 12), "is not a key and a page"),
    ],
)
def test_anything_else_is_told(given: list[pytest.Mark], said: str) -> None:
    fault = fault_of(given, True, KNOWN)
    assert fault is not None
    assert said in fault


def test_a_test_elsewhere_needs_no_source_but_may_not_name_a_false_one() -> None:
    assert fault_of([], False, KNOWN) is None
    assert fault_of(marks("nowhere", "page 1"), False, KNOWN) is not None


def test_the_sources_state_what_they_must() -> None:
    assert "sharma-2005" in known_keys()


def test_every_source_is_one_that_some_check_rests_on() -> None:
    files = [file for end in ("py", "toml") for file in PUBLISHED.glob(f"*.{end}")]
    text = "".join(file.read_text(encoding="utf-8") for file in files)
    tables = "".join(file.read_text(encoding="utf-8") for file in PUBLISHED.glob("*.tsv"))
    named = [key for key in known_keys() if f'"{key}"' in text or f"\t{key}\t" in tables]
    assert sorted(known_keys() - set(named)) == []
