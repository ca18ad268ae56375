"""Every complaint points at the line it speaks of, however the file lays out its values."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.build import SMALL, complaint
from variants.reading import TomlDocument, read_box, read_dressing
from variants.reading.toml import KeyPath

TOP = """\
name = "Trial"
style = "winged wet"
sizes = [
    12,
    14,
]

"""
THIRD_TABLE = (
    TOP
    + """\
[part.hook]
material = "wet-fly hook"

[part.body]                # line 11
material = "tying silk"

[ part . "hackle" ]        # line 14
material = "hen cape"
length = "1.5 gap"         # line 16
turns = 2
"""
)
INLINE_TABLES = (
    TOP
    + """\
[part]
hook = { material = "wet-fly hook" }
body = { material = "tying silk" }
hackle = { material = "hen cape", length = "1.5 gap" }
"""
)
DOTTED_NAMES = (
    TOP
    + """\
part.hook.material = "wet-fly hook"
part.body.material = "tying silk"
part."hackle".material = "hen cape"

part."h\\u0061ckle".length = "1.5 gap"
"""
)
TEXT_OF_SEVERAL_LINES = (
    TOP
    + '''\
part.hook = { material = "wet-fly hook", note = """one
two
three""" }
part.hackle = { material = "hen cape", length = "1.5 gap" }
'''
)


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def told_of_dressing(text: str) -> str:
    Path("fly.toml").write_bytes(text.encode())
    return complaint(lambda: read_dressing("fly.toml", SMALL))


def told_of_box(text: str) -> str:
    Path("box.csv").write_bytes(text.encode())
    return complaint(lambda: read_box("box.csv", SMALL))


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (THIRD_TABLE, 16),
        (INLINE_TABLES, 11),
        (DOTTED_NAMES, 12),
        (TEXT_OF_SEVERAL_LINES, 11),
        (THIRD_TABLE.replace("\n", "\r\n"), 16),
        ("\ufeff" + THIRD_TABLE, 16),
    ],
    ids=["tables", "inline tables", "dotted names", "long text", "CRLF", "byte order mark"],
)
def test_a_fault_in_the_third_part_is_placed(text: str, line: int) -> None:
    assert told_of_dressing(text) == (
        f"fly.toml:{line}: part.hackle.length: 'gap' is not a unit that Flykin knows\n"
        '  help: write "9 mm" or "1.5 gape"\n'
        "  did you mean 'gape'?"
    )


def test_a_fault_in_a_list_of_several_lines_is_placed() -> None:
    also = """\
also = [
    { material = "cock cape" },
    # a remark
    { material = "cock cap", colour = "olive" },
    "hen cape",
]
"""
    assert told_of_dressing(THIRD_TABLE.replace("1.5 gap", "1.5 gape") + also) == (
        "fly.toml:21: part.hackle.also.material: 'cock cap' is no material that the tables know\n"
        "  help: name a material of the tables, or add one to your own rules folder\n"
        "  did you mean 'cock cape'?\n"
        "fly.toml:22: part.hackle.also: 'hen cape' is not a material with its colour\n"
        '  help: write also = [{ material = "…", colour = "…" }]'
    )


def test_a_fault_in_an_array_of_tables_is_placed() -> None:
    also = """\
[[part.hackle.also]]
material = "cock cape"
[[part.hackle.also]]
material = "cock cape"
turns = 2
"""
    assert told_of_dressing(THIRD_TABLE.replace("1.5 gap", "1.5 gape") + also) == (
        "fly.toml:22: part.hackle.also.turns: 'turns' is not a field here\n"
        "  help: known fields: colour, material"
    )


def test_a_part_given_under_two_names_tells_where_the_first_stands() -> None:
    text = THIRD_TABLE.replace("1.5 gap", "1.5 gape") + '[part.HACKLE]\nmaterial = "cock cape"\n'
    assert told_of_dressing(text) == (
        "fly.toml:18: part.HACKLE: the hackle already stands in line 14\n"
        "  help: keep one of the two"
    )


def test_a_table_given_twice_tells_where_the_first_stands() -> None:
    assert told_of_dressing(THIRD_TABLE + "[part.body]\n") == (
        "fly.toml:18: part.body: is given twice, first in line 11\n  help: keep one of the two"
    )


def test_nesting_is_placed_where_it_goes_too_deep() -> None:
    deep = "note = " + "[" * 40 + "]" * 40 + "\n"
    text = "fly.toml:18: brackets or dotted names nest too deep\n"
    help_line = "  help: nothing here nests deeper than 24 levels"
    assert told_of_dressing(THIRD_TABLE + deep) == text + help_line
    unclosed = "note = " + "[" * 40_000
    assert told_of_dressing(THIRD_TABLE + unclosed) == text + help_line
    assert told_of_dressing(THIRD_TABLE + "a" + ".a" * 3000 + " = 1\n") == text + help_line


def test_a_value_that_stands_nowhere_is_placed_at_what_encloses_it() -> None:
    text = THIRD_TABLE.replace('material = "hen cape"\n', "").replace("1.5 gap", "1.5 gape")
    assert told_of_dressing(text) == (
        "fly.toml:14: part.hackle.material: the hackle names no material\n"
        '  help: write material = "…"'
    )


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("rule", 0, "id"), 2),
        (("rule", 1), 3),
        (("rule", 1, "keeps", 1, "body"), 6),
        (("rule", 1, "own", 1, "note"), 11),
        (("rule",), 1),
        (("nothing",), 1),
    ],
)
def test_each_table_of_an_array_has_its_own_lines(path: KeyPath, line: int) -> None:
    text = """\
[[rule]]
id = "one"
[[rule]]
keeps = [
    { body = 1 },
    { body = 2 },
]
[[rule.own]]
note = "first"
[[rule.own]]
note = "second"
"""
    assert TomlDocument(text, "rules.toml").origin(path).line == line


HEAD = "item,material,note,amount\n"


def test_a_row_of_several_lines_is_placed_where_it_begins() -> None:
    text = HEAD + 'a,hen cape,"one\ntwo\nthree",3\nb,hen cap,,\n'
    assert told_of_box(text) == (
        "box.csv:2: amount: '3' has no unit\n"
        "  help: write what is left with its unit: 12 hooks, 25 feathers, 3 m, 0.5 g, "
        "or 0 feathers\n"
        "box.csv:5: material: 'hen cap' is no material that the tables know\n"
        "  help: name a material of the tables, or add one to your own rules folder\n"
        "  did you mean 'hen cape'?"
    )


def test_remarks_and_blank_lines_are_counted() -> None:
    text = '# my box, "the big one\n\n' + HEAD + "# hooks\n\nb,hen cap,,\n"
    assert told_of_box(text).startswith("box.csv:6: material: 'hen cap' is no material")


def test_a_mark_in_a_remark_swallows_no_row() -> None:
    Path("box.csv").write_text(HEAD + '# shelf,"top\na,hen cape,"it""s",\nb,silk,,\n')
    assert [one.id for one in read_box("box.csv", SMALL).items] == ["a", "b"]


def test_an_item_in_quotation_marks_may_begin_like_a_remark() -> None:
    Path("box.csv").write_text(HEAD + '"# 1 cape",hen cape,,\n')
    assert [one.id for one in read_box("box.csv", SMALL).items] == ["# 1 cape"]
