"""Bad input, each told in full: which file, line and field, what is wrong, what would be right.

The text of every file stands in the test, so that line and field can be read off the page.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.build import SMALL, complaint
from variants.reading import read_box, read_dressing

GOOD = """\
name = "Trial"
style = "soft hackle"
sizes = "12-16"
[part.hook]
material = "wet-fly hook"
[part.body]
material = "tying silk"
colour = "olive"
"""
HEAD = "item,material,colour,sizes,length,thickness,side,amount\n"


@pytest.fixture
def told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str | bytes, str], str]:
    """Write a file and return the whole complaint of its reader."""
    monkeypatch.chdir(tmp_path)

    def read(content: str | bytes, name: str) -> str:
        raw = content.encode() if isinstance(content, str) else content
        Path(name).write_bytes(raw)
        reader = read_box if name.endswith(".csv") else read_dressing
        return complaint(lambda: reader(name, SMALL))

    return read


DRESSINGS = {
    "an empty file": (
        "",
        "fly.toml:1: holds no dressing\n"
        "  help: a dressing states its name, style and sizes, then its parts: [part.hook]",
    ),
    "UTF-16": (
        GOOD.encode("utf-16"),
        "fly.toml: is saved as UTF-16\n  help: save it again as UTF-8",
    ),
    "Latin-1": (
        GOOD.replace("Trial", "Tri\xe9").encode("latin-1"),
        "fly.toml:1: holds bytes that are no UTF-8 (Latin-1, perhaps)\n"
        "  help: save it again as UTF-8",
    ),
    "a zero byte": (
        GOOD + "\0",
        "fly.toml:9: the line holds a zero byte\n  help: save it again as plain text in UTF-8",
    ),
    "a line of 10 MB": (
        'name = "' + "x" * 10_000_000 + '"\n',
        "fly.toml:1: the line is 10000009 characters long\n  help: break it up",
    ),
    "brackets without end": (
        "a = " + "[" * 100_000,
        "fly.toml:1: brackets or dotted names nest too deep\n"
        "  help: nothing here nests deeper than 24 levels",
    ),
    "no hook": (
        GOOD.replace('[part.hook]\nmaterial = "wet-fly hook"\n', ""),
        "fly.toml:4: part: the dressing has no hook\n  help: add a table [part.hook]",
    ),
    "a key given twice": (
        GOOD + 'colour = "primrose"\n',
        "fly.toml:9: part.body.colour: is given twice, first in line 8\n"
        "  help: keep one of the two",
    ),
    "an unknown field": (
        GOOD + "turnz = 3\n",
        "fly.toml:9: part.body.turnz: 'turnz' is not a field here\n"
        "  help: known fields: also, colour, feathers, fibres, length, material, note, or, "
        "signature, thickness, turns, turns_behind, turns_front\n"
        "  did you mean 'turns'?",
    ),
    "a number for a colour": (
        GOOD.replace('"olive"', "7"),
        'fly.toml:8: part.body.colour: 7 is not a text\n  help: write colour = "…"',
    ),
    "an unknown unit": (
        GOOD + 'length = "9 furlong"\n',
        "fly.toml:9: part.body.length: 'furlong' is not a unit that Flykin knows\n"
        '  help: write "9 mm" or "1.5 gape"',
    ),
    "no unit": (
        GOOD + 'length = "9"\n',
        'fly.toml:9: part.body.length: \'9\' has no unit\n  help: write "9 mm" or "1.5 gape"',
    ),
    "turns below nothing": (
        GOOD + "turns = -3\n",
        "fly.toml:9: part.body.turns: -3 is out of range\n"
        "  help: write a whole number from 0 to 500",
    ),
    "sizes backwards": (
        GOOD.replace("12-16", "16-12"),
        "fly.toml:3: sizes: '16-12' runs backwards\n  help: write 12-16",
    ),
    "a misspelt style": (
        GOOD.replace("soft hackle", "soft hakle"),
        "fly.toml:2: style: 'soft hakle' is no style that the tables know\n"
        "  help: name a style of the tables, or add one to your own rules folder\n"
        "  did you mean 'soft hackle'?",
    ),
    "a misspelt material in the second part": (
        GOOD.replace("tying silk", "tyng silk"),
        "fly.toml:7: part.body.material: 'tyng silk' is no material that the tables know\n"
        "  help: name a material of the tables, or add one to your own rules folder\n"
        "  did you mean 'tying silk'?",
    ),
    "a misspelt colour inside an inline table": (
        GOOD + 'also = [{ material = "tying silk", colour = "olve" }]\n',
        "fly.toml:9: part.body.also.colour: 'olve' is no colour that the tables know\n"
        "  help: name a colour of the tables, or add one to your own rules folder\n"
        "  did you mean 'olive'?",
    ),
    "a part the style lacks": (
        GOOD + '[part.wing]\nmaterial = "duck-quill"\n',
        "fly.toml:9: part.wing: a soft hackle has no wing\n"
        "  help: leave it out, or name another style",
    ),
}


@pytest.mark.parametrize("case", DRESSINGS)
def test_a_dressing_that_is_wrong_is_refused_in_full(
    case: str, told: Callable[[str | bytes, str], str]
) -> None:
    content, complaint_text = DRESSINGS[case]
    assert told(content, "fly.toml") == complaint_text


AMOUNTS = (
    "\n  help: write what is left with its unit: 12 hooks, 25 feathers, 3 m, 0.5 g, or 0 feathers"
)
BOXES = {
    "an empty file": (
        "",
        "box.csv:1: holds no table\n  help: the first line names the columns: item, material",
    ),
    "an item named twice": (
        HEAD + "a,tying silk,olive,,,,,3 m\na,tying silk,olive,,,,,3 m\n",
        "box.csv:3: item: 'a' is already the name of the item in line 2\n"
        "  help: give each item a name of its own",
    ),
    "less than nothing": (
        HEAD + "a,tying silk,olive,,,,,-3 m\n",
        "box.csv:2: amount: '-3 m' is less than nothing" + AMOUNTS,
    ),
    "more than any box holds": (
        HEAD + "a,tying silk,olive,,,,,99999999999 m\n",
        "box.csv:2: amount: '99999999999 m' is more than any box holds" + AMOUNTS,
    ),
    "an unknown unit": (
        HEAD + "a,tying silk,olive,,,,,3 bananas\n",
        "box.csv:2: amount: 'bananas' is not a unit that Flykin knows" + AMOUNTS,
    ),
    "sizes backwards": (
        HEAD + "a,hen cape,,18-12,,,,\n",
        "box.csv:2: sizes: '18-12' runs backwards\n  help: write 12-18",
    ),
    "no number": (
        HEAD + "a,hen cape,,,nan mm,,,\n",
        "box.csv:2: length: 'nan mm' is not a number with a unit\n"
        '  help: write a length such as "7 mm" or "6-8 mm"',
    ),
    "no such side": (
        HEAD + "a,duck-quill,,,,,top,\n",
        "box.csv:2: side: 'top' is not known here\n  help: write one of: left, right, pair",
    ),
    "a quotation mark left open": (
        HEAD + 'a,"hen cape,,,,,,\n',
        "box.csv:2: a quotation mark opens here and is never closed\n"
        "  help: close it at the end of the cell",
    ),
}


@pytest.mark.parametrize("case", BOXES)
def test_a_box_that_is_wrong_is_refused_in_full(
    case: str, told: Callable[[str | bytes, str], str]
) -> None:
    content, complaint_text = BOXES[case]
    assert told(content, "box.csv") == complaint_text


def test_every_fault_of_a_file_is_told_at_once(told: Callable[[str | bytes, str], str]) -> None:
    text = told(HEAD + "a,hen cap,,18-12,,,,-1 m\n", "box.csv")
    assert [line.split(":")[2] for line in text.splitlines() if line.startswith("box")] == [
        " material",
        " sizes",
        " amount",
    ]


def test_a_byte_order_mark_is_no_fault(tmp_path: Path) -> None:
    file = tmp_path / "fly.toml"
    file.write_text(GOOD, encoding="utf-8-sig")
    assert read_dressing(file, SMALL).name == "Trial"


def test_a_folder_a_missing_and_an_unreadable_file_are_told(tmp_path: Path) -> None:
    assert "is a folder, not a file" in complaint(lambda: read_dressing(tmp_path, SMALL))
    (tmp_path / "trial.toml").write_text(GOOD)
    text = complaint(lambda: read_dressing(tmp_path / "trail.toml", SMALL))
    assert "there is no such file" in text
    assert "did you mean 'trial.toml'?" in text
    if os.geteuid():
        (tmp_path / "trial.toml").chmod(0)
        assert "may not be read" in complaint(lambda: read_dressing(tmp_path / "trial.toml", SMALL))
