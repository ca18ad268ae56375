"""A search says how it ended, and what is proven when it is stopped."""

from __future__ import annotations

from collections.abc import Sequence
from time import monotonic
from typing import Any, get_type_hints

import pytest

from tests.breadth import seeds
from tests.design.search.oracles import departure, every_answer, first_of_each_change
from tests.design.search.oracles import first_of_each_dressing as distinct
from tests.design.search.problems import SmallProblem, TableConstraint, candidate, random_problem
from variants.design import DesignProblem, Watch
from variants.design.search import (
    Ended,
    Finished,
    SearchResult,
    propose,
    search,
    search_within,
    variants_of,
)
from variants.model import Candidate, Way


def design(small: SmallProblem) -> DesignProblem:
    """Return a design problem of nothing but domains and constraints, all the search looks at."""
    nothing: Any = None
    return DesignProblem(nothing, nothing, small.domains, small.constraints, {}, (), ())


class Remainder(TableConstraint):
    """Allows one sum of lengths in so many, which no part of the parts foretells."""

    def __init__(self, parts: Sequence[str], modulus: int) -> None:
        super().__init__(parts, "length", lambda seen: None if sum(seen) % modulus else 0)


def hard_problem(parts: int, width: int, modulus: int) -> SmallProblem:
    """Return a problem whose answers hide among many choices that look good."""
    domains = {
        f"part {place}": [
            candidate(
                f"part {place}",
                f"{number:02}",
                number,
                {"length": 1 + (7 * number * (place + 3) + number * number) % 101},
                way=Way.AS_WRITTEN if number == 0 else Way.SUBSTITUTE,
            )
            for number in range(width)
        ]
        for place in range(parts)
    }
    return SmallProblem(domains, (Remainder(list(domains), modulus),))


def filled(answer: Sequence[Candidate]) -> tuple[int, ...]:
    return tuple(id(one) for one in answer)


@pytest.mark.parametrize("seed", seeds(range(0, 200, 5)))
def test_a_search_that_ends_lists_the_best_and_bounds_the_rest(seed: int) -> None:
    small = random_problem(seed)
    for different, keep in ((False, distinct), (True, first_of_each_change)):
        expected = keep(every_answer(small))
        result = search(design(small), best=5, different=different)
        chosen = [filled(list(variant.chosen.values())) for variant in result.variants]
        assert chosen == [filled(answer) for _, answer in expected[:5]]
        assert [variant.rank for variant in result.variants] == list(range(1, len(chosen) + 1))
        assert result.proven == len(chosen)
        if not expected:
            assert result.ended is Ended.NONE_EXISTS
            assert result.bound is None
            continue
        assert result.ended is Ended.PROVEN
        if len(expected) > 5:
            assert result.bound is not None
            assert expected[4][0] <= result.bound <= expected[5][0]
        elif len(expected) < 5:
            assert result.bound is None


def test_a_search_stopped_in_time_says_what_it_knows() -> None:
    small = hard_problem(parts=8, width=30, modulus=9973)
    begun = monotonic()
    result = search_within(design(small), best=3, watch=Watch(0.2))
    assert monotonic() - begun < 1.0
    assert result.ended is Ended.STOPPED
    assert result.proven == 0
    assert result.bound is not None
    assert result.bound > 0


def test_a_stopped_search_gives_valid_variants_that_are_not_proven() -> None:
    small = hard_problem(parts=8, width=60, modulus=61)
    result = search_within(design(small), best=100_000, watch=Watch(0.3))
    assert result.ended is Ended.STOPPED
    assert result.bound is not None
    assert result.proven < len(result.so_far)
    proven, begun = result.so_far[: result.proven], result.so_far[result.proven :]
    for variant in result.so_far:
        own = departure(small, tuple(variant.chosen.values()))
        assert own == sum(one.cost for one in variant.chosen.values())
    assert [one.departure for one in proven] == sorted(one.departure for one in proven)
    assert all(one.departure <= result.bound for one in proven)
    assert all(one.departure >= result.bound for one in begun)
    assert [one.rank for one in result.so_far] == list(range(1, len(result.so_far) + 1))
    kinds = {tuple(one.identity for one in variant.chosen.values()) for variant in result.so_far}
    assert len(kinds) == len(result.so_far)


def test_different_stopped_in_time_lists_each_set_of_changes_once() -> None:
    small = hard_problem(parts=8, width=60, modulus=61)
    result = search_within(design(small), best=300, different=True, watch=Watch(0.3))
    assert result.ended is Ended.STOPPED
    assert len(result.so_far) > result.proven
    assert len({variant.changed for variant in result.so_far}) == len(result.so_far)
    for variant in result.so_far:
        assert departure(small, tuple(variant.chosen.values())) is not None


class Breaking:
    """A reporter who breaks in after so many variants."""

    def __init__(self, after: int) -> None:
        self.after = after
        self.heard: list[tuple[int, int]] = []

    def found(self, rank: int, departure: int) -> None:
        self.heard.append((rank, departure))
        if rank == self.after:
            raise KeyboardInterrupt

    def rising(self, bound: int, steps: int) -> None:
        raise AssertionError("too short a search to speak of")


def test_a_user_who_breaks_in_keeps_what_is_proven() -> None:
    small = next(
        one for one in map(random_problem, range(100)) if len(distinct(every_answer(one))) > 9
    )
    reporter = Breaking(after=3)
    result = search_within(design(small), best=9, watch=Watch(reporter=reporter))
    expected = distinct(every_answer(small))
    assert result.ended is Ended.INTERRUPTED
    assert result.proven == 3
    assert reporter.heard == [(rank, cost) for rank, (cost, _) in enumerate(expected[:3], start=1)]
    assert result.bound is not None
    assert expected[2][0] <= result.bound <= expected[3][0]


def test_a_search_that_must_be_whole_passes_ctrl_c_on(monkeypatch: pytest.MonkeyPatch) -> None:
    small = next(
        one for one in map(random_problem, range(100)) if len(distinct(every_answer(one))) > 9
    )
    real = propose.as_variant

    def interrupted(*words: Any) -> Any:
        if words[2] == 3:
            raise KeyboardInterrupt
        return real(*words)

    monkeypatch.setattr(propose, "as_variant", interrupted)
    with pytest.raises(KeyboardInterrupt):
        search(design(small), best=9)
    assert search_within(design(small), best=9).proven == 2


def test_only_a_finished_result_has_variants() -> None:
    # What a type checker sees: who has an unfinished result can't take it for a finished one.
    assert get_type_hints(search)["return"] is Finished
    assert get_type_hints(search_within)["return"] is SearchResult
    assert "variants" not in {*SearchResult.__slots__, *dir(SearchResult)}


class Listening:
    """A reporter who only listens."""

    def __init__(self) -> None:
        self.bounds: list[int] = []

    def found(self, rank: int, departure: int) -> None:
        pass

    def rising(self, bound: int, steps: int) -> None:
        self.bounds.append(bound)


def test_a_long_search_tells_its_rising_bound() -> None:
    reporter = Listening()
    small = hard_problem(parts=8, width=30, modulus=9973)
    result = search_within(design(small), best=1, watch=Watch(0.5, reporter))
    assert len(reporter.bounds) > 2
    assert reporter.bounds == sorted(reporter.bounds)
    assert result.bound is not None
    assert reporter.bounds[-1] <= result.bound


def test_nothing_to_choose_from_is_no_variant() -> None:
    small = SmallProblem({"hook": [], "body": [candidate("body", "a", 0, {})]}, ())
    assert search(design(small)).ended is Ended.NONE_EXISTS
    assert list(variants_of(design(small))) == []


@pytest.mark.parametrize("best", [0, -1])
def test_a_search_for_nothing_is_refused(best: int) -> None:
    for run in (search, search_within):
        with pytest.raises(ValueError, match="at least one variant"):
            run(design(random_problem(1)), best=best)


@pytest.mark.parametrize("within_s", [0.0, -2.0])
def test_no_time_is_no_time_limit(within_s: float) -> None:
    with pytest.raises(ValueError, match="more than nothing"):
        Watch(within_s)


@pytest.mark.parametrize("seed", seeds(range(0, 100, 10)))
def test_variants_come_one_by_one_as_the_search_lists_them(seed: int) -> None:
    small = random_problem(seed)
    listed = search(design(small), best=1000).variants
    streamed = tuple(variants_of(design(small)))
    assert [one.departure for one in listed] == [one.departure for one in streamed]
    assert [one.rank for one in streamed] == list(range(1, len(streamed) + 1))
