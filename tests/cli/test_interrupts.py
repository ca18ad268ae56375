"""Ctrl-C at any moment of a long command: the whole answer, a part that says so, or 130."""

from __future__ import annotations

import subprocess
import sys
from itertools import product
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

from tests.breadth import most_are_slow
from tests.cli.interrupts import COMMANDS, ROOT, Ended, is_pythons_own, run, trouble_with, words_of
from variants.cli import main

#: At which shares of a command's own calls Ctrl-C is pressed.
SHARES = (0.15, 0.5, 0.9)
IN_ONE_PROCESS = [name for name in COMMANDS if name != "tieable workers"]


class Calls:
    """Counts the calls of our own functions, and presses Ctrl-C at one of them."""

    def __init__(self, stop_at: int | None = None) -> None:
        self.count, self._stop_at = 0, stop_at

    def __call__(self, frame: FrameType, event: str, _arg: object) -> None:
        if event == "call" and "/variants/" in frame.f_code.co_filename:
            self.count += 1
            if self.count == self._stop_at:
                sys.setprofile(None)
                raise KeyboardInterrupt


def run_here(words: list[str], calls: Calls, patch: pytest.MonkeyPatch, capsys: Any) -> Ended:
    """Return how a command ends in this process, with somebody counting its calls."""
    patch.setattr(sys, "argv", ["flykin", *words])
    sys.setprofile(calls)
    try:
        with pytest.raises(SystemExit) as ended:
            main()
    finally:
        sys.setprofile(None)
    told = capsys.readouterr()
    return Ended(int(ended.value.code or 0), told.out, told.err)


def written_in(folder: Path) -> dict[str, bytes]:
    """Return the files that a command has written."""
    return {one.name: one.read_bytes() for one in folder.iterdir()}


@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
@pytest.mark.parametrize("name", most_are_slow(IN_ONE_PROCESS, 2))
def test_ctrl_c_at_any_call_gives_all_a_part_that_says_so_or_130(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Any
) -> None:
    def again(calls: Calls) -> Ended:
        for written in tmp_path.glob("*"):
            written.unlink()
        return run_here(words_of(name, tmp_path / "it"), calls, monkeypatch, capsys)

    again(Calls())
    calls = Calls()
    whole = again(calls)
    files = written_in(tmp_path)
    assert whole.printed or files, whole
    for share in SHARES:
        stopped = Calls(int(share * calls.count))
        ended = again(stopped)
        assert stopped.count >= int(share * calls.count), "it was not stopped"
        assert not trouble_with(ended, whole), (share, trouble_with(ended, whole))
        if name != "import":  # its journal holds the time
            assert written_in(tmp_path).items() <= files.items()


@pytest.mark.parametrize(
    ("name", "share"),
    most_are_slow(product(["tieable workers", "region"], [0.6, 0.1, 0.97]), 1),
)
def test_a_real_ctrl_c_leaves_no_traceback(name: str, share: float, tmp_path: Path) -> None:
    whole, taken_s = run(words_of(name, tmp_path / "whole"))
    ended, _ = run(words_of(name, tmp_path / "stopped"), share * taken_s)
    assert is_pythons_own(ended) or not trouble_with(ended, whole), trouble_with(ended, whole)


#: Ctrl-C comes where Python can't pass it on, while it imports, or twice.
AWKWARD = {
    "in a callback": "import weakref\nclass It: pass\nit = It()\n"
    "weakref.finalize(it, signal.raise_signal, signal.SIGINT)\nbegin_work()\ndel it\n",
    "at start": "signal.raise_signal(signal.SIGINT)\n",
    "twice": "begin_work()\ntry: signal.raise_signal(signal.SIGINT)\nexcept KeyboardInterrupt:\n"
    "    signal.raise_signal(signal.SIGINT)\n",
}


@pytest.mark.parametrize("when", AWKWARD)
def test_the_program_stops_at_once_where_nobody_could_catch_it(when: str) -> None:
    code = "import signal\nfrom variants.stopping import begin_work, take_over\ntake_over()\n"
    done = subprocess.run(
        [sys.executable, "-c", f"{code}{AWKWARD[when]}print('went on')"],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert (done.returncode, done.stdout, done.stderr) == (130, "", "stopped\n")


def test_once_the_answer_is_out_ctrl_c_changes_nothing() -> None:
    code = (
        "import atexit, signal, sys\n"
        "from variants.__main__ import main\n"
        "atexit.register(signal.raise_signal, signal.SIGINT)\n"
        "sys.argv = ['flykin', '--version']\nmain()\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("flykin ")


def test_work_in_the_background_of_a_shell_goes_on_ignoring_ctrl_c() -> None:
    code = (
        "import signal\nsignal.signal(signal.SIGINT, signal.SIG_IGN)\n"
        "from variants.stopping import begin_work, take_over\n"
        "take_over()\nbegin_work()\nsignal.raise_signal(signal.SIGINT)\nprint('went on')\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert (done.returncode, done.stdout, done.stderr) == (0, "went on\n", "")
