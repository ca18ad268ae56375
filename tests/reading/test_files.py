"""What is no readable text is refused plainly: folders, lost files, pipes, encodings, line ends."""

from __future__ import annotations

import io
import os
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.build import complaint
from variants.reading import read_text


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def told(raw: bytes, name: str = "box.csv") -> str:
    Path(name).write_bytes(raw)
    return complaint(lambda: read_text(name))


@pytest.mark.parametrize(
    ("encoding", "said"),
    [
        ("utf-16", "box.csv: is saved as UTF-16\n  help: save it again as UTF-8"),
        ("utf-32", "box.csv: is saved as UTF-32\n  help: save it again as UTF-8"),
        (
            "utf-16-le",
            "box.csv:1: the line holds a zero byte\n  help: save it again as plain text in UTF-8",
        ),
        (
            "latin-1",
            "box.csv:2: holds bytes that are no UTF-8 (Latin-1, perhaps)\n"
            "  help: save it again as UTF-8",
        ),
    ],
)
def test_another_encoding_is_named(encoding: str, said: str) -> None:
    assert told("item\nfür\n".encode(encoding)) == said


def test_a_byte_order_mark_is_left_out() -> None:
    Path("box.csv").write_bytes(b"\xef\xbb\xbfitem\n")
    assert read_text("box.csv") == "item\n"


def test_lines_of_carriage_returns_are_refused() -> None:
    assert told(b"item,material\ra,hen cape\r") == (
        "box.csv: ends its lines with carriage returns alone\n  help: save it again as plain text"
    )


def test_an_empty_name_is_no_folder() -> None:
    said = "(no name): the file's name is empty\n  help: name a file"
    assert complaint(lambda: read_text("")) == said


def test_a_folder_is_not_a_file() -> None:
    Path("dressings").mkdir()
    assert complaint(lambda: read_text("dressings")) == (
        "dressings: is a folder, not a file\n  help: name one file in it"
    )


def test_a_lost_file_is_told_with_its_neighbour() -> None:
    Path("sluice-midge.toml").touch()
    assert complaint(lambda: read_text("sluice-mige.toml")) == (
        "sluice-mige.toml: there is no such file\n"
        "  help: check the name and the folder\n"
        "  did you mean 'sluice-midge.toml'?"
    )
    assert complaint(lambda: read_text("no/such/folder.toml")) == (
        "no/such/folder.toml: there is no such file\n  help: check the name and the folder"
    )


@pytest.mark.parametrize(
    ("failure", "said"),
    [
        (
            PermissionError(13, "Permission denied"),
            "may not be read\n  help: check the file's permissions",
        ),
        (
            FileNotFoundError(2, "No such file"),
            "there is no such file\n  help: check the name and the folder",
        ),
        (
            OSError(5, "Input/output error"),
            "can't be read: input/output error\n  help: name another file",
        ),
    ],
    ids=["unreadable", "vanished", "broken disk"],
)
def test_a_file_that_fails_while_it_is_opened(
    failure: OSError, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    Path("box.csv").touch()

    def fail(*_args: Any, **_more: Any) -> None:
        raise failure

    monkeypatch.setattr(Path, "open", fail)
    monkeypatch.setattr(Path, "iterdir", lambda _folder: iter(()))
    assert complaint(lambda: read_text("box.csv")) == f"box.csv: {said}"


@pytest.mark.skipif(os.geteuid() == 0, reason="whoever may do everything may read everything")
def test_an_unreadable_file() -> None:
    Path("box.csv").touch(mode=0)
    assert "may not be read" in complaint(lambda: read_text("box.csv"))


@pytest.mark.parametrize("unfit", ["\0", "\ud800"])
def test_a_name_that_no_file_can_have(unfit: str) -> None:
    assert complaint(lambda: read_text(f"a{unfit}b")) == (
        "a\N{REPLACEMENT CHARACTER}b: can't be read: the name holds what no file name can\n"
        "  help: name another file"
    )


def test_a_very_long_name_is_cut() -> None:
    first, *_ = complaint(lambda: read_text("x" * 5000)).splitlines()
    assert first.startswith("…xxx")
    assert len(first) < 300


def test_a_file_without_end_is_refused() -> None:
    assert complaint(lambda: read_text("/dev/zero")) == (
        "/dev/zero: is larger than 16 MB\n  help: split it, or name another file"
    )


def test_a_pipe_is_read() -> None:
    reading, writing = os.pipe()
    os.write(writing, b"item\n")
    os.close(writing)
    try:
        assert read_text(f"/dev/fd/{reading}") == "item\n"
    finally:
        os.close(reading)


class Input:
    """Standard input that holds some bytes."""

    def __init__(self, raw: bytes) -> None:
        self.buffer = io.BytesIO(raw)


def test_standard_input_is_read_and_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", Input(b"item\n"))
    assert read_text("-") == "item\n"
    monkeypatch.setattr(sys, "stdin", Input(b"item\n\0\n"))
    assert complaint(lambda: read_text("-")) == (
        "(standard input):2: the line holds a zero byte\n"
        "  help: save it again as plain text in UTF-8"
    )
    monkeypatch.setattr(sys, "stdin", None)
    assert complaint(lambda: read_text("-")) == (
        "(standard input): can't be read: it is closed\n  help: name another file"
    )
