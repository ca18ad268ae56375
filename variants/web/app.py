"""The application: routes, error pages and the access middleware put together."""

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
    auth,
    box_page,
    buy_page,
    derivation_page,
    design_page,
    front_page,
    item_page,
    pictures,
    preferences,
    sheet_page,
    tieable_page,
    variant_page,
    whynot_page,
    write_off,
)
from variants.web.answers import Answers
from variants.web.context import AppState, Context
from variants.web.errors import RequestError, fault_lines
from variants.web.form_tokens import FormTokens
from variants.web.jobs import Jobs
from variants.web.safety import AccessMiddleware, AccessPolicy
from variants.web.sources import Sources

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
    access : AccessPolicy
    """

    box: Path | None = None
    books: Sequence[Path] = ()
    rules: Sequence[Path] = ()
    regions: Sequence[Path] = ()
    access: AccessPolicy = field(default_factory=AccessPolicy)


def make_app(settings: Settings) -> Starlette:
    """Return the application, ready to be served.

    Raises
    ------
    InputError
        When the rules can't be read. A box or book that can't be read is told on the pages, where
        it can be put right without starting again.
    """
    sources = Sources(settings.box, settings.books, settings.rules, settings.regions)
    _ = sources.trade
    shared = AppState(sources, Answers(sources), Jobs(), FormTokens(), settings.access)
    app = Starlette(
        routes=_routes(),
        middleware=[
            Middleware(AccessMiddleware, access=settings.access, error_page=_error_page_for)
        ],
        exception_handlers={
            RequestError: _refused,
            InputError: _input_refused,
            HTTPException: _not_served,
            ClientDisconnect: _gone,
            Exception: _our_fault,
        },
    )
    app.state.shared = shared
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
        *write_off.ROUTES,
        *auth.ROUTES,
        *preferences.ROUTES,
        Mount("/static", static),
    ]


def _error_page(
    context: Context, status: int, problem: str, remedy: str = "", lines: Sequence[str] = ()
) -> Response:
    """Return the page that tells what is wrong."""
    try:
        title = HTTPStatus(status).phrase
    except ValueError:
        title = "Trouble"
    template = "sign_in.html" if status == HTTPStatus.UNAUTHORIZED else "error.html"
    response = context.page(
        template, status=status, title=title, problem=problem, remedy=remedy, lines=lines
    )
    if status == HTTPStatus.SERVICE_UNAVAILABLE:
        response.headers["retry-after"] = "5"
    return response


def _error_page_for(scope: Scope, refused: RequestError) -> Response:
    context = Context(scope["app"].state.shared, Request(scope))
    return _error_page(context, refused.status, refused.problem, refused.remedy)


def _context(request: Request) -> Context:
    return Context(request.app.state.shared, request)


async def _refused(request: Request, problem: Exception) -> Response:
    assert isinstance(problem, RequestError)
    return _error_page(_context(request), problem.status, problem.problem, problem.remedy)


async def _input_refused(request: Request, problem: Exception) -> Response:
    assert isinstance(problem, InputError)
    status, told = HTTPStatus.UNPROCESSABLE_ENTITY, "Nothing was written."
    if isinstance(problem, ConflictError):
        status = HTTPStatus.CONFLICT
        told = "Nothing was written: the box is another one by now than the page showed."
    elif request.method != "POST":
        told = "A file can't be read. Put it right and load this page again."
    return _error_page(_context(request), status, told, lines=fault_lines(problem))


async def _not_served(request: Request, problem: Exception) -> Response:
    assert isinstance(problem, HTTPException)
    if problem.status_code == HTTPStatus.NOT_FOUND:
        return _error_page(
            _context(request), problem.status_code, "There is no such page.", "Start from the list."
        )
    if problem.status_code == HTTPStatus.METHOD_NOT_ALLOWED:
        told = "This link is a form's: it does nothing by being opened."
        return _error_page(_context(request), problem.status_code, told, "Start from the list.")
    return _error_page(_context(request), problem.status_code, problem.detail)


async def _gone(request: Request, problem: Exception) -> Response:
    """Answer who hung up in the middle of a form: nobody reads it."""
    return Response(status_code=HTTPStatus.BAD_REQUEST)


async def _our_fault(request: Request, problem: Exception) -> Response:
    told = f"Something went wrong inside Flykin: {type(problem).__name__}."
    return _error_page(
        _context(request),
        HTTPStatus.INTERNAL_SERVER_ERROR,
        told,
        "Nothing was written. Please report what you did.",
    )
