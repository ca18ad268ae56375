"""The JSON Schema of region files, by a validator of its own, beside the reader on the same files.

``python -m tests renew schema`` writes the shipped file anew.
"""

from __future__ import annotations

import json
import tomllib

import pytest
from jsonschema import Draft202012Validator

from tests.real import EXAMPLES, ROOT, rulebook
from variants.reading import InputError, TomlDocument
from variants.reading.region_schema import region_schema
from variants.reading.regions import parse_region
from variants.regions import load_law

SHIPPED = ROOT / "rules" / "schemas" / "region.schema.json"
GOOD = (EXAMPLES / "regions" / "lower-wendle.toml").read_text(encoding="utf-8")
FILES = sorted((EXAMPLES / "regions").glob("*.toml"))


def written() -> str:
    return json.dumps(region_schema(), indent=2, ensure_ascii=False) + "\n"


def is_valid(text: str) -> bool:
    return bool(Draft202012Validator(region_schema()).is_valid(tomllib.loads(text)))


def is_read(text: str) -> bool:
    places = load_law(rulebook().trade).jurisdictions
    try:
        parse_region(TomlDocument(text, "trial.toml"), rulebook().trade, places)
    except InputError:
        return False
    return True


def test_the_shipped_file_is_what_the_reader_knows() -> None:
    assert SHIPPED.read_text(encoding="utf-8") == written()


def test_it_is_a_schema() -> None:
    Draft202012Validator.check_schema(region_schema())


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_examples_are_valid_and_read(path: object) -> None:
    text = (EXAMPLES / "regions" / str(path)).read_text(encoding="utf-8")
    assert is_valid(text)
    assert is_read(text)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('speed = "slow"', 'speed = "sluggish"'),
        ('speed = "slow"', ""),
        ('clarity = "clear"', 'clarity = "murky"'),
        ('surface = "smooth"', "surface = 3"),
        ("barbless = true", 'barbless = "yes"'),
        ("largest_hook = 12", "largest_hook = 30"),
        ("largest_hook = 12", "largest_hook = 12.5"),
        ("most_hooks = 1", "most_hooks = 0"),
        ("most_hooks = 1", "most_hook = 1"),
        ('months = "April-June"', 'months = "Aprl-June"'),
        ('months = "April-June"', 'months = "April-May-June"'),
        ("shortest_mm = 5", "shortest_mm = 0"),
        ("shortest_mm = 5", 'shortest_mm = "5"'),
        ("longest_mm = 7", "longest_mm = 700"),
        ('stage = "adult"', 'stage = "imago"'),
        ('order = "mayflies"', 'order = ""'),
        ("[[natural]]", "[[naturals]]"),
        ('name = "Lower Wendle"', 'title = "Lower Wendle"'),
        ("[palette]", "[palette]\nbody = []"),
        ("[palette]", "[palette]\nbody = 3"),
    ],
)
def test_what_the_schema_refuses_the_reader_refuses(old: str, new: str) -> None:
    assert old in GOOD
    spoilt = GOOD.replace(old, new, 1)
    assert not is_valid(spoilt)
    assert not is_read(spoilt)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('months = "April-June"', 'months = "november - February"'),
        ('depth = "0.9 m"', ""),
        ("barbless = true", "barbless = true\npressed_barb = true"),
        ("[palette]", '[palette]\nbody = "olive; brown"\ntail = ["ginger"]'),
        ("shortest_mm = 5", "shortest_mm = 5.5"),
    ],
)
def test_what_the_schema_takes_the_reader_takes(old: str, new: str) -> None:
    assert old in GOOD
    changed = GOOD.replace(old, new, 1)
    assert is_valid(changed)
    assert is_read(changed)


def write_schema() -> None:
    """Write the shipped file anew."""
    SHIPPED.write_text(written(), encoding="utf-8")
