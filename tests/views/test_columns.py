"""Lines keep within the columns of a terminal, whatever letters they are written in."""

from __future__ import annotations

import textwrap

from hypothesis import given
from hypothesis import strategies as st
from wcwidth import wcswidth

from variants.views.columns import columns, shortened, wrap

#: Letters of one column, of two, and of none.
LETTERS = st.sampled_from("abc éß → “” — 毛蚊 한글 ｗ e\u0301 \u200b🪶 ")


@given(st.text(LETTERS, max_size=120), st.integers(20, 80))
def test_no_line_is_wider_than_asked_and_no_letter_is_lost(text: str, width: int) -> None:
    lines = wrap(text, width, initial_indent="  ", subsequent_indent="    ")
    assert all(wcswidth(line) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


@given(st.text("abc, é→“”—-", max_size=200), st.integers(20, 80))
def test_narrow_letters_are_wrapped_as_ever(text: str, width: int) -> None:
    assert wrap(text, width) == textwrap.wrap(text, width)


@given(st.text(LETTERS, max_size=60), st.integers(4, 30))
def test_what_is_cut_says_so(text: str, width: int) -> None:
    cut = shortened(text, width)
    assert columns(cut) <= width
    assert cut == text or cut.endswith("…")
