"""Each "Add a ..." of DEVELOPERS.md, carried out in a copy of the project by its own words.

A newcomer's change is written into a copy, as the section says and no more; then a fly that needs
it is drawn, measured, sheeted and explained by the commands of the copy.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
_RUN = """
import json, sys
from click.testing import CliRunner
from variants.cli import flykin
for words in json.loads(sys.argv[1]):
    done = CliRunner().invoke(flykin, words, prog_name="flykin")
    if done.exception and not isinstance(done.exception, SystemExit):
        raise done.exception
    print(json.dumps([done.exit_code, done.output]))
"""
BOX = ("--box", "examples/box.csv")


class Copy:
    """A copy of the project, to change and to run."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        for name in ("variants", "rules", "examples"):
            skip = shutil.ignore_patterns("__pycache__", "pictures" if name == "examples" else "")
            shutil.copytree(ROOT / name, folder / name, ignore=skip)

    def add(self, file: str, text: str) -> None:
        """Add lines to a file, or write a new one."""
        path = self.folder / file
        old = path.read_text(encoding="utf-8").rstrip("\n") + "\n" if path.is_file() else ""
        path.write_text(old + text, encoding="utf-8")

    def add_row(self, file: str, **cells: str) -> None:
        """Add a row to a table, a cell by the name of its column."""
        text = (self.folder / file).read_text(encoding="utf-8")
        header = next(line for line in text.splitlines() if not line.startswith("#")).split("\t")
        assert cells.keys() <= set(header), header
        self.add(file, "\t".join(cells.get(name, "") for name in header) + "\n")

    def change(self, file: str, old: str, new: str) -> None:
        """Put other words in the place of some that stand once in a file."""
        path = self.folder / file
        text = path.read_text(encoding="utf-8")
        assert text.count(old) == 1, (file, old)
        path.write_text(text.replace(old, new), encoding="utf-8")

    def write_fly(self, *changes: tuple[str, str], base: str = "bellringer") -> str:
        """Write a dressing of the examples with other words, and return its name."""
        text = (ROOT / "examples" / "dressings" / f"{base}.toml").read_text(encoding="utf-8")
        for old, new in changes:
            assert old in text, old
            text = text.replace(old, new)
        self.add("fly.toml", text)
        return "fly.toml"

    def run(self, *commands: tuple[str, ...]) -> list[str]:
        """Run commands, each of which has to succeed, and return what they print."""
        told = subprocess.run(
            [sys.executable, "-c", _RUN, json.dumps(commands)],
            cwd=self.folder,
            env={**os.environ, "PYTHONPATH": str(self.folder)},
            capture_output=True,
            text=True,
            check=False,
        )
        assert told.returncode == 0, told.stderr
        answers = [json.loads(line) for line in told.stdout.splitlines()]
        assert [code for code, _output in answers] == [0] * len(commands), answers
        return [output for _code, output in answers]

    def show(self, fly: str, name: str) -> dict[str, str]:
        """Check the rules, then draw, measure, sheet and propose a fly, and explain a name."""
        commands = {
            "check": ("check", "rules"),
            "draw": ("draw", fly),
            "amounts": ("amounts", fly),
            "sheet": ("sheet", fly, *BOX),
            "propose": ("propose", fly, *BOX, "--json"),
            "explain": ("explain", name),
        }
        return dict(zip(commands, self.run(*commands.values()), strict=True))


@pytest.fixture
def copy(tmp_path: Path) -> Copy:
    return Copy(tmp_path)


def test_a_part_is_one_row(copy: Copy) -> None:
    copy.add_row(
        "rules/parts.tsv", id="neck-hackle", name="neck hackle", tying_order="191",
        functions="hackle", says="a second hackle in front of the first", source="common practice",
    )  # fmt: skip
    hackle = '\n[part.neck-hackle]\nmaterial = "hen neck"\ncolour = "black"\nturns = 1\n'
    fly = copy.write_fly(("turns = 2", "turns = 2" + hackle))
    shown = copy.show(fly, "neck hackle")
    assert 'data-part="neck-hackle" data-manner="swept"' in shown["draw"]
    assert "1 turns of stem" in shown["amounts"]
    assert "neck hackle" in shown["sheet"]
    assert "a second hackle in front of the first" in shown["explain"]


def test_a_style_is_one_file(copy: Copy) -> None:
    copy.add(
        "rules/styles/beck.toml",
        'id = "beck-spider"\nname = "beck spider"\nsays = "As tied on one beck."\n'
        'source = "common practice"\nlike = "soft-hackle"\n'
        'sets_aside = ["soft-hackle-soft"]\n',
    )
    fly = copy.write_fly(('"soft hackle"', '"beck spider"'))
    shown = copy.show(fly, "beck spider")
    assert 'data-manner="swept"' in shown["draw"]
    assert "As tied on one beck." in shown["explain"]
    told, measured = copy.run(
        ("explain", "soft-hackle-soft"), ("measure", "--style", "beck spider")
    )
    assert "soft hackle" in told
    assert "beck spider" not in told
    assert "hackle" in measured


@pytest.mark.slow
def test_a_material_and_a_colour_are_a_row_each(copy: Copy) -> None:
    copy.add_row(
        "rules/colours.tsv", id="peat", name="peat", family="dark yellowish brown",
        hex="#3B2A1A", components="brown", made="y", hex_source="from memory",
        source="common practice",
    )  # fmt: skip
    copy.add_row(
        "rules/materials/furs-and-dubbings.tsv", id="vole-dubbing", name="vole fur",
        functions="body; thorax", stiffness="0", water="neutral", texture="fuzzy", sheen="1",
        durability="3", translucency="0", fibre_low_mm="4", fibre_high_mm="9",
        density_g_cm3="0.3", dyes_well="y", colours="peat; any", source="common practice",
        **{"class": "fur dubbing", "from": "bank vole"},
    )  # fmt: skip
    fly = copy.write_fly(('"seal substitute"', '"vole fur"'), ('"golden olive"', '"peat"'))
    shown = copy.show(fly, "vole fur")
    assert "#3B2A1A" in copy.run(("explain", "peat"))[0].upper()
    assert "peat vole fur" in shown["draw"]
    assert "vole fur" in shown["amounts"]
    assert "vole fur" in shown["sheet"]
    assert "bank vole" in shown["explain"]


RULE = """
[[rule]]
id = "body-not-glossy"
says = "The body of a spider does not shine."
source = "common practice"
kind = "quality"
styles = ["soft-hackle"]
weight = 0.3
part = "body"
must = { attribute = "sheen", at_most = 3 }
keeps = [{ body = { sheen = 2 } }]
breaks = [{ body = { sheen = 4 } }]
"""


@pytest.mark.slow
def test_a_rule_is_one_table(copy: Copy) -> None:
    copy.add("rules/trade/body.toml", RULE)
    shown = copy.show(copy.write_fly(), "body-not-glossy")
    assert "body sheen is at most 3" in shown["explain"]
    told = copy.run(("propose", "fly.toml", *BOX, "--explain", "1"))[0]
    assert "does not shine" in told


KIND = '''\
"""`distinct`: two parts are not of one class of stuff."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from variants.model import Fly
from variants.rulebook.kinds.base import SILENT, Finding, Number, Rule, is_there


@dataclass(frozen=True, kw_only=True)
class Distinct(Rule):
    """Two parts are not of one class of stuff."""

    kind: ClassVar[str] = "distinct"

    first: str
    second: str

    @property
    def reads(self) -> Mapping[str, frozenset[str]]:
        """The class of both."""
        return {part: frozenset({"class"}) for part in (self.first, self.second)}

    def words(self) -> list[str]:
        """Return what may not be alike."""
        return [f"{self.first} and {self.second} are of different classes of stuff"]

    def judge(self, fly: Fly) -> Finding:
        """Compare the classes."""
        if not is_there(fly, self.first) or not is_there(fly, self.second):
            return SILENT
        one, other = fly[self.first].get("class"), fly[self.second].get("class")
        if one is None or other is None:
            return SILENT
        numbers = (Number(self.first, str(one)), Number(self.second, str(other)))
        return Finding(True, numbers=numbers) if one != other else self.violation(numbers)
'''
OF_THE_KIND = """
[[rule]]
id = "rib-unlike-hackle"
says = "A rib is not of the hackle's stuff."
source = "common practice"
kind = "distinct"
first = "rib"
second = "hackle"
keeps = [{ rib = { class = "tinsel" }, hackle = { class = "hen hackle" } }]
breaks = [{ rib = { class = "hen hackle" }, hackle = { class = "hen hackle" } }]
"""


@pytest.mark.slow
def test_a_kind_of_rule_is_a_class_a_line_and_a_reader(copy: Copy) -> None:
    kinds, fields = "variants/rulebook/kinds/__init__.py", "variants/rulebook/kind_fields.py"
    copy.add("variants/rulebook/kinds/distinct.py", KIND)
    module = "from variants.rulebook.kinds.distinct import Distinct\n"
    copy.change(kinds, "KINDS: dict", f"{module}\nKINDS: dict")
    copy.change(kinds, "Equal, Order, Lawful)", "Equal, Order, Lawful, Distinct)")
    copy.change(
        fields,
        "#: For each kind, what reads",
        f"{module}\n\ndef _distinct(rule: RuleRecord) -> dict[str, Any]:\n"
        '    return {"first": rule.part("first"), "second": rule.part("second")}\n\n\n'
        "#: For each kind, what reads",
    )
    copy.change(
        fields, "    Lawful.kind: _lawful,\n",
        "    Lawful.kind: _lawful,\n    Distinct.kind: _distinct,\n",
    )  # fmt: skip
    copy.add("rules/trade/rib-and-tinsel.toml", OF_THE_KIND)
    shown = copy.show(copy.write_fly(), "rib-unlike-hackle")
    assert "rib and hackle are of different classes of stuff" in shown["explain"]
    told = copy.run(("propose", "fly.toml", *BOX, "--explain", "1"))[0]
    assert "not of the hackle's stuff" in told


STEP = (
    "any\thackle\tlook\tany\t\thackle: wind\t\t"
    "Look whether all fibres of {stuff} point back.\tcommon practice\n"
)


@pytest.mark.slow
def test_a_step_at_the_vice_is_one_row(copy: Copy) -> None:
    copy.add("rules/bench/steps.tsv", STEP)
    shown = copy.show(copy.write_fly(), "soft hackle")
    assert "Look whether all fibres of furnace hen neck hackle" in " ".join(shown["sheet"].split())


COMMAND = '''\
"""`flykin count`: how many parts a dressing has."""

from __future__ import annotations

import click


@click.command("count", short_help="How many parts a dressing has.")
@click.argument("dressing")
def command(dressing: str) -> None:
    """Count the parts of DRESSING.

    \\b
    Example:
      flykin count examples/dressings/bellringer.toml
    """
    from variants.reading import read_dressing
    from variants.rulebook import load_rulebook

    found = read_dressing(dressing, load_rulebook().trade)
    click.echo(f"{len(found.parts)} parts")
'''


@pytest.mark.slow
def test_a_command_is_a_module_and_a_line(copy: Copy) -> None:
    copy.add("variants/cli/count.py", COMMAND)
    line = '        "check": "variants.cli.check",\n'
    copy.change("variants/cli/group.py", line, f'{line}        "count": "variants.cli.count",\n')
    told, help_text = copy.run(("count", copy.write_fly()), ("--help",))
    assert told == "6 parts\n"
    assert "How many parts a dressing has." in help_text


@pytest.mark.slow
def test_a_statute_is_one_row(copy: Copy) -> None:
    copy.add_row(
        "rules/law/statutes.tsv", id="uk-test-hare", place="uk", taxa="Lepus europaeus",
        origin="any", act="sell", status="forbidden", condition="no part of a hare is sold in May",
        statute="Hares Act of this test", section="s. 1", address="no address: a test",
        text_date="undated", seen="memory",
    )  # fmt: skip
    shown = copy.show(copy.write_fly(), "hare's mask fur")
    assert "Hares Act of this test" in shown["explain"]
