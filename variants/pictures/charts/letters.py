"""How much room words take, reckoned without a font: on the safe side, so that labels fit."""

from __future__ import annotations

import unicodedata

#: Widths in parts of the type size, as wide as the widest common serif (DejaVu Serif) sets them;
#: measured against a browser in the tests.
_NARROW, _USUAL, _CAPITAL, _WIDE, _FULL = 0.42, 0.66, 0.84, 1.02, 1.35
_THIN = frozenset("iIjl.,:;'!|()[]{}’‘ ft-/r")
_BROAD = frozenset("mwMWQ@%&→—…½¼¾")


def width_of(words: str, size: float) -> float:
    """Return how wide words may come out at a type size, in the size's own unit."""
    return size * sum(map(_share, words))


def _share(letter: str) -> float:
    if letter in _THIN:
        return _NARROW
    if letter in _BROAD:
        return _WIDE
    if ord(letter) < 0x250:
        return _CAPITAL if letter.isupper() else _USUAL
    if unicodedata.combining(letter) or unicodedata.category(letter) == "Cf":
        return 0.0
    return _FULL if ord(letter) > 0x1100 else _CAPITAL


def wrap_words(words: str, size: float, room: float, most: int = 99) -> list[str]:
    """Return words broken into lines that fit a room; what is over the most lines ends in …

    >>> wrap_words("otter fur to beaver fur", 10, 90)
    ['otter fur to', 'beaver fur']
    """
    lines: list[str] = []
    line = ""
    for word in words.split():
        longer = f"{line} {word}" if line else word
        if width_of(longer, size) <= room:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while width_of(line, size) > room and len(line) > 1:
            cut = _fitting(line, size, room)
            lines.append(line[:cut])
            line = line[cut:]
    lines.append(line)
    if len(lines) > most:
        rest = lines[most - 1]
        while rest and width_of(f"{rest} …", size) > room:
            rest = rest[:-1]
        lines = [*lines[: most - 1], f"{rest.rstrip()} …"]
    return lines


def _fitting(word: str, size: float, room: float) -> int:
    cut = 1
    while cut < len(word) and width_of(word[: cut + 1], size) <= room:
        cut += 1
    return cut
