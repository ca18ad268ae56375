"""A cache with a bounded total weight, least recently used out first; a value is made once."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock, RLock
from typing import Generic, TypeVar

Value = TypeVar("Value")


class Cache(Generic[Value]):
    """Values by key, the least recently used dropped first; threads that ask together wait for one.

    Parameters
    ----------
    most : int
        The most that all values may weigh together; the last one stays, whatever it weighs.
    weigh : callable
        Returns what a value weighs; called once, when the value is made.

    Examples
    --------
    >>> words = Cache(8, len)
    >>> [words.get(word, lambda word=word: word) for word in ("hackle", "tag", "rib")]
    ['hackle', 'tag', 'rib']
    >>> len(words)
    2
    """

    def __init__(self, most: int, weigh: Callable[[Value], int] = lambda value: 1) -> None:
        self._most, self._weigh, self._weight = most, weigh, 0
        self._values: OrderedDict[Hashable, tuple[Value, int]] = OrderedDict()
        self._making: dict[Hashable, tuple[RLock, int]] = {}
        self._lock = Lock()

    def get(self, key: Hashable, make: Callable[[], Value]) -> Value:
        """Return the value of a key; call ``make`` for it unless it is cached."""
        with self._lock:
            if key in self._values:
                self._values.move_to_end(key)
                return self._values[key][0]
            own, waiting = self._making.get(key, (RLock(), 0))
            self._making[key] = own, waiting + 1
        try:
            with own:
                with self._lock:
                    if key in self._values:
                        return self._values[key][0]
                value = make()
                with self._lock:
                    self._keep(key, value)
                return value
        finally:
            with self._lock:
                own, waiting = self._making[key]
                if waiting == 1:
                    del self._making[key]
                else:
                    self._making[key] = own, waiting - 1

    def __len__(self) -> int:
        return len(self._values)

    def _keep(self, key: Hashable, value: Value) -> None:
        weight = self._weigh(value)
        self._values[key] = value, weight
        self._weight += weight
        while self._weight > self._most and len(self._values) > 1:
            _, (_, dropped) = self._values.popitem(last=False)
            self._weight -= dropped
