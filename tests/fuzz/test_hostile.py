"""Spoilt and hostile inputs meet one clear complaint; many more are tried by hand."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.breadth import examples
from tests.fuzz.bombs import bombs
from tests.fuzz.readers import readers
from tests.fuzz.trial import Outcome, scratch, try_input

READERS = readers()
#: So many of each reader here; ``python -m tests fuzz readers`` tries as many as one has time for.
TRIES = examples(40)
#: The shapes of huge inputs, made small: what matters here is that they are refused at all.
_SMALL = 300_000


def bug(outcome: Outcome) -> str:
    """Return what went wrong, time apart: that is measured by hand."""
    return "" if outcome.bug.startswith("it took") else outcome.bug


@pytest.mark.parametrize("name", READERS)
def test_a_spoilt_input_is_read_or_refused(name: str) -> None:
    reader, rng = READERS[name], random.Random(name)
    with scratch() as folder:
        for _ in range(6 if name == "command line" else TRIES):
            raw = reader.spoiler(rng, rng.choice(reader.good), reader.good)
            assert bug(try_input(reader, raw, folder)) == "", raw


@pytest.mark.parametrize("name", READERS)
def test_an_input_made_to_exhaust_is_read_or_refused(name: str) -> None:
    hostile = [raw for whose, raw in bombs() if whose in (name, "") and len(raw) < _SMALL]
    assert hostile
    with scratch() as folder:
        for raw in hostile:
            assert bug(try_input(READERS[name], raw, folder)) == "", raw[:200]


@pytest.mark.parametrize("name", READERS)
def test_a_good_input_is_no_bug(name: str) -> None:
    reader = READERS[name]
    with scratch() as folder:
        outcomes = [try_input(reader, raw, folder) for raw in reader.good]
    assert [bug(one) for one in outcomes] == [""] * len(outcomes)
    if name in ("dressing", "box", "workbook", "rules", "region", "prices", "gauge"):
        assert not any(one.is_refused for one in outcomes)


@given(st.data())
def test_any_stretch_of_a_good_input_may_be_anything(data: st.DataObject) -> None:
    reader = READERS[
        data.draw(st.sampled_from([name for name in READERS if name != "command line"]))
    ]
    good = data.draw(st.sampled_from(reader.good))
    start = data.draw(st.integers(0, len(good)))
    end = data.draw(st.integers(start, min(len(good), start + 30)))
    middle = data.draw(st.binary(max_size=12) | st.text(max_size=12).map(as_bytes))
    with scratch() as folder:
        assert bug(try_input(reader, good[:start] + middle + good[end:], folder)) == ""


def as_bytes(text: str) -> bytes:
    """Return a text in UTF-8, halves of letters too."""
    return text.encode(errors="surrogatepass")
