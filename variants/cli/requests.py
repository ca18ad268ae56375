"""What the options of several commands ask: sizes, water, what is missing, what must stay."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

import click

from variants.cli.answers import hook_sizes, known_word, near_hint

if TYPE_CHECKING:
    from variants.design import Request
    from variants.model import Box, Dressing
    from variants.rulebook import Rulebook


def request_options(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command the options that `request_of` reads."""
    options = (
        click.option("--size", "--sizes", "sizes", help="Hook sizes to tie, such as 14 or 12-16."),
        click.option("--water", help="How fast the water runs: slow, medium or fast."),
        click.option("--missing", multiple=True, help="A part, item or material that is gone."),
        click.option("--keep", multiple=True, help="A part that must stay as written."),
        click.option("--max-changes", type=click.IntRange(0), help="How many parts may change."),
    )
    for option in reversed(options):
        command = option(command)
    return command


def request_of(base: Dressing, box: Box, rulebook: Rulebook, options: Mapping[str, Any]) -> Request:
    """Return the question that a command's options ask about a dressing and a box.

    Parameters
    ----------
    base : Dressing
    box : Box
    rulebook : Rulebook
    options : mapping
        ``sizes``, ``water``, ``missing``, ``keep`` and ``max_changes``, as far as the command has
        them.

    Raises
    ------
    click.BadParameter
        When a word is not known, with the nearest that is.
    """
    from variants.design import Request
    from variants.rulebook import WATERS

    known_word("--water", options.get("water"), WATERS)
    own_parts = {part.id for part in base.parts}
    missing = {
        _named("--missing", name, rulebook, own_parts, {item.id for item in box.items})
        for name in options.get("missing", ())
    }
    keep = {_named("--keep", name, rulebook, own_parts, None) for name in options.get("keep", ())}
    return Request(
        base,
        box,
        hook_sizes("--size", options.get("sizes")),
        options.get("water"),
        frozenset(missing),
        frozenset(keep),
        options.get("max_changes"),
    )


def _named(
    option: str, name: str, rulebook: Rulebook, parts: set[str], items: set[str] | None
) -> str:
    """Return the id of the part, item or material that a name means."""
    from variants.model import plain
    from variants.text import shown

    part = rulebook.trade.part_names.get(plain(name))
    if part is not None and part.id in parts:
        return part.id
    known = set(parts)
    if items is not None:
        if name in items:
            return name
        material = rulebook.trade.material_names.get(plain(name))
        if material is not None:
            return material.id
        known |= items | set(rulebook.trade.materials)
    hint = near_hint(name, known)
    what = "a part of this dressing" if items is None else "a part, an item or a material here"
    raise click.BadParameter(f"{shown(name)} is not {what}{hint}", param_hint=option)
