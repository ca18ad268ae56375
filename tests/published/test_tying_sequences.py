"""The order of the steps of whole flies, held against published sequences.

A test gives the order in which a sequence takes its steps, as part and, where a part has several,
which; our steps have to take them in that order, whatever stands between.
"""

from __future__ import annotations

import pytest

from tests.real import fly, propose, rulebook
from variants.geometry import fly_geometry, load_layout
from variants.model import Box
from variants.views.sheet import Step, load_steps, steps_of

LAYOUT, TABLE = load_layout(), load_steps(rulebook().trade)
_THREAD = "polyester tying thread, black"
_DUBBING = "fine synthetic dubbing, olive"
_COCK = "rooster-neck-dry, brown"


def steps(style: str, **parts: str) -> tuple[Step, ...]:
    """The steps of a fly of these parts; an underscore in a part's name is its hyphen."""
    named = {part.replace("_", "-"): stuff for part, stuff in parts.items()}
    design, _ = propose(fly({"thread": _THREAD} | named, style, "12"), Box(()))
    geometry = fly_geometry(design, LAYOUT)
    return steps_of(geometry, design.base, rulebook(), LAYOUT, TABLE)


def assert_in_order(taken: tuple[Step, ...], *published: str) -> None:
    """Tell whether steps are taken in the order published: ``part``, or ``part: words said``."""
    at = -1
    for one in published:
        part, _, words = one.partition(": ")
        after = [
            place
            for place, step in enumerate(taken)
            if place > at and step.part == part and words.lower() in step.says.lower()
        ]
        assert after, (one, [f"{step.part}: {step.says}" for step in taken])
        at = after[0]


@pytest.mark.source("tying-sequences", "magazine page on a beaded bug, steps 1 to 8")
def test_a_bead_goes_on_first_and_what_is_behind_it_is_tied_behind_it() -> None:
    taken = steps("nymph", hook="jig hook", bead="tungsten bead, gold", tail="coq de leon",
                  body="hare's mask fur", thorax="hare's mask fur", collar="cdc")  # fmt: skip
    assert taken[0].part == "bead"
    assert_in_order(taken, "bead", "hook: Fix", "thread: behind the bead", "tail", "body",
                    "collar: behind the bead", "finish: behind the bead")  # fmt: skip
    assert not any("mm behind the eye" in step.says for step in taken)


@pytest.mark.source("tying-sequences", "losgatosdesign pheasant tail nymph, step 1")
@pytest.mark.parametrize(("hook", "pressed"), [("nymph hook", True), ("jig hook", False)])
def test_a_barb_is_pressed_down_before_all_else_and_only_where_there_is_one(
    hook: str, pressed: bool
) -> None:
    taken = steps("nymph", hook=hook, bead="brass bead, gold", body="peacock herl")
    assert ("Press the barb" in taken[0].says) is pressed


@pytest.mark.source("tying-sequences", "mtfa-springfield, stonefly nymph")
def test_a_nymphs_case_is_shut_over_its_legs_and_hackle_and_coated_last() -> None:
    taken = steps("nymph", hook="nymph hook", feelers="goose biot", tail="goose biot",
                  butt=_DUBBING, rib="copper wire", body="hare's mask fur", legs="partridge-brown",
                  wing_case="turkey-mottled", thorax="hare's mask fur", hackle="hen-neck, brown",
                  body_coating="uv-resin")  # fmt: skip
    assert_in_order(taken, "thread", "feelers", "butt: parts the tail", "tail: one on each side",
                    "rib: Tie in", "body", "rib: Wind", "wing-case: Tie in", "hackle: Tie in",
                    "thorax", "hackle: over the thorax", "wing-case: Draw",
                    "body-coating: cure it with the lamp", "finish")  # fmt: skip
    order = [step.part for step in taken]
    last_legs = len(order) - 1 - order[::-1].index("legs")
    assert last_legs < len(order) - 1 - order[::-1].index("wing-case")


@pytest.mark.source("tying-sequences", "czechnymphs.com; lwflies, Czech nymph")
def test_a_back_is_drawn_over_the_body_and_then_bound_by_the_rib() -> None:
    taken = steps("nymph", hook="nymph hook", rib="nylon monofilament", body="hare's mask fur",
                  wing_case="raffia")  # fmt: skip
    assert_in_order(taken, "rib: Tie in", "wing-case: Tie in", "body", "wing-case: Draw the back",
                    "rib: over back and body")  # fmt: skip


@pytest.mark.source("tying-sequences", "flyfishingthesierra, caddis; Gregg 1940 p.24")
def test_a_palmer_is_tied_in_in_front_and_bound_by_the_rib_or_at_the_bend_without() -> None:
    parts = {"hook": "dry fly hook", "body": _DUBBING, "palmer": _COCK, "wing": "elk-yearling",
             "hackle": _COCK}  # fmt: skip
    ribbed = steps("down-wing", rib="fine gold wire", **parts)
    assert_in_order(ribbed, "rib: Tie in", "body", "palmer: by its butt",
                    "rib: opposite direction to the palmer", "wing", "hackle",
                    "finish: butts of the wing")  # fmt: skip
    plain = steps("down-wing", **parts)
    assert_in_order(plain, "palmer: by its tip at the bend", "body", "palmer: forward", "wing")
    assert "rib" not in {step.part for step in plain}
    assert not any("rib" in step.says.split() for step in plain)


@pytest.mark.source("tying-sequences", "eat-sleep-fish 2012/04; flyanglersonline part 181")
@pytest.mark.parametrize("style", ["parachute", "emerger"])
def test_a_post_stands_before_the_body_and_its_hackle_lies_round_it(style: str) -> None:
    parts = {"hook": "dry fly hook", "post": "poly-yarn, white", "body": _DUBBING,
             "thorax": "peacock herl", "hackle": "rooster-neck-dry, grizzle"}  # fmt: skip
    taken = steps(style, **parts)
    assert_in_order(taken, "thread: where the post stands", "post: raise it", "thread: back",
                    "body", "hackle: up the foot of the post", "thorax", "hackle: round the post",
                    "post: Cut", "finish: post")  # fmt: skip
    design, _ = propose(fly({"thread": _THREAD} | parts, style, "12"), Box(()))
    shapes = fly_geometry(design, LAYOUT).parts
    post, hackle = shapes["post"], shapes["hackle"]
    assert hackle.angle_deg == 0
    assert post.rear_mm <= hackle.rear_mm <= hackle.front_mm <= post.front_mm


@pytest.mark.source("gregg-1940", "27-31")
def test_the_wings_of_a_dry_fly_are_set_first_and_its_hackle_starts_behind_them() -> None:
    parts = {"hook": "dry fly hook", "wing": "duck wing quill", "tail": _COCK,
             "rib": "fine gold wire", "body": "peacock herl", "hackle": _COCK}  # fmt: skip
    taken = steps("dry upright", **parts)
    assert_in_order(taken, "thread: where the wing stands", "wing: convex sides together",
                    "thread: to the bend", "tail", "rib: Tie in", "body",
                    "rib: opposite direction", "hackle: behind the wing", "finish")  # fmt: skip
    design, _ = propose(fly({"thread": _THREAD} | parts, "dry upright", "12"), Box(()))
    shapes = fly_geometry(design, LAYOUT).parts
    body, wing, hackle = shapes["body"], shapes["wing"], shapes["hackle"]
    # There is room for the turns behind the wing, and for those in front.
    assert body.front_mm <= hackle.rear_mm
    assert wing.rear_mm - hackle.rear_mm > 0.5
    assert hackle.front_mm - wing.front_mm > 0.5


@pytest.mark.source("tying-sequences", "capitalcityweekly, deep minnow, step 1")
def test_dumbbell_eyes_are_set_first_and_stuck_on_eyes_last() -> None:
    parts = {"hook": "streamer hook", "body": "chenille, black", "wing": "bucktail, white"}
    metal = steps("streamer", eyes="dumbbell-eyes", **parts)
    assert_in_order(metal, "thread", "eyes: crossing turns", "body", "wing: in front of the eyes")
    stuck = steps("streamer", eyes="jungle-cock-imitation", **parts)
    assert_in_order(stuck, "body", "wing", "eyes: finished head", "finish")
