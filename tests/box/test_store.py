"""A box kept: add, use, buy, correct, undo; edits by hand taken up; the rest left as it is."""

from __future__ import annotations

import os
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.build import SMALL
from variants.box import BoxStore, ConflictError, ItemChange, operations, read_journal
from variants.box.amounts import parse_amount, subtract
from variants.box.audit import audit, restart_journal
from variants.box.box_text import BoxText
from variants.box.changes import apply_changes
from variants.box.journal import Journal, replay
from variants.box.journal_entry import JournalEntry
from variants.box.rounding import measuring_step
from variants.box.transaction import BoxState
from variants.model import plain
from variants.reading import InputError

TEXT = (
    "# my box\n"
    "item,material,colour,mine,amount\n"
    '"cape, old",hen cape,blue dun,"a, b",25 feathers\n'
    "\n"
    "reel,tying silk,primrose,,2 m\n"
    "packet,rabbit fur,,,0.5 g\n"
)


@pytest.fixture
def store(tmp_path: Path) -> BoxStore:
    (tmp_path / "box.csv").write_text(TEXT, encoding="utf-8")
    return BoxStore(tmp_path / "box.csv", SMALL)


def text(store: BoxStore) -> str:
    return store.path.read_bytes().decode("utf-8")


def told(store: BoxStore) -> list[str]:
    return [entry.what for entry in read_journal(store.path)]


def test_what_is_used_leaves_comments_columns_and_order(store: BoxStore) -> None:
    store.use("Cape, OLD", "1 feather", note="a dozen")
    assert text(store) == TEXT.replace("25 feathers", "24 feathers")
    assert Path(f"{store.path}.previous").read_text(encoding="utf-8") == TEXT
    assert told(store) == ["begun", "use"]


@pytest.mark.parametrize(
    ("item", "amount", "left"),
    [
        ("packet", "1 pinch", "0.45 g"),
        ("packet", "all", "0 g"),
        ("reel", "50 cm", "1.5 m"),
        ("cape, old", "24 feathers", "1 feather"),
        ("cape, old", "25 pieces", "0 feathers"),
        # A tail takes a share of a feather, and the rest serves the next fly.
        ("cape, old", "0.6 feathers", "24.5 feathers"),
        ("reel", "13 cm", "1.9 m"),
    ],
)
def test_what_is_used_is_counted_in_the_units_of_the_box(
    store: BoxStore, item: str, amount: str, left: str
) -> None:
    store.use(item, amount)
    assert store.row(item)["amount"] == left


@pytest.mark.parametrize(
    ("item", "amount", "said"),
    [
        ("reel", "3 m", "'3 m' is more than the '2 m' left"),
        ("reel", "1 feather", "can't be set against '2 m'"),
        ("reel", "1 furlong", "'furlong' is not a unit"),
        ("reels", "1 m", "no item 'reels'"),
    ],
)
def test_what_cannot_be_used_is_refused_and_nothing_is_written(
    store: BoxStore, item: str, amount: str, said: str
) -> None:
    with pytest.raises(InputError, match=said):
        store.use(item, amount)
    assert text(store) == TEXT


def test_a_column_is_named_as_headers_name_it(store: BoxStore) -> None:
    store.correct("reel", {" Shelf\t": "by the door"})
    assert store.row("reel")["shelf"] == "by the door"


@pytest.mark.parametrize("column", ["", " ", "two\nlines", "red\x1b[31m", "\u202eback"])
def test_a_column_that_cannot_be_named_so_is_refused(store: BoxStore, column: str) -> None:
    with pytest.raises(InputError, match="is no name of a column"):
        store.correct("reel", {column: "x"})
    assert text(store) == TEXT


def test_what_is_bought_is_added_with_its_price(store: BoxStore) -> None:
    store.buy("reel", "10 m", price="2.40")
    row = store.row("reel")
    assert (row["amount"], row["price"], row["price_for"]) == ("12 m", "2.40", "10 m")
    assert "cape, old" in store.row("cape, old")["item"]


def test_a_box_that_is_not_there_is_begun(tmp_path: Path) -> None:
    store = BoxStore(tmp_path / "new.csv", SMALL)
    store.add({"item": "cape", "material": "hen cape"})
    assert [item.id for item in store.read().box.items] == ["cape"]
    assert told(store) == ["add"]
    assert replay(read_journal(store.path)) == (BoxText(text(store)), None)
    with pytest.raises(InputError, match="no such file"):
        BoxStore(tmp_path / "other.csv", SMALL).use("cape", "1 feather")
    with pytest.raises(InputError, match="no such folder"):
        BoxStore(tmp_path / "none" / "box.csv", SMALL).add({"item": "x", "material": "hen cape"})
    assert {path.name for path in tmp_path.iterdir()} == {
        "new.csv", "new.csv.journal", "new.csv.lock"
    }  # fmt: skip


def test_a_name_is_given_once(store: BoxStore) -> None:
    with pytest.raises(InputError, match="there is an item 'Reel'"):
        store.add({"item": "Reel", "material": "tying silk"})
    with pytest.raises(InputError, match="there is an item 'REEL'"):
        store.correct("packet", {"item": "REEL"})


def test_a_wrong_value_names_its_column(store: BoxStore) -> None:
    with pytest.raises(InputError) as refused:
        store.add({"item": "x", "material": "hen caep", "amount": "3"})
    said = str(refused.value)
    assert "the item: material: 'hen caep'" in said
    assert "did you mean 'hen cape'" in said
    assert "the item: amount: '3' has no unit" in said
    assert text(store) == TEXT


def test_correcting_changes_what_is_said_and_the_owners_columns_too(store: BoxStore) -> None:
    store.correct("cape, old", {"item": "cape", "mine": "=c", "place": "drawer"})
    assert store.row("cape")["mine"] == "=c"
    assert "'=c" in text(store)  # no spreadsheet runs it
    assert store.row("cape")["place"] == "drawer"
    assert "item,material,colour,mine,amount,place\n" in text(store)
    store.undo()
    assert store.row("cape, old")["mine"] == "a, b"
    with pytest.raises(InputError, match="is so already"):
        store.correct("reel", {"amount": "2 m"})


def test_a_name_that_looks_like_a_comment_is_kept(store: BoxStore) -> None:
    store.add({"item": "#14 hooks", "material": "hen cape"})
    assert store.row("#14 hooks")["material"] == "hen cape"
    assert store.read().box.items[-1].id == "#14 hooks"


def test_every_change_can_be_taken_back_and_brought_again(store: BoxStore) -> None:
    store.use("reel", "1 m")
    store.add({"item": "x", "material": "hen cape"})
    store.undo()
    store.undo()
    assert text(store) == TEXT
    with pytest.raises(InputError, match="nothing to take back"):
        store.undo()
    with pytest.raises(InputError, match="entry 2 was taken back by entry 5"):
        store.undo(2)
    store.undo(5)
    assert store.row("reel")["amount"] == "1 m"
    store.undo()
    assert text(store) == TEXT


def test_what_has_changed_again_is_not_taken_back(store: BoxStore) -> None:
    store.use("reel", "1 m")
    store.use("packet", "1 pinch")
    store.use("reel", "50 cm")
    with pytest.raises(ConflictError, match=r"it is now '0[.]5 m', and was '1 m'"):
        store.undo(2)
    store.undo(3)
    assert store.row("packet")["amount"] == "0.5 g"


def test_a_version_that_is_out_of_date_is_refused(store: BoxStore) -> None:
    seen = store.read().version
    store.use("reel", "1 m", version=seen)
    with pytest.raises(ConflictError, match="changed since it was read"):
        store.use("reel", "1 m", version=seen)
    assert store.row("reel")["amount"] == "1 m"


def test_a_batch_is_taken_whole_or_not_at_all(store: BoxStore) -> None:
    store.take({"cape, old": 3.0, "reel": 0.25}, "a dozen")
    assert store.row("reel")["amount"] == "1.8 m"
    with pytest.raises(InputError, match="no item 'gone'"):
        store.take({"cape, old": 3.0, "gone": 1.0}, "a dozen")
    assert store.row("cape, old")["amount"] == "22 feathers"


@pytest.mark.parametrize(
    ("item", "each", "all_at_once", "left"),
    [
        ("reel", "1.3 mm", "130 cm", "0.7 m"),
        ("packet", "0.000317 g", "0.317 g", "0.18 g"),
        ("cape, old", "0.013 feathers", "13 feathers", "12 feathers"),
    ],
)
def test_a_thousand_small_uses_add_up_to_one_large_one(
    store: BoxStore, tmp_path: Path, item: str, each: str, all_at_once: str, left: str
) -> None:
    """Reckoned exactly from one to the next, though each is written as can be measured."""
    kept = BoxState(store.path, b"", BoxText(TEXT), Journal())
    for _ in range(1000):
        changes, _ = operations.plan_use(kept, "box.csv", item, each)
        entry = JournalEntry(1, "", "use", "", tuple(changes), "utf-8", "")
        # As the journal tells it, the last entry is enough.
        kept = replace(kept, text=apply_changes(kept.text, changes, ""), journal=Journal((entry,)))
    store.use(item, all_at_once)
    assert kept.text.row(item)["amount"] == left == store.row(item)["amount"]
    (once,) = read_journal(store.path)[-1].changes
    assert once.exact is not None
    assert kept.exact[plain(item)] == Decimal(once.exact[1])


def test_what_can_be_measured_is_written_and_the_journal_keeps_the_rest(store: BoxStore) -> None:
    """Three flies' dubbing, from 0.5 g: the cell says 0.49 g, the next use starts from the rest."""
    taken = {"packet": 0.003451167 * 3, "reel": 0.0212}
    store.take(taken, "three flies")
    assert (store.row("packet")["amount"], store.row("reel")["amount"]) == ("0.49 g", "2 m")
    store.take(taken, "three flies")
    assert store.row("packet")["amount"] == "0.48 g"
    # Less than the cell tells was taken off the reel: it can be taken back in order only.
    with pytest.raises(ConflictError, match="the amount of 'reel' has changed"):
        store.undo(2)
    store.undo()
    store.undo()
    assert text(store) == TEXT
    store.use("reel", "0.21 m")
    store.use("reel", "1.7 m")
    assert store.row("reel")["amount"] == "0.1 m"
    store.use("reel", "0.1 m")  # more than the 0.09 m that there are, and all that the cell tells
    assert store.row("reel")["amount"] == "0 m"
    # What a hand writes counts as it stands.
    store.path.write_text(text(store).replace("0 m", "3 m"), encoding="utf-8")
    store.use("reel", "5 cm")
    assert read_journal(store.path)[-1].changes[0].exact == ("3", "2.95")


@given(
    st.decimals("0.01", "5000", places=3),
    st.lists(st.decimals("0.001", "3", places=3), max_size=12),
    st.sampled_from(["m", "cm", "g", "mg", "oz", "feathers", "hooks", "pinches", "in"]),
)
def test_no_amount_is_told_finer_or_coarser_than_it_is_measured(
    start: Decimal, uses: list[Decimal], unit: str
) -> None:
    stock = parse_amount(f"{start} {unit}")
    for use in uses:
        if use > stock.exact:
            break
        exact = stock.exact - use
        stock = subtract(stock, f"{use} {unit}")
        assert stock.exact == exact
        told = Decimal(stock.cell.split()[0])
        step = measuring_step(unit)
        assert abs(told - exact) <= max(step / 2, step if unit in ("hooks", "feathers") else 0)
        assert (told == 0) == (exact == 0) or exact < step / 200


def test_an_edit_by_hand_is_taken_up_and_kept(store: BoxStore) -> None:
    store.use("reel", "1 m")
    edited = text(store).replace("25 feathers", "20 feathers").replace("# my box", "# our box")
    edited = edited.replace("packet,rabbit fur,,,0.5 g\n", "") + "new,hen cape,,,\n"
    store.path.write_text(edited, encoding="utf-8")
    store.use("reel", "0.5 m")
    assert text(store) == edited.replace("1 m", "0.5 m")
    assert told(store) == ["begun", "use", "edited by hand", "use"]
    by_hand = read_journal(store.path)[2]
    assert [(one.item, one.before, one.after) for one in by_hand.changes] == [
        ("packet", {"item": "packet", "material": "rabbit fur", "amount": "0.5 g"}, None),
        ("cape, old", {"amount": "25 feathers"}, {"amount": "20 feathers"}),
        ("new", None, {"item": "new", "material": "hen cape"}),
    ]
    store.undo(3)
    assert store.row("packet")["amount"] == "0.5 g"
    assert store.row("cape, old")["amount"] == "25 feathers"


def test_a_box_spoilt_by_hand_is_told_and_left_alone(store: BoxStore) -> None:
    store.use("reel", "1 m")
    spoilt = text(store).replace("hen cape", "hen caep")
    store.path.write_text(spoilt, encoding="utf-8")
    with pytest.raises(InputError, match="3: material: 'hen caep'"):
        store.use("reel", "1 m")
    assert text(store) == spoilt


def test_a_journal_that_was_changed_is_refused_and_nothing_is_written(store: BoxStore) -> None:
    store.use("reel", "1 m", note="one")
    journal = Path(f"{store.path}.journal")
    journal.write_text(journal.read_text("utf-8").replace("one", "two"), encoding="utf-8")
    before = text(store)
    with pytest.raises(InputError, match="does not fit its checksum"):
        store.use("reel", "1 m")
    assert text(store) == before


def test_a_box_that_is_gone_is_told_with_its_journal(store: BoxStore) -> None:
    store.use("reel", "1 m")
    store.path.unlink()
    with pytest.raises(InputError, match="the box is gone"):
        store.add({"item": "x", "material": "hen cape"})


def test_a_link_stays_a_link(store: BoxStore, tmp_path: Path) -> None:
    link = tmp_path / "link.csv"
    link.symlink_to(store.path)
    BoxStore(link, SMALL).use("reel", "1 m")
    assert link.is_symlink()
    assert store.row("reel")["amount"] == "1 m"


def test_a_workbook_is_to_be_imported(tmp_path: Path) -> None:
    path = tmp_path / "box.xlsx"
    path.write_bytes(b"PK\x03\x04")
    with pytest.raises(InputError, match="flykin box import"):
        BoxStore(path, SMALL).use("reel", "1 m")


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_a_box_stays_as_its_spreadsheet_saves_it(
    tmp_path: Path, encoding: str, separator: str, end: str
) -> None:
    rows = "item,material,mine,amount\nblé,hen cape,é,0!5 g\nx,hen cape,,\n"
    saved = rows.replace(",", separator).replace("!", "," if separator == ";" else ".")
    raw = saved.replace("\n", end).encode(encoding)
    path = tmp_path / "box.csv"
    path.write_bytes(raw)
    store = BoxStore(path, SMALL)
    store.use("blé", "0.1 g")
    wanted = raw.decode(encoding).replace("0.5", "0.4").replace("0,5", "0,4")
    assert path.read_bytes() == wanted.encode(encoding)
    store.undo()
    assert path.read_bytes() == raw


def test_a_cell_longer_than_any_is_told_and_not_written_to(store: BoxStore) -> None:
    """Two quotation marks far apart make one cell of all between them."""
    spoilt = TEXT + '"' + "note\n" * 30_000 + '",hen cape,,,\n'
    store.path.write_text(spoilt, encoding="utf-8")
    with pytest.raises(InputError, match="is no CSV: field larger"):
        store.use("reel", "1 m")
    assert text(store) == spoilt


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        ("item,material\nblé,hen cape\n".encode("cp1252"), "has no letter 'ż'"),
        # A byte that the encoding gives no letter, such as a broken disk leaves.
        (b"item,material\nbl\x81,hen cape\n", "neither UTF-8 nor a letter of cp1252"),
    ],
)
def test_the_encoding_of_a_box_is_its_owners_to_change(
    tmp_path: Path, raw: bytes, said: str
) -> None:
    path = tmp_path / "box.csv"
    path.write_bytes(raw)
    with pytest.raises(InputError, match=said) as refused:
        BoxStore(path, SMALL).add({"item": "żółw", "material": "hen cape"})
    assert "save the box again as UTF-8" in str(refused.value)
    assert path.read_bytes() == raw


@pytest.mark.skipif(os.name != "posix", reason="files are shut otherwise there")
def test_who_may_read_the_box_may_read_its_journal_and_nobody_else(store: BoxStore) -> None:
    store.path.chmod(0o640)
    owner = (1234, 1234) if not os.getuid() else (os.getuid(), os.getgid())
    os.chown(store.path, *owner)
    store.use("reel", "1 m")
    for end in ("", ".journal", ".previous"):
        told = os.stat(f"{store.path}{end}")
        assert (told.st_mode & 0o777, told.st_uid, told.st_gid) == (0o640, *owner), end
    store.path.chmod(0o600)
    store.use("reel", "10 cm")
    assert os.stat(f"{store.path}.journal").st_mode & 0o777 == 0o600


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="the system knows no pipes with names")
def test_what_is_no_file_is_refused_at_once_as_box_and_as_journal(tmp_path: Path) -> None:
    loop, pipe, box = (tmp_path / name for name in ("loop.csv", "pipe.csv", "box.csv"))
    loop.symlink_to(loop)
    os.mkfifo(pipe)
    for path, said in ((loop, "round in a circle"), (pipe, "a pipe or a device")):
        for act in (lambda path=path: BoxStore(path, SMALL), lambda path=path: audit(path, SMALL)):
            with pytest.raises(InputError, match=said):
                act()
    box.write_text(TEXT, encoding="utf-8")
    journal = Path(f"{box}.journal")
    for make in (os.mkfifo, lambda path: path.symlink_to("/dev/zero"), Path.mkdir,
                 lambda path: path.symlink_to(path)):  # fmt: skip
        make(journal)
        for act in (lambda: BoxStore(box, SMALL).use("reel", "1 m"), lambda: audit(box, SMALL)):
            with pytest.raises(InputError, match=r"'flykin check --box .* --new-journal'"):
                act()
        assert box.read_text("utf-8") == TEXT
        restart_journal(box)
        assert audit(box, SMALL).agrees
        journal.unlink()


def test_changes_follow_one_another_as_they_are_told() -> None:
    box = BoxText("item,mine\na,1\nb,2\n")
    changes = [
        ItemChange("a", {"item": "a"}, {"item": "c"}),
        ItemChange("c", {"mine": "1"}, {"mine": "3"}),
        ItemChange("b", {"item": "b", "mine": "2"}, None),
        ItemChange("b", None, {"item": "b", "mine": "4"}),
        ItemChange("d", None, {"item": "d"}),
        ItemChange("d", {"mine": ""}, {"mine": "5"}),
    ]
    assert apply_changes(box, changes, "box.csv").text == "item,mine\nc,3\nb,4\nd,5\n"
    with pytest.raises(ConflictError, match="there is an item 'd' by now"):
        apply_changes(box, [changes[4], changes[4]], "box.csv")


cells = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cc", "Cf", "Zl", "Zp"]), max_size=12
)
names = cells.map(str.strip).filter(lambda name: bool(name.strip(" _-")))


@given(st.lists(st.tuples(names, cells), max_size=6), st.sampled_from([",", ";", "\t"]))
def test_rows_come_back_as_they_were_put_in(rows: list[tuple[str, str]], separator: str) -> None:
    box = BoxText(separator.join(("item", "mine")) + "\n")
    wanted: dict[str, str] = {}
    for name, mine in rows:
        if box.has(name):
            continue
        box = box.with_new_rows([{"item": name, "mine": mine}])
        wanted[name] = mine.strip()
    assert {name: box.row(name).get("mine", "") for name in box.names()} == wanted
    for name in wanted:
        box = box.without_rows([name])
    assert box.names() == []
