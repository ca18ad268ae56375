"""The pages' templates and their one stylesheet; every value in a page is escaped."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from variants.pictures.charts import tokens_css

if TYPE_CHECKING:
    from jinja2 import Environment

_HERE = "variants.web.documents"


def packaged(name: str) -> str:
    """Return a file that comes with the pages."""
    return (files(_HERE) / name).read_text(encoding="utf-8")


def stylesheet() -> str:
    """Return the stylesheet that all pages share, its tokens first."""
    return tokens_css() + packaged("style.css")


def page(name: str, **values: object) -> str:
    """Return a page from its template; what is to stand unescaped comes as Markup."""
    return _environment().get_template(name).render(**values)


@cache
def _environment() -> Environment:
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    return Environment(
        loader=FunctionLoader(packaged),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        keep_trailing_newline=True,
    )
