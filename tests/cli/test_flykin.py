"""The commands as a tyer meets them: what is printed, and with which exit code."""

from __future__ import annotations

import io
import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.real import EXAMPLES, ROOT
from variants.cli import main
from variants.design.search import propose

BOX = str(EXAMPLES / "box.csv")
DUN = str(EXAMPLES / "dressings" / "ferrymans-dun.toml")
MIDGE = str(EXAMPLES / "dressings" / "sluice-midge.toml")


def flykin(
    *words: str, text: str | None = None, cwd: Path = ROOT
) -> subprocess.CompletedProcess[str]:
    """Run a command in this process: to start one of its own takes longer than most work."""
    streams = [io.TextIOWrapper(io.BytesIO(given)) for given in ((text or "").encode(), b"", b"")]
    command = ["flykin", *words]
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(cwd)
        patch.setattr(sys, "argv", command)
        for name, stream in zip(("stdin", "stdout", "stderr"), streams, strict=True):
            patch.setattr(sys, name, stream)
        with pytest.raises(SystemExit) as ended:
            main()
    code = ended.value.code
    assert isinstance(code, int)
    return subprocess.CompletedProcess(command, code, *map(read, streams[1:]))


def read(stream: io.TextIOWrapper) -> str:
    stream.flush()
    written = stream.detach()
    assert isinstance(written, io.BytesIO)
    return written.getvalue().decode()


def test_propose_prints_the_closest_within_80_columns() -> None:
    done = flykin("propose", DUN, "--box", BOX, "--missing", "body", "--tree")
    assert done.returncode == 0
    assert "nothing closer exists" in " ".join(done.stdout.split())
    assert max(map(len, done.stdout.splitlines())) <= 80


def test_explain_tells_numbers_rules_and_sources_within_80_columns() -> None:
    done = flykin("propose", DUN, "--box", BOX, "--explain", "1")
    assert "source: Gregg" in done.stdout
    assert "[dry-hackle-length]" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80


def test_no_variant_is_exit_1_with_the_reason() -> None:
    done = flykin("propose", MIDGE, "--box", BOX, "--size", "20")
    assert done.returncode == 1
    assert "can be the hook in size 20" in " ".join(done.stdout.split())


def test_json_holds_it_all() -> None:
    answer = json.loads(flykin("propose", DUN, "--box", BOX, "--json", "--best", "2").stdout)
    assert answer["version"] == 1
    assert answer["ended"] == "proven"
    first = answer["variants"][0]
    terms = sum(term["cost"] for part in first["parts"].values() for term in part["terms"])
    rules = sum(rule["cost"] for part in first["parts"].values() for rule in part["rules"])
    assert terms + rules == pytest.approx(first["departure"])
    assert first["parts"]["hackle"]["items"][0][0]["place"]


def test_json_tells_what_blocks() -> None:
    done = flykin("propose", MIDGE, "--box", BOX, "--size", "20", "--json")
    assert done.returncode == 1
    assert json.loads(done.stdout)["blocked"]["empty_parts"] == ["hook"]


@pytest.mark.parametrize("suffix", [".json", ".graphml", ".dot", ".mmd"])
def test_graph_is_written_in_each_format(suffix: str, tmp_path: Path) -> None:
    target = tmp_path / f"derivation{suffix}"
    assert flykin("propose", DUN, "--box", BOX, "--graph", str(target)).returncode == 0
    assert target.stat().st_size > 100
    assert list(tmp_path.iterdir()) == [target]


def test_a_graph_that_cannot_be_written_leaves_nothing(tmp_path: Path) -> None:
    done = flykin("propose", DUN, "--box", BOX, "--graph", str(tmp_path / "no" / "graph.dot"))
    assert done.returncode == 2
    assert "can't be written" in done.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["propse"], "Did you mean 'propose'?"),
        (["propose", DUN, "--box", BOX, "--missing", "boddy"], "body"),
        (["propose", DUN, "--box", BOX, "--water", "rough"], "slow, medium, fast"),
        (["propose", DUN, "--box", BOX, "--size", "16-12"], "runs backwards"),
        (["propose", DUN, "--box", BOX, "--keep", "cape"], "no part of this dressing"),
        (["propose", DUN, "--box", BOX, "--graph", "x.png"], ".graphml"),
        (["propose", DUN, "--box", "nosuch.csv"], "there is no such file"),
        (["propose", DUN, "--box", str(EXAMPLES)], "is a folder, not a file"),
        (["propose", "-", "--box", "-"], "standard input"),
        (["propose", DUN, "--box", BOX, "--explain", "9000", "--max-changes", "1"],
         "none has number 9000"),
    ],
)  # fmt: skip
def test_bad_words_are_exit_2_and_say_what_would_be_right(words: list[str], told: str) -> None:
    done = flykin(*words)
    assert done.returncode == 2
    assert told in done.stderr


def test_a_dressing_may_come_from_standard_input() -> None:
    done = flykin("propose", "-", "--box", BOX, "--best", "1", text=Path(DUN).read_text())
    assert done.returncode == 0


def test_control_characters_of_a_box_do_not_reach_the_terminal(tmp_path: Path) -> None:
    wild = tmp_path / "box.csv"
    wild.write_text(Path(BOX).read_text().replace("mink fur brown", "mink \x1b[31mfur"))
    done = flykin("propose", DUN, "--box", str(wild), "--best", "30")
    assert done.returncode == 2
    assert "mink" in done.stderr
    assert "\x1b" not in done.stdout + done.stderr


def test_check_tells_what_each_file_is() -> None:
    names = ("prices.csv", "gauge.csv", "batch.toml", "box.csv")
    done = flykin("check", *(str(EXAMPLES / name) for name in names))
    told = [line.split(": good: ")[1] for line in done.stdout.splitlines()]
    assert told == [
        "a file of 6 prices",
        "a gauge, 4 readings",
        "the batch “Thursday at the mill”, 32 flies of 4 kinds",
        "a box of 195 items",
    ]


def test_check_tells_every_fault_and_goes_on(tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.toml"
    wrong.write_text(
        'name = "X"\nstyle = "dry uprigt"\nsizes = "14"\n[part.hook]\nmaterial = "dry fly hook"\n'
    )
    done = flykin("check", str(wrong), BOX)
    assert done.returncode == 2
    assert f"{wrong}:2: style: 'dry uprigt' is no style" in done.stderr
    assert "did you mean 'dry upright'" in done.stderr
    assert "a box of 195 items" in done.stdout


def test_a_reader_that_goes_away_is_no_error() -> None:
    command = (
        f"{sys.executable} -m variants propose {DUN} --box {BOX} --best 300 --json | head -c 10"
    )
    done = subprocess.run(
        ["bash", "-c", f"set -o pipefail; {command}"], cwd=ROOT, capture_output=True, text=True
    )
    assert done.stderr == ""


def test_ctrl_c_in_the_search_prints_what_there_is_and_ends_well(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    real = propose.as_variant
    made = []

    def interrupted(*words: object) -> object:
        made.append(real(*words))
        if len(made) == 3:
            raise KeyboardInterrupt
        return made[-1]

    monkeypatch.setattr(propose, "as_variant", interrupted)
    monkeypatch.setattr(
        sys, "argv", ["flykin", "propose", DUN, "--box", BOX, "--best", "9", "--closest"]
    )
    with pytest.raises(SystemExit) as ended:
        main()
    printed = capsys.readouterr().out
    assert not ended.value.code
    assert "  2  " in printed
    assert "Stopped before the search was done. Proven: the first 2." in printed


def test_a_time_limit_gives_what_there_is_and_says_what_is_proven() -> None:
    done = flykin("propose", DUN, "--box", BOX, "--best", "400", "--within", "1500 ms", "--json")
    answer = json.loads(done.stdout)
    assert done.returncode == (0 if answer["variants"] else 130)
    if answer["ended"] == "stopped":
        assert answer["complete"] is False
        assert answer["bound"] is not None
    assert answer["proven"] <= len(answer["variants"])
    assert flykin("propose", DUN, "--box", BOX, "--within", "soon").returncode == 2


def test_a_time_limit_counts_from_the_start_of_the_command() -> None:
    done = flykin("propose", DUN, "--box", BOX, "--within", "1 ms")
    assert (done.returncode, done.stdout) == (130, "")
    assert done.stderr == "The time was up before the search began: give it longer.\n"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_ctrl_c_at_any_other_time_leaves_no_traceback(tmp_path: Path) -> None:
    box = tmp_path / "box.csv"
    os.mkfifo(box)
    running = subprocess.Popen(
        [sys.executable, "-m", "variants", "propose", DUN, "--box", str(box)],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    with box.open("w"):  # opened as soon as the command waits for the box
        running.send_signal(signal.SIGINT)
        _printed, complained = running.communicate(timeout=60)
    assert "Traceback" not in complained
    assert running.returncode == 130


def test_version_and_help_need_click_alone() -> None:
    probe = """
import sys
sys.argv = ["flykin", "--help"]
import variants.cli
try:
    variants.cli.main()
except SystemExit:
    pass
heavy = {"pint", "networkx", "rich", "coloraide", "constraint", "rapidfuzz"} & set(sys.modules)
assert not heavy, heavy
"""
    done = subprocess.run([sys.executable, "-c", probe], cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert "propose" in done.stdout


PLAIN = """\
Weir Keeper
Style: winged wet
Hook: wet fly hook, sizes 12-14
Silk: yellow silk
Body: peacock herl ribbed with fine gold wire
Hackle: ginger hen
Head: thrubbled varnish
"""


def test_read_prints_a_dressing_that_check_takes_and_tells_what_it_did_not_understand(
    tmp_path: Path,
) -> None:
    done = flykin("read", "-", text=PLAIN)
    assert done.returncode == 0
    assert "NOT UNDERSTOOD line 7, head: “thrubbled”" in done.stderr
    written = tmp_path / "weir-keeper.toml"
    written.write_text(done.stdout)
    assert "winged wet, 6 parts" in flykin("check", str(written)).stdout


def test_read_writes_a_file_for_each_of_many(tmp_path: Path) -> None:
    handbook = "name\ttag\ttail\trib\tbody\thackle\twing\n"
    handbook += "One\tNone\tNone\tGold\tRed Floss\tBrown\tNone\n" * 2
    done = flykin("read", "-", "--style", "winged wet", "--out", str(tmp_path), text=handbook)
    assert done.returncode == 0
    assert sorted(file.name for file in tmp_path.iterdir()) == ["one-2.toml", "one.toml"]


def test_read_as_json_keeps_the_words() -> None:
    answer = json.loads(flykin("read", "-", "--json", text=PLAIN).stdout)
    body = next(one for one in answer["dressings"][0]["parts"] if one["part"] == "body")
    assert body["words"] == "peacock herl ribbed with fine gold wire"
    ((herl,),) = body["choices"]
    assert (herl["material"], herl["colour"]) == ("peacock-herl", "peacock-bronze")


def test_nothing_to_read_is_exit_2() -> None:
    assert flykin("read", "-", text="\n").returncode == 2


def test_kin_names_the_nearest() -> None:
    tollgate = str(EXAMPLES / "dressings" / "tollgate-amber.toml")
    done = flykin("kin", tollgate, "--book", str(EXAMPLES / "dressings"))
    assert "differs in" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80
