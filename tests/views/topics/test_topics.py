"""Topics tell what the tables hold, and lead from the screen to the line of the file."""

from __future__ import annotations

import json
import re
import tomllib
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.cli.test_flykin import BOX, DUN, flykin
from tests.real import ROOT
from variants.views.topic_screens import page_lines, pages_json
from variants.views.topics import Page, Shelf, names, pages, read_shelf
from variants.views.topics.lists import TOPICS

RULES = ROOT / "rules"


@cache
def shelf() -> Shelf:
    return read_shelf()


def stands_at(page: Page) -> tuple[Path, int]:
    found = re.fullmatch(r"(rules/.+), line ([0-9]+)", page.place)
    assert found is not None, page.place
    return ROOT / found[1], int(found[2])


@given(st.sampled_from([rule.id for rule in shelf().rulebook.rules]))
def test_every_rule_leads_to_its_table_in_its_file(id_: str) -> None:
    (page,) = pages(shelf(), id_)
    path, line = stands_at(page)
    lines = path.read_text(encoding="utf-8").split("\n")
    assert lines[line - 1] == "[[rule]]"
    table = tomllib.loads("\n".join(lines[line - 1 :]))["rule"][0]
    assert (table["id"], table["says"], table["source"]) == (id_, page.says, page.source)


@given(
    st.sampled_from(
        [*shelf().trade.materials.values(), *shelf().trade.colours.values()]
    )
)  # fmt: skip
def test_every_material_and_colour_leads_to_its_row(entry: object) -> None:
    id_, source = entry.id, entry.source  # type: ignore[attr-defined]
    found = [page for page in pages(shelf(), id_) if page.source == source and page.place]
    rows = []
    for page in found:
        path, line = stands_at(page)
        rows.append(path.read_text(encoding="utf-8").split("\n")[line - 1].split("\t"))
    assert any(row[0] == id_ and source in row for row in rows)


def test_every_rule_on_the_screen_can_be_looked_up() -> None:
    told = flykin("propose", DUN, "--box", BOX, "--explain", "1").stdout
    found = set(re.findall(r"\[([a-z-]+)\]", told))
    assert len(found) > 8
    for id_ in found:
        (page,) = pages(shelf(), id_)
        assert page.source.split(",")[0].split(";")[0] in " ".join(told.split())


def test_a_convention_that_a_term_cites_can_be_looked_up() -> None:
    asked = ["--missing", "body", "--missing", "beaver fur", "--explain", "1"]
    told = flykin("propose", DUN, "--box", BOX, *asked).stdout
    cited = re.findall(r"conventions: (\w+)", " ".join(told.split()))
    assert cited
    for id_ in cited:
        assert [page.title for page in pages(shelf(), id_)] == [id_]


def test_every_name_has_a_page_and_no_line_is_wider_than_a_terminal() -> None:
    for name in names(shelf())[::9]:
        found = pages(shelf(), name)
        assert found, name
    told = [page for topic in TOPICS for page in pages(shelf(), topic)]
    told += [page for name in names(shelf())[::43] for page in pages(shelf(), name)]
    assert max(len(line) for page in told for line in page_lines(page)) <= 80


def test_a_name_that_means_several_things_tells_them_all() -> None:
    titles = [page.title for page in pages(shelf(), "palmer")]
    assert titles == ["Style palmer", "Part palmer hackle"]


@pytest.mark.parametrize(
    ("words", "told"),
    [("rules hackle", "Rules about the hackle"), ("rules nymph", "Rules for nymph")],
)
def test_rules_of_a_part_or_a_style_stand_together(words: str, told: str) -> None:
    (page,) = pages(shelf(), words)
    assert page.title == told
    assert 5 < sum(len(section.rows) for section in page.sections) < len(shelf().rulebook.rules)


def test_the_own_folder_of_a_tyer_tells_its_own_place(tmp_path: Path) -> None:
    own = tmp_path / "trade"
    own.mkdir()
    (own / "own.toml").write_text(
        '[[rule]]\nid = "my-rule"\nsays = "Black hooks only."\nsource = "common practice"\n'
        'kind = "quality"\npart = "hook"\nmust = { attribute = "colour", in = ["black"] }\n'
    )
    (page,) = pages(read_shelf([tmp_path]), "my-rule")
    assert page.place == f"{own / 'own.toml'}, line 1"


def test_a_misspelt_name_is_answered_with_the_nearest() -> None:
    done = flykin("explain", "gryzzle")
    assert done.returncode == 2
    assert "did you mean 'grizzle'" in done.stderr


def test_json_holds_what_the_screen_shows() -> None:
    answer = json.loads(flykin("explain", "dry-hackle-length", "--json").stdout)
    assert answer == json.loads(json.dumps(pages_json(pages(shelf(), "dry hackle length"))))
    assert answer["pages"][0]["sections"][0]["rows"][0]["name"] == "kind"
