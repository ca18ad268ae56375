"""One-time form tokens: a form that is sent twice acts once."""

from __future__ import annotations

import secrets
from collections import OrderedDict
from threading import Lock

_MOST_USED = 4000


class FormTokens:
    """Issues one-time tokens and remembers the last few thousand that were used."""

    def __init__(self) -> None:
        self._used: OrderedDict[str, None] = OrderedDict()
        self._lock = Lock()

    def issue(self) -> str:
        """Return a new token, for a hidden field of a form."""
        return secrets.token_urlsafe(12)

    def use(self, token: str) -> bool:
        """Mark a token as used; return False where it was used before.

        Examples
        --------
        >>> tokens = FormTokens()
        >>> token = tokens.issue()
        >>> tokens.use(token), tokens.use(token)
        (True, False)
        """
        with self._lock:
            if token in self._used:
                return False
            self._used[token] = None
            while len(self._used) > _MOST_USED:
                self._used.popitem(last=False)
            return True

    def restore(self, token: str) -> None:
        """Let a token be used again, where the form's work failed."""
        with self._lock:
            self._used.pop(token, None)
