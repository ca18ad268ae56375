"""What the page says no to, as one exception that every page may raise."""

from __future__ import annotations

from collections.abc import Iterable
from http import HTTPStatus

from variants.reading import InputError
from variants.text import did_you_mean, nearest


class RequestError(Exception):
    """A request is not answered; the reader is told what is wrong and what would be right.

    Attributes
    ----------
    status : HTTPStatus
    problem, remedy : str
        Plain sentences.
    """

    def __init__(self, status: HTTPStatus, problem: str, remedy: str = "") -> None:
        super().__init__(problem)
        self.status, self.problem, self.remedy = status, problem, remedy


def bad_field(field: str, problem: str, remedy: str = "") -> RequestError:
    """Return the refusal of one field of a link or a form."""
    return RequestError(HTTPStatus.BAD_REQUEST, f"{field}: {problem}", remedy)


def not_found(what: str, remedy: str) -> RequestError:
    """Return the refusal of something that is asked for and does not exist."""
    return RequestError(HTTPStatus.NOT_FOUND, what, remedy)


def timed_out() -> RequestError:
    """Return the refusal of a question that could not be answered in the time a page has."""
    return RequestError(
        HTTPStatus.SERVICE_UNAVAILABLE,
        "This question takes longer than a page may.",
        "Ask for one hook size, or fewer things in one part; flykin propose takes its time.",
    )


def near_hint(name: str, known: Iterable[str]) -> str:
    """Return the sentence that offers known names near to one; empty where none is near."""
    return offer_near(nearest(name, known))


def offer_near(near: Iterable[str]) -> str:
    """Return the sentence that offers some names, or an empty one."""
    hint = did_you_mean(near)
    return f"{hint[:1].upper()}{hint[1:]}"


def fault_lines(problem: InputError) -> list[str]:
    """Return the faults of a file, a line each, as the commands show them."""
    return str(problem).splitlines()
