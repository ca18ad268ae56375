"""The last few values made, by key: each made once, however many ask for it together."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock, RLock
from typing import Generic, TypeVar

Value = TypeVar("Value")


class Remembered(Generic[Value]):
    """The last few values made, by key; a value that several ask for at once is made once."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._values: OrderedDict[Hashable, Value] = OrderedDict()
        self._making: dict[Hashable, tuple[RLock, int]] = {}
        self._lock = Lock()

    def get(self, key: Hashable, make: Callable[[], Value]) -> Value:
        """Return the value of a key, made now unless it is remembered."""
        with self._lock:
            if key in self._values:
                self._values.move_to_end(key)
                return self._values[key]
            own, waiting = self._making.get(key, (RLock(), 0))
            self._making[key] = own, waiting + 1
        try:
            with own:
                with self._lock:
                    if key in self._values:
                        return self._values[key]
                value = make()
                with self._lock:
                    self._values[key] = value
                    while len(self._values) > self._most:
                        self._values.popitem(last=False)
                return value
        finally:
            with self._lock:
                own, waiting = self._making[key]
                if waiting == 1:
                    del self._making[key]
                else:
                    self._making[key] = own, waiting - 1
