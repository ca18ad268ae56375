"""One command as a manual page: the man macros of roff, made from what click knows of it."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator

import click

_EXAMPLE = "Example:"
_SEE = "SEE ALSO"


def manual_page(ctx: click.Context) -> str:
    """Return the manual page of the command of a context."""
    from variants import __version__

    date = _date()
    name = ctx.command_path
    title = name.replace(" ", "-")
    lines = [
        f'.TH "{_plain(title.upper())}" "1" "{date}" "flykin {__version__}" "Flykin"',
        ".SH NAME",
        f"{_text(title)} \\- {_text(ctx.command.get_short_help_str(200).rstrip('.'))}",
        ".SH SYNOPSIS",
        f".B {_text(name)}",
        _text(" ".join(ctx.command.collect_usage_pieces(ctx))),
        *_description(ctx.command),
        *_options(ctx),
        *_commands(ctx),
        *_see_also(ctx),
    ]
    return "\n".join(line for line in lines if line) + "\n"


def _date() -> str:
    """Return the day of the newest version in the log of changes."""
    from importlib.resources import files

    text = files("variants").joinpath("CHANGELOG.md").read_text(encoding="utf-8")
    found = re.search(r"^## [0-9.]+ \(([0-9-]{10})\)$", text, re.MULTILINE)
    return found[1] if found else ""


def _description(command: click.Command) -> Iterator[str]:
    """Yield the help text: paragraphs, and the example as it is typed."""
    text = inspect.cleandoc(command.help or "")
    told, _, example = text.partition(f"\b\n{_EXAMPLE}\n")
    yield ".SH DESCRIPTION"
    paragraphs = [part for part in re.split(r"\n\s*\n", told.replace("\b\n", "")) if part.strip()]
    for place, paragraph in enumerate(paragraphs):
        yield ".PP" if place else ""
        yield _text(" ".join(paragraph.split()))
    if example.strip():
        yield ".SH EXAMPLES"
        yield ".nf"
        lines = example.strip("\n").split("\n")
        margin = min(len(line) - len(line.lstrip()) for line in lines if line.strip())
        yield from (_text(line[margin:]) for line in lines)
        yield ".fi"


def _options(ctx: click.Context) -> Iterator[str]:
    records = [
        record
        for parameter in ctx.command.get_params(ctx)
        if (record := parameter.get_help_record(ctx)) is not None and record[1]
    ]
    if records:
        yield ".SH OPTIONS"
    for names, says in records:
        yield ".TP"
        yield f".B {_text(names)}"
        yield _text(" ".join(says.split()))


def _commands(ctx: click.Context) -> Iterator[str]:
    if not isinstance(ctx.command, click.Group):
        return
    yield ".SH COMMANDS"
    for name in ctx.command.list_commands(ctx):
        inner = ctx.command.get_command(ctx, name)
        if inner is not None:
            yield ".TP"
            yield f".B {_text(name)}"
            yield _text(inner.get_short_help_str(200))


def _see_also(ctx: click.Context) -> Iterator[str]:
    """Yield the pages around this one: what holds the command, and what it holds."""
    around = [ctx.parent.command_path] if ctx.parent is not None else []
    if isinstance(ctx.command, click.Group):
        around += [f"{ctx.command_path} {name}" for name in ctx.command.list_commands(ctx)]
    yield f".SH {_SEE}" if around else ""
    for place, name in enumerate(around):
        comma = " ," if place < len(around) - 1 else ""
        yield f".BR {_text(name.replace(' ', '-'))} (1){comma.strip()}"


def _plain(text: str) -> str:
    return text.replace("\\", "\\e").replace('"', "")


def _text(text: str) -> str:
    """Return a line that roff shows as it stands.

    >>> _text("-h and 'so' on")
    "\\\\-h and 'so' on"
    >>> _text(".5 of it")
    '\\\\&.5 of it'
    """
    written = text.replace("\\", "\\e").replace("-", "\\-")
    return f"\\&{written}" if written.startswith((".", "'")) else written
