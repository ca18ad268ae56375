"""`instead` on the screen and as JSON: what serves, what differs, what does not serve."""

from __future__ import annotations

import json

import pytest

from tests.cli.test_flykin import BOX, flykin

OTTER = ["instead", "otter fur", "--part", "body", "--style", "dry upright"]


def test_stand_ins_are_ranked_with_the_difference_they_make() -> None:
    done = flykin(*OTTER)
    assert done.returncode == 0
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "beaver fur" in done.stdout
    assert "a known stand-in" in done.stdout


def test_from_a_box_only_what_it_holds_is_offered_with_its_place() -> None:
    answer = json.loads(flykin(*OTTER, "--box", BOX, "--json").stdout)
    assert answer["version"] == 1
    assert all(one["items"] for one in answer["answers"])
    distances = [one["distance"] for one in answer["answers"]]
    assert distances == sorted(distances)


def test_differences_add_up_to_the_distance() -> None:
    answer = json.loads(flykin(*OTTER, "--json").stdout)
    for one in answer["answers"]:
        costs = sum(difference["cost"] for difference in one["differences"])
        assert costs == pytest.approx(one["distance"])


def test_what_does_not_serve_is_told_with_the_reason() -> None:
    done = flykin("instead", "cock neck", "--part", "hackle", "--style", "dry upright")
    text = " ".join(done.stdout.split())
    assert "cul de canard: too soft to hold a fly up" in text


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["instead", "oter fur", "--part", "body", "--style", "dry upright"], "otter fur"),
        (["instead", "otter fur", "--part", "wing", "--style", "soft hackle"], "has no wing"),
        (["instead", "otter fur", "--part", "hook", "--style", "dry upright"], "makes no hook"),
    ],
)  # fmt: skip
def test_bad_words_are_exit_2(words: list[str], told: str) -> None:
    done = flykin(*words)
    assert done.returncode == 2
    assert told in done.stderr


@pytest.mark.parametrize(
    ("words", "part", "style", "taken"),
    [
        ("cree rooster hackle", "hackle", "dry upright", "cree cock neck hackle, dry grade"),
        ("grey or brown partridge", "hackle", "soft hackle", "grey partridge"),
        ("stiff cock hackle fibres", "tail", "dry upright", "cock neck hackle, dry grade"),
        ("landrail (corncrake)", "wing", "winged wet", "landrail wing quill"),
        ("brown and grizzle cock hackle", "hackle", "palmer",
         "brown cock neck hackle, dry grade and grizzle cock neck hackle, dry grade"),
    ],
)  # fmt: skip
def test_a_stuff_may_be_asked_for_in_plain_words(
    words: str, part: str, style: str, taken: str
) -> None:
    done = flykin("instead", words, "--part", part, "--style", style)
    assert done.returncode == 0, done.stderr
    assert f"taken for {taken}" in " ".join(done.stderr.split())


def test_what_of_the_words_is_not_understood_is_told() -> None:
    done = flykin("instead", "thrubbled mole fur", "--part", "body", "--style", "nymph")
    assert done.returncode == 0
    assert "NOT UNDERSTOOD “thrubbled”" in done.stderr
