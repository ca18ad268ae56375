"""Region files: what stands in them is read, and what is wrong is told with its line."""

from __future__ import annotations

import pytest

from tests.real import EXAMPLES, rulebook
from variants.model.region import Region
from variants.reading import InputError, TomlDocument
from variants.reading.regions import parse_region, read_region
from variants.regions import load_law

TEXT = """\
name = "Trial"
jurisdiction = "uk"
[[water]]
name = "Long pool"
speed = "slow"
clarity = "clear"
surface = "smooth"
depth = "80 cm"
largest_hook = 12
[[natural]]
name = "olive"
order = "mayflies"
stage = "adult"
months = "November-February"
shortest_mm = 5
longest_mm = 7
body = "olive"
"""


def region(text: str = TEXT) -> Region:
    return parse_region(TomlDocument(text, "trial.toml"), rulebook().trade, {"uk"})


def test_depth_is_read_in_any_unit_and_what_is_not_said_is_not_asked() -> None:
    (water,) = region().waters
    assert water.depth_m == pytest.approx(0.8)
    assert (water.rules.largest_hook, water.rules.barbless) == (12, False)


def test_months_run_over_the_turn_of_the_year() -> None:
    assert region().naturals[0].months == (11, 12, 1, 2)
    assert [one.name for one in region().naturals_in(1)] == ["olive"]
    assert region().naturals_in(6) == ()


@pytest.mark.parametrize(
    ("old", "new", "line", "said"),
    [
        ('"slow"', '"slowly"', 5, "slowly"),
        ('"80 cm"', '"80 g"', 8, "is no depth"),
        ('"uk"', '"uq"', 2, "uq"),
        ("November", "Novembre", 14, "'Novembre' is not a month"),
        ("= 7", "= 4", 16, "4 is less than the shortest, 5"),
        ('body = "olive"', 'body = "olvie"', 17, "olvie"),
        ("largest_hook = 12", "largest_hook = 99", 9, "99"),
        ("stage", "stange", 13, "stange"),
    ],
)
def test_what_is_wrong_is_told_with_its_line(old: str, new: str, line: int, said: str) -> None:
    with pytest.raises(InputError) as refused:
        region(TEXT.replace(old, new))
    assert (line, True) in [
        (fault.origin.line, said in fault.problem) for fault in refused.value.faults
    ]


def test_a_palette_names_parts_and_colours() -> None:
    painted = region(TEXT + '[palette]\nbody = ["olive", "brown"]\n')
    assert painted.palette == {"body": {"medium-olive", "brown"}}


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('body = ["olvie"]', "olvie"),
        ('bodey = ["olive"]', "bodey"),
        ("body = []", "names no colour"),
    ],
)
def test_a_wrong_palette_is_told(line: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        region(f"{TEXT}[palette]\n{line}\n")


def test_a_pressed_barb_is_asked_about_only_where_barbs_are() -> None:
    with pytest.raises(InputError, match="add barbless = true"):
        region(TEXT.replace("largest_hook = 12", "pressed_barb = true"))


@pytest.mark.parametrize("path", sorted((EXAMPLES / "regions").glob("*.toml")), ids=str)
def test_the_waters_of_the_valley_are_read(path: object) -> None:
    found = read_region(str(path), rulebook().trade, load_law(rulebook().trade).jurisdictions)
    assert len(found.waters) == 1
    assert len(found.naturals) == 2
