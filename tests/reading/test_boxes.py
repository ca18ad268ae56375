"""Boxes as people save them: other separators, letters, decimals, workbooks; measured colours."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook

from tests.build import SMALL, complaint
from variants.model import Box
from variants.reading import InputError, read_box
from variants.reading.sheets import guard_formula, read_sheet, unguard_formula, use_decimal_point

ROWS = (
    "item,material,colour,sizes,length,amount,mine\n"
    "# set aside for the winter\n"
    'blé,hen cape,#7A8289,12-18,"6.5-14 mm",25 feathers,"a, b"\n'
    ",,,,,,\n"
    "reel,tying silk,,,,0.5 g,\n"
)


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def read(raw: bytes, name: str = "box.csv") -> Box:
    Path(name).write_bytes(raw)
    return read_box(name, SMALL)


def book(rows: list[list[object]]) -> bytes:
    made = Workbook()
    for row in rows:
        made.active.append(row)
    written = io.BytesIO()
    made.save(written)
    return written.getvalue()


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_a_box_is_read_however_it_is_saved(separator: str, encoding: str, ending: str) -> None:
    text = ROWS.replace('"a, b"', "§").replace(",", separator).replace("§", '"a, b"')
    found = read(text.replace("\n", ending).encode(encoding))
    assert found == read(ROWS.encode())
    assert [item.id for item in found.items] == ["blé", "reel"]
    assert [item.origin.line for item in found.items] == [3, 5]


def test_decimal_commas_are_read_where_numbers_stand() -> None:
    text = "item;material;sizes;length;amount\nreel;tying silk;12,14;6,5-14,25 mm;0,5 g\n"
    (item,) = read(text.encode()).items
    assert item.length_mm == (6.5, 14.25)
    assert item.amount is not None
    assert item.amount.magnitude == 0.5
    assert item.sizes == (12, 14)


def test_a_comma_that_may_part_thousands_is_asked_about() -> None:
    Path("box.csv").write_text("item;material;amount\nreel;tying silk;1,000 m\n")
    assert "'1,000 m' is not a number with a unit" in complaint(lambda: read_box("box.csv", SMALL))


def test_a_cell_over_several_lines_keeps_the_places_of_those_after_it() -> None:
    text = 'item;material;note\nreel;tying silk;"one\ntwo; three"\ncape;hen cap;\n'
    Path("box.csv").write_text(text)
    assert complaint(lambda: read_box("box.csv", SMALL)).startswith(
        "box.csv:4: material: 'hen cap'"
    )


def test_a_workbook_is_a_box() -> None:
    rows: list[list[object]] = [
        ["item", "material", "amount", "sizes", "mine"],
        ["reel", "tying silk", "0.5 g", None, "=1+1"],
        [],
        ["cape", "hen cape", "25 feathers", 14, None],
    ]
    found = read(book(rows), "box.xlsx")
    assert [(item.id, item.sizes) for item in found.items] == [("reel", None), ("cape", (14,))]


def test_a_formula_is_never_run() -> None:
    made = book([["item", "material"], ["reel", "=HYPERLINK(1)"]])
    Path("box.xlsx").write_bytes(made)
    # No spreadsheet has worked it out, so it has no value.
    assert "the material is missing" in complaint(lambda: read_box("box.xlsx", SMALL))


def bomb(name: str, inside: bytes) -> bytes:
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr(name, inside)
    return written.getvalue()


ENTITIES = (
    b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "bbbbbbbb"><!ENTITY c "&b;&b;">]><a>&c;</a>'
)


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (bomb("xl/worksheets/sheet1.xml", b" " * 70_000_000), "unpacks to more than 64 MB"),
        (bomb("xl/worksheets/sheet1.xml", b" " * 9_000_000), "unpacks to far more"),
        (bomb("xl/workbook.xml", ENTITIES), "defines entities of its own"),
        (bomb("xl/workbook.xml", ENTITIES.decode().encode("utf-16")), "defines entities"),
        (bomb("../../etc/passwd", b"x"), "is no workbook"),
        (b"PK\x03\x04 and nothing more", "is no workbook"),
        (book([["item", "material"]])[:-40], "is no workbook"),
    ],
    ids=["bomb", "small bomb", "entities", "entities in UTF-16", "path", "stub", "cut short"],
)
def test_a_hostile_workbook_is_refused_at_once(raw: bytes, said: str) -> None:
    Path("box.xlsx").write_bytes(raw)
    assert said in complaint(lambda: read_box("box.xlsx", SMALL))


def test_a_sheet_that_claims_to_be_endless_is_refused() -> None:
    made = book([["item", "material"], ["reel", "tying silk"]])
    written = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(made)) as old, zipfile.ZipFile(written, "w") as new:
        for member in old.infolist():
            inside = old.read(member)
            if member.filename.endswith("sheet1.xml"):
                inside = inside.replace(b'ref="A1:B2"', b'ref="A1:XFD1048576"')
                inside = inside.replace(b'r="2"', b'r="1048576"').replace(b'"A2"', b'"A1048576"')
            new.writestr(member, inside)
    Path("box.xlsx").write_bytes(written.getvalue())
    assert "holds more than 100 000 rows" in complaint(lambda: read_box("box.xlsx", SMALL))


@given(
    st.binary(max_size=60), st.sampled_from([b"", b"PK\x03\x04", b"\xff\xfe", b"item;material\n"])
)
def test_whatever_a_file_holds_it_is_read_or_refused(raw: bytes, head: bytes) -> None:
    Path("any.csv").write_bytes(head + raw)
    try:
        read_sheet("any.csv")
    except InputError as problem:
        told = [fault.problem for fault in problem.faults]
        assert all(told)


@given(st.text(st.sampled_from("'=+-@\t\ra 1"), max_size=8))
def test_what_is_guarded_comes_back(cell: str) -> None:
    assert unguard_formula(guard_formula(cell)) == cell
    assert not guard_formula(cell).startswith(("=", "+", "-", "@", "\t", "\r"))


@given(st.integers(0, 10_000), st.integers(0, 99))
def test_a_decimal_comma_means_a_point(whole: int, part: int) -> None:
    assert use_decimal_point(f"{whole},{part:02} g") == f"{whole}.{part:02} g"


@pytest.mark.parametrize(
    ("text", "shade"),
    [
        ("lab(53.2408, 80.0925, 67.2032)", "#FF0000"),
        ("L*a*b* 53.2408 80.0925 67.2032", "#FF0000"),
        ("L* 53.2408 a* 80.0925 b* 67.2032", "#FF0000"),
        ("Lab 100 0 0", "#FFFFFF"),
    ],
)
def test_a_shade_measured_in_lab_is_read(text: str, shade: str) -> None:
    (item,) = read(f'item,material,colour\nreel,tying silk,"{text}"\n'.encode()).items
    assert item.colour is not None
    assert item.colour.hexes == (shade,)


def test_a_shade_that_no_eye_sees_is_refused() -> None:
    Path("box.csv").write_text("item,material,colour\nreel,tying silk,lab 150 0 0\n")
    assert "'lab 150 0 0' is no L*a*b*" in complaint(lambda: read_box("box.csv", SMALL))


def test_a_blend_is_kept_as_a_recipe() -> None:
    text = 'item,material,blend\nmine,tying silk,"3 hen cape, olive + 1.5 silk"\n'
    (item,) = read(text.encode()).items
    assert [(one.parts, one.material.id) for one in item.blend] == [
        (3.0, "hen-neck"),
        (1.5, "silk"),
    ]
    assert item.blend[0].colour is not None
    assert item.blend[0].colour.id == "olive"


@pytest.mark.parametrize("text", ["3 hen cape", "hen cape + silk", "0 hen cape + 1 silk"])
def test_a_blend_that_cannot_be_made_again_is_refused(text: str) -> None:
    Path("box.csv").write_text(f"item,material,blend\nmine,tying silk,{text}\n")
    assert "write parts by weight" in complaint(lambda: read_box("box.csv", SMALL))
