"""Trouble outside the command: full disks, lost readers, old terminals, Ctrl-C, odd files."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.real import EXAMPLES, ROOT

BOX = EXAMPLES / "box.csv"
DUN = EXAMPLES / "dressings" / "ferrymans-dun.toml"
PROPOSE = ("propose", str(DUN), "--box", str(BOX))


def flykin(
    *words: str, stdin: bytes = b"", stdout: int | None = subprocess.PIPE, **environment: str
) -> subprocess.CompletedProcess[bytes]:
    done = subprocess.run(
        [sys.executable, "-m", "variants", *words],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        input=stdin,
        stdout=stdout,
        stderr=subprocess.PIPE,
    )
    assert b"Traceback" not in done.stderr, done.stderr.decode()
    return done


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
def test_a_full_disk_is_told_in_one_line() -> None:
    with Path("/dev/full").open("wb") as full:
        done = flykin(*PROPOSE, stdout=full.fileno())
    assert done.returncode == 2
    assert done.stderr == b"the answer can't be written: no space left on device\n"


@pytest.mark.parametrize("encoding", ["cp1252", "ascii", "utf-16"])
def test_what_goes_to_a_pipe_is_utf_8_whatever_the_system_says(encoding: str) -> None:
    done = flykin(*PROPOSE, "--best", "1", PYTHONIOENCODING=encoding)
    assert done.returncode == 0
    assert "body: otter fur → " in done.stdout.decode()


def test_the_box_may_come_from_standard_input() -> None:
    done = flykin("propose", str(DUN), "--box", "-", "--best", "1", stdin=BOX.read_bytes())
    assert done.stdout == flykin(*PROPOSE, "--best", "1").stdout


def test_a_reader_that_wants_one_line_gets_it() -> None:
    words = " ".join([sys.executable, "-m", "variants", *PROPOSE])
    done = subprocess.run(
        ["bash", "-c", f"set -o pipefail; {words} --best 400 --json | head -1"],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "{\n", "")


#: The search falls asleep before its third variant and tells that it does.
SLOW = """
import sys, time
from variants.design.search import propose

as_variant = propose.as_variant

def sleepy(design, chosen, rank, *more):
    if rank == 3:
        print("asleep", file=sys.stderr, flush=True)
        time.sleep(60)
    return as_variant(design, chosen, rank, *more)

propose.as_variant = sleepy
from variants.cli import main
main()
"""


@pytest.mark.parametrize("form", ["screen", "json"])
def test_ctrl_c_in_a_long_search_prints_what_is_proven(form: str) -> None:
    words = [*PROPOSE, "--best", "9", *(["--json"] if form == "json" else [])]
    with subprocess.Popen(
        [sys.executable, "-c", SLOW, *words],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as running:
        assert running.stderr is not None
        assert running.stderr.readline() == "asleep\n"
        running.send_signal(signal.SIGINT)
        printed, complained = running.communicate(timeout=60)
    assert running.returncode == 0
    assert complained == ""
    told = '"ended": "interrupted"' if form == "json" else "before the search was done"
    assert told in " ".join(printed.split())


def test_a_control_character_in_a_word_of_the_command_is_not_echoed() -> None:
    for words in ([*PROPOSE, "--missing", "\x1b[31m"], [*PROPOSE, "--water", "\x1b[31m"]):
        done = flykin(*words)
        assert done.returncode == 2
        assert b"\x1b" not in done.stderr


@pytest.mark.parametrize(
    "words",
    [
        (*PROPOSE[:-1], ""),
        ("amounts", str(DUN), "--box", ""),
        ("draw", str(DUN), "--box", ""),
        ("sheet", str(DUN), "--box", ""),
        ("instead", "otter fur", "--part", "body", "--style", "nymph", "--box", ""),
        ("measure", "--style", "nymph", "--gauge", ""),
        ("measure", "--style", "nymph", "--rules", ""),
        ("buy", str(DUN), "--box", str(BOX), "--prices", ""),
    ],
)
def test_an_empty_name_is_not_taken_for_none(words: tuple[str, ...]) -> None:
    done = flykin(*words)
    assert done.returncode == 2
    assert done.stderr.decode().startswith("(no name): the ")


@pytest.mark.parametrize(
    "words",
    [("check",), ("tieable", "--box", str(BOX)), ("measure", "--style", "nymph", "--rules")],
)
def test_a_name_too_long_for_a_file_is_told_as_that(words: tuple[str, ...]) -> None:
    done = flykin(*words, f"{'x' * 5000}.toml")
    assert done.returncode == 2
    assert done.stderr.decode().endswith(
        "xxx.toml: file name too long\n  help: name another file\n"
    )
    assert len(done.stderr) < 400


def test_check_refuses_a_folder_without_rules(tmp_path: Path) -> None:
    (tmp_path / "dun.toml").write_bytes(DUN.read_bytes())
    done = flykin("check", str(tmp_path))
    assert done.returncode == 2
    assert done.stderr.decode() == (
        f"{tmp_path / 'dun.toml'}: would not be read here\n"
        "  help: lay the folder out like rules/: trade/own.toml, materials/own.tsv\n"
    )
    (tmp_path / "dun.toml").unlink()
    assert b"holds no rules or tables" in flykin("check", str(tmp_path)).stderr


def test_a_box_without_a_line_still_has_an_answer() -> None:
    done = flykin("propose", str(DUN), "--box", "-", stdin=b"item,material\n")
    assert done.returncode == 1
    told = "nothing that is left in the box can be the hook in size 12, 14 or 16, thread, body,"
    assert told in " ".join(done.stdout.decode().split())


def test_a_hook_without_its_size_is_told_rather_than_never_used() -> None:
    rows = b"item,material,colour\nbent ones,dry fly hook,\n"
    done = flykin("propose", str(DUN), "--box", "-", stdin=rows)
    assert done.returncode == 2
    assert done.stderr.decode() == (
        "(standard input):2: sizes: the hook's size is missing\n"
        "  help: write it, such as 14, or 12-16\n"
    )
