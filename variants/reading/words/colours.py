"""Words to a colour: a name of the tables, or a shade composed of several with its spread.

``dark`` and ``light`` move a shade in lightness, "orange-brown" and "olive/copper" lie between two.
What is composed says so: it keeps the words as its name, and its spread in CIEDE2000 stands in its
note.
"""

from __future__ import annotations

from collections.abc import Sequence

from variants.cielab import lab_of, nearest_shade
from variants.model import Colour
from variants.reading.words.lexicon import Kind, Lexicon, Sense
from variants.reading.words.text import Phrase

#: By how much a word moves L*, and a and b by what factor; grades of judgement.
_MOVES = {
    "light": (12, 0.85), "pale": (15, 0.7), "palest": (20, 0.6), "dark": (-13, 0.9),
    "deep": (-9, 1.05), "medium": (0, 1.0), "mid": (0, 1.0), "bright": (3, 1.25),
    "dirty": (-4, 0.65), "dull": (-3, 0.7), "rich": (-3, 1.15), "dusky": (-8, 0.75),
    "fluorescent": (8, 1.35), "hot": (4, 1.3), "fluo": (8, 1.35), "uv": (2, 1.1),
    "metallic": (0, 1.0), "smoky": (-6, 0.6), "burnt": (-8, 0.95), "natural": (0, 1.0),
    "fire": (2, 1.3), "golden": (4, 1.1), "very": (0, 1.0), "drab": (-4, 0.6),
}  # fmt: skip
SPREAD_OF_SHADED, SPREAD_OF_MIXED = 8, 10
_MOST_WORDS = 8


def find_colour(words: Phrase, part: str, lexicon: Lexicon) -> tuple[Colour, Sense] | None:
    """Return the colour that a phrase names in a part; None where no table has that name."""
    for sense in lexicon.senses_of(words, part, Kind.COLOUR):
        return lexicon.trade.colours[sense.gives], sense
    return None


def compose_colour(words: Phrase, shades: Sequence[str], named: Sequence[Colour]) -> Colour:
    """Return the colour of shade words and one or more colours that no table has together.

    Parameters
    ----------
    words : tuple of str
        The colour's own name, as written.
    shades : sequence of str
        Words such as "dark" that move it.
    named : sequence of Colour
        At least one, whose first shades are averaged in CIELAB.
    """
    labs = [lab_of(one.hexes[0]) for one in named if one.hexes]
    name = " ".join(words)
    marked = [one.marking for one in named if one.marking != "solid"]
    spread = SPREAD_OF_MIXED if len(named) > 1 else SPREAD_OF_SHADED
    hexes: tuple[str, ...] = ()
    if labs:
        lightness, a, b = (sum(values) / len(labs) for values in zip(*labs, strict=True))
        for shade in shades:
            move, factor = _MOVES.get(shade, (0, 1.0))
            lightness, a, b = min(max(lightness + move, 2.0), 98.0), a * factor, b * factor
        hexes = (nearest_shade((lightness, a, b)),)
        if marked:
            whole = next(one for one in named if one.marking != "solid")
            hexes = (*hexes, *whole.hexes[1:2]) if len(named) == 1 else (*hexes, *whole.hexes[:1])
    return Colour(
        id=name.replace(" ", "-"),
        name=name,
        hexes=hexes,
        family=named[0].family if named else "",
        marking=marked[0] if marked else "solid",
        source=f"composed of {' and '.join(one.name for one in named)}",
        note=f"no row of its own: within some dE {spread}",
    )


def composed_colour(words: Phrase, lexicon: Lexicon) -> Colour | None:
    """Return the colour that a name composes; None where a word of it is no colour's."""
    cut = _cut(words[:_MOST_WORDS], lexicon)
    if cut is None:
        return None
    shades = [one for one in cut if isinstance(one, str)]
    named = [one for one in cut if isinstance(one, Colour)]
    return compose_colour(words, shades, named) if named else None


def _cut(words: Phrase, lexicon: Lexicon) -> list[str | Colour] | None:
    """Cut words into shades and colours, the longest names first; None where one is neither."""
    if not words:
        return []
    for length in range(min(4, len(words)), 0, -1):
        found = find_colour(words[:length], "", lexicon)
        rest = _cut(words[length:], lexicon) if found else None
        if found and rest is not None:
            return [found[0], *rest]
    if words[0] in _MOVES or words[0] in ("and", "with"):
        rest = _cut(words[1:], lexicon)
        return None if rest is None else [words[0], *rest]
    return None


def is_shade_word(word: str) -> bool:
    """Tell whether a word moves a shade."""
    return word in _MOVES
