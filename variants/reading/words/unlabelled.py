"""Words without a label that tell by themselves which part they make: thread, hook, bead, eyes."""

from __future__ import annotations

import re
from collections.abc import Sequence
from collections.abc import Set as AbstractSet

from variants.reading.words.clauses import parse_field
from variants.reading.words.glossary import Glossary

#: Parts of which the stuff can be nothing else, in the order in which they are tried.
_ONE_PLACE = ("hook", "thread", "bead", "weight", "eyes", "legs", "tube", "body-coating")
#: Parts that stuff without a label may make, in the order in which a dressing names them.
_IN_ORDER = ("tail", "body", "rib", "thorax", "wing", "post", "hackle")
_SIZE = re.compile(r"\W*(?:#|sizes?\b|sz\b|hk\b|hook\b)\s?\.?\s?#?\d", re.IGNORECASE)
_BARE_SIZES = re.compile(r"\W*(?:sizes?\s|#\s?)?\d{1,2}\s?(?:-|to)\s?#?\d{1,2}\W*$")
_TELLS_HOOK = re.compile(
    r"#\s?\d|\b(?:size|sz|no\.?|hook|hk)\b|\d\s?-\s?\d|\b\d{1,2}/0\b", re.IGNORECASE
)
_PIECES = re.compile(r",\s|:\s|\.\s|\s-\s|;\s|\(|\)")
_HOOK_WORD = re.compile(
    r"\b(?:hooks?|hk|double|treble|single|iron|streamer|jig|grub|scud|salmon|dry|wet)\b",
    re.IGNORECASE,
)
_THREAD = re.compile(r"(?<![\w/])\d{1,2}/0\b|\d{2,3}\s?d(?:en(?:ier)?)?\b", re.IGNORECASE)


def likely_part(words: str, taken: Sequence[str], glossary: Glossary) -> str | None:
    """Return the part that stuff without a label most likely makes, in the order of tying."""
    things = [
        thing
        for clause in parse_field(words, "", glossary.parser)
        for thing in clause.things
        if thing.stuff is not None
    ]
    if not things or things[0].stuff is None or things[0].stuff.missing:
        return None
    parts = glossary.trade.parts
    functions = things[0].stuff.material.functions
    placed = [_IN_ORDER.index(part) for part in taken if part in _IN_ORDER]
    last = placed[-1] if placed else -1
    fitting = [
        part for part in _IN_ORDER if part not in taken and parts[part].functions & functions
    ]
    return next((part for part in fitting if _IN_ORDER.index(part) > last), None) or (
        fitting[0] if fitting else None
    )


def hook_of_title(title: str) -> str:
    """Return the words of a title that tell the hook, as "salmon double 4-10" may; or none."""
    if not _TELLS_HOOK.search(title):
        return ""
    pieces = [one for one in _PIECES.split(title) if re.search(r"\d", one)]
    if not pieces:
        return ""
    marked = re.search(r"(?:#|\bsizes?\s|\bsz\s|\bno\.?\s).*", pieces[-1], re.IGNORECASE)
    return marked[0] if marked and not _HOOK_WORD.search(pieces[-1]) else pieces[-1]


def part_of_words(words: str, taken: AbstractSet[str], glossary: Glossary) -> str | None:
    """Return the part that words without a label can only be, where it is not told yet."""
    if _BARE_SIZES.match(words) or ("hook" not in taken and _SIZE.match(words)):
        return "hook"
    for part in _ONE_PLACE:
        if part in taken:
            continue
        clauses = [one for one in parse_field(words, part, glossary.parser) if one.part == part]
        things = [thing for clause in clauses for thing in clause.things]
        if part == "thread" and _THREAD.search(words) and not any(one.unknown for one in things):
            return part
        kinds = glossary.trade.parts[part].functions
        stuff = things[0].stuff if things else None
        if stuff is None or things[0].unknown:
            continue
        functions = stuff.material.functions
        if functions <= kinds | {"head", "bead", "cone", "finish"} and functions & kinds:
            return part
    return None
