"""One record being read: it hands out its fields and notes every fault it meets.

The same class reads a TOML table, whose values have types, and a row of a TSV or CSV table, whose
values are text. Each method returns the value, or a harmless stand-in after noting a fault, so that
one pass finds all faults of a record.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, TypeVar

from variants.model import Origin, plain
from variants.reading.faults import Faults
from variants.text import has_unseen, nearest, shown
from variants.units import UnitError, parse_quantity, registry, unit_names

if TYPE_CHECKING:
    from pint import Quantity

Entry = TypeVar("Entry")
_LARGEST = 1e9
_LONGEST_TEXT = 4000
#: Fewer suggestions are looked up once a file has proved to be another kind of file.
_MOST_SUGGESTIONS = 100
#: As many known words are all told.
_MOST_LISTED = 12
_CELL_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)")
#: What a terminal obeys or what turns text round on the screen; no name needs one.
MEASURE_HELP = 'write a number and a unit, such as "9 mm"'


class Fields:
    """A record's fields.

    Parameters
    ----------
    values : mapping
        Field to value; a blank text counts as not stated. What is no mapping at all is noted as a
        fault, and then has no fields.
    locate : callable
        From a field's name to where it stands.
    faults : Faults
        Where to note what is wrong.
    cells : bool
        Whether the values are cells of a table, where numbers and yes or no are text as well.
    """

    def __init__(
        self,
        values: object,
        locate: Callable[[str], Origin],
        faults: Faults,
        cells: bool = False,
    ) -> None:
        self._values: Mapping[str, object] = values if isinstance(values, Mapping) else {}
        self._locate = locate
        self._faults = faults
        self._cells = cells
        self._asked: set[str] = set()
        if not isinstance(values, Mapping):
            self.wrong("", f"{shown(values)} is not a table of its own", "write name = value in it")

    def origin(self, field: str = "") -> Origin:
        """Return where a field stands, or the record itself."""
        return self._locate(field)

    def wrong(self, field: str, problem: str, remedy: str = "", near: Iterable[str] = ()) -> None:
        """Note a fault of one field."""
        self._faults.add(self._locate(field), problem, remedy, near)

    def has(self, field: str) -> bool:
        """Tell whether the record states the field."""
        self._asked.add(field)
        value = self._values.get(field)
        return bool(value.strip()) if isinstance(value, str) else value is not None

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
        if len(value) > _LONGEST_TEXT:
            remedy = f"keep it under {_LONGEST_TEXT}"
            self.wrong(field, f"the text is {len(value)} characters long", remedy)
            return ""
        if has_unseen(value):
            problem = f"{shown(value)} holds a character that can't be seen"
            self.wrong(field, problem, "type it anew")
            return ""
        return value.strip()

    def words(self, field: str, separator: str = ";") -> tuple[str, ...]:
        """Return a list of texts: an array in TOML, separated text in a table's cell."""
        if not self.has(field):
            return ()
        value = self._values[field]
        words = [value] if isinstance(value, str) else value
        if isinstance(words, Sequence) and any(
            isinstance(word, str) and has_unseen(word) for word in words
        ):
            problem = f"{shown(value)} holds a character that can't be seen"
            self.wrong(field, problem, "type it anew")
            return ()
        if isinstance(value, str):
            return tuple(word.strip() for word in value.split(separator) if word.strip())
        if isinstance(value, Sequence) and all(isinstance(word, str) for word in value):
            return tuple(str(word).strip() for word in value if str(word).strip())
        self.wrong(field, f"{shown(value)} is not a list of texts", f'write {field} = ["…", "…"]')
        return ()

    def number(self, field: str, low: float = -_LARGEST, high: float = _LARGEST) -> float | None:
        """Return a number within bounds, or None when it is not stated."""
        return self._number(field, low, high, "number")

    def whole(self, field: str, low: int, high: int) -> int | None:
        """Return a whole number within bounds, or None when it is not stated."""
        number = self._number(field, low, high, "whole number")
        if number is None:
            return None
        if number != int(number):
            self.wrong(
                field,
                f"{shown(self._values[field])} is not a whole number",
                f"write a whole number from {low} to {high}",
            )
            return None
        return int(number)

    def _number(self, field: str, low: float, high: float, what: str) -> float | None:
        if not self.has(field):
            return None
        value = self._values[field]
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        if self._cells and isinstance(value, str):
            is_number = _CELL_NUMBER.fullmatch(value.strip()) is not None
        if not is_number:
            remedy = f"write a {what}" + ("" if self._cells else " without quotation marks")
            self.wrong(field, f"{shown(value)} is not a number", remedy)
            return None
        try:
            number = float(str(value)) if isinstance(value, str) else float(value)  # type: ignore[arg-type]
        except OverflowError:
            number = math.inf
        # Written so that "not a number" is out of range too.
        if not low <= number <= high:
            self.wrong(
                field, f"{shown(value)} is out of range", f"write a {what} from {low:g} to {high:g}"
            )
            return None
        return number

    def flag(self, field: str, default: bool | None = None) -> bool | None:
        """Return true or false (``y`` or ``n`` in a table's cell)."""
        if not self.has(field):
            return default
        value = self._values[field]
        if self._cells and value in ("y", "n"):
            return value == "y"
        if isinstance(value, bool):
            return value
        remedy = "write y or n" if self._cells else "write true or false"
        self.wrong(field, f"{shown(value)} is neither yes nor no", remedy)
        return default

    def choice(self, field: str, known: Iterable[str], default: str | None = "") -> str:
        """Return one of the known words."""
        known = tuple(known)
        if default is None and not self.has(field) and len(known) <= _MOST_LISTED:
            told = ", ".join(known)
            self.wrong(field, f"the {field} is missing", f"write one of: {told}")
            return ""
        value = self.text(field, default)
        if value and value not in known:
            self.wrong(
                field,
                f"{shown(value)} is not known here",
                "write one of: " + ", ".join(known) if len(known) <= _MOST_LISTED else "",
                nearest(value, known),
            )
            return default or ""
        return value

    def entry(self, field: str, names: Mapping[str, Entry], what: str) -> Entry | None:
        """Return the table entry that a name refers to, or None after noting a fault."""
        value = self.text(field)
        return self.lookup(field, value, names, what) if value else None

    def lookup(self, field: str, name: str, names: Mapping[str, Entry], what: str) -> Entry | None:
        """Return the entry of that name, noting an unknown one with its nearest names."""
        found = names.get(plain(name))
        if found is None:
            self.wrong(
                field,
                f"{shown(name)} is no {what} that the tables know",
                f"name a {what} of the tables, or add one to your own rules folder",
                self._near_entries(plain(name), names),
            )
        return found

    def _near_entries(self, name: str, names: Mapping[str, Entry]) -> tuple[str, ...]:
        """Return the nearest names, one an entry."""
        if len(self._faults) > _MOST_SUGGESTIONS:
            return ()
        return _one_each(nearest(name, names, most=6), lambda word: id(names[word]))

    def quantity(self, field: str, remedy: str = MEASURE_HELP) -> Quantity[float] | None:
        """Return a measure with its unit, or None when it is not stated or wrong."""
        return self.measured(field, parse_quantity, remedy)

    def measured(self, field: str, parse: Callable[[str], Entry], remedy: str) -> Entry | None:
        """Return what `parse` makes of a text, or None after noting why it makes nothing of it."""
        text = self.text(field)
        if not text:
            return None
        try:
            return parse(text)
        except UnitError as problem:
            alike = nearest(problem.unit, unit_names(), most=6) if problem.unit else ()
            near = _one_each(alike, registry().get_name)
            self.wrong(field, str(problem), remedy, near)
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


def _one_each(names: Iterable[str], meaning: Callable[[str], object]) -> tuple[str, ...]:
    """Return the first two names that do not mean the same."""
    found: dict[object, str] = {}
    for name in names:
        found.setdefault(meaning(name), name)
    return tuple(found.values())[:2]
