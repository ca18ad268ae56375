"""Rules of the trade against what was printed: flies as books and clubs tie them are not refused.

Where a page gives one figure it costs nothing; where it gives a range, its ends don't. What a rule
allows beyond that is its own, and says so.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.real import box, fly, rulebook
from variants.design import Request, build_problem
from variants.design.search import search
from variants.geometry import fly_geometry, load_layout
from variants.model import Attributes
from variants.rulebook import Count, Girth, Measure, Rule
from variants.rulebook.attributes import hook_attributes

RULES: dict[str, Rule] = {rule.id: rule for rule in rulebook().rules}
HOOKS = rulebook().scale


def hook(size: int, material: str = "hook-nymph") -> dict[str, object]:
    return {**hook_attributes(HOOKS[size]), "material": material}


def cost(rule_id: str, **parts: dict[str, object]) -> int:
    """Return what a rule that speaks of a fly makes it pay; fails where it is ruled out."""
    finding = RULES[rule_id].judge(parts)  # type: ignore[arg-type]
    assert finding.applies
    assert finding.kept
    return finding.cost


def bounds(rule_id: str, water: str = "medium") -> tuple[int, int]:
    rule = RULES[rule_id]
    assert isinstance(rule, Count)
    return rule.range_for({"stiffness": 4}, water)


@pytest.mark.source(
    "gregg-1940", "p.30-31: two turns before the wing, two behind, two or three more"
)
def test_two_turns_behind_the_wing_and_four_or_five_in_front_are_within_the_rules() -> None:
    low, high = bounds("dry-hackle-turns-behind-wing")
    assert low <= 2 <= high
    low, high = bounds("dry-hackle-turns-before-wing")
    assert low <= 4 < 5 <= high
    low, high = bounds("dry-hackle-turns")
    assert low <= 6 < 7 <= high


@pytest.mark.source("club-and-tyers-pages", "mtfa-springfield.org, poly mayfly: 3-4 and 3-4")
def test_an_even_collar_of_three_or_four_turns_on_either_side_is_within_the_rules() -> None:
    for name in ("dry-hackle-turns-behind-wing", "dry-hackle-turns-before-wing"):
        low, high = bounds(name)
        assert low <= 3 < 4 <= high


@pytest.mark.source("gregg-1940", "p.20: hair not more than one half again as long as the hook")
def test_a_hair_wing_of_one_to_one_and_a_half_shanks_is_free() -> None:
    shank = HOOKS[6].shank_mm
    for share in (1.05, 1.25, 1.5):
        tied = {"shortest_mm": share * shank, "longest_mm": share * shank}
        assert cost("streamer-wing-length", hook=hook(6), wing=tied) < 100


@pytest.mark.source("gregg-1940", "p.22: the tail is tied in before the tag is wound")
def test_the_tag_before_the_tail_is_a_schools_way_and_no_law() -> None:
    rule = RULES["tag-before-tail"]
    assert not rule.is_hard
    assert rule.school in rulebook().conventions.schools
    free = replace(rulebook(), conventions=replace(rulebook().conventions, schools=()))
    assert rule not in free.rules_for("winged-wet", None)


@pytest.mark.source("gregg-1940", "p.47-48: two of four ribbed metal bodies mix gold and silver")
def test_gold_over_silver_hardly_costs() -> None:
    gold, silver = (
        {"class": "tinsel", "colour": "gold"},
        {"colour": "silver", "marking": "metallic"},
    )
    assert cost("metal-body-and-rib-of-one-metal", body=gold, rib=silver) <= 50


@pytest.mark.source("edmonds-lee-1916", "No. 4: a black cock's hackle")
def test_a_cock_hackle_on_a_spider_is_dearer_and_not_refused() -> None:
    assert 0 < cost("soft-hackle-soft", hackle={"class": "rooster hackle", "stiffness": 3}) <= 200


@pytest.mark.source("edmonds-lee-1916", "Nos. 1, 2, 5 and 6: game-bird hackles")
def test_partridge_costs_nothing_in_fast_water() -> None:
    partridge = {"class": "game-bird body feather", "stiffness": 0}
    assert cost("soft-hackle-stiffer-for-fast-water", hackle=partridge) == 0


@pytest.mark.source("club-and-tyers-pages", "pages on CDC-hackled nymphs and soft hackles")
def test_a_spider_can_be_tied_with_cdc_where_nothing_else_is_there() -> None:
    parts = {
        "hook": "wet fly hook",
        "thread": "silk tying thread, orange",
        "body": "silk floss, orange",
        "hackle": "brown partridge back",
    }
    rows = [
        "hooks,wet fly hook,,14,,20 hooks",
        "silk,silk tying thread,orange,,,20 m",
        "floss,silk floss,orange,,,20 m",
        "cdc,cdc,natural,,8-14 mm,20 feathers",
    ]
    design = build_problem(Request(fly(parts, "soft hackle"), box(rows)), rulebook())
    variant = search(design, 1).variants[0]
    assert variant.chosen["hackle"].ingredients[0].material.id == "cdc"


@pytest.mark.source("club-and-tyers-pages", "a tying shop's bead chart: diameters by hook size")
@pytest.mark.parametrize(
    ("size", "across_mm"), [(20, 2.0), (18, 2.4), (16, 2.8), (14, 3.3), (12, 3.8)]
)
def test_a_bead_of_the_chart_is_within_the_rules(size: int, across_mm: float) -> None:
    for rule_id in ("bead-diameter", "bead-leaves-room-to-hook", "bead-leaves-gape-clear"):
        assert cost(rule_id, hook=hook(size), bead={"thickness_mm": across_mm}) < 100


@pytest.mark.source(
    "club-and-tyers-pages", "a tackle house's page 713: one and a half to two shanks"
)
@pytest.mark.parametrize("shanks", [1.5, 2.0])
def test_a_spinners_tail_in_print_costs_little(shanks: float) -> None:
    length = shanks * HOOKS[14].shank_mm
    tail = {"shortest_mm": length, "longest_mm": length}
    assert cost("spinner-tail-length", hook=hook(14), tail=tail) <= 15


@pytest.mark.source(
    "club-and-tyers-pages", "flyfishingthesierra.com: three quarters to a full shank"
)
@pytest.mark.parametrize("shanks", [0.75, 1.0])
def test_a_marabou_tail_of_a_streamer_goes_by_the_shank(shanks: float) -> None:
    own = {**hook(8), "shank_mm": 19.6}
    tail = {"class": "marabou", "shortest_mm": 0.0, "longest_mm": shanks * 19.6}
    assert cost("streamer-moving-tail-length", hook=own, tail=tail) <= 25
    assert not RULES["streamer-tail-length"].judge({"hook": own, "tail": tail}).applies  # type: ignore[dict-item]


@pytest.mark.source("club-and-tyers-pages", "midhudsontroutunlimited.org: tail slips about a gape")
def test_a_slip_for_a_streamers_tail_goes_by_the_gape() -> None:
    tail = {"class": "wing quill", "shortest_mm": 0.0, "longest_mm": HOOKS[6].gape_mm}
    assert cost("streamer-tail-length", hook=hook(6), tail=tail) <= 20


@pytest.mark.source("club-and-tyers-pages", "eat-sleep-fish.co.uk, 2012/04: four to seven turns")
def test_an_emerger_with_a_post_is_hackled_like_a_parachute() -> None:
    low, high = bounds("emerger-post-hackle-turns")
    assert (low, high) == (4, 7)
    parts = {"hook": "emerger hook", "body": "rabbit fur, olive", "hackle": "rooster-neck-dry, dun"}
    for more, spoken in (({"post": "poly yarn, white"}, "emerger-post-"), ({}, "emerger-")):
        base = fly({**parts, **more}, "emerger")
        design = build_problem(Request(base, box(())), rulebook())
        rules = [one.id for one in design.rules if isinstance(one, Count) and one.part == "hackle"]
        assert rules == [f"{spoken}hackle-turns"]


@pytest.mark.source("club-and-tyers-pages", "mtfa-springfield.org, stonefly: one biot on each side")
def test_two_biots_are_a_tail_and_five_are_none() -> None:
    rule = RULES["biot-tails-are-two"]
    for fibres, kept in ((2, True), (5, False)):
        assert rule.judge({"tail": {"class": "biot", "fibres": fibres}}).kept is kept


@pytest.mark.source("club-and-tyers-pages", "mtfa-springfield.org, poly mayfly: eight to ten barbs")
@pytest.mark.parametrize("fibres", [8, 10])
def test_eight_to_ten_barbs_make_a_dry_flys_tail(fibres: int) -> None:
    tail = {"class": "rooster hackle", "fibres": fibres, "fibres_asked": fibres}
    assert cost("dry-tail-fibres", tail=tail) == 0


@pytest.mark.source(
    "tu-booklet", "tail and wing as long as the shank, hackle 1.5 gape or the shank"
)
def test_the_booklets_own_figures_are_the_rules_nominals() -> None:
    nominal = {one.id: (one.nominal, one.of) for one in RULES.values() if isinstance(one, Measure)}
    assert nominal["dry-tail-length"] == (1.0, "shank")
    assert nominal["dry-wing-height"] == (1.0, "shank")
    assert nominal["dry-hackle-length"] == (1.5, "gape")
    shank = HOOKS[12].shank_mm
    finding = RULES["dry-hackle-length"].judge(
        {"hook": hook(12), "hackle": {"shortest_mm": shank, "longest_mm": shank}}  # type: ignore[dict-item]
    )
    assert finding.kept
    assert finding.cost < 500


@pytest.mark.source("gregg-1940", "p.12: no body under a bivisible")
def test_a_bodiless_palmer_is_wound_close_and_one_over_a_body_open() -> None:
    parts = {"hook": "dry fly hook", "palmer": "rooster-saddle-dry, brown"}
    for more, turns in (({}, range(10, 21)), ({"body": "rabbit fur, olive"}, range(5, 9))):
        design = build_problem(Request(fly({**parts, **more}, "palmer"), box(())), rulebook())
        assert design.base["palmer"].attributes["turns"] in turns


@pytest.mark.source("hook-chart-ratio", "gapes of rules/hooks; the rest is geometry")
@pytest.mark.parametrize("size", [12, 16, 18])
@pytest.mark.parametrize("body", ["peacock herl", "wool yarn, red", "silk floss, red"])
def test_what_is_held_against_the_gape_is_the_diameter_as_it_is_laid_out(
    size: int, body: str
) -> None:
    parts = {"hook": "dry fly hook", "thread": "polyester tying thread, black", "body": body}
    parts["hackle"] = "rooster-neck-dry, brown"
    design = build_problem(Request(fly(parts, sizes=str(size)), box(())), rulebook())
    laid = fly_geometry(design, load_layout())
    cone = laid.parts["body"].cone
    assert cone is not None
    rule = RULES["dry-body-slim"]
    assert isinstance(rule, Girth)
    written: dict[str, Attributes] = {part: one.attributes for part, one in design.base.items()}
    across = rule.diameter_mm(written, laid.hook.gape_mm, laid.hook.wire_mm)
    # The layout has two layers of thread on the bare wire besides.
    assert across == pytest.approx(cone.front_mm - 2 * laid.thread_mm)


@pytest.mark.source("hook-chart-ratio", "gapes of rules/hooks; the rest is geometry")
def test_herl_of_eight_tenths_on_an_eighteen_is_a_body_of_two_thirds_of_the_gape() -> None:
    rule = RULES["dry-body-slim"]
    assert isinstance(rule, Girth)
    own = HOOKS[18]
    body: Attributes = {"class": "herl", "thickness_mm": 0.8}
    across = rule.diameter_mm({"body": body}, own.gape_mm, own.wire_mm)
    assert across == pytest.approx(own.wire_mm + 1.6)
    assert across / own.gape_mm == pytest.approx(0.65, abs=0.02)
