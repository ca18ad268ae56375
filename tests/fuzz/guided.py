"""Inputs led by what they reach in the code, where atheris can be had: ``pip install atheris``.

``python -m tests fuzz guided box -max_total_time=60``; what follows the reader's name goes to the
fuzzer. It stops at the first input that is met with anything but a clear answer.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory


def fuzz_reader(name: str, options: Sequence[str]) -> None:
    """Fuzz one reader from its good inputs; the options are the fuzzer's own."""
    import atheris  # type: ignore[import-not-found]

    with atheris.instrument_imports(include=["variants", "tomllib", "csv"]):
        from tests.fuzz.readers import readers, rulebook
        from tests.fuzz.trial import scratch, try_input

    rulebook()
    reader = readers()[name]
    with scratch() as folder, TemporaryDirectory() as corpus:
        for number, raw in enumerate(reader.good):
            (Path(corpus) / str(number)).write_bytes(raw)

        def one_input(raw: bytes) -> None:
            outcome = try_input(reader, raw, folder)
            if outcome.bug:
                raise RuntimeError(outcome.bug)

        atheris.Setup([sys.argv[0], corpus, *options], one_input)
        atheris.Fuzz()
