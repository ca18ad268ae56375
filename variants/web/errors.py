"""What the page says no to, as one exception that every page may raise."""

from __future__ import annotations

from http import HTTPStatus

from variants.reading import InputError


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


def fault_lines(problem: InputError) -> list[str]:
    """Return the faults of a file, a line each, as the commands show them."""
    return str(problem).splitlines()
