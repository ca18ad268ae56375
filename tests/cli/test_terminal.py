"""Nothing that a terminal obeys is ever written to it, whatever a file or a word holds."""

from __future__ import annotations

import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.cli.test_flykin import BOX, DUN
from tests.real import ROOT
from variants.cli.terminal import terminal_safe

WILD = "\x1b[31m\x9b2J\x07\r\u202e"


def on_a_terminal(*words: str, encoding: str = "utf-8") -> tuple[int, bytes]:
    """Run a command whose standard output and standard error are a terminal."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "variants", *words],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": encoding},
        stdin=subprocess.DEVNULL,
        stdout=theirs,
        stderr=theirs,
    ) as running:
        os.close(theirs)
        shown = b""
        while True:
            try:
                got = os.read(ours, 65536)
            except OSError:  # a terminal whose other end has gone
                break
            if not got:
                break
            shown += got
    os.close(ours)
    return running.returncode, shown.replace(b"\r\n", b"\n")


@pytest.mark.parametrize("encoding", ["utf-8", "ascii"])
@pytest.mark.parametrize(
    "words",
    [
        [WILD],
        ["check", f"no{WILD}.toml"],
        ["propose", DUN, "--box", f"no{WILD}.csv"],
        ["propose", DUN, "--box", BOX, f"--{WILD}"],
        ["propose", DUN, "--box", BOX, "--best", WILD],
        ["propose", DUN, "--box", BOX, "--missing", WILD],
        ["instead", WILD, "--part", "body", "--style", "nymph"],
        ["explain", WILD],
        ["measure", "--style", "nymph", "--gauge", BOX, "--reading", WILD],
        ["tieable", DUN, "--box", BOX, "--style", WILD],
        ["read", f"{WILD}.txt", "--style", "nymph"],
    ],
)
def test_a_word_of_the_command_is_shown_but_not_obeyed(words: list[str], encoding: str) -> None:
    code, shown = on_a_terminal(*words, encoding=encoding)
    assert code == 2
    assert shown
    assert b"\x1b" not in shown
    assert b"\x07" not in shown
    assert b"\r" not in shown
    assert "\u202e" not in shown.decode(errors="replace")
    assert b"Traceback" not in shown


def test_a_file_of_a_wild_name_is_read_and_named_harmlessly(tmp_path: Path) -> None:
    wild = tmp_path / f"dun{WILD}.toml"
    wild.write_bytes(Path(DUN).read_bytes())
    code, shown = on_a_terminal("check", str(wild))
    assert code == 0
    assert "good: the dressing “Ferryman's Dun”" in shown.decode()
    assert b"\x1b" not in shown


@given(st.text())
def test_only_what_is_obeyed_is_changed(text: str) -> None:
    shown = terminal_safe(text)
    assert len(shown) == len(text)
    assert all(
        one == other or (not other.isprintable() and one == "\N{REPLACEMENT CHARACTER}")
        for one, other in zip(shown, text, strict=True)
    )
    assert "\x1b" not in shown
    assert "\x9b" not in shown
