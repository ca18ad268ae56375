"""What a user answers to an option, turned into what is meant, or refused with the nearest name."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, TypeVar

import click

if TYPE_CHECKING:
    from variants.design import DesignProblem
    from variants.model import Material, Trade, Variant

Entry = TypeVar("Entry")
NO_VARIANT = 1
#: Kinds of names, and the topic that lists them.
_LISTED = {
    "style": "styles",
    "part of a fly": "parts",
    "material": "materials",
    "hook": "materials",
    "colour": "colours",
}
_SECONDS = {"ms": 0.001, "s": 1.0, "min": 60.0}


def entry_named(
    option: str,
    name: str,
    names: Mapping[str, Entry],
    what: str,
    offered: Iterable[str] = (),
) -> Entry:
    """Return the table entry that a name means.

    Raises
    ------
    click.BadParameter
        With the nearest names that are known; where none is near, with those offered.
    """
    from variants.design import UnknownWordError, find_entry

    try:
        return find_entry(option, name, names, what)
    except UnknownWordError as problem:
        hint = ""
        if not problem.near and what in _LISTED:
            hint = f"; 'flykin explain {_LISTED[what]}' lists them"
        elif not problem.near and offered:
            hint = _one_of(offered)
        raise click.BadParameter(f"{problem}{hint}", param_hint=option) from None


@contextmanager
def refusing_words() -> Iterator[None]:
    """Turn the refusal of a word that means nothing into click's own, which names the option."""
    from variants.design import UnknownWordError

    try:
        yield
    except UnknownWordError as problem:
        raise click.BadParameter(str(problem), param_hint=f"--{problem.field}") from None


def hook_named(name: str, trade: Trade) -> Material:
    """Return the model of hook that ``--hook`` means, or refuse what is none."""
    hooks = {one: found for one, found in trade.material_names.items() if "hook" in found.functions}
    return entry_named("--hook", name, hooks, "hook")


def near_hint(name: str, known: Iterable[str]) -> str:
    """Return the end of a complaint that offers the nearest known names, or nothing."""
    from variants.text import did_you_mean, nearest

    hint = did_you_mean(nearest(name, known))
    return f"; {hint}" if hint else ""


def near_or_all(name: str, known: Mapping[str, str]) -> str:
    """Return the end of a complaint that offers the nearest of a few names, or else all of them.

    ``known`` is of plain names to how they are written.
    """
    return near_hint(name, known) or _one_of(known.values())


def _one_of(names: Iterable[str]) -> str:
    return f"; write one of {', '.join(names)}"


def hook_sizes(text: str | None) -> tuple[int, ...]:
    """Return the hook sizes of ``--size``; none when it was not given."""
    from variants.design import find_sizes

    with refusing_words():
        return find_sizes(text)


def water_named(water: str | None) -> str | None:
    """Return the water of ``--water``, or refuse what is none."""
    from variants.design import find_water

    with refusing_words():
        return find_water(water)


def known_word(option: str, word: str | None, known: Sequence[str]) -> None:
    """Refuse a word that is none of a few known ones.

    Raises
    ------
    click.BadParameter
        With all of them.
    """
    from variants.text import shown

    if word is not None and word not in known:
        raise click.BadParameter(
            f"{shown(word)} is not known: write {', '.join(known)}", param_hint=option
        )


def seconds(option: str, text: str | None) -> float | None:
    """Return a time limit in seconds from ``2s``, ``500 ms`` or ``1 min``."""
    if text is None:
        return None
    told = re.fullmatch(r"\s*(\d{1,6}(?:\.\d{1,3})?)\s*(ms|s|min)\s*", text)
    seconds = float(told[1]) * _SECONDS[told[2]] if told else 0.0
    if not seconds > 0:
        raise click.BadParameter(
            f"'{text}' is no time: write 2s, 500 ms or 1 min", param_hint=option
        )
    return seconds


def variant_no(design: DesignProblem, rank: int, purpose: str) -> Variant:
    """Return the variant of that rank; where there is none, say so and end the command.

    Parameters
    ----------
    design : DesignProblem
    rank : int
        Counted as `propose` does, among those that change no more than they must, from 1.
    purpose : str
        What it is wanted for, such as ``draw``.
    """
    from variants.design.search import find_needed
    from variants.explain.wording import pluralize

    found = find_needed(design, rank)
    if len(found) >= rank:
        return found[rank - 1]
    if found:
        told = f"There is no variant {rank}: this box gives {pluralize(len(found), 'variant')}"
        told += " without a needless change."
    else:
        told = f"There is no variant to {purpose}; see whynot."
    click.echo(told, err=True)
    sys.exit(NO_VARIANT)
