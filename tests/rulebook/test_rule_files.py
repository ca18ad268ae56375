"""Rule files of a user's own: they add, they override, and what is wrong is located."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.build import complaint
from tests.real import rulebook
from variants.reading import Fault, Faults, InputError
from variants.rulebook import Rule, load_rulebook
from variants.rulebook.rule_files import read_rules

RULE = """\
[[rule]]
id = "own-rule"
says = "Bodies are slim."
source = "house rule of the club"
kind = "quality"
part = "body"
must = { attribute = "stiffness", at_most = 2 }
"""


def folder(tmp_path: Path, text: str) -> Path:
    (tmp_path / "trade").mkdir()
    (tmp_path / "trade" / "own.toml").write_text(text)
    return tmp_path


def test_a_folder_of_ones_own_adds_and_overrides_by_id(tmp_path: Path) -> None:
    own = folder(tmp_path, RULE + RULE.replace("own-rule", "dry-hackle-stiff"))
    ours, theirs = load_rulebook(), load_rulebook([own])
    assert len(theirs.rules) == len(ours.rules) + 1
    replaced = next(rule for rule in theirs.rules if rule.id == "dry-hackle-stiff")
    assert replaced.says == "Bodies are slim."


WRONG = {
    "an unknown kind": (
        RULE.replace('"quality"', '"qualty"'),
        ":5: rule.kind: 'qualty' is not known here",
        "did you mean 'quality'?",
    ),
    "an unknown attribute": (
        RULE.replace("stiffness", "stifness"),
        ":7: rule.must: 'stifness' is not known here",
        "did you mean 'stiffness'?",
    ),
    "an unknown part": (
        RULE.replace('part = "body"', 'part = "boddy"'),
        ":6: rule.part: 'boddy' is no part of a fly",
        "did you mean 'body'?",
    ),
    "no source": (
        RULE.replace('source = "house rule of the club"\n', ""),
        "rule.source: the source is missing",
        "state the source",
    ),
    "a field of another kind": (
        RULE + "nominal = 1.5\n",
        ":8: rule.nominal: 'nominal' is not a field here",
        "known fields:",
    ),
    "code": (
        RULE.replace("at_most = 2", "at_most = \"__import__('os')\""),
        ":7: rule.must",
        "",
    ),
}


@pytest.mark.parametrize("case", WRONG)
def test_a_wrong_rule_is_told_with_its_place(case: str, tmp_path: Path) -> None:
    text, told, hint = WRONG[case]
    own = folder(tmp_path, text)
    complained = complaint(lambda: load_rulebook([own]))
    assert told in complained
    assert hint in complained


MEASURE = """\
[[rule]]
id = "own-measure"
says = "Tails are long."
source = "house rule of the club"
kind = "measure"
part = "tail"
of = "shank"
nominal = 1.0
low = 0.9
high = 1.2
"""
COUNT = """\
[[rule]]
id = "own-count"
says = "Few turns."
source = "house rule of the club"
kind = "count"
part = "hackle"
count = "turns"
medium = [2, 4]
"""
#: What is wrong, and the whole text that is told of it; FILE stands for the file's name.
TOLD = {
    "bounds out of order": (
        MEASURE.replace("low = 0.9", "low = 1.3"),
        "FILE:8: rule.nominal: low 1.3, nominal 1 and high 1.2 do not rise in that order\n"
        "  help: write such as low = 0.9, nominal = 1, high = 1.2",
    ),
    "a number below nothing": (
        MEASURE.replace("0.9", "-1"),
        "FILE:9: rule.low: -1 is out of range\n  help: write a number from 0 to 1e+06",
    ),
    "a number in quotation marks": (
        MEASURE.replace("0.9", '"0.9"'),
        "FILE:9: rule.low: '0.9' is not a number\n  help: write a number without quotation marks",
    ),
    "no number at all": (
        MEASURE.replace("0.9", "nan"),
        "FILE:9: rule.low: nan is out of range\n  help: write a number from 0 to 1e+06",
    ),
    "an unknown dimension": (
        MEASURE.replace("shank", "shnk"),
        "FILE:7: rule.of: 'shnk' is not known here\n"
        "  help: write one of: gape, shank, eye, wire, mm\n"
        "  did you mean 'shank'?",
    ),
    "a range of counts backwards": (
        COUNT.replace("[2, 4]", "[4, 2]"),
        "FILE:8: rule.medium: [4, 2] is no range of counts\n  help: write [2, 4]",
    ),
    "no range for usual water": (
        COUNT.replace("medium", "fast"),
        "FILE:1: rule.medium: the range for medium water is missing\n  help: write medium = [2, 4]",
    ),
    "an unknown style": (
        RULE + 'styles = ["dry uprigt"]\n',
        "FILE:8: rule.styles: 'dry uprigt' is no style that the tables know\n"
        "  help: name a style of the tables, or add one to your own rules folder\n"
        "  did you mean 'dry upright'?",
    ),
    "an unknown water": (
        RULE + 'waters = ["slwo"]\n',
        "FILE:8: rule.waters: 'slwo' is no water\n  help: write slow, medium or fast",
    ),
    "a weight out of reason": (
        RULE + "weight = 1e9\n",
        "FILE:8: rule.weight: 1000000000.0 is out of range\n  help: write a number from 0 to 100",
    ),
    "a condition that tests nothing": (
        RULE.replace(", at_most = 2", ""),
        "FILE:7: rule.must: the condition tests nothing\n"
        "  help: add in, not_in, at_least, at_most or is",
    ),
    "a field stated twice": (
        RULE + 'id = "again"\n',
        "FILE:8: rule.id: is given twice, first in line 2\n  help: keep one of the two",
    ),
    "an escape for the terminal": (
        RULE.replace("Bodies", r"\u001b[31mBodies"),
        "FILE:3: rule.says: '\N{REPLACEMENT CHARACTER}[31mBodies are slim.' holds a character "
        "that can't be seen\n  help: type it anew",
    ),
    "a text without end": (
        RULE.replace("Bodies", "B" * 5000),
        "FILE:3: rule.says: the text is 5010 characters long\n  help: keep it under 4000",
    ),
    "a case that is no fly": (
        RULE + "keeps = [1]\n",
        "FILE:8: rule.keeps: is no list of flies\n  help: write [{ hook = { size = 12 }, … }]",
    ),
    "a case with an unknown part": (
        RULE + "breaks = [{ boddy = { stiffness = 1 } }]\n",
        "FILE:8: rule.breaks: 'boddy' is no part of a fly\n"
        "  help: write a part's id\n"
        "  did you mean 'body'?",
    ),
    "a case with an unknown attribute": (
        RULE + "breaks = [{ body = { stifness = 1 } }]\n",
        "FILE:8: rule.breaks: 'stifness' is no attribute\n"
        "  help: name an attribute that rules read\n"
        "  did you mean 'stiffness'?",
    ),
    "no rules": (
        "x = 1\n",
        "FILE:1: is no file of rules\n  help: it holds tables [[rule]] and no more",
    ),
}


@pytest.mark.parametrize("case", TOLD)
def test_the_whole_of_what_is_told(case: str, tmp_path: Path) -> None:
    text, told = TOLD[case]
    own = folder(tmp_path, text)
    complained = complaint(lambda: load_rulebook([own], with_cases=True))
    assert complained.replace(str(own / "trade" / "own.toml"), "FILE") == told


ODD = ["1", "-1", "1e400", "nan", "true", '"x"', '""', "[]", "[1]", '["a"]', "{}", "{ a = 1 }",
       "[{}]", "[{ a = 1 }]", "[{ hook = { size = true } }]", "1979-05-27", "9" * 400]  # fmt: skip


@given(st.sampled_from([RULE, MEASURE, COUNT]), st.data())
def test_any_value_anywhere_is_taken_or_told(text: str, data: st.DataObject) -> None:
    lines = text.splitlines()
    fields = [number for number, line in enumerate(lines) if " = " in line]
    for number in data.draw(st.lists(st.sampled_from(fields), min_size=1, max_size=2)):
        lines[number] = f"{lines[number].partition(' = ')[0]} = {data.draw(st.sampled_from(ODD))}"
    more = data.draw(
        st.sampled_from(["keeps", "breaks", "when", "styles", "weight", "must", "low"])
    )
    lines.append(f"{more} = {data.draw(st.sampled_from(ODD))}")
    read, faults = read_text_of_rules("\n".join(lines))
    assert read or faults
    assert all(0 < fault.origin.line <= len(lines) and fault.problem for fault in faults)


def read_text_of_rules(text: str) -> tuple[Mapping[str, Rule], Sequence[Fault]]:
    """Return the rules of a text and what is wrong with it."""
    with TemporaryDirectory() as scratch:
        file = Path(scratch) / "own.toml"
        file.write_text(text)
        faults = Faults()
        try:
            read = read_rules(file, rulebook().trade, faults, with_cases=True)
            faults.stop_if_any()
        except InputError as problem:
            return {}, problem.faults
        return read, ()


def test_a_folder_is_read_where_its_files_stand(tmp_path: Path) -> None:
    (tmp_path / "own.toml").write_text(RULE)
    (tmp_path / "colors.tsv").write_text("id\tname\n")
    help_ = "  help: lay the folder out like rules/: trade/own.toml, materials/own.tsv\n"
    assert complaint(lambda: load_rulebook([tmp_path])) == (
        f"{tmp_path / 'colors.tsv'}: would not be read here\n{help_}"
        "  did you mean 'colours.tsv'?\n"
        f"{tmp_path / 'own.toml'}: would not be read here\n{help_.rstrip()}"
    )


def test_an_empty_folder_of_rules_is_refused(tmp_path: Path) -> None:
    assert complaint(lambda: load_rulebook([tmp_path])) == (
        f"{tmp_path}: holds no rules or tables\n"
        "  help: lay it out like rules/: trade/own.toml, materials/own.tsv"
    )


def test_a_rule_given_twice_is_told(tmp_path: Path) -> None:
    own = folder(tmp_path, RULE + RULE)
    assert "the rule 'own-rule' is given twice" in complaint(lambda: load_rulebook([own]))


def test_conventions_may_be_overridden_one_by_one(tmp_path: Path) -> None:
    (tmp_path / "conventions.toml").write_text(
        '[long_reading]\nvalue = "even"\nsays = "As sold here."\nsource = "house rule"\n'
    )
    assert load_rulebook([tmp_path]).conventions.long_reading == "even"
    assert load_rulebook().conventions.long_reading == "single"


@pytest.mark.parametrize(
    ("reading", "shank"), [("single", 11.83), ("even", 14.01), ("gape", 5.0 * 4)]
)
def test_2x_long_has_three_readings(reading: str, shank: float, tmp_path: Path) -> None:
    (tmp_path / "conventions.toml").write_text(
        f'[long_reading]\nvalue = "{reading}"\nsays = "x"\nsource = "house rule"\n'
    )
    rules = load_rulebook([tmp_path])
    nymph = rules.trade.materials["hook-nymph"]
    hook = rules.hook(nymph, 12)
    assert hook is not None
    assert hook.shank_mm == pytest.approx(shank, abs=0.01)


def test_a_scale_of_hooks_that_is_not_there_is_told(tmp_path: Path) -> None:
    (tmp_path / "conventions.toml").write_text(
        '[hook_scale]\nvalue = "nowhere"\nsays = "x"\nsource = "house rule"\n'
    )
    complained = complaint(lambda: load_rulebook([tmp_path]))
    assert "hook_scale.value: 'nowhere' is no scale of hooks" in complained
    assert "model" in complained


def test_true_is_no_count_of_turns(tmp_path: Path) -> None:
    counted = RULE.replace('"quality"', '"count"')
    must = 'must = { attribute = "stiffness", at_most = 2 }'
    own = folder(tmp_path, counted.replace(must, 'count = "turns"\nmedium = [true, 4]'))
    assert "is no range of counts" in complaint(lambda: load_rulebook([own]))
