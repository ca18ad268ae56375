"""Pages from templates: everything told is escaped, lengths are in the unit that was chosen."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from markupsafe import Markup
from starlette.responses import HTMLResponse

from variants import __version__
from variants.explain.wording import departure_words, pluralize
from variants.text import printable
from variants.web.measures import MM, length_words

if TYPE_CHECKING:
    from jinja2 import Environment


@cache
def templates() -> Environment:
    """Return the templates, read from the package; what is missing in them is an error."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    made = Environment(
        loader=PackageLoader("variants.web", "templates"),
        autoescape=True,
        auto_reload=False,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_shown,
    )
    made.filters |= {"departure": departure_words, "counted": pluralize}
    return made


def _shown(value: object) -> object:
    """Return a value as a page shows it: nothing that can't be seen or turns text round."""
    if isinstance(value, str) and not isinstance(value, Markup):
        return "\n".join(map(printable, value.replace("\r\n", "\n").split("\n")))
    return value


def render_page(
    template: str,
    values: Mapping[str, Any],
    *,
    status: int = 200,
    units: str = MM,
    csrf_token: str = "",
) -> HTMLResponse:
    """Return a page.

    Parameters
    ----------
    template : str
    values : mapping
    status : int
    units : str
        ``mm`` or ``inch``.
    csrf_token : str
        For the forms on the page.
    """
    text = (
        templates()
        .get_template(template)
        .render(
            units=units,
            csrf_token=csrf_token,
            version=__version__,
            stamp=static_version(),
            length=lambda mm: length_words(mm, units),
            **values,
        )
    )
    return HTMLResponse(text, status)


def shared_css() -> str:
    """Return the stylesheet of the colours and letters that all our pages share."""
    from variants.pictures.charts import tokens_css

    return tokens_css()


@cache
def static_version() -> str:
    """Return a digest of style and script, so that a browser fetches them anew when they change."""
    import hashlib

    folder = files("variants.web") / "static"
    content = shared_css().encode() + b"".join(
        one.read_bytes() for one in sorted(folder.iterdir(), key=lambda f: f.name)
    )
    return hashlib.sha256(content).hexdigest()[:12]
