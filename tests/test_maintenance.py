"""What is done by hand is one command, and each part of it says what it does and what it writes."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from tests.maintenance import maintenance
from tests.real import ROOT


def leaves(command: click.Command, words: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    if isinstance(command, click.Group):
        for name, below in command.commands.items():
            yield from leaves(below, (*words, name))
    else:
        yield words


COMMANDS = list(leaves(maintenance))


def help_of(*words: str) -> str:
    done = CliRunner().invoke(maintenance, [*words, "--help"])
    assert done.exit_code == 0, done.output
    return " ".join(done.output.split())


def test_the_help_names_each_group_with_what_it_does() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests", "--help"], cwd=ROOT, capture_output=True, text=True
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert "Usage: python -m tests" in done.stdout
    for group in maintenance.commands:
        assert re.search(rf"^  {group} +[A-Z].{{20,}}", done.stdout, re.MULTILINE), group


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
def test_each_says_what_it_does_and_what_it_writes(words: tuple[str, ...]) -> None:
    told = help_of(*words)
    assert re.search(
        r"(Options|\[COMMAND\]\.\.\.|READER \[OPTIONS\]\.\.\.|\[OPTIONS\]) [A-Z]", told
    )
    writes = re.search(r"Writes ([^.]|\.(?! |$))+\.", told)
    assert writes is not None, told
    for name in re.findall(r"\S+/\S+|README\.md", writes[0]):
        assert (ROOT / name.rstrip(".,")).exists(), name


def test_a_name_that_is_none_is_refused_with_those_that_are() -> None:
    for words in (("harm", "commands", "prpose"), ("fuzz", "readers", "--reader", "bxo")):
        done = CliRunner().invoke(maintenance, words)
        assert done.exit_code == 2
        assert re.search(r"'\w+' is none of: .*box|propose", done.output), done.output


def test_no_other_module_of_the_tests_is_a_program() -> None:
    programs = [
        path.relative_to(ROOT)
        for path in sorted((ROOT / "tests").rglob("*.py"))
        if re.search(r"^if __name__ ==", path.read_text("utf-8"), re.MULTILINE)
    ]
    assert programs == [Path("tests/__main__.py")]


def test_the_schema_is_written_where_it_is_shipped(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    from tests.reading import test_region_schema

    shipped = test_region_schema.SHIPPED
    monkeypatch.setattr(test_region_schema, "SHIPPED", tmp_path / "schema.json")
    assert CliRunner().invoke(maintenance, ["renew", "schema"]).exit_code == 0
    assert (tmp_path / "schema.json").read_bytes() == shipped.read_bytes()
