"""A good file spoilt anywhere is read, or told with a line that the file has."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given
from hypothesis import strategies as st

from tests.build import SMALL
from tests.reading.test_trade_tables import FILES
from tests.strategies.files import spoilt, table_with_another_cell, toml_with_another_value
from variants.reading import Fault, InputError, read_box, read_dressing, read_trade

DRESSING = """\
name = "Trial"
style = "winged wet"
sizes = "12-16"
size = 14
source = "invented"
[part.hook]
material = "wet-fly hook"
[part.thread]
material = "tying silk"
thickness = "70 denier"
[part.hackle]
material = "hen cape"
colour = "blue dun"
length = "1.5 gape"
turns = 2
signature = true
also = [{ material = "cock cape", colour = "olive" }]
"""
BOX = """\
item,material,colour,sizes,length,thickness,gape,shank,side,amount,place,note
hooks,wet-fly hook,,12-16,,0.4 mm,5 mm,10 mm,,25 hooks,tin,
cape,hen cape,#7A8289,12-18,6-14 mm,,,,,30 feathers,drawer,"soft, long"
slips,duck-quill,,,,,,,pair,4 pairs,,
"""
LONGEST = max(text.count("\n") + 1 for text in FILES.values())


def faults_of(read: Callable[[], object]) -> Sequence[Fault]:
    try:
        read()
    except InputError as problem:
        return problem.faults
    return ()


def check_faults(faults: Sequence[Fault], lines: int) -> None:
    for fault in faults:
        assert fault.problem
        assert 0 <= fault.origin.line <= lines
        assert all(one.isprintable() or one == "\n" for one in str(fault))


def check(raw: bytes, name: str) -> None:
    with TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(raw)
        reader = read_box if name.endswith(".csv") else read_dressing
        check_faults(faults_of(lambda: reader(path, SMALL)), raw.count(b"\n") + 1)


def test_the_good_files_are_good() -> None:
    for text, name in ((DRESSING, "fly.toml"), (BOX, "box.csv")):
        with TemporaryDirectory() as folder:
            path = Path(folder) / name
            path.write_text(text)
            reader = read_box if name.endswith(".csv") else read_dressing
            assert faults_of(lambda read=reader, at=path: read(at, SMALL)) == ()  # type: ignore[misc]


@given(toml_with_another_value(DRESSING))
def test_a_dressing_with_another_value(text: str) -> None:
    check(text.encode(), "fly.toml")


@given(table_with_another_cell(BOX, ","))
def test_a_box_with_another_cell(text: str) -> None:
    check(text.encode(errors="surrogatepass"), "box.csv")


@given(spoilt(DRESSING))
def test_a_spoilt_dressing(raw: bytes) -> None:
    check(raw, "fly.toml")


@given(spoilt(BOX))
def test_a_spoilt_box(raw: bytes) -> None:
    check(raw, "box.csv")


@given(st.data())
def test_a_spoilt_table_of_the_trade(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(sorted(FILES)))
    if name.endswith(".toml"):
        text = data.draw(toml_with_another_value(FILES[name]))
    else:
        text = data.draw(table_with_another_cell(FILES[name], "\t"))
    raw = data.draw(st.one_of(st.just(text.encode(errors="surrogatepass")), spoilt(FILES[name])))
    with TemporaryDirectory() as folder:
        for file, good in FILES.items():
            path = Path(folder) / file
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(raw if file == name else good.encode())
        faults = faults_of(lambda: read_trade([Path(folder)]))
    check_faults(faults, max(raw.count(b"\n") + 1, LONGEST))
