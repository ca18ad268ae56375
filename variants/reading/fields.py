"""One record being read: it hands out its fields and notes every fault it meets.

The same class reads a TOML table, whose values have types, and a row of a TSV or CSV table, whose
values are text. Each method returns the value, or a harmless stand-in after noting a fault, so that
one pass finds all faults of a record.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, TypeVar

from variants.model import Origin, plain
from variants.reading.faults import Faults, nearest, shown
from variants.units import UnitError, denier, millimetres, parse_quantity, parse_range

if TYPE_CHECKING:
    from pint import Quantity

Entry = TypeVar("Entry")
_LARGEST = 1e9
_LONGEST_NAME = 200


class Fields:
    """A record's fields.

    Parameters
    ----------
    values : mapping
        Field to value; an empty text counts as not stated.
    locate : callable
        From a field's name to where it stands.
    faults : Faults
        Where to note what is wrong.
    """

    def __init__(
        self, values: Mapping[str, object], locate: Callable[[str], Origin], faults: Faults
    ) -> None:
        self._values = values
        self._locate = locate
        self._faults = faults
        self._asked: set[str] = set()

    def origin(self, field: str = "") -> Origin:
        """Return where a field stands, or the record itself."""
        return self._locate(field)

    def wrong(self, field: str, problem: str, remedy: str = "", near: Iterable[str] = ()) -> None:
        """Note a fault of one field."""
        self._faults.add(self._locate(field), problem, remedy, near)

    def has(self, field: str) -> bool:
        """Tell whether the record states the field."""
        self._asked.add(field)
        return self._values.get(field) not in (None, "")

    def raw(self, field: str) -> object:
        """Return the value as it was read, or None."""
        self._asked.add(field)
        return self._values.get(field)

    def text(self, field: str, default: str | None = "") -> str:
        """Return a text; ``default=None`` makes the field one that must be there."""
        if not self.has(field):
            if default is None:
                self.wrong(field, f"the {field} is missing", f"state the {field}")
            return default or ""
        value = self._values[field]
        if not isinstance(value, str):
            self.wrong(field, f"{shown(value)} is not a text", f'write {field} = "…"')
            return ""
        if len(value) > _LONGEST_NAME * 20:
            self.wrong(field, f"the text is {len(value)} characters long", "shorten it")
            return ""
        return value.strip()

    def words(self, field: str, separator: str = ";") -> tuple[str, ...]:
        """Return a list of texts: an array in TOML, separated text in a table's cell."""
        if not self.has(field):
            return ()
        value = self._values[field]
        if isinstance(value, str):
            return tuple(word.strip() for word in value.split(separator) if word.strip())
        if isinstance(value, Sequence) and all(isinstance(word, str) for word in value):
            return tuple(str(word).strip() for word in value)
        self.wrong(field, f"{shown(value)} is not a list of texts", f'write {field} = ["…", "…"]')
        return ()

    def number(
        self, field: str, low: float = -_LARGEST, high: float = _LARGEST
    ) -> float | None:
        """Return a number within bounds, or None when it is not stated."""
        if not self.has(field):
            return None
        value = self._values[field]
        try:
            if isinstance(value, bool) or not isinstance(value, int | float | str):
                raise ValueError
            number = float(value)
        except (ValueError, OverflowError):
            self.wrong(field, f"{shown(value)} is not a number", "write a number such as 1.5")
            return None
        if not math.isfinite(number) or not low <= number <= high:
            self.wrong(
                field, f"{shown(value)} is out of range", f"write a number from {low:g} to {high:g}"
            )
            return None
        return number

    def whole(self, field: str, low: int, high: int) -> int | None:
        """Return a whole number within bounds, or None when it is not stated."""
        number = self.number(field, low, high)
        if number is None:
            return None
        if number != int(number):
            self.wrong(field, f"{number:g} is not a whole number", f"write one from {low} to {high}")
            return None
        return int(number)

    def flag(self, field: str, default: bool | None = None) -> bool | None:
        """Return true or false (``y`` or ``n`` in a table's cell)."""
        if not self.has(field):
            return default
        value = self._values[field]
        answers: dict[object, bool] = {"y": True, "n": False, True: True, False: False}
        if isinstance(value, str | bool) and value in answers:
            return answers[value]
        self.wrong(field, f"{shown(value)} is neither yes nor no", "write true or false")
        return default

    def choice(self, field: str, known: Iterable[str], default: str | None = "") -> str:
        """Return one of the known words."""
        value = self.text(field, default)
        known = tuple(known)
        if value and value not in known:
            self.wrong(
                field,
                f"{shown(value)} is not known here",
                "write one of: " + ", ".join(known) if len(known) <= 12 else "",
                nearest(value, known),
            )
            return default or ""
        return value

    def entry(self, field: str, names: Mapping[str, Entry], what: str) -> Entry | None:
        """Return the table entry that a name refers to, or None after noting a fault."""
        value = self.text(field)
        return self.lookup(field, value, names, what) if value else None

    def lookup(
        self, field: str, name: str, names: Mapping[str, Entry], what: str
    ) -> Entry | None:
        """Return the entry of that name, noting an unknown one with its nearest names."""
        found = names.get(plain(name))
        if found is None:
            self.wrong(
                field,
                f"{shown(name)} is no {what} that the tables know",
                f"name a {what} of the tables, or add one to your own rules folder",
                nearest(plain(name), names),
            )
        return found

    def quantity(self, field: str) -> Quantity | None:
        """Return a measure with its unit, or None when it is not stated or wrong."""
        text = self.text(field)
        if not text:
            return None
        try:
            return parse_quantity(text)
        except UnitError as problem:
            self.wrong(field, str(problem), 'write a number and a unit, such as "9 mm"')
            return None

    def length_range_mm(self, field: str) -> tuple[float, float] | None:
        """Return shortest and longest in mm from ``"6-8 mm"`` or ``"7 mm"``."""
        text = self.text(field)
        if not text:
            return None
        try:
            low, high = (millimetres(bound) for bound in parse_range(text))
        except UnitError as problem:
            self.wrong(field, str(problem), 'write a length such as "7 mm" or "6-8 mm"')
            return None
        if not 0 < low <= high <= 2000:
            self.wrong(field, f"{shown(text)} is out of range", "lengths run from 0 to 2000 mm")
            return None
        return low, high

    def denier(self, field: str) -> float | None:
        """Return a thread's weight in denier from ``"70 denier"`` or ``"8 tex"``."""
        quantity = self.quantity(field)
        if quantity is None:
            return None
        try:
            return denier(quantity)
        except UnitError as problem:
            self.wrong(field, str(problem), 'write a thread weight such as "70 denier"')
            return None

    def finish(self) -> None:
        """Note every field that nobody asked for, with the nearest one that is known."""
        for field in self._values:
            if field not in self._asked:
                self.wrong(
                    field,
                    f"{shown(field)} is not a field here",
                    "known fields: " + ", ".join(sorted(self._asked)),
                    nearest(field, self._asked),
                )
