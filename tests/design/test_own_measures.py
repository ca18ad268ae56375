"""What a dressing states itself: its counts stand, its sizes are kept to, hard limits hold."""

from __future__ import annotations

import pytest

from tests.real import box, fly, propose
from variants.explain import find_conflict, judge_own_measures
from variants.model import Box, Candidate, Way
from variants.reading import InputError
from variants.rulebook.kinds import Count

DUN = {
    "hook": "dry fly hook",
    "thread": "polyester tying thread, black",
    "tail": "rooster-neck-dry, ginger",
    "body": "fine synthetic dubbing, olive",
    "wing": "duck wing quill",
    "hackle": "rooster-neck-dry, ginger",
}
COUNTS = ("turns", "turns_behind", "turns_front")


def dun(hackle: str, **wishes: object) -> Candidate:
    """The hackle of a dry fly as written, with these counts."""
    parts = DUN | {"hackle": f"{DUN['hackle']}|{hackle}"}
    return propose(fly(parts), Box(()), **wishes)[0].base["hackle"]


def counts(one: Candidate) -> tuple[object, ...]:
    return tuple(one.attributes[name] for name in COUNTS)


@pytest.mark.parametrize(
    ("written", "tied"),
    [
        ("turns_behind = 4\nturns_front = 4", (8, 4, 4)),
        ("turns_behind = 5\nturns_front = 4", (9, 5, 4)),
        ("turns_behind = 6\nturns_front = 6", (12, 6, 6)),
        ("turns = 8", (8, 4, 4)),
        ("turns = 9\nturns_behind = 6", (9, 6, 3)),
        ("turns = 1", (1, 1, 0)),
    ],
)
def test_turns_that_a_dressing_states_stand_and_add_up(
    written: str, tied: tuple[int, int, int]
) -> None:
    assert counts(dun(written)) == tied


@pytest.mark.parametrize("sides", ["turns_behind = 4\nturns_front = 4", "turns_behind = 7"])
def test_turns_that_do_not_add_up_are_refused(sides: str) -> None:
    with pytest.raises(InputError, match="are not 6 turns"):
        dun(f"turns = 6\n{sides}")


@pytest.mark.parametrize("water", ["slow", "medium", "fast"])
@pytest.mark.parametrize("behind", range(1, 8))
@pytest.mark.parametrize("front", range(1, 8))
def test_turns_for_a_water_add_up_too(behind: int, front: int, water: str) -> None:
    tied = counts(dun(f"turns_behind = {behind}\nturns_front = {front}", water=water))
    assert tied[0] == tied[1] + tied[2]  # type: ignore[operator]


def test_a_count_beyond_its_rule_stands_and_the_rule_is_set_aside() -> None:
    design, _ = propose(fly(DUN | {"tail": f"{DUN['tail']}|fibres = 20"}), Box(()))
    assert design.base["tail"].attributes["fibres"] == 20
    (told,) = judge_own_measures(design)
    assert isinstance(told.rule, Count)
    assert told.rule in design.waived
    # A count is a wish of the trade, no law: beyond it the fly would pay the rule's weight.
    assert (told.finding.numbers[0].value, told.finding.cost) == (20, 100)


def test_a_count_of_the_dressing_stands_in_what_stands_in_for_it() -> None:
    rows = [
        "h,dry fly hook,,14,,",
        "t,polyester tying thread,black,,,",
        "q,duck wing quill,,,,",
        "d,fine synthetic dubbing,olive,,,",
        "c,rooster-neck-dry,brown,12-16,,60 feathers",
    ]
    parts = DUN | {"hackle": f"{DUN['hackle']}|turns_behind = 4\nturns_front = 4"}
    _, found = propose(fly(parts), box(rows), best=1)
    assert counts(found[0].chosen["hackle"]) == (8, 4, 4)


JIG = {
    "hook": "jig hook",
    "bead": 'tungsten bead, gold|thickness = "3.3 mm"',
    "thread": "polyester tying thread, black",
    "body": "hare's mask fur",
}


def beads(*sizes: str) -> Box:
    rows = ["h,jig hook,,12-18,", "t,polyester tying thread,black,,", "f,hare's mask fur,,,"]
    rows += [f"bead {size},tungsten bead,gold,,{size}" for size in sizes]
    return box(rows, "item,material,colour,sizes,thickness")


def test_a_bead_of_another_size_is_a_substitution_and_both_sizes_are_named() -> None:
    design, found = propose(fly(JIG, "nymph"), beads("2.3 mm"), best=1)
    used = found[0].chosen["bead"]
    assert used.way is Way.SUBSTITUTE
    assert design.base["bead"].words == "gold tungsten bead, 3.3 mm"
    assert used.words == "gold tungsten bead, 2.3 mm"
    assert used.identity != design.base["bead"].identity
    assert found[0].departure > 0


def test_the_same_size_by_another_measure_is_as_written() -> None:
    # An eighth of an inch, 3.175 mm, is what is sold as 3.3 mm: common practice.
    _, found = propose(fly(JIG, "nymph"), beads("1/8 in", "2.3 mm"), best=1)
    assert found[0].chosen["bead"].way is Way.AS_WRITTEN


def test_a_wire_of_another_thickness_departs_though_no_rule_of_the_trade_weighs_it() -> None:
    parts = {k: v for k, v in JIG.items() if k != "bead"}
    parts["rib"] = 'copper wire|thickness = "0.1 mm"'
    rows = [
        "h,jig hook,,12-18,",
        "t,polyester tying thread,black,,",
        "f,hare's mask fur,,,",
        "fine,copper wire,,,0.1 mm",
        "stout,copper wire,,,0.25 mm",
    ]
    stock = box(rows, "item,material,colour,sizes,thickness")
    _, found = propose(fly(parts, "nymph"), stock, best=2)
    ribs = [one.chosen["rib"] for one in found]
    assert [one.way for one in ribs] == [Way.AS_WRITTEN, Way.SUBSTITUTE]
    assert found[1].departure > found[0].departure


# A bead hangs half into the gape: over 1.4 gapes across, the hook can't take hold, and a hook of
# size 16 has a gape of 3.6 mm (geometry).
@pytest.mark.parametrize("size", [16, 18])
def test_no_dressing_moves_a_hard_limit_by_stating_a_measure(size: int) -> None:
    parts = JIG | {"bead": 'tungsten bead, gold|thickness = "5.5 mm"\nsignature = true'}
    design, found = propose(fly(parts, "nymph", str(size)), beads("5.5 mm"))
    assert all(not one.chosen["bead"].ingredients for one in found)
    (told,) = judge_own_measures(design)
    assert told.rule.id == "bead-leaves-gape-clear"
    if not found:
        conflict = find_conflict(design)
        assert conflict is not None
        assert "bead-leaves-gape-clear" in {
            getattr(getattr(one.constraint, "rule", None), "id", "") for one in conflict.obstacles
        }


def test_the_same_bead_is_taken_where_the_gape_is_wide_enough() -> None:
    parts = JIG | {"bead": 'tungsten bead, gold|thickness = "5.5 mm"'}
    _, found = propose(fly(parts, "nymph", "12"), beads("5.5 mm"), best=1)
    assert found[0].chosen["bead"].way is Way.AS_WRITTEN
