"""A bar on standard error for work that takes longer than a second."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from time import monotonic
from typing import Any

import click

from variants.cli.terminal import for_a_bar

#: Shorter work shows no bar.
_PATIENCE_S = 1.0


@contextmanager
def progress_bar(label: str) -> Iterator[Callable[[int, int], None]]:
    """Give what hears (done, all), and shows a bar once that has taken a while.

    Nothing is shown where standard error is no terminal.
    """
    begun = monotonic()
    bar: Any = None
    with ExitStack() as shown:

        def hear(done: int, whole: int) -> None:
            nonlocal bar
            if not sys.stderr.isatty() or monotonic() - begun < _PATIENCE_S:
                return
            if bar is None:
                made = click.progressbar(length=whole, label=label, file=for_a_bar())
                bar = shown.enter_context(made)
            bar.update(done - bar.pos)

        yield hear
