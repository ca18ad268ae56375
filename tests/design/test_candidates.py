"""What may fill a part: pairs of left and right, two feathers for one, and how many they take."""

from __future__ import annotations

from tests.real import box, fly, propose
from variants.model import Candidate, Dressing, Way

COLUMNS = "item,material,colour,sizes,length,amount,side"
PLAIN = {
    "hook": "dry fly hook",
    "thread": "polyester tying thread, black",
    "body": "fine synthetic dubbing, medium olive",
    "hackle": "rooster-neck-dry, ginger",
}
STOCK = (
    "hooks,dry fly hook,,14,,20 hooks,",
    "thread,polyester tying thread,black,,,30 m,",
    "dubbing,fine synthetic dubbing,medium olive,,,1 g,",
)
CAPE = "cape,rooster-neck-dry,ginger,12-16,,40 feathers,"
GRIZZLE = "grizzle cape,rooster-neck-dry,grizzly,12-16,,40 feathers,"
MIXED = 'rooster-neck-dry, ginger | also = [{ material = "rooster-neck-dry", colour = "grizzly" }]'


def filling(base: Dressing, part: str, *rows: str, **wishes: object) -> list[Candidate]:
    """Return what may fill a part from the usual stock and these rows."""
    design, _found = propose(base, box([*STOCK, *rows], COLUMNS), best=1, **wishes)
    return design.domains[part]


def test_a_left_that_is_too_short_does_not_hide_one_that_fits() -> None:
    winged = fly(PLAIN | {"wing": "duck-quill-slip, slate | signature = true"})
    slips = ["a short left,duck-quill-slip,slate,,3-4 mm,9 pieces,left",
             "long left,duck-quill-slip,slate,,8-20 mm,9 pieces,left",
             "right,duck-quill-slip,slate,,8-20 mm,9 pieces,right"]  # fmt: skip
    _design, found = propose(winged, box([*STOCK, CAPE, *slips], COLUMNS), best=1)
    used = [items[0].id for items in found[0].chosen["wing"].items]
    assert used == ["long left", "right"]


def test_a_pair_offers_the_lengths_that_both_sides_have() -> None:
    winged = fly(PLAIN | {"wing": "duck-quill-slip, slate"})
    slips = ["left,duck-quill-slip,slate,,5-12 mm,9 pieces,left",
             "right,duck-quill-slip,slate,,8-20 mm,9 pieces,right"]  # fmt: skip
    pair = next(one for one in filling(winged, "wing", *slips) if len(one.items) == 2)
    assert (pair.attributes["shortest_mm"], pair.attributes["longest_mm"]) == (8.0, 12.0)
    assert pair.attributes["side"] == "pair"


def test_a_single_part_takes_a_mix_at_the_mean_of_its_materials() -> None:
    cree = fly(PLAIN | {"hackle": "rooster-neck-dry, cree"})
    hen = "grizzle hen,hen neck hackle,grizzly,,5-9 mm,40 feathers,"
    costs = {
        one.items[1][0].id: sum(term.cost for term in one.terms)
        for one in filling(cree, "hackle", CAPE, GRIZZLE, hen)
        if one.way is Way.MIXED
    }
    assert costs["grizzle cape"] < costs["grizzle hen"]


def test_two_feathers_wound_together_take_half_the_turns_each() -> None:
    def taken(hackle: str, *rows: str) -> int:
        base = fly(PLAIN | {"hackle": hackle})
        written = (Way.AS_WRITTEN,)
        found = filling(base, "hackle", *rows, water="fast")
        return next(one.uses for one in found if one.way in written)

    alone = taken("rooster-neck-dry, ginger | turns = 10", CAPE)
    assert (alone, taken(f"{MIXED}\nturns = 10", CAPE, GRIZZLE)) == (2, 1)


def test_a_mix_of_stiff_and_soft_as_written_departs_by_nothing() -> None:
    soft = (
        'rooster-neck-dry, ginger | also = [{ material = "hen neck hackle", colour = "grizzly" }]'
    )
    hen = "grizzle hen,hen neck hackle,grizzly,,5-9 mm,40 feathers,"
    base = fly(PLAIN | {"hackle": soft})
    _design, found = propose(base, box([*STOCK, CAPE, hen], COLUMNS), best=1)
    assert found[0].departure == 0
