"""The token at the door, where other machines can reach the page; and the choice of units."""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus

from starlette.responses import Response

from variants.web.measures import UNITS
from variants.web.paper import look
from variants.web.refusals import RefusedError
from variants.web.safety import ENTRANCE
from variants.web.visit import UNITS_COOKIE, Visit, acts, own_path, see_other, shows

_YEAR_S = 365 * 24 * 3600


def entrance(visit: Visit) -> Response:
    """Show the form that asks for the token."""
    return visit.page(
        "entrance.html", title="Token", problem="Give the token to see this page.", remedy=""
    )


def enter(visit: Visit, form: Mapping[str, str]) -> Response:
    """Let in who gives the token."""
    if not visit.house.keys.is_token(form.get("token", "").strip()):
        raise RefusedError(
            HTTPStatus.UNAUTHORIZED,
            "That is not the token.",
            "The token stands in the terminal in which the page was started.",
        )
    response = see_other("/")
    visit.house.keys.let_in(response, visit.request.headers.get("host", ""))
    return response


def choose_units(visit: Visit, form: Mapping[str, str]) -> Response:
    """Remember the reader's unit of length, in the reader's own browser."""
    units = form.get("units", "")
    if units not in UNITS:
        raise RefusedError(HTTPStatus.BAD_REQUEST, "Lengths are in mm or inch.", "Choose one.")
    response = see_other(own_path(form.get("back", "/")))
    response.set_cookie(UNITS_COOKIE, units, max_age=_YEAR_S, samesite="strict", httponly=True)
    return response


def look_of_pages(visit: Visit) -> Response:
    """Send the colours and letters that all pages share."""
    return Response(look(), media_type="text/css")


ROUTES = [
    shows("/static/look.css", look_of_pages),
    shows(ENTRANCE, entrance),
    acts(ENTRANCE, enter),
    acts("/units", choose_units),
]
