"""The context of one request, and how pages become routes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from http import HTTPStatus
from typing import Any

from anyio import fail_after
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from variants.web.answers import Answers
from variants.web.errors import RequestError
from variants.web.form_tokens import FormTokens
from variants.web.jobs import Jobs
from variants.web.measures import MM, UNITS
from variants.web.question import Question
from variants.web.safety import AccessPolicy
from variants.web.sources import Sources
from variants.web.templating import render_page
from variants.web.work_queue import WorkQueue

UNITS_COOKIE = "flykin_units"
CSRF_FIELD = "csrf_token"
#: More fields than any form of ours has.
_MOST_FIELDS = 60
#: Within this time a form has to be there as a whole.
_FORM_S = 20.0


@dataclass(frozen=True)
class AppState:
    """What all requests share: files, answers, background work, form tokens, access, the queue."""

    sources: Sources
    answers: Answers
    jobs: Jobs
    form_tokens: FormTokens
    access: AccessPolicy
    work_queue: WorkQueue = field(default_factory=WorkQueue)


@dataclass(frozen=True)
class Context:
    """One request, with the state that all requests share."""

    state: AppState
    request: Request

    @property
    def sources(self) -> Sources:
        """The files the pages rest on."""
        return self.state.sources

    @property
    def answers(self) -> Answers:
        """The answers."""
        return self.state.answers

    @property
    def units(self) -> str:
        """The unit of lengths that this reader has chosen."""
        chosen = self.request.cookies.get(UNITS_COOKIE, MM)
        return chosen if chosen in UNITS else MM

    @cached_property
    def question(self) -> Question:
        """The question in the link; raises `RequestError`."""
        return Question.read(self._pairs())

    def question_and(self, *names: str) -> tuple[Question, dict[str, str]]:
        """Return the question and fields of the link that are a page's own, each given once."""
        pairs = self._pairs()
        own = {name: value for name, value in pairs if name in names}
        return Question.read([pair for pair in pairs if pair[0] not in names]), own

    def fields(self, *names: str) -> dict[str, str]:
        """Return the fields of a link that holds no question; refuse others."""
        pairs = self._pairs()
        for name, _ in pairs:
            if name not in names:
                raise RequestError(
                    HTTPStatus.BAD_REQUEST, f"“{name[:60]}” is no field of this link.", ""
                )
        return dict(pairs)

    def _pairs(self) -> list[tuple[str, str]]:
        return list(self.request.query_params.multi_items())

    def page(self, template: str, *, status: int = 200, **values: Any) -> Response:
        """Return a page from a template."""
        path = self.request.url.path
        query = self.request.url.query
        here = f"{path}?{query}" if query else path
        values = {
            "has_box": self.sources.box_path is not None,
            "path": path,
            "here": here,
            **values,
        }
        return render_page(
            template,
            values,
            status=status,
            units=self.units,
            csrf_token=self.state.access.csrf_token,
        )


GetPage = Callable[[Context], Response]
PostForm = Callable[[Context, Mapping[str, str]], Response]


def get(path: str, page: GetPage, *, is_work: bool = False) -> Route:
    """Return the GET route of a page; one that searches or draws waits in the queue."""

    async def endpoint(request: Request) -> Response:
        context = Context(request.app.state.shared, request)
        return await _run(context, lambda: page(context), is_work)

    return Route(path, endpoint, methods=["GET"], name=path)


def post(path: str, handle: PostForm, *, is_work: bool = False) -> Route:
    """Return the POST route of a form, which has to carry this run's CSRF token."""

    async def endpoint(request: Request) -> Response:
        context = Context(request.app.state.shared, request)
        form = await _form(request)
        fields = {name: value for name, value in form.multi_items() if isinstance(value, str)}
        if not context.state.access.is_csrf_token(fields.pop(CSRF_FIELD, "")):
            raise RequestError(
                HTTPStatus.FORBIDDEN,
                "This form is from before the page was last started.",
                "Go back, load the page again and send it once more. Nothing was done.",
            )
        return await _run(context, lambda: handle(context, fields), is_work)

    return Route(path, endpoint, methods=["POST"], name=f"POST {path}")


async def _run(context: Context, work: Callable[[], Response], is_work: bool) -> Response:
    if is_work:
        return await context.state.work_queue.run(context.request, work)
    return await run_in_threadpool(work)


async def _form(request: Request) -> FormData:
    try:
        with fail_after(_FORM_S):
            return await request.form(max_files=0, max_fields=_MOST_FIELDS)
    except TimeoutError:
        problem = f"The form did not arrive within {_FORM_S:.0f} seconds."
        raise RequestError(
            HTTPStatus.REQUEST_TIMEOUT, problem, "Send it again. Nothing was done."
        ) from None


def see_other(link: str) -> Response:
    """Return the answer that leads a browser to another page of ours."""
    return RedirectResponse(link, HTTPStatus.SEE_OTHER)


def own_path(link: str) -> str:
    """Return a link when it leads to a page of ours, else the first page: no form leads away."""
    is_ours = link.startswith("/") and not link.startswith(("//", "/\\")) and link.isprintable()
    return link if is_ours else "/"
