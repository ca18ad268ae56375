"""The question in a link: strict, and the same again when it is read back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from variants.rulebook import WATERS
from variants.web.errors import RequestError
from variants.web.question import LISTINGS, MOST, Question

words = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc", "Zs")), min_size=1,
                max_size=12)  # fmt: skip
names = st.frozensets(words, max_size=4)


@st.composite
def questions(draw: st.DrawFn) -> Question:
    missing = draw(names)
    keep = draw(names) - missing
    return Question(
        dressing=draw(words),
        size=draw(st.none() | st.integers(1, 32)),
        water=draw(st.none() | st.sampled_from(WATERS)),
        missing=tuple(sorted(missing)),
        keep=tuple(sorted(keep)),
        changes=draw(st.none() | st.integers(0, 40)),
        listing=draw(st.sampled_from(list(LISTINGS))),
        show=draw(st.integers(1, MOST)),
    )


@given(questions())
def test_a_question_read_back_is_the_same_question(question: Question) -> None:
    assert Question.read(question.pairs()) == question


@pytest.mark.parametrize(
    ("pairs", "told"),
    [
        ([("size", "fourteen")], "size: 'fourteen' does not fit"),
        ([("size", "14.5")], "does not fit"),
        ([("size", "-14")], "does not fit"),
        ([("size", "\u0663")], "does not fit"),
        ([("size", "9" * 5000)], "does not fit"),
        ([("water", "boiling")], "water: 'boiling' is not known"),
        ([("list", "all")], "is not known"),
        ([("show", "61")], "does not fit"),
        ([("mising", "body")], "is no field of a link here"),
        ([("dressing", "a"), ("dressing", "b")], "stands twice"),
        ([("dressing", "a"), ("text", "b")], "not both"),
        ([("keep", "body"), ("missing", "body")], "can't be kept and missing at once"),
        ([("part.body", "burn")], "is no choice"),
        ([("text", "a" * 4001)], "4000 is the most"),
        ([("missing", "a" * 201)], "too long"),
    ],
)
def test_what_a_link_can_not_hold_is_refused(pairs: list[tuple[str, str]], told: str) -> None:
    with pytest.raises(RequestError) as refused:
        Question.read(pairs)
    assert told in refused.value.problem


def test_the_forms_choices_become_the_links_lists() -> None:
    pairs = [
        ("dressing", "a"),
        ("part.body", "missing"),
        ("part.wing", "keep"),
        ("part.tail", "free"),
    ]
    assert Question.read(pairs).link("/design") == "/design?dressing=a&missing=body&keep=wing"
