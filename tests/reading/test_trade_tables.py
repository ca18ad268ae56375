"""The trade's tables: rows that are wrong, rows given twice, names that lead nowhere."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.build import complaint
from variants.reading import read_trade

FILES = {
    "colours.tsv": "id\tname\tmarking\tcomponents\thex\tsource\n"
    "dun\tdun\tsolid\t\t#808080\tcommon practice\n"
    "cree\tcree\tbarred\tdun\t#806040\tcommon practice\n",
    "markings.tsv": "id\tname\tlike\tsource\n"
    "solid\tsolid\tbarred: 0.8\tcommon practice\n"
    "barred\tbarred\t\tcommon practice\n",
    "materials/feathers.tsv": "id\tname\tclass\tfunctions\tstiffness\tfibre_low_mm\tfibre_high_mm\t"
    "dyes_well\tcolours\tsubstitutes\tsource\n"
    "hen-neck\then neck\thackle\thackle\t1\t4\t20\ty\tdun; any\tcock-neck: stiffer\told list\n"
    "cock-neck\tcock neck\thackle\thackle\t3\t4\t20\ty\tcree\t\told list\n",
    "parts.tsv": "id\tname\tfunctions\tsource\n"
    "hook\thook\thook\tcommon practice\n"
    "hackle\thackle\thackle\tcommon practice\n",
    "hooks/scales.tsv": "scale\tsize\tgape_mm\tshank_mm\twire_mm\teye_mm\tsource\n"
    "model\t12\t5\t10\t0.4\t1.8\tcommon practice\n",
    "styles/spider.toml": 'id = "spider"\nname = "spider"\nsays = "Sunk."\nsource = "old list"\n'
    '[[part]]\npart = "hook"\nweight = 0.5\nsource = "old list"\n'
    '[[part]]\npart = "hackle"\nweight = 1.0\nsource = "old list"\n',
}


def folder(at: Path, name: str = "colours.tsv", old: str = "", new: str = "") -> Path:
    """Write the tables with one change; the words that change stand there once."""
    assert FILES[name].count(old) == 1 or not old
    for file, text in FILES.items():
        (at / file).parent.mkdir(parents=True, exist_ok=True)
        (at / file).write_text(text.replace(old, new) if file == name and old else text)
    return at


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def test_the_tables_are_read() -> None:
    trade = read_trade([folder(Path("own"))])
    assert [part.part for part in trade.styles["spider"].parts] == ["hook", "hackle"]
    assert trade.materials["hen-neck"].substitutes[0].difference == "stiffer"
    assert trade.hooks["model"][12].gape_mm == 5.0


def test_a_second_folder_adds_and_overrides() -> None:
    folder(Path("own"))
    Path("mine").mkdir()
    Path("mine/colours.tsv").write_text(
        "id\tname\thex\tsource\ndun\tmy dun\t#707070\tseen\nnew\tnew\t#000000\tseen\n"
    )
    trade = read_trade([Path("own"), Path("mine")])
    assert {one.id: one.name for one in trade.colours.values()} == {
        "dun": "my dun",
        "cree": "cree",
        "new": "new",
    }


@pytest.mark.parametrize(
    ("name", "old", "new", "said"),
    [
        ("colours.tsv", "dun\tdun\tsolid", "dun\tdun\tsold",
         "own/colours.tsv:2: marking: 'sold' is the id of no marking in the tables\n"
         "  help: write the id of a marking, or add a row for it\n  did you mean 'solid'?"),
        ("colours.tsv", "barred\tdun\t#", "barred\tbrown\t#",
         "own/colours.tsv:3: components: 'brown' is the id of no colour in the tables\n"
         "  help: write the id of a colour, or add a row for it"),
        ("colours.tsv", "#806040", "#8060",
         "own/colours.tsv:3: hex: '#8060' is no shade of the screen\n"
         "  help: write # and six of 0-9, A-F"),
        ("colours.tsv", "cree\tcree", "dun\tcree",
         "own/colours.tsv:3: id: 'dun' already stands at own/colours.tsv:2\n  help: keep one"),
        ("markings.tsv", "barred: 0.8", "bared: 0.8",
         "own/markings.tsv:2: like: 'bared' is the id of no marking in the tables\n"
         "  help: write the id of a marking, or add a row for it\n  did you mean 'barred'?"),
        ("markings.tsv", "barred: 0.8", "barred 0.8",
         "own/markings.tsv:2: like: 'barred 0.8' is not a marking with a number\n"
         "  help: write barred: 0.3"),
        ("markings.tsv", "barred: 0.8", "barred: 8",
         "own/markings.tsv:2: like: 'barred: 8' is out of range\n"
         "  help: write a number from 0 to 1"),
        ("materials/feathers.tsv", "dun; any", "dum; any",
         "own/materials/feathers.tsv:2: colours: 'dum' is the id of no colour in the tables\n"
         "  help: write the id of a colour, or add a row for it"),
        ("materials/feathers.tsv", "cock-neck: stiffer", "cok-neck: stiffer",
         "own/materials/feathers.tsv:2: substitutes: 'cok-neck' is the id of no material in the "
         "tables\n  help: write the id of a material, or add a row for it\n"
         "  did you mean 'cock-neck'?"),
        ("materials/feathers.tsv", "hackle\t3", "hakle\t3",
         "own/materials/feathers.tsv:3: functions: 'hakle' is the id of no function of a part in "
         "the tables\n  help: write the id of a function of a part, or add a row for it\n"
         "  did you mean 'hackle'?"),
        ("materials/feathers.tsv", "3\t4\t20", "3\t40\t20",
         "own/materials/feathers.tsv:3: fibre_high_mm: the longest fibre, 20 mm, is shorter than "
         "the shortest, 40 mm\n  help: write the shorter length in fibre_low_mm"),
        ("materials/feathers.tsv", "1\t4\t20", "5\t4\t20",
         "own/materials/feathers.tsv:2: stiffness: '5' is out of range\n"
         "  help: write a whole number from 0 to 4"),
        ("materials/feathers.tsv", "1\t4\t20", "1_0\t4\t20",
         "own/materials/feathers.tsv:2: stiffness: '1_0' is not a number\n"
         "  help: write a whole number"),
        ("materials/feathers.tsv", "20\ty\tdun", "20\tyes\tdun",
         "own/materials/feathers.tsv:2: dyes_well: 'yes' is neither yes nor no\n"
         "  help: write y or n"),
        ("parts.tsv", "hook\thook\thook\tcommon practice", "hook\thook\thook\t",
         "own/parts.tsv:2: source: the source is missing\n  help: state the source"),
        ("hooks/scales.tsv", "model\t12", "model\t",
         "own/hooks/scales.tsv:2: size: the size is missing\n  help: state the size"),
        ("styles/spider.toml", 'part = "hackle"', 'part = "hakle"',
         "own/styles/spider.toml:10: part.part: 'hakle' is the id of no part in the tables\n"
         "  help: write the id of a part, or add a row for it\n  did you mean 'hackle'?"),
        ("styles/spider.toml", 'part = "hackle"', 'part = "hook"',
         "own/styles/spider.toml:10: part.part: 'hook' stands twice in the style\n"
         "  help: keep one"),
        ("styles/spider.toml", "weight = 1.0\n", "",
         "own/styles/spider.toml:9: part.weight: the weight is missing\n"
         "  help: state the weight"),
        ("styles/spider.toml", "weight = 1.0", 'weight = "1.0"',
         "own/styles/spider.toml:11: part.weight: '1.0' is not a number\n"
         "  help: write a number without quotation marks"),
    ],
)  # fmt: skip
def test_a_row_that_is_wrong_is_told_in_full(name: str, old: str, new: str, said: str) -> None:
    own = folder(Path("own"), name, old, new)
    assert complaint(lambda: read_trade([own])) == said


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        ("", "the style has no parts"),
        ("part = 3\n", "3 is not a list of parts"),
        ("part = [3]\n", "part: 3 is not a part with its weight"),
    ],
)
def test_a_style_whose_parts_are_no_tables(parts: str, said: str) -> None:
    own = folder(Path("own"))
    file = own / "styles" / "spider.toml"
    file.write_text(file.read_text().partition("[[part]]")[0] + parts)
    assert said in complaint(lambda: read_trade([own]))


def test_two_styles_of_one_id_are_told() -> None:
    own = folder(Path("own"))
    (own / "styles" / "twin.toml").write_text(FILES["styles/spider.toml"])
    assert complaint(lambda: read_trade([own])) == (
        "own/styles/twin.toml:1: id: 'spider' already stands in own/styles/spider.toml\n"
        "  help: keep one"
    )


def test_names_that_lead_nowhere_wait_until_the_rows_are_right() -> None:
    own = folder(Path("own"), "colours.tsv", "#806040", "#8060")
    file = own / "parts.tsv"
    file.write_text(file.read_text().replace("hackle\thackle\thackle", "wing\twing\twing"))
    assert complaint(lambda: read_trade([own])).count("own/") == 1
