"""What the shell completes at a tab: materials, colours, styles, parts, dressings, items, files.

A parameter is completed by its name, so every command that asks for a colour completes colours.
Names are completed as one word (``otter-fur``), which means the same as the trade's own.
"""

from __future__ import annotations

import os
import re
from calendar import month_name
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import partial
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from click.shell_completion import CompletionItem, split_arg_string

if TYPE_CHECKING:
    from variants.model import Trade

Completer = Callable[[str], Iterable[CompletionItem]]
_ONE_WORD = re.compile(r"[A-Za-z0-9-]+")
#: So many files of dressings are looked into, for whoever presses tab waits.
_MOST_DRESSINGS = 400
#: The longest help of a word.
_HELP_LETTERS = 60


def add_completion(command: click.Command) -> None:
    """Let a command's options and arguments be completed, each by its name."""
    for parameter in command.params:
        completer = COMPLETERS.get(parameter.name or "")
        if completer is not None:
            parameter.shell_complete = partial(_complete, completer)  # type: ignore[method-assign]


def _complete(completer: Completer, _ctx: click.Context, incomplete: str) -> list[CompletionItem]:
    from variants.reading import InputError

    try:
        return list(completer(incomplete))
    except (InputError, OSError, ValueError, LookupError, TypeError):
        return []  # the command itself tells what is wrong with a file, not a tab


def _line() -> list[str]:
    """Return the words on the line; click forgets them while an option waits for its own."""
    return split_arg_string(os.environ.get("COMP_WORDS", ""))


def _values_of(option: str) -> list[str]:
    return [value for word, value in pairwise(_line()) if word == option]


def _folders() -> list[Path]:
    from variants.reading import own_rules_folder

    return [own_rules_folder(), *map(Path, _values_of("--rules"))]


def _trade() -> Trade:
    from variants.reading import read_trade

    return read_trade(_folders())


def _load(path: Path) -> dict[str, Any]:
    import tomllib

    return tomllib.loads(path.read_text(encoding="utf-8"))


def _match(
    incomplete: str, id_: str, names: Iterable[str] = (), about: str = ""
) -> Iterator[CompletionItem]:
    """Yield one word for an entry of which some name begins as what is typed.

    Its first name is the one that it is known by.
    """
    from variants.model import plain

    known = [*names] or [id_]
    for name in (known[0], id_, *known[1:]):
        if plain(name).startswith(plain(incomplete)):
            word = plain(name).replace(" ", "-")
            told = ", ".join(filter(None, ("" if known[0] == word else known[0], about)))
            is_safe = _ONE_WORD.fullmatch(word) is not None
            yield CompletionItem(word if is_safe else id_, help=told[:_HELP_LETTERS] or None)
            return


def _match_table(
    incomplete: str, table: Mapping[str, Any], about: str = ""
) -> Iterator[CompletionItem]:
    """Yield words for the entries of a table; the value of an attribute is told beside them."""
    for entry in table.values():
        help_ = getattr(entry, about) if about else ""
        yield from _match(incomplete, entry.id, (entry.name, *entry.also), help_)


def _materials(incomplete: str) -> Iterator[CompletionItem]:
    return _match_table(incomplete, _trade().materials, "kind")


def _hooks(incomplete: str) -> Iterator[CompletionItem]:
    materials = _trade().materials
    hooks = {id_: one for id_, one in materials.items() if "hook" in one.functions}
    return _match_table(incomplete, hooks)


def _colours(incomplete: str) -> Iterator[CompletionItem]:
    return _match_table(incomplete, _trade().colours, "family")


def _styles(incomplete: str) -> Iterator[CompletionItem]:
    return _match_table(incomplete, _trade().styles)


def _parts(incomplete: str) -> Iterator[CompletionItem]:
    """Yield the parts of the dressing that is named already, or else all."""
    parts = _trade().parts
    dressing = next((word for word in _line() if word.endswith(".toml")), None)
    own = set(_load(Path(dressing))["part"]) if dressing else parts
    return _match_table(incomplete, {id_: parts[id_] for id_ in parts if id_ in own}, "says")


def _missing(incomplete: str) -> Iterator[CompletionItem]:
    yield from _parts(incomplete)
    if incomplete:
        yield from _materials(incomplete)


def _topics(incomplete: str) -> Iterator[CompletionItem]:
    """Yield topics; and, once something is typed, every name of the tables."""
    from variants.views.topics import TOPICS

    for name, words in TOPICS.items():
        yield from _match(incomplete, name, about=words[0])
    if not incomplete:
        return
    for names in (_styles, _parts, _materials, _colours):
        yield from names(incomplete)
    for folder in _folders():
        for path in sorted(folder.glob("trade/*.toml")):
            for rule in _load(path)["rule"]:
                yield from _match(incomplete, rule["id"], about="rule")


def _dressings(incomplete: str) -> Iterator[CompletionItem]:
    """Yield dressings whose name begins so, from the folders of dressings near; or else files."""
    import glob

    folder, _, stem = incomplete.rpartition("/")
    if folder or not stem or any(Path().glob(f"{glob.escape(stem)}*")):
        yield CompletionItem(incomplete, type="file")
        return
    from variants.model import plain

    near = (path for pattern in ("dressings", "*/dressings") for path in Path().glob(pattern))
    files = [file for folder in sorted(near) for file in sorted(folder.glob("*.toml"))]
    for file in files[:_MOST_DRESSINGS]:
        try:
            name = str(_load(file)["name"])
        except (OSError, ValueError, LookupError):
            name = file.stem
        if any(plain(one).startswith(plain(stem)) for one in (name, file.stem)):
            yield CompletionItem(str(file), help=name)


def _items(incomplete: str) -> Iterator[CompletionItem]:
    """Yield the items of the box that the line or FLYKIN_BOX names."""
    from variants.box.export import load_table
    from variants.model import plain

    box = next(iter(_values_of("--box")), os.environ.get("FLYKIN_BOX", ""))
    header, *rows = load_table(box)
    columns = [name.lower() for name in header]
    for row in rows:
        cells = dict(zip(columns, row, strict=True))
        if plain(cells["item"]).startswith(plain(incomplete)):
            yield CompletionItem(_quote(cells["item"]), help=cells.get("place") or None)


def _quote(text: str) -> str:
    """Return a word as one types it: bash takes it as it comes, other shells put it in quotes."""
    if not os.environ.get("_FLYKIN_COMPLETE", "").startswith("bash"):
        return text
    # Twice, since the script's own reading takes one away.
    return re.sub(r"([^\w./-])", r"\\\\\1", text)


def _words(known: Sequence[str]) -> Completer:
    return lambda incomplete: [
        CompletionItem(word) for word in known if word.startswith(incomplete)
    ]


def _of_type(kind: str) -> Completer:
    """Let the shell itself complete the names of files or folders."""
    return lambda incomplete: [CompletionItem(incomplete, type=kind)]


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
    "side": _words(("left", "right", "pair")),
    "month": _words(tuple(month_name)[1:]),
    "dressing": _dressings,
    "folders": _dirs,
    **dict.fromkeys(
        ("box", "boxes", "book", "books", "file", "files", "gauge_file", "graph_file"), _files
    ),
    **dict.fromkeys(("out", "price_file", "region", "regions", "picture", "chart", "told"), _files),
}
