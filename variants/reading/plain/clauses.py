"""The shape of a cell: which words belong to which part, what is a choice, what goes together.

``peacock herl or black silk, ribbed with gold`` is two clauses, one of body and one of rib; the
first holds two choices. ``or`` parts choices, ``and``, ``with`` and a comma part things that go
together, and a comma in front of ``or`` is an ``or`` itself. No meaning is looked up here but that
of the joining words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from variants.reading.plain.words import Piece, Sense, Sort, Token, written

#: One thing of several that go together.
Group = tuple[Piece, ...]
#: Things that go together.
Together = tuple[Group, ...]
_JOINING = (Sort.AND, Sort.WITH, Sort.OR, Sort.COMMA)


@dataclass(frozen=True, slots=True)
class Clause:
    """What is said of one part.

    Attributes
    ----------
    part : str
    choices : tuple of tuple of tuple of Piece
        Choices, each of things that go together, each of phrases; none when words announce a part
        and say nothing of it.
    words : str
        As written.
    """

    part: str
    choices: tuple[Together, ...]
    words: str


@dataclass(slots=True)
class _Open:
    """A clause while its words are being gathered."""

    part: str
    pieces: list[Piece] = field(default_factory=list)
    opener: Piece | None = None


def clauses_of(pieces: Sequence[Piece], part: str) -> tuple[Clause, ...]:
    """Return the clauses of a cell that is labelled with `part`."""
    done: list[_Open] = []
    current = _Open(part)
    for piece in pieces:
        sense = _steering(piece, part)
        if sense is None or sense.gives == current.part:
            if sense is None:
                current.pieces.append(piece)
        elif sense.sort is Sort.OPENS:
            done.append(current)
            current = _Open(sense.gives, opener=piece)
        elif sense.sort is Sort.MOVES:
            current.part = sense.gives
            if piece.has(Sort.MATERIAL):
                # "A head of a brass bead": the word that moves it names the stuff as well.
                current.pieces.append(piece)
        else:
            taken = _last_thing(current, sense.gives)
            if taken.pieces:
                done.append(taken)
            else:
                current.pieces.append(piece)
    done.append(current)
    return tuple(clause for found in done if (clause := _closed(found)) is not None)


def _closed(clause: _Open) -> Clause | None:
    """Return a gathered clause; None when nothing was said, and nothing announced it."""
    pieces = _trimmed(clause.pieces)
    if pieces:
        return Clause(clause.part, _choices(pieces), written(_tokens(pieces)))
    return Clause(clause.part, (), clause.opener.written) if clause.opener else None


def _steering(piece: Piece, part: str) -> Sense | None:
    for sense in piece.senses:
        steers = sense.sort in (Sort.OPENS, Sort.CLOSES, Sort.MOVES)
        if steers and (not sense.parts or part in sense.parts):
            return sense
    return None


def _last_thing(clause: _Open, part: str) -> _Open:
    """Take the words after the last joining word out of a clause, as one of another part."""
    start = len(clause.pieces)
    while start and not clause.pieces[start - 1].has(*_JOINING):
        start -= 1
    taken = _Open(part, clause.pieces[start:])
    del clause.pieces[start:]
    return taken


def _trimmed(pieces: Sequence[Piece]) -> list[Piece]:
    """Drop joining words at either end."""
    start, stop = 0, len(pieces)
    while start < stop and pieces[start].has(*_JOINING):
        start += 1
    while stop > start and pieces[stop - 1].has(*_JOINING):
        stop -= 1
    return list(pieces[start:stop])


def _tokens(pieces: Sequence[Piece]) -> list[Token]:
    return [token for piece in pieces for token in piece.tokens]


def _choices(pieces: Sequence[Piece]) -> tuple[Together, ...]:
    choices: list[list[list[Piece]]] = [[[]]]
    for piece, joint in zip(pieces, _joints(pieces), strict=True):
        if joint is Sort.OR:
            choices.append([[]])
        elif joint is Sort.AND:
            choices[-1].append([])
        else:
            choices[-1][-1].append(piece)
    kept = (tuple(tuple(group) for group in choice if group) for choice in choices)
    return tuple(choice for choice in kept if choice)


def _joints(pieces: Sequence[Piece]) -> list[Sort | None]:
    """Return how each piece joins, None for one that does not; a comma joins as the next does."""
    joints: list[Sort | None] = []
    following = Sort.AND
    for place, piece in reversed(list(enumerate(pieces))):
        joint = None
        if piece.has(Sort.OR):
            joint = Sort.OR
        elif piece.has(Sort.AND, Sort.WITH):
            joint = Sort.AND
        if joint is not None:
            following = joint
        if joint is None and piece.has(Sort.COMMA) and not _comes_before_colour(pieces, place):
            joint = following
        joints.append(joint)
    return joints[::-1]


def _comes_before_colour(pieces: Sequence[Piece], place: int) -> bool:
    """Tell whether a comma parts stuff from its colour: "turkey biot, olive"."""
    before, after = pieces[:place], pieces[place + 1 :]
    for end, piece in enumerate(reversed(before)):
        if piece.has(*_JOINING):
            before = before[len(before) - end :]
            break
    is_bare = not any(piece.has(Sort.COLOUR, Sort.MARKING) for piece in before)
    is_stuff = any(piece.has(Sort.MATERIAL, Sort.STUFF) for piece in before)
    # Nothing but a colour follows, to the end: in a list each thing has its own.
    is_colour = bool(after) and after[0].has(Sort.COLOUR, Sort.SHADE)
    is_last = all(
        piece.has(Sort.COLOUR, Sort.SHADE, Sort.NOTE)
        and not piece.has(Sort.MATERIAL, Sort.STUFF, *_JOINING)
        for piece in after
    )
    return is_bare and is_stuff and is_colour and is_last
