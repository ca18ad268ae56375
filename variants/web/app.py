"""The application: pages, refusals and the guard put together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from http import HTTPStatus
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response
from starlette.routing import Mount
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from variants.box import ConflictError
from variants.reading import InputError
from variants.web import (
    box_page,
    buy_page,
    derivation_page,
    design_page,
    doors,
    front_page,
    item_page,
    pictures,
    sheet_page,
    tieable_page,
    tied,
    variant_page,
    whynot_page,
)
from variants.web.answers import Answers
from variants.web.bench import Bench
from variants.web.jobs import Jobs
from variants.web.once import Once
from variants.web.refusals import RefusedError, fault_lines
from variants.web.safety import Guard, Keys
from variants.web.visit import House, Visit

if TYPE_CHECKING:
    from starlette.routing import BaseRoute


@dataclass(frozen=True)
class Settings:
    """What a page is made for.

    Attributes
    ----------
    box : Path or None
    books : sequence of Path
        Folders of dressings, dressing files, files of plain words.
    rules : sequence of Path
        Folders of the user's own rules.
    regions : sequence of Path
        Region files, and folders of them.
    keys : Keys
    """

    box: Path | None = None
    books: Sequence[Path] = ()
    rules: Sequence[Path] = ()
    regions: Sequence[Path] = ()
    keys: Keys = field(default_factory=Keys)


def make_app(settings: Settings) -> Starlette:
    """Return the application, ready to be served.

    Raises
    ------
    InputError
        When the rules can't be read. A box or book that can't be read is told on the pages, where
        it can be put right without starting again.
    """
    bench = Bench(settings.box, settings.books, settings.rules, settings.regions)
    _ = bench.trade
    house = House(bench, Answers(bench), Jobs(), Once(), settings.keys)
    app = Starlette(
        routes=_routes(),
        middleware=[Middleware(Guard, keys=settings.keys, trouble=_trouble_page)],
        exception_handlers={
            RefusedError: _refused,
            InputError: _input_refused,
            HTTPException: _not_served,
            ClientDisconnect: _gone,
            Exception: _our_fault,
        },
    )
    app.state.house = house
    return app


def _routes() -> list[BaseRoute]:
    static = StaticFiles(directory=str(files("variants.web") / "static"))
    return [
        *front_page.ROUTES,
        *design_page.ROUTES,
        *pictures.ROUTES,
        *variant_page.ROUTES,
        *derivation_page.ROUTES,
        *whynot_page.ROUTES,
        *tieable_page.ROUTES,
        *buy_page.ROUTES,
        *sheet_page.ROUTES,
        *box_page.ROUTES,
        *item_page.ROUTES,
        *tied.ROUTES,
        *doors.ROUTES,
        Mount("/static", static),
    ]


def _trouble(
    visit: Visit, status: int, problem: str, remedy: str = "", lines: Sequence[str] = ()
) -> Response:
    """Return the page that tells what is wrong."""
    try:
        title = HTTPStatus(status).phrase
    except ValueError:
        title = "Trouble"
    template = "entrance.html" if status == HTTPStatus.UNAUTHORIZED else "trouble.html"
    response = visit.page(
        template, status=status, title=title, problem=problem, remedy=remedy, lines=lines
    )
    if status == HTTPStatus.SERVICE_UNAVAILABLE:
        response.headers["retry-after"] = "5"
    return response


def _trouble_page(scope: Scope, refused: RefusedError) -> Response:
    visit = Visit(scope["app"].state.house, Request(scope))
    return _trouble(visit, refused.status, refused.problem, refused.remedy)


def _visit(request: Request) -> Visit:
    return Visit(request.app.state.house, request)


async def _refused(request: Request, problem: Exception) -> Response:
    assert isinstance(problem, RefusedError)
    return _trouble(_visit(request), problem.status, problem.problem, problem.remedy)


async def _input_refused(request: Request, problem: Exception) -> Response:
    assert isinstance(problem, InputError)
    status, told = HTTPStatus.UNPROCESSABLE_ENTITY, "Nothing was written."
    if isinstance(problem, ConflictError):
        status = HTTPStatus.CONFLICT
        told = "Nothing was written: the box is another one by now than the page showed."
    elif request.method != "POST":
        told = "A file can't be read. Put it right and load this page again."
    return _trouble(_visit(request), status, told, lines=fault_lines(problem))


async def _not_served(request: Request, problem: Exception) -> Response:
    assert isinstance(problem, HTTPException)
    if problem.status_code == HTTPStatus.NOT_FOUND:
        return _trouble(
            _visit(request), problem.status_code, "There is no such page.", "Start from the list."
        )
    if problem.status_code == HTTPStatus.METHOD_NOT_ALLOWED:
        told = "This link is a form's: it does nothing by being opened."
        return _trouble(_visit(request), problem.status_code, told, "Start from the list.")
    return _trouble(_visit(request), problem.status_code, problem.detail)


async def _gone(request: Request, problem: Exception) -> Response:
    """Answer who hung up in the middle of a form: nobody reads it."""
    return Response(status_code=HTTPStatus.BAD_REQUEST)


async def _our_fault(request: Request, problem: Exception) -> Response:
    told = f"Something went wrong inside Flykin: {type(problem).__name__}."
    return _trouble(
        _visit(request),
        HTTPStatus.INTERNAL_SERVER_ERROR,
        told,
        "Nothing was written. Please report what you did.",
    )
