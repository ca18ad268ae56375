"""What Ctrl-C does to the program `flykin`, from its first line to its last.

Python raises `KeyboardInterrupt` wherever it happens to be. Amid imports, in a callback of the
collector or while the interpreter shuts down nobody can catch it, and a traceback is printed. So
the program takes Ctrl-C over: until a command works, and the second time, it ends at once; while a
command works it raises `KeyboardInterrupt`, once; when the answer is out it changes nothing.

Loads nothing but what every Python program has loaded: it runs before all else.
"""

from __future__ import annotations

import os
import signal
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from types import TracebackType
    from typing import Any

#: The exit code of a program that Ctrl-C stopped: 128 and the number of the signal.
INTERRUPTED = 130
_TOLD = b"stopped\n"
_SHOW_CURSOR = b"\x1b[?25h"

_is_ours = False
_was_asked = False


def take_over() -> None:
    """Let Ctrl-C end the program at once; what a program does first, and nobody else.

    Where Ctrl-C is ignored, as for work in a shell's background, it stays so.
    """
    global _is_ours
    if signal.getsignal(signal.SIGINT) is not signal.default_int_handler:
        return
    signal.signal(signal.SIGINT, _stop_at_once)
    sys.unraisablehook = _unraisable
    _is_ours = True


def begin_work() -> None:
    """Let Ctrl-C raise `KeyboardInterrupt`, the first time."""
    if _is_ours:
        signal.signal(signal.SIGINT, _raise_once)


def end_work() -> None:
    """Let Ctrl-C change nothing: the answer is out, and only the interpreter has to go."""
    if _is_ours:
        signal.signal(signal.SIGINT, signal.SIG_IGN)


def was_asked() -> bool:
    """Tell whether the user has stopped the work."""
    return _was_asked


class HeldBack:
    """Keeps Ctrl-C waiting; a process or thread that is started meanwhile never hears it."""

    def __enter__(self) -> None:
        if hasattr(signal, "pthread_sigmask"):
            self._before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        if hasattr(signal, "pthread_sigmask"):
            signal.pthread_sigmask(signal.SIG_SETMASK, self._before)


def _raise_once(*_: object) -> None:
    global _was_asked
    _was_asked = True
    signal.signal(signal.SIGINT, _stop_at_once)
    raise KeyboardInterrupt


def _stop_at_once(*_: object) -> None:
    """End the process here, and those it has started."""
    pool = sys.modules.get("multiprocessing.process")
    for child in pool.active_children() if pool is not None else ():
        child.terminate()
    told = _TOLD if not sys.stderr.isatty() else _SHOW_CURSOR + _TOLD
    try:
        os.write(2, told)
    finally:
        os._exit(INTERRUPTED)


def _unraisable(problem: Any) -> None:
    """Stop where `KeyboardInterrupt` came up in a place that can't pass it on."""
    if issubclass(problem.exc_type, KeyboardInterrupt):
        _stop_at_once()
    sys.__unraisablehook__(problem)
