"""A box held against its journal: every mismatch is found and named, and the box can be rebuilt."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.box.harm import TEXT
from tests.build import SMALL
from variants.box import BoxStore, read_journal
from variants.box.audit import FindingKind, audit, rebuild, restart_journal
from variants.box.box_text import sha256_of
from variants.box.journal import CHECKPOINT, replay, replay_last
from variants.box.journal_entry import compute_checksum
from variants.reading import InputError
from variants.views.box_check import audit_lines


@pytest.fixture
def box(tmp_path: Path) -> Path:
    path = tmp_path / "box.csv"
    path.write_text(TEXT, encoding="utf-8")
    store = BoxStore(path, SMALL)
    store.use("reel", "1 m", note="an evening")
    store.add({"item": "x", "material": "hen cape"})
    return path


def findings(box: Path) -> list[FindingKind]:
    return [one.kind for one in audit(box, SMALL).findings]


def journal(box: Path) -> Path:
    return Path(f"{box}.journal")


def test_a_box_that_agrees_says_so(box: Path) -> None:
    found = audit(box, SMALL)
    assert found.agrees
    assert (found.items, found.entries, found.findings) == (3, 3, ())
    assert audit_lines(found, "box.csv") == [
        "box.csv: 3 items, 3 entries in its journal",
        "Box and journal agree to the last byte.",
    ]


def test_a_box_without_a_journal_is_no_fault(tmp_path: Path) -> None:
    path = tmp_path / "box.csv"
    path.write_text(TEXT, encoding="utf-8")
    assert audit(path, SMALL).agrees
    assert findings(path) == [FindingKind.NO_JOURNAL]
    with pytest.raises(InputError, match="no such file"):
        audit(tmp_path / "none.csv", SMALL)


def test_an_edit_by_hand_is_told_item_by_item(box: Path) -> None:
    box.write_text(box.read_text("utf-8").replace("4999 m", "7 m"), encoding="utf-8")
    found = audit(box, SMALL)
    assert [one.kind for one in found.findings] == [FindingKind.BY_HAND]
    assert "  “reel”: amount 4999 m → 7 m" in audit_lines(found, "box.csv")
    (aside,) = rebuild(box)
    assert "7 m" in aside.read_text("utf-8")
    assert audit(box, SMALL).agrees
    assert BoxStore(box, SMALL).row("reel")["amount"] == "4999 m"


def test_a_box_that_is_gone_is_built_again_to_the_last_byte(box: Path) -> None:
    raw = box.read_bytes()
    box.unlink()
    assert findings(box) == [FindingKind.BOX_GONE]
    assert rebuild(box) == []
    assert box.read_bytes() == raw
    assert audit(box, SMALL).agrees


def test_a_box_that_is_spoilt_is_told_with_its_faults_and_built_again(box: Path) -> None:
    raw = box.read_bytes()
    box.write_bytes(raw.replace(b"hen cape", b"hen caep"))
    assert findings(box) == [FindingKind.BY_HAND, FindingKind.BOX_FAULTY]
    box.write_bytes(b"\0\0\0")
    assert findings(box) == [FindingKind.BOX_FAULTY]
    rebuild(box)
    assert box.read_bytes() == raw


@pytest.mark.parametrize("line", [0, 1, 2])
def test_a_journal_that_is_damaged_is_told_with_its_line(box: Path, line: int) -> None:
    lines = journal(box).read_text("utf-8").splitlines(keepends=True)
    lines[line] = lines[line].replace('"at": "2', '"at": "1')
    journal(box).write_text("".join(lines), encoding="utf-8")
    found = audit(box, SMALL)
    assert (found.findings[0].kind, found.findings[0].entry) == (FindingKind.DAMAGED, line + 1)
    raw = box.read_bytes()
    (aside,) = restart_journal(box)
    assert aside.read_text("utf-8") == "".join(lines)
    assert box.read_bytes() == raw
    assert audit(box, SMALL).agrees
    BoxStore(box, SMALL).use("reel", "1 m")


def test_a_box_is_built_up_to_the_damage(box: Path) -> None:
    lines = journal(box).read_text("utf-8").splitlines(keepends=True)
    journal(box).write_text("".join([*lines[:2], "{}\n"]), encoding="utf-8")
    asides = rebuild(box)
    assert [path.name for path in asides] == ["box.csv.set-aside-1", "box.csv.journal.set-aside-1"]
    assert box.read_text("utf-8") == TEXT.replace("5000 m", "4999 m")
    assert audit(box, SMALL).agrees


@pytest.mark.parametrize("lost", [0, 1])
def test_a_line_lost_in_the_middle_shows(box: Path, lost: int) -> None:
    lines = journal(box).read_text("utf-8").splitlines(keepends=True)
    del lines[lost]
    journal(box).write_text("".join(lines), encoding="utf-8")
    assert FindingKind.DAMAGED in findings(box)


def test_the_last_lines_lost_show_as_an_edit_by_hand(box: Path) -> None:
    lines = journal(box).read_text("utf-8").splitlines(keepends=True)
    journal(box).write_text("".join(lines[:-1]), encoding="utf-8")
    assert findings(box) == [FindingKind.BY_HAND]


def test_a_line_cut_short_is_left_out(box: Path) -> None:
    with journal(box).open("a", encoding="utf-8") as file:
        file.write(json.dumps({"number": 4})[:6])
    assert audit(box, SMALL).agrees
    BoxStore(box, SMALL).use("reel", "1 m")
    assert [entry.number for entry in read_journal(box)] == [1, 2, 3, 4]
    assert audit(box, SMALL).agrees


def test_a_command_that_was_stopped_is_told(box: Path) -> None:
    Path(f"{box}.pending").write_text('{"number": 4}', encoding="utf-8")
    assert findings(box) == [FindingKind.UNDER_WAY]
    BoxStore(box, SMALL).record_hand_edit()
    assert audit(box, SMALL).agrees


def test_there_is_nothing_to_build_a_box_from(tmp_path: Path) -> None:
    path = tmp_path / "box.csv"
    path.write_text(TEXT, encoding="utf-8")
    with pytest.raises(InputError, match="no good entry"):
        rebuild(path)
    assert path.read_text("utf-8") == TEXT


def test_an_edit_that_leaves_nothing_is_recorded(box: Path) -> None:
    for emptied in ("", "# nothing\n"):
        box.write_text(emptied, encoding="utf-8")
        BoxStore(box, SMALL).record_hand_edit()
        assert findings(box) == [FindingKind.BOX_FAULTY]
        told, invalid = replay(read_journal(box))
        assert (told and told.text, invalid) == (emptied, None)


def test_the_journal_alone_holds_the_box(box: Path) -> None:
    told, invalid = replay(read_journal(box))
    assert invalid is None
    assert told is not None
    assert told.raw == box.read_bytes()


def test_a_replay_begins_at_the_last_checkpoint(box: Path) -> None:
    """After an edit by hand, which may touch what no cell tells; and after so many entries."""
    store = BoxStore(box, SMALL)
    box.write_text(box.read_text("utf-8").replace("# my box", "# our box"), encoding="utf-8")
    while len(store.history()) < CHECKPOINT + 2:
        store.use("reel", "1 m")
    entries = store.history()
    assert [entry.number for entry in entries if entry.text] == [1, 4, CHECKPOINT + 1]
    for first in (0, 3, CHECKPOINT):
        told, invalid = replay(entries[first:])
        assert invalid is None
        assert told is not None
        assert told.raw == box.read_bytes()
    assert replay_last(entries) == told


def test_the_journal_of_an_older_version_is_read(tmp_path: Path) -> None:
    """Flykin 0.1 wrote what became of the lines of the file into each entry."""
    box = tmp_path / "box.csv"
    used = TEXT.replace("5000 m", "4999 m")
    edited = used.replace("# my box", "# our box")
    change = {"item": "reel", "before": {"amount": "5000 m"}, "after": {"amount": "4999 m"}}
    row = "reel,tying silk,primrose,,{} m\n"
    told: list[tuple[str, str, list[object], list[object]]] = [
        ("begun", TEXT, [], []),
        ("use", used, [change], [[3, [row.format(5000)], [row.format(4999)]]]),
        ("edited by hand", edited, [], [[0, ["# my box\n"], ["# our box\n"]]]),
    ]
    checksum, lines = "", ""
    for number, (what, text, changes, pieces) in enumerate(told, start=1):
        record = {
            "number": number, "at": "2026-11-26T08:00:00+00:00", "what": what, "note": "",
            "changes": changes, "pieces": pieces, "encoding": "utf-8",
            "box": sha256_of(text.encode()), **({"text": text} if number == 1 else {}),
        }  # fmt: skip
        checksum = compute_checksum(record, checksum)
        lines += json.dumps({**record, "checksum": checksum}) + "\n"
    journal(box).write_text(lines, encoding="utf-8")
    box.write_text(edited.replace("4999", "4000"), encoding="utf-8")
    assert findings(box) == [FindingKind.BY_HAND]
    store = BoxStore(box, SMALL)
    store.use("reel", "1 m")
    assert [entry.what for entry in store.history()][3:] == ["edited by hand", "use"]
    store.undo(5)
    store.undo(4)
    store.undo(2)
    assert box.read_text("utf-8") == edited.replace("4999", "5000")
    assert audit(box, SMALL).agrees


@pytest.mark.parametrize(
    "wrong",
    [
        {"number": float("inf")},  # 1e999 in the file
        {"encoding": "klingon"},
        {"encoding": "idna"},
        {"text": 5},
        {"pieces": [["1", [], []]]},
        {"pieces": 3},
        {"changes": 3},
        {"changes": [{"item": "reel", "before": {" x": ""}, "after": {" x": "1"}}]},
        {"changes": [{"item": "reel", "before": {}, "after": {"y": ""}, "exact": ["1", "inf"]}]},
        {"changes": [{"item": "reel", "before": 5, "after": None}]},
        {"changes": [{"item": "reel", "before": {"amount": 1}, "after": None}]},
        {"changes": [{"item": "reel", "before": None, "after": None}]},
        {"undoes": [1]},
        {"undoes": 3},  # itself
        {"text": 'item\n"' + "x" * 140_000 + '"\n'},
        {"at": None},
        {"text": "\ud800"},
    ],
)
def test_a_forged_line_is_told_as_any_spoilt_one(box: Path, wrong: dict[str, object]) -> None:
    """Its checksum is right: only what it holds is not."""
    lines = journal(box).read_text("utf-8").splitlines()
    before = json.loads(lines[-2])["checksum"]
    record = {**json.loads(lines[-1]), **wrong}
    lines[-1] = json.dumps({**record, "checksum": compute_checksum(record, before)})
    journal(box).write_text("\n".join(lines).replace("Infinity", "1e999") + "\n", "utf-8")
    found = audit(box, SMALL)
    assert not found.agrees
    assert {one.kind for one in found.findings} & {FindingKind.DAMAGED, FindingKind.UNSOUND}
    for act in (
        lambda: BoxStore(box, SMALL).history() or BoxStore(box, SMALL).undo(),
        lambda: BoxStore(box, SMALL).use("reel", "1 m"),
    ):
        if FindingKind.DAMAGED in {one.kind for one in found.findings}:
            with pytest.raises(InputError, match=r"journal.*line \d|:\d+:"):
                act()
    rebuild(box)
    assert audit(box, SMALL).agrees
