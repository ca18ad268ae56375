"""Work that takes a while: begun once for a key, watched, stopped, begun anew."""

from __future__ import annotations

from threading import Event

import pytest

from variants.web.jobs import Job, Jobs, State

TIME_LIMIT_S = 20.0


def ended(job: Job[int]) -> State:
    from time import monotonic, sleep

    until = monotonic() + TIME_LIMIT_S
    while job.is_running and monotonic() < until:
        sleep(0.005)
    return job.state


def test_work_is_done_once_for_whoever_asks_by_the_same_key() -> None:
    begun: list[int] = []

    def work(job: Job[int]) -> None:
        begun.append(1)
        job.parts.append(7)
        job.step(1, 1)

    jobs = Jobs()
    first = jobs.get("key", work)
    assert jobs.get("key", work) is first
    assert ended(first) is State.DONE
    assert (first.parts, first.done, first.whole, begun) == ([7], 1, 1, [1])


def test_stopped_work_ends_at_its_next_step_and_keeps_what_it_found() -> None:
    may_go_on, has_begun = Event(), Event()

    def work(job: Job[int]) -> None:
        job.parts.append(1)
        has_begun.set()
        assert may_go_on.wait(TIME_LIMIT_S)
        job.step(1, 2)
        job.parts.append(2)

    jobs = Jobs()
    job = jobs.get("key", work)
    assert has_begun.wait(TIME_LIMIT_S)
    assert jobs.stop(job.id)
    assert not jobs.forget(job.id)  # it is still running
    may_go_on.set()
    assert ended(job) is State.STOPPED
    assert job.parts == [1]
    assert jobs.forget(job.id)
    assert jobs.get("key", work) is not job


@pytest.mark.filterwarnings("error")
def test_a_fault_in_the_work_is_told_and_takes_nothing_down() -> None:
    jobs = Jobs()
    job = jobs.get("key", lambda job: 1 / 0)  # type: ignore[arg-type,return-value]
    assert ended(job) is State.FAILED
    assert "ZeroDivisionError" in job.problem
    assert ended(jobs.get("other", lambda job: None)) is State.DONE


def test_unknown_work_can_not_be_stopped() -> None:
    assert not Jobs().stop("nothing")
