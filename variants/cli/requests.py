"""What the options of several commands ask: sizes, water, what is missing, what must stay."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import click

from variants.cli.answers import refusing_words
from variants.cli.gathering import gather

if TYPE_CHECKING:
    from variants.design import Request
    from variants.model import Box, Dressing
    from variants.rulebook import Rulebook


@dataclass(frozen=True, slots=True)
class RequestOptions:
    """The words of a command about one dressing and one box, as they were typed.

    Attributes
    ----------
    sizes : str or None
        Such as ``14`` or ``12-16``.
    water : str or None
    missing, keep : tuple of str
    max_changes : int or None
    """

    sizes: str | None = None
    water: str | None = None
    missing: tuple[str, ...] = ()
    keep: tuple[str, ...] = ()
    max_changes: int | None = None

    def request(self, base: Dressing, box: Box, rulebook: Rulebook) -> Request:
        """Return what is asked about a dressing and a box.

        Raises
        ------
        click.BadParameter
            When a word is not known, with the nearest that is.
        """
        from variants.design import request_from_words

        with refusing_words():
            return request_from_words(
                base,
                box,
                rulebook.trade,
                sizes=self.sizes or (),
                water=self.water,
                missing=self.missing,
                keep=self.keep,
                max_changes=self.max_changes,
            )


def request_options(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command the options of `RequestOptions`, handed to it as ``asked``."""

    options = (
        click.option("--size", "--sizes", "sizes", help="Hook sizes to tie, such as 14 or 12-16."),
        click.option("--water", help="How fast the water runs: slow, medium or fast."),
        click.option("--missing", multiple=True, help="A part, item or material that is gone."),
        click.option("--keep", multiple=True, help="A part that must stay as written."),
        click.option("--max-changes", type=click.IntRange(0), help="How many parts may change."),
    )
    given: Callable[..., None] = gather(RequestOptions, "asked")(command)
    for option in reversed(options):
        given = option(given)
    return given
