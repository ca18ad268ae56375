"""What the shell offers after a tab: materials, colours, styles, parts, dressings, files.

An option is completed by its name, so every command that asks for a colour offers the colours.
Names are offered as one word (``otter-fur``), which means the same as the trade's own. Only the
table asked for is read, without being checked: whoever presses tab waits for nothing.
"""

from __future__ import annotations

import re
from calendar import month_name
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

import click
from click.shell_completion import CompletionItem

Completer = Callable[[click.Context, str], Iterable[CompletionItem]]
_ONE_WORD = re.compile(r"[A-Za-z0-9-]+")
_NAME = re.compile(r'^name\s*=\s*"([^"]*)"', re.MULTILINE)
_RULE_ID = re.compile(r'^id\s*=\s*"([^"]*)"', re.MULTILINE)
_MOST_DRESSINGS = 400
_HEAD_BYTES = 4000
#: No more letters stand beside a word that is offered.
_ABOUT = 60


class Named(NamedTuple):
    """What may be named: its id, its trade name, other names, and a word about it."""

    id: str
    name: str
    also: tuple[str, ...] = ()
    about: str = ""


def offer_names(command: click.Command) -> None:
    """Let a command's options and arguments offer names."""
    for parameter in command.params:
        completer = COMPLETERS.get(parameter.name or "")
        if completer is not None:
            parameter.shell_complete = partial(_offered, completer)  # type: ignore[method-assign]


def _offered(completer: Completer, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
    try:
        return list(completer(ctx, incomplete))
    except (OSError, ValueError, LookupError):
        return []  # a spoilt file is told by the command itself, not by a tab


def _typed() -> list[str]:
    """Return the words on the line; click forgets them while an option waits for its own."""
    import os

    from click.shell_completion import split_arg_string

    return split_arg_string(os.environ.get("COMP_WORDS", ""))


def _folders() -> list[Path]:
    from variants.reading import own_rules_folder

    words = _typed()
    told = [Path(after) for word, after in pairwise(words) if word == "--rules"]
    return [own_rules_folder(), *told]


def _rows(folders: Iterable[Path], pattern: str, about: str) -> Iterator[Named]:
    """Yield the rows of tables that have an id."""
    for folder in folders:
        for path in sorted(folder.glob(pattern)):
            header: list[str] = []
            for line in path.read_text(encoding="utf-8").split("\n"):
                cells = [cell.strip() for cell in line.split("\t")]
                if line.startswith("#") or not any(cells):
                    continue
                if not header:
                    header = cells
                    continue
                row = dict(zip(header, cells, strict=False))
                also = tuple(one.strip() for one in row.get("also", "").split(";"))
                yield Named(row["id"], row.get("name", row["id"]), also, row.get(about, ""))


def _style_names(folders: Iterable[Path]) -> Iterator[Named]:
    import tomllib

    for folder in folders:
        for path in sorted(folder.glob("styles/*.toml")):
            style = tomllib.loads(path.read_text(encoding="utf-8"))
            yield Named(style["id"], style["name"], tuple(style.get("also", ())))


def _matching(entries: Iterable[Named], incomplete: str) -> Iterator[CompletionItem]:
    """Yield one word for each entry of which some name begins as what is typed."""
    from variants.model import plain

    typed = plain(incomplete)
    for entry in entries:
        for name in (entry.name, entry.id, *entry.also):
            if plain(name).startswith(typed):
                word = plain(name).replace(" ", "-")
                is_safe = _ONE_WORD.fullmatch(word) is not None
                told = entry.name if entry.name != word else ""
                about = ", ".join(filter(None, (told, entry.about)))
                yield CompletionItem(word if is_safe else entry.id, help=about[:_ABOUT] or None)
                break


def _materials(_ctx: click.Context, incomplete: str) -> Iterator[CompletionItem]:
    return _matching(_rows(_folders(), "materials/*.tsv", "class"), incomplete)


def _hooks(_ctx: click.Context, incomplete: str) -> Iterator[CompletionItem]:
    found = _rows(_folders(), "materials/*.tsv", "functions")
    hooks = (Named(*one[:3]) for one in found if "hook" in one.about.split("; "))
    return _matching(hooks, incomplete)


def _colours(_ctx: click.Context, incomplete: str) -> Iterator[CompletionItem]:
    return _matching(_rows(_folders(), "colours.tsv", "family"), incomplete)


def _styles(_ctx: click.Context, incomplete: str) -> Iterator[CompletionItem]:
    return _matching(_style_names(_folders()), incomplete)


def _parts(_ctx: click.Context, incomplete: str) -> Iterator[CompletionItem]:
    """Yield the parts of the dressing that is named already, or else all."""
    own = _own_parts()
    found = _rows(_folders(), "parts.tsv", "says")
    return _matching((one for one in found if not own or one.id in own), incomplete)


def _own_parts() -> set[str]:
    import tomllib

    for word in _typed():
        if word.endswith(".toml"):
            try:
                return set(tomllib.loads(Path(word).read_text(encoding="utf-8"))["part"])
            except (OSError, ValueError, LookupError, TypeError):
                return set()
    return set()


def _missing(ctx: click.Context, incomplete: str) -> Iterator[CompletionItem]:
    yield from _parts(ctx, incomplete)
    if incomplete:
        yield from _materials(ctx, incomplete)


def _topics(ctx: click.Context, incomplete: str) -> Iterator[CompletionItem]:
    """Yield topics; and, once something is typed, every name of the tables."""
    from variants.views.topics import TOPICS

    topics = (Named(name, name, (), told[0]) for name, told in TOPICS.items())
    yield from _matching(topics, incomplete)
    if not incomplete:
        return
    for entries in (_styles, _parts, _materials, _colours):
        yield from entries(ctx, incomplete)
    ids = (
        id_
        for folder in _folders()
        for path in sorted(folder.glob("trade/*.toml"))
        for id_ in _RULE_ID.findall(path.read_text(encoding="utf-8"))
    )
    yield from _matching((Named(id_, id_, (), "rule") for id_ in ids), incomplete)


def _dressings(_ctx: click.Context, incomplete: str) -> Iterator[CompletionItem]:
    """Yield dressings whose name begins so, from the folders of dressings near; or else files."""
    folder, _, stem = incomplete.rpartition("/")
    if not folder and stem and not any(Path().glob(f"{_literally(stem)}*")):
        yield from _dressings_called(stem)
    else:
        yield CompletionItem(incomplete, type="file")


def _literally(text: str) -> str:
    import glob

    return glob.escape(text)


def _dressings_called(incomplete: str) -> Iterator[CompletionItem]:
    from variants.model import plain

    typed = plain(incomplete)
    near = (path for pattern in ("dressings", "*/dressings") for path in Path().glob(pattern))
    files = [file for folder in sorted(near) for file in sorted(folder.glob("*.toml"))]
    for file in files[:_MOST_DRESSINGS]:
        with file.open(encoding="utf-8", errors="replace") as opened:
            name = _NAME.search(opened.read(_HEAD_BYTES))
        told = name[1] if name else file.stem
        if plain(told).startswith(typed) or plain(file.stem).startswith(typed):
            yield CompletionItem(str(file), help=told)


def _items(ctx: click.Context, incomplete: str) -> Iterator[CompletionItem]:
    """Yield the things in the box that the line or FLYKIN_BOX names."""
    import csv
    import os

    from variants.model import plain

    words = _typed()
    named = [after for word, after in pairwise(words) if word == "--box"]
    box = next(iter(named), os.environ.get("FLYKIN_BOX", ""))
    with Path(box).open(encoding="utf-8-sig", newline="") as opened:
        rows = csv.DictReader(line for line in opened if not line.startswith("#"))
        for row in rows:
            name = row.get("item") or ""
            if plain(name).startswith(plain(incomplete)):
                yield CompletionItem(_as_typed(name), help=row.get("place") or None)


def _as_typed(text: str) -> str:
    """Return a word as one types it: bash takes it as it comes, other shells put it in quotes."""
    import os

    if not os.environ.get("_FLYKIN_COMPLETE", "").startswith("bash"):
        return text
    # Twice, since the script's own reading takes one away.
    return re.sub(r"([^\w./-])", r"\\\\\1", text)


def _commands(_ctx: click.Context, incomplete: str) -> Iterator[CompletionItem]:
    from variants.cli.group import COMMANDS

    return (CompletionItem(name) for name in COMMANDS if name.startswith(incomplete))


def _words(known: Sequence[str]) -> Completer:
    def complete(_ctx: click.Context, incomplete: str) -> Iterator[CompletionItem]:
        return (CompletionItem(word) for word in known if word.startswith(incomplete))

    return complete


def _of_type(kind: str) -> Completer:
    """Let the shell itself complete the names of files or folders."""

    def complete(_ctx: click.Context, incomplete: str) -> Iterator[CompletionItem]:
        yield CompletionItem(incomplete, type=kind)

    return complete


_files, _dirs = _of_type("file"), _of_type("dir")
#: Name of an option or argument to what completes it.
COMPLETERS: dict[str, Completer] = {
    "material": _materials,
    "colour": _colours,
    "style": _styles,
    "part": _parts,
    "hook": _hooks,
    "missing": _missing,
    "keep": _parts,
    "water": _words(("slow", "medium", "fast")),
    "topic": _topics,
    "item": _items,
    "command_words": _commands,
    "side": _words(("left", "right", "pair")),
    "month": _words(tuple(month_name)[1:]),
    "dressing": _dressings,
    "folders": _dirs,
    **dict.fromkeys(
        ("box", "boxes", "book", "books", "file", "files", "gauge_file", "graph_file"), _files
    ),
    **dict.fromkeys(("out", "price_file", "region", "regions", "picture", "chart", "told"), _files),
}
