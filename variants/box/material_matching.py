"""The material and the colour of the tables that a few words name, such as ``olive seal's fur``.

Words come in as people label their boxes. The match goes out, with what the words leave open: one
that is not known, one that may mean two things, two materials side by side. Nothing is guessed:
where anything is open the match is not unique, and the caller has to ask.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from variants.model import Colour, Material, Trade, plain
from variants.reading.plain import Glossary
from variants.reading.plain.words import (
    BARBLESS,
    Phrase,
    Piece,
    Sense,
    Sort,
    phrase_of,
    tokens_of,
)
from variants.text import shown

_LONGEST = 200
#: Words of a size, which say nothing of what the stuff is.
_SIZE = re.compile(r"[0-9].*|mm|in|x|size|no")
#: Of a feather's use and not of its place on the bird.
_USES: frozenset[Phrase] = frozenset({("hackle",), ("fibre",), ("hackle", "fibre"), ("feather",)})
#: A size of wire or chenille as well as a shade.
_MIDDLING = "medium"
_NATURAL = "natural"


@dataclass(frozen=True, slots=True)
class MaterialMatch:
    """What words name, and what they leave open.

    Attributes
    ----------
    material, colour : Material or None, Colour or None
        None where the words leave it open.
    choices : tuple of Material
        That the words may mean.
    unknown : tuple of str
        Words that mean nothing here.
    open, open_colour : tuple of str
        What the words leave open of the material and of the colour, each told in a sentence.
    """

    material: Material | None
    colour: Colour | None
    choices: tuple[Material, ...] = ()
    unknown: tuple[str, ...] = ()
    open: tuple[str, ...] = ()
    open_colour: tuple[str, ...] = ()

    @property
    def is_unique(self) -> bool:
        """Whether the words name one material and leave nothing open of it."""
        return self.material is not None and not self.unknown and not self.open


def match_material(
    text: str, glossary: Glossary, material: Material | None = None
) -> MaterialMatch:
    """Return the material and the colour that words name, and what they leave open.

    Parameters
    ----------
    text : str
    glossary : Glossary
    material : Material, optional
        What it is, where that is known otherwise: the colour is one of this stuff.
    """
    return _Matcher(text, glossary).match(material)


def shares_word(text: str, material: Material) -> bool:
    """Tell whether a name has a word of a material in it: "teal slips" may be a teal's quills."""
    own = {word for name in (material.name, *material.also) for word in phrase_of(name)}
    return any(token.word in own for token in tokens_of(text[:_LONGEST]))


def find_kind(text: str, trade: Trade) -> tuple[Material, ...]:
    """Return the materials of a kind that a text names, where it names several: ``hook``.

    Such a word heads a drawer, and tells of a thing in it no more than that.
    """
    word = plain(text)
    named = trade.material_names.get(word) or trade.material_names.get(word.removesuffix("s"))
    if named is None:
        return ()
    alike = [one for one in trade.materials.values() if one.kind == named.kind]
    is_kind = word.removesuffix("s") == plain(named.kind)
    return tuple(alike) if is_kind and len(alike) > 1 and plain(named.name) != word else ()


class _Matcher:
    """Matches the words for one material, phrase by phrase."""

    def __init__(self, text: str, glossary: Glossary) -> None:
        self.glossary, self.trade = glossary, glossary.trade
        self.pieces = glossary.vocabulary.pieces(tokens_of(text[:_LONGEST]))
        self.open: list[str] = []
        self.open_colour: list[str] = []

    def match(self, known: Material | None) -> MaterialMatch:
        """Return what all of the words name together."""
        named = [piece for piece in self.pieces if self._material_ids(piece)]
        # "Gold" is a tinsel by itself, and the colour of a bead.
        nouns = [piece for piece in named if not _colour_senses(piece)] or named[:1]
        nouns = self._match_reversed(nouns) or self._match_kind(nouns, named) or nouns
        choices = self._list_choices(nouns)
        material = choices[0] if len(choices) == 1 else None
        if len(choices) > 1:
            names = ", ".join(one.name for one in choices[:4])
            self.open.append(f"{_quote(nouns)} may be {names}")
        material = self._apply_barbless(material)
        # "Speckled" is a marking of stuff that comes so.
        colours = [
            piece
            for piece in self.pieces
            if piece not in nouns
            and _colour_senses(piece)
            and not ((known or material) and piece.has(Sort.MARKING))
        ]
        colour = self._match_colour(colours, known or material)
        unknown = [
            piece.written
            for piece in self.pieces
            if piece.has(Sort.UNKNOWN, Sort.NONE) and not _SIZE.fullmatch(piece.phrase[0])
        ]
        self._check_rest([*nouns, *colours], material)
        colour = None if self.open_colour else colour
        about = (tuple(dict.fromkeys(told)) for told in (self.open, self.open_colour))
        return MaterialMatch(material, colour, choices, tuple(unknown), *about)

    def _match_reversed(self, nouns: Sequence[Piece]) -> list[Piece]:
        """Return the one stuff that words name in another order: "mallard, bronze"."""
        for noun in nouns:
            for piece in self.pieces:
                turned = (*piece.phrase, *noun.phrase)
                senses = self.glossary.vocabulary.senses(turned, Sort.MATERIAL)
                if piece is not noun and senses:
                    whole = Piece((*piece.tokens, *noun.tokens), senses)
                    self.pieces = (*(one for one in self.pieces if one not in (piece, noun)), whole)
                    return [whole]
        return []

    def _match_kind(self, nouns: Sequence[Piece], named: Sequence[Piece]) -> list[Piece]:
        """Return the stuff whose kind the noun tells: "elk" of "elk hair", where both name one."""
        kinds = {
            self.trade.materials[one].kind for noun in nouns for one in self._material_ids(noun)
        }
        return [
            piece
            for piece in named
            if piece not in nouns
            and {self.trade.materials[one].kind for one in self._material_ids(piece)} == kinds
        ]

    def _material_ids(self, piece: Piece) -> list[str]:
        """Return the materials that a phrase names wherever it stands.

        One that it names at some part only counts where it says nothing else at all.
        """
        senses = [sense for sense in piece.senses if sense.sort in (Sort.MATERIAL, Sort.STUFF)]
        found = [one.gives for one in senses if not one.parts or one.sort is Sort.STUFF]
        if not found and len(senses) == len(piece.senses):
            found = [one.gives for one in senses]
        return list(dict.fromkeys(found))

    def _list_choices(self, nouns: Sequence[Piece]) -> tuple[Material, ...]:
        """Return what the nouns may mean: what they agree in, or all of it where they don't."""
        named = [set(self._material_ids(piece)) for piece in nouns]
        if not named:
            return ()
        common = set.intersection(*named) or set.union(*named)
        order = [one for piece in nouns for one in self._material_ids(piece) if one in common]
        return tuple(self.trade.materials[one] for one in dict.fromkeys(order))

    def _apply_barbless(self, material: Material | None) -> Material | None:
        """Return the material that a deciding word makes of another: a hook without its barb."""
        deciding = [word for piece in self.pieces for word in piece.phrase if word in BARBLESS]
        if material is None or not deciding:
            return material
        found = self.glossary.without_barb(material)
        if found is not None:
            return found
        self.open.append(f"“{deciding[0]}” makes another thing of it than a {material.name}")
        return material

    def _match_colour(self, pieces: Sequence[Piece], material: Material | None) -> Colour | None:
        """Return the one colour that is named; None after noting that there are two."""
        told = [self._colour_ids(piece, material) for piece in pieces]
        ids = set().union(*told) if told else set()
        markings = [one for one in self.pieces if one.has(Sort.MARKING) and one not in pieces]
        if not told:
            if markings:
                return self._match_marking(markings, None, material)
            return self._match_natural(material)
        if len(ids) > 1:
            names = " or ".join(sorted(self.trade.colours[one].name for one in ids))
            self.open_colour.append(f"{_quote(pieces)} may be {names}")
            return None
        if not ids:
            return None
        colour = self.trade.colours[next(iter(ids))]
        return self._match_marking(markings, colour, material) if markings else colour

    def _colour_ids(self, piece: Piece, material: Material | None) -> set[str]:
        """Return the colours that a phrase may mean of a material.

        A colour that it means at some parts only is meant of stuff that has it by nature: a red
        hackle may be the cock's own red, red floss is not.
        """
        senses = [sense for sense in piece.senses if sense.sort is Sort.COLOUR]
        special = [sense for sense in senses if sense.parts]
        if material is not None:
            special = [sense for sense in special if sense.gives in material.colours]
        found = {sense.gives for sense in senses if not sense.parts}
        return found | {sense.gives for sense in special}

    def _match_natural(self, material: Material | None) -> Colour | None:
        if not any(_NATURAL in piece.phrase for piece in self.pieces) or material is None:
            return None
        own = [self.trade.colours[one] for one in material.colours if one != "any"]
        called = [one for one in own if _NATURAL in plain(one.name).split()] or own
        if len(called) == 1:
            return called[0]
        self.open_colour.append(f"{material.name} has not one natural colour")
        return None

    def _match_marking(
        self, markings: Sequence[Piece], colour: Colour | None, material: Material | None
    ) -> Colour | None:
        """Return the colour so marked: of those a material has, or by its components."""
        wanted = {sense.gives for piece in markings for sense in piece.senses}
        if colour is not None:
            if colour.marking in wanted:
                return colour
            made: list[Colour | None] = [
                self.glossary.compound(one, frozenset({colour.id})) for one in sorted(wanted)
            ]
        else:
            own = material.colours if material else ()
            known = [self.trade.colours[one] for one in own if one != "any"]
            if len(known) == 1:
                return None  # it comes in no other
            # What it is by nature goes before what it may be besides.
            by_nature = [one for one in known[:1] if one.marking in wanted]
            made = [*(by_nature or (one for one in known if one.marking in wanted))]
        found = {one.id: one for one in made if one is not None}
        if len(found) == 1:
            return next(iter(found.values()))
        self.open_colour.append(f"no one colour of the tables is {_quote(markings)} so")
        return None

    def _check_rest(self, used: Sequence[Piece], material: Material | None) -> None:
        """Note words that would make another stuff or another shade of what was found."""
        names = (material.name, *material.also) if material else ()
        own = {word for name in names for word in phrase_of(name)}
        has_colour = any(_colour_senses(piece) for piece in used)
        for piece in self.pieces:
            if piece in used or set(piece.phrase) <= own:
                continue
            if piece.has(Sort.SHADE) and (has_colour or _MIDDLING not in piece.phrase):
                self.open_colour.append(f"no colour of the tables is {_quote([piece])} so")
            elif _is_about_part(piece) and piece.phrase not in _USES:
                self.open.append(f"{_quote([piece])} may make another stuff of it")


def _colour_senses(piece: Piece) -> list[Sense]:
    return [sense for sense in piece.senses if sense.sort is Sort.COLOUR]


def _is_about_part(piece: Piece) -> bool:
    """Tell whether words name a part of a fly, or say something at some parts only."""
    steering = (Sort.FILLER, Sort.OPENS, Sort.CLOSES, Sort.MOVES)
    told = [sense for sense in piece.senses if sense.sort in (*steering, Sort.MATERIAL)]
    return bool(told) and all(sense.parts for sense in told)


def _quote(pieces: Iterable[Piece]) -> str:
    return shown(" ".join(piece.written for piece in pieces))
