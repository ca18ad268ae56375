"""Reads dressings written in the trade's words: text in, readings with their doubts out.

Nothing is guessed in silence. What custom fills in is marked with its reason and source; an unknown
word leaves its part open, and asks; a part that the style does not know makes the style doubtful.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from variants.model import Dressing, Origin, Style
from variants.reading.words.entries import EntryReader
from variants.reading.words.glossary import Glossary
from variants.reading.words.layout import NOTE, SOURCE, Layout
from variants.reading.words.result import PartReading, Reading, Unread
from variants.reading.words.settling import HOOK

NO_NAME = "(no name)"
_LONGEST_NAME, _LONGEST_NOTE = 200, 600
_MOST_WAYS = 64


def read_plain(
    text: str,
    glossary: Glossary,
    *,
    style: str | None = None,
    sizes: Sequence[int] = (),
    file: str = "(text)",
) -> tuple[Reading, ...]:
    """Read every dressing of a text, in any layout.

    Parameters
    ----------
    text : str
    glossary : Glossary
        The trade with its words and customs.
    style : str, optional
        Id of the style, where the text states none.
    sizes : sequence of int, optional
        Hook sizes, where the text states none.
    file : str
        Name of the text, for messages.

    Raises
    ------
    InputError
        When the text is empty or holds what can't be seen.
    """
    entries = Layout(glossary.lexicon).read(text, file)
    readers = [EntryReader(entry, glossary, style, sizes) for entry in entries]
    return tuple(_read_one(reader, file) for reader in readers)


def _read_one(reader: EntryReader, file: str) -> Reading:
    reader.read()
    entry = reader.entry
    name = entry.name[:_LONGEST_NAME].strip() or NO_NAME
    unread = list(reader.unread)
    if not reader.told:
        unread.append(Unread(entry.line, "", name, "says nothing of what the fly is made of"))
    elif reader.style is None and not any(one.field == "style" for one in unread):
        why = "the style is not stated, and nothing tells it"
        unread.append(Unread(entry.line, "style", name, why))
    return Reading(
        dressing=_make_dressing(reader, name, file, unread) if reader.told else None,
        name=name,
        line=entry.line,
        parts=tuple(reader.parts.values()),
        unread=tuple(unread),
        unstated=tuple(reader.unstated),
        inferences=tuple(reader.inferences),
        sizes=tuple(reader.sizes) or reader.held_sizes,
        remarks=tuple(entry.remarks),
    )


def _make_dressing(
    reader: EntryReader, name: str, file: str, unread: Sequence[Unread]
) -> Dressing | None:
    style, sizes = reader.style, reader.held_sizes
    if style is None or not sizes or HOOK not in reader.parts or len(reader.parts) == 1:
        return None
    about = {label: cell.text[:_LONGEST_NOTE].strip() for label, cell in reader.entry.about.items()}
    signed = {one.part: one.signature for one in style.parts}
    parts = [
        part.as_part(signed.get(part.part, ()))
        for part in _with_bounded_ways(reader.parts.values(), style)
        if style.part(part.part) is not None
    ]
    kept = tuple(part for part in parts if part is not None)
    if len(kept) < 2:
        return None
    return Dressing(
        name=name,
        style=style.id,
        sizes=sizes,
        size=sizes[len(sizes) // 2],
        parts=kept,
        source=about.get(SOURCE, ""),
        note=about.get(NOTE, ""),
        origin=Origin(file, reader.entry.line),
        unread=tuple(dict.fromkeys(one.words for one in unread)),
    )


def _with_bounded_ways(parts: Iterable[PartReading], style: Style) -> list[PartReading]:
    """Return the parts with no more alternatives than a dressing may leave open."""
    from dataclasses import replace

    kept: list[PartReading] = []
    ways = 1
    for part in parts:
        if style.part(part.part) is None:
            continue
        most = max(_MOST_WAYS // ways, 1)
        kept.append(replace(part, choices=part.choices[:most]))
        ways *= len(kept[-1].choices)
    return kept
