"""Names of the trade: what counts as the same name, and which entry a shared name means."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.build import SMALL, colour
from variants.model import Marking, names_of, plain


@pytest.mark.parametrize(
    "written", ["blue-dun", "Blue Dun", "  blue   dun ", "BLUE_DUN", "blue\u00a0dun", "blue - dun"]
)
def test_case_hyphens_and_spaces_do_not_matter(written: str) -> None:
    assert SMALL.colour_names[plain(written)].id == "blue-dun"


def test_other_names_are_known() -> None:
    assert SMALL.colour_names["medium dun"].id == "blue-dun"
    assert SMALL.material_names["hen cape"].id == "hen-neck"


def test_an_id_beats_a_name_and_a_name_beats_another_name() -> None:
    shared = [
        colour("first", name="honey", also=("dun",)),
        colour("second", name="dun", also=("honey",)),
        colour("third", name="second"),
    ]
    names = names_of(shared)
    assert names["honey"].id == "first"
    assert names["dun"].id == "second"
    assert names["second"].id == "second"


def test_the_first_of_two_entries_keeps_a_shared_name() -> None:
    names = names_of([colour("one", also=("dun",)), colour("two", also=("dun",))])
    assert names["dun"].id == "one"
    assert names_of([colour("one", name="dun"), colour("two", name="dun")])["dun"].id == "one"


def test_distances_of_markings_hold_both_ways() -> None:
    markings = {
        "solid": Marking("solid", "solid", like=(("barred", 0.8),)),
        "barred": Marking("barred", "barred"),
    }
    distances = replace(SMALL, markings=markings).marking_distances
    assert distances["solid", "barred"] == distances["barred", "solid"] == 0.8
    assert distances["barred", "barred"] == 0.0
