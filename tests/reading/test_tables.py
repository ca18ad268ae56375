"""Tables: their columns, their rows, and what no reader of CSV can make sense of."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.build import SMALL, complaint
from variants.reading import Faults, TableRow, read_box, read_table

COLUMNS = (
    "known columns: item, material, colour, sizes, length, thickness, gape, shank, side, amount, "
    "price, price_for, blend, place, note"
)


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def told(text: str) -> str:
    Path("box.csv").write_bytes(text.encode())
    return complaint(lambda: read_box("box.csv", SMALL))


def rows(text: str) -> list[TableRow]:
    Path("table.tsv").write_bytes(text.encode())
    faults = Faults()
    found = read_table("table.tsv", ("id", "name", "source"), ("id",), faults, tabs=True)
    faults.stop_if_any()
    return found


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "box.csv:1: holds no table\n  help: the first line names the columns: item, material"),
        ("\n# a remark\n\n",
         "box.csv:1: holds no table\n  help: the first line names the columns: item, material"),
        ("item,colour\n",
         f"box.csv:1: the column 'material' is missing\n  help: {COLUMNS}; "
         "'flykin box import' takes in a list whose columns have other names"),
        ("item,materiel\n",
         f"box.csv:1: 'materiel' is not a column here\n  help: {COLUMNS}\n"
         "  did you mean 'material'?"),
        ("item,material,item\n",
         "box.csv:1: the column 'item' stands twice\n  help: keep one of the two"),
        ("item,material,color\n",
         f"box.csv:1: 'color' is not a column here\n  help: {COLUMNS}\n  did you mean 'colour'?"),
        ("item,material\na,hen cape,stiff\n",
         "box.csv:2: has 3 cells where the header names 2\n"
         "  help: quote a cell that holds the separator, or remove the cells at the end"),
        ('item,material\n\n"a,hen cape\nb,silk\n',
         "box.csv:3: a quotation mark opens here and is never closed\n"
         "  help: close it at the end of the cell"),
        ('item,material\n"7" cape,hen cape\n',
         "box.csv:2: a quotation mark ends in the middle of a cell\n"
         '  help: put the whole cell in quotation marks and double those inside: "a 7"" cape"'),
        ("item,material\na\rb,hen cape\n",
         "box.csv:2: a carriage return stands inside the line\n  help: save it again as CSV"),
        ("item,material\n,hen cape\n",
         "box.csv:2: item: the item is missing\n  help: state the item"),
        ("item,material\na\n",
         "box.csv:2: material: the material is missing\n  help: name a material of the tables"),
        ("item,material\nA cape,silk\na-cape,silk\n",
         "box.csv:3: item: 'a-cape' is already the name of the item 'A cape' in line 2\n"
         "  help: give each item a name of its own"),
        ("item,material\na\x1b[31m,silk\n",
         "box.csv:2: item: 'a\N{REPLACEMENT CHARACTER}[31m' holds a character that can't be seen\n"
         "  help: type it anew"),
    ],
)  # fmt: skip
def test_a_table_that_is_wrong_is_told_in_full(text: str, said: str) -> None:
    assert told(text) == said


def test_columns_of_the_owners_own_are_let_be() -> None:
    Path("box.csv").write_text("Item,price,MATERIAL,bought at,\na,3,hen cape,fair,\n")
    assert [one.material.id for one in read_box("box.csv", SMALL).items] == ["hen-neck"]


def test_a_box_of_columns_alone_is_empty() -> None:
    Path("box.csv").write_text("item,material\n")
    assert read_box("box.csv", SMALL).items == ()


def test_thousands_of_faults_are_not_all_printed() -> None:
    text = told("item,material\n" + "".join(f"item {n},hen cap\n" for n in range(3000)))
    assert text.splitlines()[-1] == "and 960 more of the kind; reading stopped there"
    assert text.count("box.csv:") == 40


def test_a_row_may_lack_its_last_cells() -> None:
    assert [row.values for row in rows("id\tname\tsource\na\tb\n\nc\n")] == [
        {"id": "a", "name": "b"},
        {"id": "c"},
    ]


def test_unusual_line_breaks_inside_a_cell_do_not_shift_the_lines() -> None:
    found = rows("id\tname\na\tone\u2028two\x0bthree\r\nb\tx\r\n")
    assert [(row.values["id"], row.line) for row in found] == [("a", 2), ("b", 3)]


def test_a_table_parted_by_commas_is_told() -> None:
    assert complaint(lambda: rows("id,name,source\na,b,c\n")) == (
        "table.tsv:1: the columns are parted by commas\n  help: save it again parted by tabs"
    )


def test_an_unknown_column_of_our_own_tables_is_told() -> None:
    assert complaint(lambda: rows("id\tnmae\tcost\n")) == (
        "table.tsv:1: 'nmae' is not a column here\n"
        "  help: known columns: id, name, source\n"
        "  did you mean 'name'?\n"
        "table.tsv:1: 'cost' is not a column here\n"
        "  help: known columns: id, name, source"
    )
