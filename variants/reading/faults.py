"""What can be wrong with an input, as values: collected, located, shown by one function.

A fault says what is wrong, where, what would be right, and the nearest known name. Readers collect
all faults of a stage in a `Faults` and stop before the next stage.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from variants.model import Origin

_SHOWN = 60


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with an input.

    Attributes
    ----------
    origin : Origin
    problem : str
        What is wrong, with the value found; lower case, present tense.
    remedy : str
        What would be right.
    near : tuple of str
        Known names close to the one found.
    """

    origin: Origin
    problem: str
    remedy: str = ""
    near: tuple[str, ...] = ()

    def __str__(self) -> str:
        where = f"{self.origin}: " + (f"{self.origin.field}: " if self.origin.field else "")
        lines = [f"{where}{self.problem}"]
        if self.remedy:
            lines.append(f"  help: {self.remedy}")
        if self.near:
            lines.append("  did you mean " + " or ".join(f"'{name}'" for name in self.near) + "?")
        return "\n".join(lines)


class InputError(Exception):
    """An input could not be read; carries every fault found, in the order of the file."""

    exit_code = 2

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class Faults:
    """The faults of one stage of reading."""

    def __init__(self) -> None:
        self._faults: list[Fault] = []

    def add(
        self, origin: Origin, problem: str, remedy: str = "", near: Iterable[str] = ()
    ) -> None:
        """Note one fault."""
        self._faults.append(Fault(origin, problem, remedy, tuple(near)))

    def __bool__(self) -> bool:
        return bool(self._faults)

    def __len__(self) -> int:
        return len(self._faults)

    def stop_if_any(self) -> None:
        """Raise InputError when something was noted."""
        if self._faults:
            raise InputError(sorted(self._faults, key=lambda fault: fault.origin.line))


def nearest(name: str, known: Iterable[str], most: int = 2) -> tuple[str, ...]:
    """Return the known names closest to a misspelt one, best first."""
    from rapidfuzz import fuzz, process

    found = process.extract(
        name[:200].lower(), list(known), scorer=fuzz.WRatio, limit=most, score_cutoff=70
    )
    return tuple(word for word, _score, _index in found)


def shown(value: object) -> str:
    """Return a value as a message shows it: quoted, printable, cut to a sensible length.

    >>> shown("a" * 80)[-4:]
    "aa…'"
    """
    text = str(value)
    text = "".join(letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in text)
    return f"'{text[:_SHOWN]}…'" if len(text) > _SHOWN else f"'{text}'"
