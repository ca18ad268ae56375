"""The materials tables and colours do not contradict themselves."""

from __future__ import annotations

from tests.real import rulebook
from variants.rulebook import lab

TRADE = rulebook().trade
WEIGHTS = ("wire", "bead")


def test_a_weight_called_heavier_or_lighter_is_so() -> None:
    told = 0
    for one in TRADE.materials.values():
        for exchange in one.substitutes if one.kind in WEIGHTS else ():
            found = TRADE.materials[exchange.material]
            if not one.density_g_cm3 or not found.density_g_cm3 or found.kind not in WEIGHTS:
                continue
            difference = found.density_g_cm3 - one.density_g_cm3
            for words, sign in (("heavier", 1), ("denser", 1), ("lighter", -1)):
                if words in exchange.difference:
                    told += 1
                    assert difference * sign > 0, (one.id, exchange)
    assert told > 5


def test_of_a_list_and_an_edge_the_paler_edge_is_told_first() -> None:
    """As ``rules/markings.tsv`` says what the marking is, and so that most of the feather shows."""
    two_toned = [one for one in TRADE.colours.values() if one.marking.startswith("list-")]
    assert len(two_toned) >= 7
    for one in two_toned:
        assert lab(one.hexes[0])[0] > lab(one.hexes[1])[0], one.id
        assert one.cover[0] == max(one.cover), one.id
        assert one.cover[0] >= 50


def test_down_has_no_web_and_is_softer_than_any_hackle() -> None:
    down = ("cdc", "marabou", "mini-marabou", "filoplume")
    for name in down:
        one = TRADE.materials[name]
        assert one.web is None
        assert one.stiffness == 0
    for one in TRADE.materials.values():
        if one.kind in ("hen hackle", "game-bird body feather", "rooster hackle"):
            assert one.stiffness != 0 or one.id == "filoplume", one.id


def test_european_and_american_squirrels_are_three_stuffs() -> None:
    rows = {
        TRADE.materials[name].id: TRADE.materials[name]
        for name in ("european-red-squirrel-tail", "fox-squirrel-tail", "pine-squirrel-tail")
    }
    assert "United Kingdom" in rows["european-red-squirrel-tail"].caution
    assert not rows["fox-squirrel-tail"].caution
    assert TRADE.material_names["red squirrel tail"] is rows["fox-squirrel-tail"]
