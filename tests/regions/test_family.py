"""One dressing on several waters: common ancestors are exact, and nothing is undone on the way."""

from __future__ import annotations

from itertools import product

import networkx as nx
import pytest

from tests.real import example, example_box, fly
from tests.regions.test_adapting import DUN, adapted, place, small_box, valley
from variants.explain.derivation import BASE
from variants.model import Candidate
from variants.regions import Adaptation, Family, family_of

WATERS = ("lower-wendle", "skirl-burn", "merrel-tarn")


def stuff(candidate: Candidate) -> tuple[str, tuple[str, ...]]:
    return candidate.identity, tuple(items[0].id for items in candidate.items)


def small_family() -> Family:
    dun = fly(DUN, sizes="14-16")
    return family_of([adapted(dun, small_box(), place(speed)) for speed in ("slow", "fast")])


def least_of(adaptation: Adaptation, chosen: tuple[tuple[str, tuple[str, ...]], ...]) -> int | None:
    """Return the least departure and distance of a fly of some stuff, whatever its counts."""
    options = [
        [one for one in domain if stuff(one) == wanted]
        for domain, wanted in zip(adaptation.choices.values(), chosen, strict=True)
    ]
    sums = []
    for fly_parts in product(*options):
        by_part = dict(zip(adaptation.choices, fly_parts, strict=True))
        beside = [(one, [by_part[p] for p in one.parts]) for one in adaptation.design.constraints]
        if all(one.allows(those) for one, those in beside):
            own = sum(one.cost + adaptation.measure.of(one) for one in fly_parts)
            sums.append(own + sum(one.cost(those) for one, those in beside))
    return min(sums, default=None)


def test_a_common_ancestor_is_the_best_of_all_flies_that_serve_both_waters() -> None:
    family = small_family()
    (ancestor,) = family.ancestors
    slow, fast = family.adaptations
    best: int | None = None
    every = [list(dict.fromkeys(map(stuff, domain))) for domain in slow.choices.values()]
    for chosen in product(*every):
        sums = [least_of(one, chosen) for one in (slow, fast)]
        if None not in sums:
            total = sum(filter(None, sums))
            best = total if best is None else min(best, total)
    assert ancestor.together == best


@pytest.fixture(scope="module", params=["ferrymans-dun", "packhorse-badger", "tollgate-amber"])
def family(request: pytest.FixtureRequest) -> Family:
    base = example(request.param)
    return family_of([adapted(base, example_box(), valley(water)) for water in WATERS])


def test_an_ancestor_keeps_the_rules_of_every_water_that_it_serves(family: Family) -> None:
    assert family.ancestors
    for ancestor in family.ancestors:
        assert len(ancestor.places) > 1
        for at, one in ancestor.variants.items():
            chosen = one.variant.chosen
            for constraint in family.adaptations[at].design.constraints:
                assert constraint.allows([chosen[part] for part in constraint.parts])
            assert one.departure <= family.adaptations[at].within
        made = {
            tuple(map(stuff, one.variant.chosen.values())) for one in ancestor.variants.values()
        }
        assert len(made) == 1


def test_no_fly_for_one_water_is_better_there_than_its_own(family: Family) -> None:
    for ancestor in family.ancestors:
        for at, one in ancestor.variants.items():
            own = family.adaptations[at].chosen
            assert own is not None
            assert own.together <= one.together


def test_the_graph_leads_from_the_base_to_every_water_and_never_back(family: Family) -> None:
    graph = family.descent.graph
    assert nx.is_directed_acyclic_graph(graph)
    assert set(nx.descendants(graph, BASE)) == set(graph) - {BASE}
    labels = " ".join(values["label"] for _, values in graph.nodes(data=True))
    made = {
        tuple(one.identity for one in dressing.values())
        for dressing in family.descent.dressings.values()
    }
    for adaptation in family.adaptations:
        assert adaptation.chosen is not None
        assert tuple(one.identity for one in adaptation.chosen.variant.chosen.values()) in made
    assert "for " in labels


def test_every_step_is_one_substitution_or_tells_what_ties_it(family: Family) -> None:
    dressings = family.descent.dressings
    for before, after, values in family.descent.graph.edges(data=True):
        differing = [
            part
            for part, candidate in dressings[after].items()
            if candidate.identity != dressings[before][part].identity
        ]
        assert differing == values["parts"]
        assert len(differing) == 1 or values["linked"]


def test_waters_that_share_no_fly_have_no_ancestor() -> None:
    dun = fly(DUN, sizes="14")
    near = adapted(dun, small_box(), place("slow"), 1.0)
    far = adapted(dun, small_box(), place("slow"), 0.0)
    assert far.chosen is None
    assert family_of([near, far]).ancestors == ()


def test_the_order_of_the_waters_changes_no_ancestor() -> None:
    base = example("ferrymans-dun")
    several = [adapted(base, example_box(), valley(water)) for water in WATERS]
    one, other = family_of(several), family_of(several[::-1])
    assert [a.together for a in one.ancestors] == [a.together for a in other.ancestors]
