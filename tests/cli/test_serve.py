"""`serve` as a tyer runs it: the address told, the page there, gone after Ctrl-C."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import pytest

from tests.cli.test_flykin import BOX, flykin
from tests.real import ROOT


def test_the_page_is_there_until_it_is_stopped() -> None:
    command = [sys.executable, "-m", "variants", "serve", "--box", BOX, "--port", "0"]
    with subprocess.Popen(
        command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as served:
        assert served.stdout is not None
        told = served.stdout.readline()
        found = re.fullmatch(r"Flykin is at (http://127\.0\.0\.1:\d+/)\n", told)
        assert found is not None, told
        with urlopen(found[1], timeout=60) as answer:
            assert "8 dressings" in answer.read().decode()
        with pytest.raises(HTTPError) as refused:
            urlopen(Request(found[1], headers={"Host": "evil.example"}), timeout=60)
        assert refused.value.code == 421
        refused.value.close()
        served.send_signal(signal.SIGINT)
        _, troubles = served.communicate(timeout=60)
    assert "Traceback" not in troubles


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--box", "no-such-box.csv"], "there is no box"),
        (["--box", BOX, "--book", "no-such-book"], "there is no 'no-such-book'"),
        (["--box", BOX, "--region", "nowhere.toml"], "there is no 'nowhere.toml'"),
        (["--box", BOX, "--port", "70000"], "70000"),
        (["--box", BOX, "--reached-at", "flies.example"], "write it like https://flies.example"),
        (["--box", BOX, "--reached-at", "https://a.example/flies"], "no address of a page"),
        (["--box", BOX, "--host", "no.such.host.invalid"], "can't listen"),
    ],
)
def test_what_can_not_be_served_is_told(words: list[str], told: str) -> None:
    done = flykin("serve", *words)
    assert done.returncode == 2
    assert told in done.stderr
    assert "Traceback" not in done.stderr


def test_a_port_that_is_taken_is_told() -> None:
    import socket

    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        done = flykin("serve", "--box", BOX, "--port", str(taken.getsockname()[1]))
    assert done.returncode == 2
    assert "try another --port" in done.stderr


def test_a_spoilt_rule_is_told_before_anything_is_served(tmp_path: Path) -> None:
    (tmp_path / "trade").mkdir()
    (tmp_path / "trade" / "own.toml").write_text("[[rule]]\nid = 1\n", encoding="utf-8")
    done = flykin("serve", "--box", BOX, "--port", "0", "--rules", str(tmp_path))
    assert done.returncode == 2
    assert "own.toml" in done.stderr
