"""Colours of several words: ``black and brown mottled`` is one colour, not two.

Things that go together come in and go out again, with those joined into one that spell a colour of
the tables by its components and its marking.
"""

from __future__ import annotations

from collections.abc import Sequence

from variants.reading.plain.clauses import Group, Together
from variants.reading.plain.glossary import Glossary
from variants.reading.plain.words import Piece, Sense, Sort


def compounded(together: Together, part: str, glossary: Glossary) -> Together:
    """Join ``black and brown mottled`` and ``mottled grey and brown`` into one colour each.

    Only where the tables know a colour of that marking with just those components.
    """
    for last in range(len(together) - 1, 0, -1):
        for first in range(last):
            joined = _compound(together[first : last + 1], part, glossary)
            if joined is not None:
                return (*together[:first], joined, *together[last + 1 :])
    return together


def _compound(groups: Sequence[Group], part: str, glossary: Glossary) -> Group | None:
    """Return one group in place of several when they spell one compound colour."""
    leading = _colour_with_marking(groups[0], part, glossary)
    trailing = _colour_with_marking(groups[-1], part, glossary)
    if trailing and not trailing[3]:
        colour, marking, rest, _ = trailing
        others = groups[:-1]
    elif leading and leading[3] and not leading[2]:
        colour, marking, rest, _ = leading
        others = groups[1:]
    else:
        return None
    colours = [_lone_colour(group, part, glossary) for group in others]
    found = glossary.compound(marking, frozenset([colour, *(name for name in colours if name)]))
    if found is None or None in colours:
        return None
    tokens = tuple(
        token for group in groups for piece in group if piece not in rest for token in piece.tokens
    )
    return (Piece(tokens, (Sense(Sort.COLOUR, found.id),)), *rest)


def _colour_with_marking(
    group: Group, part: str, glossary: Glossary
) -> tuple[str, str, Group, bool] | None:
    """Return colour, marking, what follows, and whether the marking stands first."""
    if len(group) > 1:
        for first, second, leads in ((0, 1, False), (1, 0, True)):
            colour = given(group[first], Sort.COLOUR, part, glossary)
            marking = given(group[second], Sort.MARKING, part, glossary)
            if colour and marking:
                return colour, marking, group[2:], leads
    phrase = group[0].phrase
    for colour_words, marking_words, leads in (
        (phrase[:-1], phrase[-1:], False),
        (phrase[1:], phrase[:1], True),
    ):
        colours = glossary.named(colour_words, Sort.COLOUR, part)
        markings = glossary.named(marking_words, Sort.MARKING, part)
        if colours and markings:
            return colours, markings, group[1:], leads
    return None


def _lone_colour(group: Group, part: str, glossary: Glossary) -> str | None:
    return given(group[0], Sort.COLOUR, part, glossary) if len(group) == 1 else None


def given(piece: Piece, sort: Sort, part: str, glossary: Glossary) -> str | None:
    """Return what a phrase names in a part when taken as of one sort, or None."""
    senses = glossary.senses_in(piece.senses, part)
    return next((sense.gives for sense in senses if sense.sort is sort), None)
