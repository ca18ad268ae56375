"""Forms that must not be done twice: each carries a mark of its own, and a mark works once."""

from __future__ import annotations

import secrets
from collections import OrderedDict
from threading import Lock

_REMEMBERED = 4000


class Once:
    """The marks that were used, the last few thousand of them."""

    def __init__(self) -> None:
        self._used: OrderedDict[str, None] = OrderedDict()
        self._lock = Lock()

    def fresh(self) -> str:
        """Return a mark for a form."""
        return secrets.token_urlsafe(12)

    def use(self, mark: str) -> bool:
        """Tell whether a mark is used for the first time; from now on it is used.

        Examples
        --------
        >>> once = Once()
        >>> mark = once.fresh()
        >>> once.use(mark), once.use(mark)
        (True, False)
        """
        with self._lock:
            if mark in self._used:
                return False
            self._used[mark] = None
            while len(self._used) > _REMEMBERED:
                self._used.popitem(last=False)
            return True

    def give_back(self, mark: str) -> None:
        """Let a mark be used again: what it stood for could not be done."""
        with self._lock:
            self._used.pop(mark, None)
