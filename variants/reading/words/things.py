"""The words between two joining words to what they name: a stuff, its colour, and remarks.

Each word may be part of a colour, part of a stuff's name, a word of usage, or unknown. All ways of
cutting the words into such pieces are weighed (a walk over a lattice, the best first), and the best
whole is taken; the runner-up that names another stuff is kept as the other reading.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from variants.model import Colour, Material
from variants.reading.words.colours import (
    composed_colour,
    find_colour,
    is_shade_word,
)
from variants.reading.words.lattice import (
    COLOUR_WORD,
    COLOUR_WORTH,
    SHADE_WORTH,
    USAGE_WORTH,
    Lattice,
    Piece,
)
from variants.reading.words.lexicon import Kind, Lexicon, Sense
from variants.reading.words.stuffs import LITTLE, NamedStuff, Stuffs
from variants.reading.words.text import Phrase, Token, join_written, phrase_of

_SECOND_COLOUR = -0.35
#: A word of another name beside a short name, and a second short name.
_LOST, _SECOND_NAME = -2.0, -6.0
#: One animal's stuff in another's colour.
_TWO_ANIMALS = -1.5
_HAD_IN, _NOT_HAD_IN = 0.25, 0.3
_DYED, _SOLID, _BARRED = "any", "solid", "grizzly"
#: A slip of the pen: so many letters at least, and so like (rapidfuzz's ratio, 0 to 100).
_SLIP_LETTERS, _SLIP_LIKE = 5, 86
_MOST_WORDS = 24


@dataclass(slots=True)
class Thing:
    """What the words of one group name.

    Attributes
    ----------
    stuff : NamedStuff or None
    others : tuple of NamedStuff
        What else the words may name.
    colour : Colour or None
    colour_sense : Sense or None
        What the lexicon says of a colour's word that means one thing in one part.
    marking : str
        Id of the marking that the words tell beside the colour.
    is_none : bool
        Whether the words say that there is nothing.
    remarks, unknown : list of str
    tokens : tuple of Token
    slips : list of (str, str)
        Words taken for others that they are nearly spelt like.
    score : float
    """

    tokens: tuple[Token, ...] = ()
    stuff: NamedStuff | None = None
    others: tuple[NamedStuff, ...] = ()
    stuff_sense: Sense | None = None
    colour: Colour | None = None
    colour_sense: Sense | None = None
    marking: str = ""
    is_none: bool = False
    remarks: list[str] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)
    slips: list[tuple[str, str]] = field(default_factory=list)
    score: float = 0.0

    @property
    def words(self) -> str:
        """The words as they were written."""
        return join_written(self.tokens)

    @property
    def is_empty(self) -> bool:
        """Whether the words name nothing: what stands before them is meant."""
        return self.stuff is None and self.colour is None and not self.is_none


class ThingParser:
    """Parses groups of words for one lexicon."""

    def __init__(self, lexicon: Lexicon) -> None:
        self.lexicon = lexicon
        self.stuffs = Stuffs(lexicon)
        self._lattice = Lattice(lexicon, self.stuffs)
        self._slip = lru_cache(maxsize=4096)(self._find_slip)

    def parse(self, tokens: Sequence[Token], part: str) -> Thing:
        """Return what a group of words names in a part."""
        spelt, slips = self._mend(self.lexicon.spell_tokens(tokens)[:_MOST_WORDS])
        best: Thing | None = None
        others: list[NamedStuff] = []
        for pieces in self._lattice.ways(spelt, part):
            thing = self._weigh(pieces, part)
            if best is None or thing.score > best.score:
                if best is not None and best.stuff is not None:
                    others.append(best.stuff)
                best = thing
            elif thing.stuff is not None:
                others.append(thing.stuff)
        found = best or Thing()
        found.tokens, found.slips = tuple(tokens), slips
        own = found.stuff.material.id if found.stuff else ""
        unlike = {
            one.material.id: one for one in (*found.others, *others) if one.material.id != own
        }
        found.others = tuple(sorted(unlike.values(), key=lambda one: -one.score))[:3]
        return found

    def _mend(self, tokens: Sequence[Token]) -> tuple[tuple[Token, ...], list[tuple[str, str]]]:
        mended: list[Token] = []
        slips: list[tuple[str, str]] = []
        for token in tokens:
            instead = None
            if token.word.isalpha() and len(token.word) >= _SLIP_LETTERS:
                instead = self._slip(token.word)
            if instead:
                slips.append((token.written, instead))
                token = Token(token.written, instead, token.start)
            mended.append(token)
        return tuple(mended), slips

    def _find_slip(self, word: str) -> str | None:
        if word in self.lexicon.words or is_shade_word(word):
            return None
        from rapidfuzz import fuzz, process

        near = process.extractOne(
            word,
            [
                one
                for one in self.lexicon.words
                if abs(len(one) - len(word)) <= 2 and one[:1] == word[:1]
            ],
            scorer=fuzz.ratio,
            score_cutoff=_SLIP_LIKE,
        )
        return str(near[0]) if near else None

    def _weigh(self, pieces: Sequence[Piece], part: str) -> Thing:
        """Return what one way of cutting names, with its score."""
        thing = Thing()
        score = 0.0
        stuff_words: list[str] = []
        named: list[Piece] = []
        colours: list[Piece] = []
        for piece in pieces:
            if piece.kind == "stuff":
                stuff_words.extend(piece.phrase)
            elif piece.kind == "named":
                named.append(piece)
                score += piece.worth
            elif piece.kind in ("colour", "shade", "marking"):
                colours.append(piece)
            elif piece.kind == "note":
                thing.remarks.append(join_written(piece.tokens))
                score += piece.worth
            elif piece.kind == "filler":
                score += piece.worth
            elif piece.kind == "none":
                thing.is_none = True
                score += 1.0
            elif piece.kind == "unknown":
                thing.unknown.append(join_written(piece.tokens))
                score += piece.worth
        score += self._name_stuff(thing, tuple(stuff_words), named, part)
        score += self._name_colour(thing, colours, part)
        if thing.stuff is not None:
            score += self._two_animals(thing.stuff, colours, is_named=bool(named))
            thing.marking = thing.marking or self._marking_of(thing.stuff)
        if thing.colour is None and thing.stuff is not None:
            self._colour_of_name(thing, part)
        elif thing.colour is not None and thing.stuff is not None and not named:
            score += self._suit_colour(thing)
            thing.colour = self._dyed_over(thing.stuff.material, thing.colour)
        thing.score = score
        return thing

    def _name_stuff(self, thing: Thing, words: Phrase, named: Sequence[Piece], part: str) -> float:
        """Fill in the stuff; return what it is worth."""
        if named:
            sense = named[0].sense
            assert sense is not None
            material = self.lexicon.trade.materials[sense.gives]
            thing.stuff = NamedStuff(material, named[0].worth, named[0].phrase)
            thing.stuff_sense = sense
            # A stuff named by its short name in this part, and words of another name beside it.
            lost = [word for word in words if word not in " ".join(named[0].phrase)]
            return _LOST * len(lost) + _SECOND_NAME * (len(named) - 1)
        if not words:
            return 0.0
        ranked = self.stuffs.rank(words, part)
        if not ranked or ranked[0].score <= 0:
            thing.unknown.extend(words)
            return -1.3 * len(words)
        thing.stuff, thing.others = ranked[0], ranked[1:]
        thing.unknown.extend(word for word in ranked[0].missing if word not in LITTLE)
        return ranked[0].score

    def _two_animals(self, stuff: NamedStuff, colours: Sequence[Piece], *, is_named: bool) -> float:
        """Return what it tells against a colour that is another animal's than the stuff."""
        told = any(self.stuffs.is_animal(word) for piece in colours for word in piece.phrase)
        has_animal = is_named or any(map(self.stuffs.is_animal, stuff.name))
        return _TWO_ANIMALS if told and has_animal else 0.0

    def _marking_of(self, stuff: NamedStuff) -> str:
        for word in stuff.name:
            for sense in self.lexicon.senses.get((word,), ()):
                if sense.kind is Kind.MARKING:
                    return sense.gives
        return ""

    def _dyed_over(self, material: Material, colour: Colour) -> Colour:
        """Return the colour of marked stuff that is dyed: "olive grizzly" keeps its bars."""
        natural = self.lexicon.trade.colours.get(material.natural_colour or "")
        if (
            natural is None
            or natural.id != _BARRED
            or colour.marking != _SOLID
            or colour.id in material.colours
            or _DYED in material.colours
        ):
            return colour
        words = (*phrase_of(colour.name), natural.id)
        return composed_colour(words, self.lexicon) or colour

    def _suit_colour(self, thing: Thing) -> float:
        """Take of the stuffs that the words may name the one that is had in the colour named."""
        assert thing.stuff is not None
        assert thing.colour is not None
        ways = [
            (one.score + _had_in(one, thing.colour), one) for one in (thing.stuff, *thing.others)
        ]
        before = thing.stuff.score
        ways.sort(key=lambda way: -way[0])
        thing.stuff, *others = (replace(one, score=score) for score, one in ways)
        thing.others = tuple(others)
        thing.unknown.extend(
            word for word in thing.stuff.missing if word not in LITTLE and word not in thing.unknown
        )
        return thing.stuff.score - before

    def _colour_of_name(self, thing: Thing, part: str) -> None:
        """Take the colour that stands within a stuff's name: "red wire"."""
        assert thing.stuff is not None
        material = thing.stuff.material
        for word in thing.stuff.name:
            found = find_colour((word,), part, self.lexicon) or find_colour(
                (word,), "", self.lexicon
            )
            if (
                found
                and not self._lattice.names_stuff((word,))
                and (
                    found[0].id in material.colours
                    or (_DYED in material.colours and material.kind in _NAMED_WITH_COLOUR)
                )
            ):
                thing.colour, thing.colour_sense = found

    def _name_colour(self, thing: Thing, pieces: Sequence[Piece], part: str) -> float:
        """Fill in the colour of the pieces that tell one; return what it is worth."""
        named = [piece for piece in pieces if piece.kind == "colour"]
        shades = [word for piece in pieces if piece.kind == "shade" for word in piece.phrase]
        markings = [piece for piece in pieces if piece.kind == "marking"]
        thing.marking = next((one.sense.gives for one in markings if one.sense), "")
        words = tuple(word for piece in pieces for word in piece.phrase)
        worth = sum(
            self._lattice.colour_worth(one.phrase) - (COLOUR_WORTH - COLOUR_WORD) * (place > 0)
            for place, one in enumerate(named)
        )
        worth += _SECOND_COLOUR * max(len(named) - 1, 0) + SHADE_WORTH * len(shades)
        worth += USAGE_WORTH * sum(len(one.tokens) for one in markings)
        if not words:
            return 0.0
        whole = find_colour(words, part, self.lexicon) or find_colour(words, "", self.lexicon)
        if whole is None and len(named) == 2 and not shades:
            turned = (*named[1].phrase, *named[0].phrase)
            whole = find_colour(turned, part, self.lexicon)
        if whole is not None:
            thing.colour, thing.colour_sense = whole
            return worth + 0.3
        trade = self.lexicon.trade
        if named:
            senses = [piece.sense for piece in named if piece.sense is not None]
            parts = [trade.colours[sense.gives] for sense in senses]
            if len(parts) == 1 and not [word for word in shades if word not in _SAYS_NOTHING]:
                thing.colour, thing.colour_sense = parts[0], senses[0]
                if markings and parts[0].marking == "solid":
                    thing.remarks.extend(join_written(piece.tokens) for piece in markings)
                return worth
            kept = tuple(
                word for piece in pieces if piece.kind != "marking" for word in piece.phrase
            )
            # As its name composes it anywhere: a file that names it means the same colour.
            thing.colour = composed_colour(kept, self.lexicon)
            if thing.colour is None:
                thing.colour, thing.colour_sense = parts[0], senses[0]
                thing.remarks.extend(kept)
            return worth
        if thing.stuff is not None:
            thing.colour = self._own_shade(thing, words, markings)
            if thing.colour is not None:
                return worth + 0.2
        thing.remarks.extend(words)
        return worth - 0.3

    def _own_shade(self, thing: Thing, words: Phrase, markings: Sequence[Piece]) -> Colour | None:
        """Return the colour of a stuff that shade words alone tell: "dark hare's ear"."""
        assert thing.stuff is not None
        trade = self.lexicon.trade
        own = [name for name in thing.stuff.material.colours if name != "any"]
        for length in range(len(thing.stuff.name), 0, -1):
            found = find_colour((*words, *thing.stuff.name[:length]), "", self.lexicon)
            if found:
                return found[0]
        for piece in markings:
            if piece.sense is not None:
                for name in own:
                    if trade.colours[name].marking == piece.sense.gives:
                        return trade.colours[name]
        if own and words and all(word in _SAYS_NOTHING for word in words):
            return None
        shades = [word for word in words if is_shade_word(word)]
        if own and shades:
            natural = trade.colours[own[0]]
            return composed_colour((*shades, *phrase_of(natural.name)), self.lexicon)
        return None


def _had_in(stuff: NamedStuff, colour: Colour) -> float:
    """Return what it tells for a stuff that it is had in a colour."""
    colours = stuff.material.colours
    if colour.id in colours:
        return _HAD_IN
    if _DYED in colours or not colours:
        return 0.0
    return -_NOT_HAD_IN


#: Classes whose names may hold a colour that is the stuff's own: "gold wire".
_NAMED_WITH_COLOUR = frozenset(("wire", "tinsel", "thread", "floss", "yarn", "bead", "chenille"))
#: Words of shade that say no more than the colour itself.
_SAYS_NOTHING = frozenset(("medium", "mid", "natural", "very", "metallic"))
