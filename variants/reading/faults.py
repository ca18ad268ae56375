"""What can be wrong with an input, as values: collected, located, shown by one function.

A fault says what is wrong, where, what would be right, and the nearest known name. Readers collect
all faults of a stage in a `Faults` and stop before the next stage.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from variants.model import Origin

_SHOWN = 60
_SHOWN_FAULTS = 40
_LONGEST_FILE_NAME = 240
_MOST_FAULTS = 1000
#: Likeness, 0 to 100, that a name needs to be offered: misspelt, and as a part of a longer name.
_ALIKE, _PARTLY_ALIKE = 70, 85
_RIVAL = 12
#: Shorter names are parts of almost anything.
_SHORTEST_PART = 4


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
        where = _printable(str(self.origin))
        if len(where) > _LONGEST_FILE_NAME:
            where = f"…{where[-_LONGEST_FILE_NAME:]}"
        where += f": {_printable(self.origin.field)}" if self.origin.field else ""
        lines = [f"{where}: {_printable(self.problem)}"]
        if self.remedy:
            lines.append(f"  help: {_printable(self.remedy)}")
        if self.near:
            near = (f"'{_printable(name)}'" for name in self.near)
            lines.append(f"  did you mean {' or '.join(near)}?")
        return "\n".join(lines)


class InputError(Exception):
    """An input could not be read; carries every fault found, in the order of the file.

    The text shows the first 40 faults: who mistook a whole file is not helped by thousands.
    """

    exit_code = 2

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        lines = [str(fault) for fault in self.faults[:_SHOWN_FAULTS]]
        if len(self.faults) > _SHOWN_FAULTS:
            stopped = "; reading stopped there" if len(self.faults) >= _MOST_FAULTS else ""
            lines.append(f"and {len(self.faults) - _SHOWN_FAULTS} more of the kind{stopped}")
        super().__init__("\n".join(lines))


class Faults:
    """The faults of one stage of reading.

    After a thousand of them reading stops there: the file is another kind of file.
    """

    def __init__(self) -> None:
        self._faults: list[Fault] = []

    def add(self, origin: Origin, problem: str, remedy: str = "", near: Iterable[str] = ()) -> None:
        """Note one fault; the thousandth raises InputError with them all."""
        self._faults.append(Fault(origin, problem, remedy, tuple(near)))
        if len(self._faults) >= _MOST_FAULTS:
            self.stop_if_any()

    def __bool__(self) -> bool:
        return bool(self._faults)

    def __len__(self) -> int:
        return len(self._faults)

    def stop_if_any(self) -> None:
        """Raise InputError when something was noted."""
        if self._faults:
            files = list(dict.fromkeys(fault.origin.file for fault in self._faults))
            raise InputError(
                sorted(
                    self._faults,
                    key=lambda fault: (files.index(fault.origin.file), fault.origin.line),
                )
            )


def nearest(name: str, known: Iterable[str], most: int = 2) -> tuple[str, ...]:
    """Return the known names closest to a misspelt one, best first.

    A second name is offered only when it is about as close as the first.

    >>> nearest("turn", ["turns", "turns_front", "feathers"])
    ('turns',)
    """
    from rapidfuzz import fuzz, process

    name, names = name[:200].lower(), list(known)
    found = process.extract(name, names, scorer=fuzz.ratio, limit=most, score_cutoff=_ALIKE)
    if not found:
        # No slip of the finger: perhaps a part of a longer name, such as "partridge".
        longer = [word for word in names if len(word) >= _SHORTEST_PART]
        found = process.extract(
            name, longer, scorer=fuzz.WRatio, limit=most, score_cutoff=_PARTLY_ALIKE
        )
    return tuple(word for word, score, _index in found if score >= found[0][1] - _RIVAL)


def shown(value: object) -> str:
    """Return a value as a message shows it: as its file writes it, cut to a sensible length.

    >>> shown("a" * 80)[-4:]
    "aa…'"
    >>> shown([True, 1.5, {"a": "b"}])
    "[true, 1.5, { a = 'b' }]"
    """
    if isinstance(value, str):
        text = _printable(value[: _SHOWN + 1])
        return f"'{text[:_SHOWN]}…'" if len(text) > _SHOWN else f"'{text}'"
    text = _literal(value)
    return f"{text[:_SHOWN]}…" if len(text) > _SHOWN else text


def _literal(value: object) -> str:
    """Return a TOML value as TOML writes it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        # Python refuses to write out a very long whole number in decimal.
        return str(value) if abs(value) < 10**_SHOWN else f"{value:#x}"
    if isinstance(value, list):
        return "[" + ", ".join(shown(one) for one in value[:_SHOWN]) + "]"
    if isinstance(value, dict):
        pairs = (f"{_printable(str(key))} = {shown(one)}" for key, one in value.items())
        return "{ " + ", ".join(pairs) + " }"
    return _printable(str(value))


def _printable(text: str) -> str:
    return "".join(one if one.isprintable() else "\N{REPLACEMENT CHARACTER}" for one in text)
