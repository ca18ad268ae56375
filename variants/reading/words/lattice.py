"""Words cut into pieces that may each be part of a colour, a stuff's name, usage, or unknown.

Tokens come in; the likeliest ways of cutting all of them go out (a walk over a lattice that keeps
the best ways at each word). What the pieces of a way name together is not weighed here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from variants.reading.words.colours import is_shade_word
from variants.reading.words.lexicon import Kind, Lexicon, Sense
from variants.reading.words.stuffs import Stuffs
from variants.reading.words.text import Phrase, Token

#: What a word is worth as each kind of piece; an unknown word costs.
COLOUR_WORTH, SHADE_WORTH, USAGE_WORTH, UNKNOWN_COST = 1.15, 0.75, 0.62, -1.2
#: A colour whose name is a stuff's.
STUFFS_COLOUR = 0.1
#: Another word of one colour, by how many words the colour has: a long name, such as "brown with
#: white tip", is told by every word of it.
COLOUR_WORD = 0.6
_COLOUR_WORDS = (0.0, COLOUR_WORD, 1.1, 1.5)
#: A short name that holds in this very part beats the same word as a name of other stuff.
_NAMED_WORTH, _NAMED_WORD = 3.3, 1.6
_OWN_LABEL, _OTHER_LABEL = 0.35, -0.6
#: A stuff's word that is left over, by its weight: the stuff is named by the others.
_SPARE, _TELLS = -1.1, 1.0
_USAGE = (Kind.NOTE, Kind.FILLER, Kind.NONE, Kind.MARKING)
_WORDS = (*_USAGE, Kind.COLOUR, Kind.SHADE, Kind.MATERIAL, Kind.STUFF)
#: Lattices are walked with so many of the best ways kept at each word.
_BEAM = 32
#: Words of the language that tell nothing of a stuff.
_FUNCTION_WORDS = frozenset(
    (  # noqa: SIM905
        "a an the of in on to at by for from as with and or then so not no it its is are be was "
        "than that this these those them they over into onto upon per via w s size sizes sz sm "
        "opt ish bare little set rest when has had can should but such instead together added "
        "built build form pulled away almost typically please try here yes ok nice old proper "
        "comparable pattern take run"
    ).split()
)


@dataclass(frozen=True, slots=True)
class Piece:
    """Words taken together as one kind of thing, and what that is worth."""

    kind: str
    tokens: tuple[Token, ...]
    sense: Sense | None = None
    worth: float = 0.0

    @property
    def phrase(self) -> Phrase:
        """The words as they are compared."""
        return tuple(token.word for token in self.tokens)


class Lattice:
    """Cuts words into pieces by a lexicon."""

    def __init__(self, lexicon: Lexicon, stuffs: Stuffs) -> None:
        self._lexicon = lexicon
        self._stuffs = stuffs
        self._labels = {
            phrase[0]: part for phrase, part in lexicon.part_labels.items() if len(phrase) == 1
        }

    def ways(self, tokens: Sequence[Token], part: str) -> Iterator[tuple[Piece, ...]]:
        """Yield ways of cutting the words into pieces, the likeliest first."""
        beams: list[list[tuple[float, tuple[Piece, ...]]]] = [[] for _ in range(len(tokens) + 1)]
        beams[0] = [(0.0, ())]
        for start in range(len(tokens)):
            beams[start].sort(key=lambda way: -way[0])
            del beams[start][_BEAM:]
            for piece in (*self._phrases(tokens, start, part), *self._words(tokens[start], part)):
                stop = start + len(piece.tokens)
                for so_far, pieces in beams[start]:
                    beams[stop].append((so_far + piece.worth, (*pieces, piece)))
        yield from (pieces for _, pieces in sorted(beams[-1], key=lambda way: -way[0])[:_BEAM])

    def _phrases(self, tokens: Sequence[Token], start: int, part: str) -> Iterator[Piece]:
        """Yield what the phrases that begin at a place mean."""
        longest = min(self._lexicon.longest_from(tokens[start].word), len(tokens) - start)
        for length in range(longest, 0, -1):
            here = tuple(tokens[start : start + length])
            phrase = tuple(token.word for token in here)
            is_usage = False
            for sense in self._lexicon.senses_of(phrase, part):
                if sense.kind is Kind.COLOUR:
                    yield Piece("colour", here, sense, self.colour_worth(phrase))
                elif sense.kind is Kind.SHADE:
                    yield Piece("shade", here, sense, SHADE_WORTH * length)
                elif sense.kind in (Kind.MATERIAL, Kind.STUFF):
                    worth = _NAMED_WORTH + _NAMED_WORD * (length - 1)
                    yield Piece("named", here, sense, worth)
                elif sense.kind in _USAGE and not (is_usage and sense.kind is not Kind.MARKING):
                    is_usage = is_usage or sense.kind is not Kind.MARKING
                    yield Piece(sense.kind.value, here, sense, USAGE_WORTH * length)

    def _words(self, token: Token, part: str) -> Iterator[Piece]:
        """Yield what a single word may be besides: the language's, a label's, a stuff's."""
        word, here = token.word, (token,)
        is_known = bool(self._lexicon.senses_of((word,), part, *_WORDS))
        is_usage = bool(self._lexicon.senses_of((word,), part, *_USAGE))
        label = self._labels.get(word) if part else None
        if word in _FUNCTION_WORDS:
            is_known = True
            if not is_usage:
                yield Piece("filler", here, None, USAGE_WORTH)
        elif label and not is_usage:
            # The name of a part says where the stuff goes, not what it is.
            is_known = True
            yield Piece("filler", here, None, _OWN_LABEL if label == part else _OTHER_LABEL)
        if word not in _FUNCTION_WORDS and self._stuffs.is_word(word):
            is_known = True
            weight = self._stuffs.weigh(word)
            yield Piece("stuff", here, None, weight)
            if weight > _TELLS:
                yield Piece("unknown", here, None, _SPARE * weight)
        if is_shade_word(word):
            is_known = True
            yield Piece("shade", here, None, SHADE_WORTH)
        if not word[:1].isalnum():
            yield Piece("sign", here)
        elif not is_known:
            yield Piece("unknown", here, None, UNKNOWN_COST)

    def colour_worth(self, phrase: Phrase) -> float:
        """Return what a phrase is worth as the name of a colour."""
        if self.names_stuff(phrase):
            return STUFFS_COLOUR
        a_word = _COLOUR_WORDS[min(len(phrase), len(_COLOUR_WORDS)) - 1]
        return COLOUR_WORTH + a_word * (len(phrase) - 1)

    def names_stuff(self, phrase: Phrase) -> bool:
        """Tell whether the name of a colour is that of a stuff as well: "hare's ear", "lead"."""
        if len(phrase) < 3 and any(self._stuffs.is_noun(word) for word in phrase):
            return True
        materials = self._lexicon.trade.materials
        named = self._lexicon.materials_named(phrase)
        return any("weight" in materials[one].functions for one in named)
