"""The last net before a terminal: what it would obey, or turn round on the screen, is not sent.

Readers refuse such characters and views show them as a mark; but a file's name, a word of the
command line or somebody else's message may still hold one.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, TextIO

from variants.text import terminal_safe


class SafeStream:
    """A text stream that writes nothing a terminal obeys; all else is the stream's own."""

    def __init__(self, stream: TextIO) -> None:
        self.stream = stream

    #: What click asks before it would write past this stream, to one that can hold every letter.
    encoding = "utf-8"

    def write(self, text: str) -> int:
        """Write a text; returns how many characters that were."""
        if not isinstance(text, str):
            raise TypeError("a text stream takes text")
        return self.stream.write(terminal_safe(text))

    def writelines(self, lines: Any) -> None:
        """Write several texts."""
        for line in lines:
            self.write(line)

    def __getattr__(self, name: str) -> Any:
        return getattr(self.stream, name)


@contextmanager
def safe_output() -> Iterator[None]:
    """Let standard output and error send nothing that a terminal obeys while a command runs."""
    output, errors = sys.stdout, sys.stderr
    sys.stdout, sys.stderr = SafeStream(output), SafeStream(errors)
    try:
        yield
    finally:
        sys.stdout, sys.stderr = output, errors


def for_a_bar() -> TextIO:
    """Return standard error as a progress bar needs it, which moves the cursor."""
    return sys.stderr.stream if isinstance(sys.stderr, SafeStream) else sys.stderr
