"""`whynot` on the screen and as JSON."""

from __future__ import annotations

import json

from tests.cli.test_flykin import BOX, DUN, MIDGE, flykin


def test_what_is_in_the_way_and_what_would_help_fit_a_terminal() -> None:
    done = flykin("whynot", DUN, "--box", BOX, "--keep", "body")
    assert done.returncode == 0
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "body as written" in done.stdout
    assert "let the body change" in done.stdout


def test_a_fly_that_can_be_tied_is_told_so() -> None:
    done = flykin("whynot", DUN, "--box", BOX)
    assert done.returncode == 0
    closest = json.loads(flykin("propose", DUN, "--box", BOX, "--best", "1", "--json").stdout)
    departs = closest["variants"][0]["departure"]
    told = " ".join(done.stdout.split())
    assert f"can be tied: the closest variant departs {departs:.2f}" in told


def test_a_fly_beyond_the_ceiling_is_another_one() -> None:
    done = flykin("whynot", DUN, "--box", BOX, "--at-most", "0.05")
    assert done.returncode == 0
    assert "can't be tied within 0.05: the nearest departs" in " ".join(done.stdout.split())
    told = json.loads(flykin("whynot", DUN, "--box", BOX, "--at-most", "0.05", "--json").stdout)
    assert (told["tieable"], told["at_most"]) == (False, 0.05)
    book = json.loads(flykin("tieable", DUN, "--box", BOX, "--at-most", "0.05", "--json").stdout)
    assert book["outlooks"][0]["standing"] == "too far off"
    assert book["outlooks"][0]["departure"] == told["departure"]


def test_json_tells_conflicts_and_repairs() -> None:
    answer = json.loads(
        flykin("whynot", MIDGE, "--box", BOX, "--max-changes", "0", "--size", "20", "--json").stdout
    )
    assert answer["version"] == 1
    assert answer["tieable"] is (not answer["conflicts"] and not answer["empty_parts"])
    for repair in answer["repairs"]:
        assert repair["says"]
        assert repair["departure"] >= 0


def test_an_unknown_part_is_refused_with_the_nearest() -> None:
    done = flykin("whynot", DUN, "--box", BOX, "--keep", "hakle")
    assert done.returncode == 2
    assert "did you mean 'hackle'" in done.stderr
