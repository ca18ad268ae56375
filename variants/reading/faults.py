"""What can be wrong with an input, as values: collected, located, shown by one function.

A fault says what is wrong, where, what would be right, and the nearest known name. Readers collect
all faults of a stage in a `Faults` and stop before the next stage.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from variants.model import Origin
from variants.text import did_you_mean, printable

_SHOWN_FAULTS = 40
_LONGEST_FILE_NAME = 240
_MOST_FAULTS = 1000


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
        where = printable(str(self.origin))
        if len(where) > _LONGEST_FILE_NAME:
            where = f"…{where[-_LONGEST_FILE_NAME:]}"
        where += f": {printable(self.origin.field)}" if self.origin.field else ""
        lines = [f"{where}: {printable(self.problem)}"]
        if self.remedy:
            lines.append(f"  help: {printable(self.remedy)}")
        if self.near:
            lines.append(f"  {did_you_mean(self.near)}")
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
