"""Signing in with the token, where other machines can reach the page."""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus

from starlette.responses import Response

from variants.web.context import Context, get, post, see_other
from variants.web.errors import RequestError
from variants.web.safety import SIGN_IN_PATH


def show_sign_in(context: Context) -> Response:
    """Show the form that asks for the token."""
    return context.page(
        "sign_in.html", title="Token", problem="Give the token to see this page.", remedy=""
    )


def sign_in(context: Context, form: Mapping[str, str]) -> Response:
    """Check the token and set the session cookie; raises `RequestError` for a wrong one."""
    if not context.state.access.is_token(form.get("token", "").strip()):
        raise RequestError(
            HTTPStatus.UNAUTHORIZED,
            "That is not the token.",
            "The token stands in the terminal in which the page was started.",
        )
    response = see_other("/")
    context.state.access.set_session_cookie(response, context.request.headers.get("host", ""))
    return response


ROUTES = [get(SIGN_IN_PATH, show_sign_in), post(SIGN_IN_PATH, sign_in)]
