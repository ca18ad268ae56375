"""Work that takes a while: done in a thread of its own, watched by its progress, stopped by a form.

A page that needs such work asks for it by a key: what it rests on. The same key is the same work,
whoever asks again. Only a few run at once; the oldest finished ones are forgotten.
"""

from __future__ import annotations

import secrets
from collections import OrderedDict
from collections.abc import Callable, Hashable
from enum import Enum
from threading import BoundedSemaphore, Event, Lock, Thread
from typing import Generic, TypeVar

Part = TypeVar("Part")
Result = TypeVar("Result")
_KEPT, _AT_ONCE = 12, 2


class State(Enum):
    """How far a job is; the value says it in words."""

    RUNNING = "at work"
    DONE = "done"
    STOPPED = "stopped"
    FAILED = "failed"


class StoppedError(Exception):
    """Raised within the work when its user has stopped it."""


class Job(Generic[Part]):
    """One piece of work and what it has brought so far.

    Attributes
    ----------
    id : str
        By which a form may stop it.
    done, whole : int
        Steps done, of how many; 0 of 0 before it is known.
    parts : list
        What is found so far, in order.
    state : State
    problem : str
        Why it failed.
    """

    def __init__(self) -> None:
        self.id = secrets.token_urlsafe(9)
        self.done, self.whole = 0, 0
        self.parts: list[Part] = []
        self.state = State.RUNNING
        self.problem = ""
        self._stop = Event()

    @property
    def is_running(self) -> bool:
        """Whether there is more to come."""
        return self.state is State.RUNNING

    def step(self, done: int, whole: int) -> None:
        """Hear how far the work is; raises `StoppedError` when it should end."""
        self.done, self.whole = done, whole
        if self._stop.is_set():
            raise StoppedError

    def stop(self) -> None:
        """Ask the work to end at its next step."""
        self._stop.set()


class Jobs:
    """All work of this run of the server."""

    def __init__(self) -> None:
        self._jobs: OrderedDict[Hashable, Job[object]] = OrderedDict()
        self._lock = Lock()
        self._room = BoundedSemaphore(_AT_ONCE)

    def get(self, key: Hashable, work: Callable[[Job[Part]], None]) -> Job[Part]:
        """Return the work of a key, begun now unless it was.

        Parameters
        ----------
        key : hashable
        work : callable
            Puts what it finds into the job's ``parts`` and tells its steps.
        """
        with self._lock:
            known = self._jobs.get(key)
            if known is not None:
                self._jobs.move_to_end(key)
                return known  # type: ignore[return-value]
            job: Job[Part] = Job()
            self._jobs[key] = job  # type: ignore[assignment]
            self._forget_some()
        Thread(target=self._run, args=(job, work), daemon=True).start()
        return job

    def stop(self, job_id: str) -> bool:
        """Stop work by its id; tell whether there was such work."""
        with self._lock:
            found = [job for job in self._jobs.values() if job.id == job_id]
        for job in found:
            job.stop()
        return bool(found)

    def forget(self, job_id: str) -> bool:
        """Forget stopped work, so that it is begun anew; tell whether there was such work."""
        with self._lock:
            for key, job in self._jobs.items():
                if job.id == job_id and not job.is_running:
                    del self._jobs[key]
                    return True
        return False

    def _forget_some(self) -> None:
        for key in [key for key, job in self._jobs.items() if not job.is_running]:
            if len(self._jobs) <= _KEPT:
                break
            del self._jobs[key]
        running = [job for job in self._jobs.values() if job.is_running]
        for job in running[:-_KEPT]:
            job.stop()

    def _run(self, job: Job[Part], work: Callable[[Job[Part]], None]) -> None:
        with self._room:
            try:
                job.step(0, 0)
                work(job)
                job.state = State.DONE
            except StoppedError:
                job.state = State.STOPPED
            except Exception as problem:
                job.problem = f"{type(problem).__name__}: {problem}"
                job.state = State.FAILED
