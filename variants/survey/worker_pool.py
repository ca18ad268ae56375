"""A pool of processes that leaves Ctrl-C to the process that waits for them.

A terminal sends Ctrl-C to all processes of a command. A worker has nothing to show for itself; it
would only print a traceback, and what it was at would be lost.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from typing import ParamSpec, TypeVar

from variants.stopping import HeldBack

_Words = ParamSpec("_Words")
_Value = TypeVar("_Value")


class WorkerPool(ProcessPoolExecutor):
    """Processes to work in; they are started as work comes in, and never hear Ctrl-C."""

    def submit(
        self, fn: Callable[_Words, _Value], /, *args: _Words.args, **kwargs: _Words.kwargs
    ) -> Future[_Value]:
        """Hand out one piece of work."""
        with HeldBack():
            return super().submit(fn, *args, **kwargs)
