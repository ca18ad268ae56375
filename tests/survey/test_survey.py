"""A survey says of every pair what the search says, whoever does the work or dies of it."""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from typing import Any

import pytest

from tests.benchmarks.generator import random_box, random_dressing
from tests.real import EXAMPLES, example, example_box, propose, rulebook
from variants.design import Request, build_problem
from variants.design.search import propose as searching
from variants.design.search import search
from variants.explain import find_conflict
from variants.model import Box, Dressing
from variants.rulebook import load_rulebook
from variants.survey import BoxStanding, Wishes, survey
from variants.survey import survey as survey_function
from variants.survey.pickling import pack, unpack
from variants.units import registry

NAMES = sorted(path.stem for path in (EXAMPLES / "dressings").glob("*.toml"))


def book() -> list[Dressing]:
    return [example(name) for name in NAMES]


def boxes() -> list[tuple[str, Box]]:
    return [("valley", example_box()), ("chance", random_box(rulebook(), 120, 5))]


@pytest.fixture(scope="module")
def here() -> Any:
    return survey(book(), boxes(), rulebook())


def test_each_outlook_is_the_closest_variant(here: Any) -> None:
    for outlook, dressing in zip(here.outlooks[: len(NAMES)], book(), strict=True):
        _, variants = propose(dressing, example_box(), best=1)
        assert outlook.dressing == dressing.name
        assert outlook.departure == variants[0].departure
        assert tuple(swap.part for swap in outlook.swaps) == variants[0].changed
        assert (outlook.standing is BoxStanding.AS_WRITTEN) == (not variants[0].changed)


def test_random_pairs_stand_as_a_search_of_their_own_says() -> None:
    dressings = [random_dressing(rulebook(), seed) for seed in range(12)]
    stock = random_box(rulebook(), 60, 9)
    found = survey(dressings, [("chance", stock)], rulebook(), Wishes(max_changes=4))
    assert {one.standing for one in found.outlooks} >= {BoxStanding.BLOCKED}
    for dressing, outlook in zip(dressings, found.outlooks, strict=True):
        design = build_problem(Request(dressing, stock, max_changes=4), rulebook())
        result = search(design, 1)
        assert (outlook.standing is BoxStanding.BLOCKED) == (not result.variants)
        if result.variants:
            assert outlook.departure == result.variants[0].departure
        else:
            conflict = find_conflict(design)
            assert conflict is not None
            told = {part for block in outlook.blocks for part in block.parts}
            assert set(conflict.empty_parts) <= told
            assert outlook.blocks


def test_what_is_missing_and_the_sizes_asked_for_reach_the_search() -> None:
    wishes = Wishes(sizes=(12,), water="fast", missing=frozenset({"cock-neck-badger"}))
    (outlook,) = survey([example("packhorse-badger")], boxes()[:1], rulebook(), wishes).outlooks
    design = build_problem(wishes.request(example("packhorse-badger"), example_box()), rulebook())
    assert outlook.departure == search(design, 1).variants[0].departure
    assert outlook.size == 12


@pytest.mark.parametrize("bundle", [1, 3, 1000])
def test_bundles_of_any_size_make_the_same_survey(
    here: Any, bundle: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    import sys

    monkeypatch.setattr(sys.modules[survey_function.__module__], "BUNDLE", bundle)
    assert survey(book(), boxes(), rulebook()).outlooks == here.outlooks


@pytest.mark.parametrize(
    "pool", [lambda: ThreadPoolExecutor(2), lambda: ProcessPoolExecutor(2)], ids=["threads", "pool"]
)
def test_any_executor_gives_the_same_survey(here: Any, pool: Callable[[], Executor]) -> None:
    with pool() as executor:
        found = survey(book(), boxes(), rulebook(), executor=executor)
    assert found == here


class Deadly(ProcessPoolExecutor):
    """A pool whose worker dies of the task handed in at some place."""

    def __init__(self, place: int) -> None:
        super().__init__(1)
        self._left = place

    def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
        self._left -= 1
        if self._left < 0:
            return super().submit(os._exit, 9)
        return super().submit(fn, *args, **kwargs)


@pytest.mark.parametrize("place", [0, 1])
def test_a_worker_that_dies_loses_nothing(here: Any, place: int) -> None:
    with Deadly(place) as executor:
        found = survey(book(), boxes(), rulebook(), executor=executor)
    assert found.outlooks == here.outlooks
    assert found.redone > 0


def test_a_survey_broken_off_keeps_what_is_done(here: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    def break_off(done: int, whole: int) -> None:
        assert whole == 2 * len(NAMES)
        if done >= len(NAMES):
            raise KeyboardInterrupt

    found = survey(book(), boxes(), rulebook(), progress=break_off)
    assert not found.is_complete
    assert found.outlooks == here.outlooks[: len(NAMES)]


@pytest.mark.parametrize("at", range(1, 10, 2))
def test_ctrl_c_within_a_search_loses_that_bundle_and_spoils_none(
    here: Any, monkeypatch: pytest.MonkeyPatch, at: int
) -> None:
    real = searching.as_variant
    made: list[Any] = []

    def interrupted(*words: Any) -> Any:
        made.append(words)
        if len(made) == at:
            raise KeyboardInterrupt
        return real(*words)

    monkeypatch.setattr(searching, "as_variant", interrupted)
    found = survey(book(), boxes(), rulebook())
    assert not found.is_complete
    assert found.outlooks == here.outlooks[: len(found.outlooks)]


def test_a_cluster_gives_the_same_survey(here: Any) -> None:
    distributed = pytest.importorskip("distributed")
    with (
        distributed.LocalCluster(
            n_workers=1, threads_per_worker=1, processes=False, dashboard_address=None
        ) as cluster,
        distributed.Client(cluster) as client,
    ):
        found = survey(book(), boxes(), rulebook(), executor=client.get_executor())
    assert found == here


def test_a_parcel_does_not_grow_with_what_was_compared() -> None:
    fresh = load_rulebook()
    parcel = len(pack(fresh))
    survey(book(), boxes()[:1], fresh)
    assert len(pack(fresh)) < 1.2 * parcel


def test_measures_come_to_life_in_our_own_registry() -> None:
    items = unpack(pack(example_box())).items
    assert [item.count for item in items] == [item.count for item in example_box().items]
    assert all(item.amount is None or item.amount._REGISTRY is registry() for item in items)
