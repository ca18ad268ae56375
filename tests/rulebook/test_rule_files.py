"""Rule files of a user's own: they add, they override, and what is wrong is located."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.build import complaint
from variants.rulebook import load_rulebook

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
