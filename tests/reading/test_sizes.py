"""Hook sizes as text."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.strategies.measures import SIZES
from variants.reading import SizesError, parse_sizes

KNOWN = "sizes run from 2 (large) to 24 (small)"


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("14", (14,)),
        ("12-16", (12, 14, 16)),
        ("12–15", (12, 13, 14, 15)),
        ("12 to 14", (12, 14)),
        ("16, 12; 14", (12, 14, 16)),
        ("14-14", (14,)),
    ],
)
def test_sizes_come_largest_hook_first(text: str, sizes: tuple[int, ...]) -> None:
    assert parse_sizes(text) == sizes


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("16-12", "'16-12' runs backwards: write 12-16"),
        ("14-18x", "'14-18x' is not a hook size or a range of them: write 14, 12-16, or 12, 14"),
        ("", "a size is missing: write 14, 12-16, or 12, 14"),
        ("12,,14", "a size is missing: write 14, 12-16, or 12, 14"),
        ("1/0", f"size 1/0 is larger than the hook tables hold: {KNOWN}"),
        ("2-99", f"size 99 is not in the hook tables: {KNOWN}"),
        ("0", f"size 0 is not in the hook tables: {KNOWN}"),
        ("-14", "'-14' is not a hook size or a range of them: write 14, 12-16, or 12, 14"),
        ("١٢", "'١٢' is not a hook size or a range of them: write 14, 12-16, or 12, 14"),
    ],
)
def test_what_is_no_size_is_told(text: str, said: str) -> None:
    with pytest.raises(SizesError) as refused:
        parse_sizes(text)
    assert str(refused.value) == said


@given(SIZES)
def test_sizes_written_out_read_the_same(sizes: tuple[int, ...]) -> None:
    assert parse_sizes(", ".join(map(str, sizes))) == sizes


@given(st.text(max_size=30))
def test_any_text_is_sizes_or_is_told(text: str) -> None:
    sizes: tuple[int, ...] = ()
    with suppress(SizesError):
        sizes = parse_sizes(text)
    assert all(2 <= size <= 24 for size in sizes)
