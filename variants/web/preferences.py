"""The reader's choice of units, and the stylesheet of colours and letters."""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus

from starlette.responses import Response

from variants.web.context import UNITS_COOKIE, Context, get, own_path, post, see_other
from variants.web.errors import RequestError
from variants.web.measures import UNITS
from variants.web.templating import shared_css

_YEAR_S = 365 * 24 * 3600


def choose_units(context: Context, form: Mapping[str, str]) -> Response:
    """Keep the reader's unit of length in a cookie."""
    units = form.get("units", "")
    if units not in UNITS:
        raise RequestError(HTTPStatus.BAD_REQUEST, "Lengths are in mm or inch.", "Choose one.")
    response = see_other(own_path(form.get("back", "/")))
    response.set_cookie(UNITS_COOKIE, units, max_age=_YEAR_S, samesite="strict", httponly=True)
    return response


def send_css(context: Context) -> Response:
    """Send the colours and letters that all pages share."""
    return Response(shared_css(), media_type="text/css")


ROUTES = [get("/static/look.css", send_css), post("/units", choose_units)]
