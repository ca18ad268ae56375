"""Text from outside made safe to show, and names near to a misspelt one."""

from __future__ import annotations

import re
from collections.abc import Iterable

_REPLACEMENT = "\N{REPLACEMENT CHARACTER}"
#: Controls but tab and line ends, and turns of the direction of writing.
_UNSEEN = re.compile("[\0-\b\v\f\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
#: Control characters but line feed and tab, ends of lines that are none, turns of direction,
#: and halves of letters.
_OBEYED = re.compile(
    "[\0-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff]"
)
#: What XML 1.0 can't hold, not even as a code (W3C, XML 1.0, 5th edition, 2.2 Characters), and the
#: controls and noncharacters that HTML calls an error (WHATWG, HTML, 13.2.3.5).
_NOT_IN_XML = re.compile(
    "[^\t\n\r\u0020-\u007e\u00a0-\ud7ff\ue000-\ufdcf\ufdf0-\ufffd\U00010000-\U0010ffff]"
    "|[" + "".join(chr((plane << 16) + end) for plane in range(1, 17) for end in (0xFFFE, 0xFFFF))
    + "]"
)  # fmt: skip
_SHOWN = 60
#: Likeness, 0 to 100, that a name needs to be offered: misspelt, and as a part of a longer name.
_ALIKE, _PARTLY_ALIKE = 70, 85
_RIVAL = 12
#: Shorter names are parts of almost anything.
_SHORTEST_PART = 4


def printable(text: str) -> str:
    """Return one line of text with a mark for every character that can't be seen.

    >>> printable("red\\x1b[31m cape")
    'red�[31m cape'
    """
    return "".join(one if one.isprintable() else _REPLACEMENT for one in text)


def terminal_safe(text: str) -> str:
    """Return lines of text with a mark for every character that a terminal obeys.

    >>> terminal_safe("hen cape\\x1b[2J, ginger")
    'hen cape�[2J, ginger'
    """
    return _OBEYED.sub(_REPLACEMENT, text)


def xml_safe(text: str) -> str:
    """Return text with a mark for every character that XML or HTML can't hold.

    >>> xml_safe("hen\\x00 cape")
    'hen� cape'
    """
    return _NOT_IN_XML.sub(_REPLACEMENT, text)


def has_unseen(text: str) -> bool:
    """Tell whether a text of a file holds a character that can't be seen.

    >>> has_unseen("hen cape"), has_unseen("hen\\u202ecape")
    (False, True)
    """
    return _UNSEEN.search(text) is not None


def shown(value: object) -> str:
    """Return a value as a message shows it: as its file writes it, cut to a sensible length.

    >>> shown("a" * 80)[-4:]
    "aa…'"
    >>> shown([True, 1.5, {"a": "b"}])
    "[true, 1.5, { a = 'b' }]"
    """
    if isinstance(value, str):
        text = printable(value[: _SHOWN + 1])
        return f"'{text[:_SHOWN]}…'" if len(text) > _SHOWN else f"'{text}'"
    text = _literal(value)
    return f"{text[:_SHOWN]}…" if len(text) > _SHOWN else text


def _literal(value: object) -> str:
    """Return a TOML value as TOML writes it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        # Python refuses to write out a very long whole number in decimal.
        return str(value) if abs(value) < 10**_SHOWN else f"{value:#x}"
    if isinstance(value, list):
        return "[" + ", ".join(shown(one) for one in value[:_SHOWN]) + "]"
    if isinstance(value, dict):
        pairs = (f"{printable(str(key))} = {shown(one)}" for key, one in value.items())
        return "{ " + ", ".join(pairs) + " }"
    return printable(str(value))


def nearest(name: str, known: Iterable[str], most: int = 2) -> tuple[str, ...]:
    """Return the known names closest to a misspelt one, best first.

    A second name is offered only when it is about as close as the first.

    >>> nearest("turn", ["turns", "turns_front", "feathers"])
    ('turns',)
    """
    from rapidfuzz import fuzz, process

    name, names = name[:200].lower(), list(known)
    found = process.extract(name, names, scorer=fuzz.ratio, limit=most, score_cutoff=_ALIKE)
    if not found:
        # No slip of the finger: perhaps a part of a longer name, such as "partridge".
        longer = [word for word in names if len(word) >= _SHORTEST_PART]
        found = process.extract(
            name, longer, scorer=fuzz.WRatio, limit=most, score_cutoff=_PARTLY_ALIKE
        )
    return tuple(word for word, score, _index in found if score >= found[0][1] - _RIVAL)


def did_you_mean(near: Iterable[str]) -> str:
    """Return the question that offers names near to a misspelt one; empty where there are none.

    >>> did_you_mean(["rib", "ribbing"]), did_you_mean([])
    ("did you mean 'rib' or 'ribbing'?", '')
    """
    names = " or ".join(f"'{printable(name)}'" for name in near)
    return f"did you mean {names}?" if names else ""
