"""Options of a command gathered into a dataclass, so that a misspelt one is a type error."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields
from functools import wraps
from typing import Any


def gather(group: type[Any], name: str = "options") -> Callable[..., Any]:
    """Return a decorator: options called as a dataclass's fields come as one value of it.

    Parameters
    ----------
    group : dataclass
        Its fields bear the names that click gives the options.
    name : str
        Of the argument that the command takes it by.
    """
    names = [field.name for field in fields(group)]

    def decorate(command: Callable[..., None]) -> Callable[..., None]:
        @wraps(command)
        def run(**given: object) -> None:
            gathered = group(**{one: given.pop(one) for one in names})
            command(**given, **{name: gathered})

        return run

    return decorate
