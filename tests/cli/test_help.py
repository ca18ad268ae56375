"""Help where one is: each command's example works, and a tab completes names."""

from __future__ import annotations

import inspect
import os
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from tests.cli.test_flykin import BOX, flykin
from tests.real import ROOT
from variants.cli import flykin as group
from variants.cli.completing import COMPLETERS
from variants.cli.group import COMMANDS, SECTIONS
from variants.model import Trade, plain

#: It runs until it is stopped; its own tests start and stop it.
NEVER_ENDS = {"flykin serve"}
EXAMPLE = re.compile(r"\x08\nExample:\n((?:  .*\n?)+)")
#: An example with one of these in it needs a shell: globs, pipes, several lines.
ASKS_SHELL = re.compile(r"[*|&;<>$]|\n.")


def commands(
    command: click.Command = group, name: str = "flykin"
) -> Iterator[tuple[str, click.Command]]:
    """Yield every command that does something, with its whole name."""
    if not isinstance(command, click.Group):
        yield name, command
        return
    ctx = click.Context(command)
    for word in command.list_commands(ctx):
        inner = command.get_command(ctx, word)
        assert inner is not None
        yield from commands(inner, f"{name} {word}")


ALL = dict(commands())


@pytest.fixture(scope="module")
def valley(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a copy of the examples, and a box of one's own that has a history."""
    folder = tmp_path_factory.mktemp("valley")
    shutil.copytree(ROOT / "examples", folder / "examples")
    shutil.copyfile(BOX, folder / "box.csv")
    used = flykin("box", "use", "cock neck ginger", "1", "--box", str(folder / "box.csv"))
    assert used.returncode == 0, used.stderr
    return folder


@pytest.mark.parametrize("name", ALL)
def test_the_example_in_the_help_works(name: str, valley: Path) -> None:
    found = EXAMPLE.search(inspect.cleandoc(ALL[name].help or "") + "\n")
    assert found is not None, f"the help of {name} has no example"
    lines = found[1].replace("\\\n", " ")
    assert lines.strip().startswith(name)
    if name in NEVER_ENDS:
        return
    done = in_a_shell(lines, valley) if ASKS_SHELL.search(lines) else here(lines, valley)
    assert done.returncode == 0, done.stderr
    assert "Traceback" not in done.stderr


def here(line: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    _program, *words = shlex.split(line)
    return flykin(*words, cwd=cwd)


def in_a_shell(lines: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        ["bash", "-euo", "pipefail", "-c", lines],
        cwd=cwd,
        env={
            **os.environ,
            "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}",
            "PYTHONPATH": str(ROOT),
        },
        input="",
        capture_output=True,
        text=True,
    )


def test_every_command_stands_in_one_section_of_the_help() -> None:
    told = flykin("--help").stdout
    assert max(map(len, told.splitlines())) <= 80
    assert sum(map(len, SECTIONS.values())) == len(COMMANDS)
    for title, names in SECTIONS.items():
        section = told.split(f"{title}:\n")[1].split("\n\n")[0]
        assert [line.split()[0] for line in section.splitlines() if line[2] != " "] == list(names)


def offered(line: str, cwd: Path = ROOT, shell: str = "zsh") -> list[tuple[str, str, str]]:
    """Return what a tab at the end of a line offers: type, word and what is told of it."""
    words = line.split(" ")
    done = subprocess.run(
        [sys.executable, "-m", "variants"],
        cwd=cwd,
        env={
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "COMP_WORDS": line,
            "COMP_CWORD": str(len(words) - 1),
            "_FLYKIN_COMPLETE": f"{shell}_complete",
        },
        capture_output=True,
        text=True,
    )
    assert done.stderr == ""
    told = done.stdout.split("\n")[:-1] if done.stdout.strip() else []
    return list(zip(told[::3], told[1::3], told[2::3], strict=True))


@pytest.mark.parametrize(
    ("line", "names"),
    [
        ("flykin instead ", "material_names"),
        ("flykin instead otter-fur --colour ", "colour_names"),
        ("flykin instead otter-fur --style ", "style_names"),
        ("flykin instead otter-fur --part ", "part_names"),
    ],
)
def test_a_tab_offers_every_name_of_a_table_as_one_word(
    line: str, names: str, real_trade: Trade
) -> None:
    entries = getattr(real_trade, names)
    words = [word for _type, word, _about in offered(line)]
    assert all(re.fullmatch(r"[A-Za-z0-9-]+", word) for word in words)
    assert {entries[plain(word)].id for word in words} == {one.id for one in entries.values()}


def test_a_tab_offers_what_begins_so_by_any_of_its_names() -> None:
    assert ("plain", "otter-fur", "otter fur, fur dubbing") in offered("flykin instead ot")
    assert [word for _type, word, _about in offered("flykin propose ferr")] == [
        "examples/dressings/ferrymans-dun.toml"
    ]
    parts = offered("flykin propose examples/dressings/ferrymans-dun.toml --keep ")
    assert {word for _type, word, _about in parts} == {
        "hook", "thread", "tail", "body", "wing", "hackle"
    }  # fmt: skip
    assert ("plain", "dry-hackle-length", "rule") in offered("flykin explain dry-hackle")
    assert offered("flykin propose examples/dr") == [("file", "examples/dr", "_")]


def test_a_tab_offers_the_things_in_the_box() -> None:
    box = "--box examples/box.csv"
    found = offered(f"flykin box history {box} cock")
    assert ("plain", "cock neck ginger", "cape drawer 1") in found
    assert all(word.startswith("cock") for _type, word, _about in found)
    assert offered("flykin box history --box nowhere.csv ") == []


def test_a_tab_at_a_spoilt_folder_of_rules_is_silent(tmp_path: Path) -> None:
    (tmp_path / "colours.tsv").write_bytes(b"id\tname\n\xff\xfe\tx\n")
    assert offered(f"flykin instead otter-fur --rules {tmp_path} --colour ") == []


def test_a_tab_loads_nothing_heavy() -> None:
    code = (
        "import sys, atexit\n"
        "from variants.cli import main\n"
        "heavy = {'pint', 'networkx', 'rapidfuzz', 'coloraide', 'openpyxl', 'constraint'}\n"
        "atexit.register(lambda: print(sorted(heavy & set(sys.modules))))\n"
        "main()"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env={
            **os.environ,
            "COMP_WORDS": "flykin instead --colour gin",
            "COMP_CWORD": "3",
            "_FLYKIN_COMPLETE": "bash_complete",
        },
        capture_output=True,
        text=True,
    )
    assert "plain,ginger\n" in done.stdout
    assert done.stdout.endswith("[]\n")


def test_commands_ask_for_things_by_names_that_a_tab_knows() -> None:
    asked = {
        parameter.name
        for command in ALL.values()
        for parameter in command.params
        if parameter.name in ("material", "colour", "style", "part", "dressing", "box", "water")
    }
    assert asked <= set(COMPLETERS)


ASK = {
    "bash": "source <(flykin completion bash)\n"
    "COMP_WORDS=(flykin instead ot); COMP_CWORD=2\n"
    '_flykin_completion flykin\nprintf "%s\\n" "${COMPREPLY[@]}"\n'
    "COMPREPLY=(); COMP_CWORD=5\n"
    "COMP_WORDS=(flykin box use --box examples/box.csv 'cock\\ neck\\ gi')\n"
    '_flykin_completion flykin\nprintf "%s\\n" "${COMPREPLY[@]}"',
    "fish": 'flykin completion fish | source; complete -C "flykin instead ot" | cut -f 1',
}


@pytest.mark.parametrize("shell", ASK)
def test_a_shell_completes_with_the_script(shell: str, tmp_path: Path) -> None:
    if shutil.which(shell) is None:
        pytest.skip(f"there is no {shell}")
    program = tmp_path / "flykin"
    program.write_text(f'#!/bin/sh\nexec {sys.executable} -m variants "$@"\n')
    program.chmod(0o755)
    done = subprocess.run(
        [shell, "--norc" if shell == "bash" else "--no-config", "-c", ASK[shell]],
        cwd=ROOT,
        env={
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "PATH": f"{tmp_path}{os.pathsep}{os.environ['PATH']}",
        },
        capture_output=True,
        text=True,
    )
    more = "cock\\ neck\\ ginger\n" if shell == "bash" else ""
    assert done.stdout == f"otter-fur\n{more}", done.stderr


@pytest.mark.parametrize(
    ("shell", "variable", "name"),
    [
        ("bash", "XDG_DATA_HOME", "bash-completion/completions/flykin"),
        ("zsh", "XDG_DATA_HOME", "zsh/site-functions/_flykin"),
        ("fish", "XDG_CONFIG_HOME", "fish/completions/flykin.fish"),
    ],
)
def test_the_script_is_installed_where_the_shell_looks(
    shell: str, variable: str, name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(variable, str(tmp_path))
    done = flykin("completion", shell, "--install")
    assert done.returncode == 0
    written = (tmp_path / name).read_text(encoding="utf-8")
    assert written == flykin("completion", shell).stdout
    assert str(tmp_path / name) in done.stdout
    if shutil.which(shell):
        checked = subprocess.run([shell, "-n", str(tmp_path / name)], capture_output=True)
        assert checked.returncode == 0, checked.stderr
