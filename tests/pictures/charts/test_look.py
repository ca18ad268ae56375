"""The look that all pages share is legible."""

from __future__ import annotations

import re

import pytest

from variants.pictures.charts.letters import width_of, wrap_words
from variants.pictures.charts.look import ON, TOKENS, contrast, tokens_css
from variants.web.documents import stylesheet


@pytest.mark.parametrize("place", [0, 1], ids=["day", "night"])
@pytest.mark.parametrize(("text", "ground"), ON)
def test_text_stands_out_from_its_ground(text: str, ground: str, place: int) -> None:
    # W3C, WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1.
    assert contrast(TOKENS[text][place], TOKENS[ground][place]) >= 4.5


def test_contrast_is_that_of_the_guidelines() -> None:
    # WCAG 2.2: black on white is 21 to 1; #767676 is the lightest grey that passes on white
    # (from memory).
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#767676", "#FFFFFF") >= 4.5 > contrast("#777777", "#FFFFFF")


def test_the_stylesheet_uses_only_tokens_that_there_are() -> None:
    known = set(re.findall(r"(--[\w-]+):", tokens_css()))
    assert set(re.findall(r"var\((--[\w-]+)\)", stylesheet())) <= known


@pytest.mark.parametrize("words", ["", "otter fur → beaver fur", "x" * 80, "זבוב הנהר", "🪰 🪰 🪰"])
def test_lines_fit_their_room_and_lose_no_letter(words: str) -> None:
    lines = wrap_words(words, 13, 120)
    assert all(width_of(line, 13) <= 120 for line in lines)
    assert "".join(lines).replace(" ", "") == words.replace(" ", "")


def test_what_is_over_the_most_lines_ends_in_dots() -> None:
    lines = wrap_words("one two three four five six seven eight", 13, 90, most=2)
    assert len(lines) == 2
    assert lines[-1].endswith("…")
    assert all(width_of(line, 13) <= 90 for line in lines)
