"""Kin: what a dressing equals, what it stands nearest to; names are no keys."""

from __future__ import annotations

from dataclasses import replace

from tests.real import example, example_box, fly, propose, rulebook
from variants.explain.derivation import Names, find_kin
from variants.model import Dressing

BASE = {
    "hook": "wet fly hook",
    "thread": "silk tying thread, yellow",
    "body": "silk-floss, orange",
    "hackle": "partridge-brown",
}


def dressing(name: str, **parts: str) -> Dressing:
    return replace(fly({**BASE, **parts}, "soft-hackle"), name=name)


def test_the_same_make_is_the_same_whatever_thread_and_hook() -> None:
    other = dressing("Other Name", thread="silk tying thread, primrose")
    assert find_kin(dressing("One"), [other], rulebook())[0].is_same


def test_kin_come_nearest_first_and_name_the_parts_that_differ() -> None:
    near = dressing("Near", body="silk-floss, hot orange")
    far = dressing("Far", body="peacock-herl", hackle="hen-neck, white")
    found = find_kin(dressing("One"), [far, near], rulebook())
    assert [kin.dressing.name for kin in found] == ["Near", "Far"]
    assert [kin.differing for kin in found] == [("body",), ("body", "hackle")]


def test_another_style_is_no_kin() -> None:
    assert find_kin(dressing("One"), [example("ferrymans-dun")], rulebook()) == []


def test_a_part_that_only_one_has_differs() -> None:
    ribbed = dressing("Ribbed", rib="wire-fine-gold")
    assert find_kin(dressing("One"), [ribbed], rulebook())[0].differing == ("rib",)


def test_a_variant_that_has_a_name_is_told_all_its_names() -> None:
    base = example("tollgate-amber")
    twins = [replace(base, name="First Name"), replace(base, name="Second Name")]
    design, found = propose(base, example_box(), best=1)
    names = Names(twins).of(base.style, found[0].chosen)
    assert names == ("First Name", "Second Name")
    assert Names([]).of(base.style, found[0].chosen) == ()
    assert design.request.base is base


def test_stuff_wound_together_has_no_order_and_each_counts() -> None:
    def mixed(name: str, one: str, other: str) -> Dressing:
        also = f'also = [{{ material = "hen neck", colour = "{other}" }}]'
        return dressing(name, hackle=f"hen-neck, {one} | {also}")

    mine = mixed("One", "brown", "grizzle")
    others = [mixed("Turned", "grizzle", "brown"), mixed("Other", "brown", "white")]
    found = find_kin(mine, others, rulebook())
    assert [kin.dressing.name for kin in found] == ["Turned", "Other"]
    assert found[0].is_same
    assert not found[1].is_same
    assert found[1].distance > 0
