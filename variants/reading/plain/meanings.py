"""Things that go together, phrase by phrase, to what they mean: a colour, a material, remarks.

A group of phrases such as ``light red``, ``mottled woodcock``, ``blue dun lt.`` or ``two yellow
hackles`` comes in; one `Meaning` goes out, or more where a comma seems to be missing. What the
words leave open stays open here; sharing and custom fill it in later.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from variants.model import Colour, Material
from variants.reading.plain.clauses import Group, Together
from variants.reading.plain.compounds import compounded, given
from variants.reading.plain.customs import ANY, comes_in
from variants.reading.plain.glossary import Glossary
from variants.reading.plain.result import Inference
from variants.reading.plain.vocabulary import DUBBINGS
from variants.reading.plain.words import Phrase, Piece, Sense, Sort, Token, phrase_of, written

UNKNOWN_WORD = "is not a word known here"
_NAMING = (Sort.COLOUR, Sort.MATERIAL, Sort.STUFF)
_DESCRIBING = (*_NAMING, Sort.MARKING, Sort.SHADE)
#: Words that begin to say of what colour the stuff before them is.
_TELLING_COLOUR = ("natural", "dyed", "bleached", "undyed")
#: Of stuff already named these words tell which end of it: "deer hair tips".
_ENDS = (("tip",), ("point",))
_NO_SENSE = Sense(Sort.UNKNOWN, "")
#: How far a reading is trusted that rests on a missing comma, or on a colour the tables do not
#: list for the material. Grades of judgement, not probabilities.
_SIDE_BY_SIDE, _UNLISTED = 0.8, 0.7


@dataclass(slots=True)
class Meaning:
    """One ingredient as far as its own words tell it.

    Attributes
    ----------
    colour, material : Colour or None, Material or None
    is_stuff : bool
        Whether the material is one that is always named with a colour.
    is_left_out : bool
        Whether the words say that there is nothing.
    inferences : list of Inference
    remarks : list of str
    unread : list of (str, str)
        Words that were not understood, and why.
    """

    colour: Colour | None = None
    material: Material | None = None
    is_stuff: bool = False
    is_left_out: bool = False
    inferences: list[Inference] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    unread: list[tuple[str, str]] = field(default_factory=list)
    tokens: list[Token] = field(default_factory=list)
    colour_phrase: Phrase = ()
    _colour_elsewhere: Colour | None = None
    _colour_doubt: Inference | None = None
    material_phrase: Phrase = ()
    _markings: list[Piece] = field(default_factory=list)
    _shades: list[Piece] = field(default_factory=list)

    @property
    def words(self) -> str:
        """The words that it comes from."""
        return written(self.tokens)

    @property
    def is_remark(self) -> bool:
        """Whether it names nothing: what stands before it is meant."""
        named = self.colour is not None or self.material is not None
        return not (named or self.is_left_out or self.unread)


def meanings_of(together: Together, part: str, glossary: Glossary) -> list[Meaning]:
    """Return the meaning of things that go together in a part."""
    groups = compounded(together, part, glossary)
    found: list[Meaning] = []
    for group in groups:
        for meaning in _Gathering(glossary, part, is_list=len(groups) > 1).of(group):
            if found and _tells_colour_of(found[-1], meaning):
                found[-1].colour = meaning.colour
                found[-1].tokens.extend(meaning.tokens)
                found[-1].inferences.extend(meaning.inferences)
            elif found and meaning.is_remark:
                found[-1].tokens.extend(meaning.tokens)
                found[-1].remarks.extend(meaning.remarks)
            else:
                found.append(meaning)
    return found


def _tells_colour_of(stuff: Meaning, after: Meaning) -> bool:
    """Tell whether words after a comma say the colour of the stuff before: "rabbit, dyed olive"."""
    is_bare = after.colour is not None and after.material is None
    is_said_so = bool(after.tokens) and after.tokens[0].word in _TELLING_COLOUR
    if not is_bare or stuff.material is None or stuff.colour is not None:
        return False
    return is_said_so or (after.colour is not None and after.colour.id in stuff.material.colours)


class _Gathering:
    """Walks the phrases of one group; a new meaning begins where a second colour does."""

    def __init__(self, glossary: Glossary, part: str, *, is_list: bool) -> None:
        self._glossary = glossary
        self._part = part
        self._is_list = is_list
        self._done: list[Meaning] = []
        self._current = Meaning()

    def of(self, group: Group) -> list[Meaning]:
        senses = _senses_in_context(group, self._part, self._glossary)
        waiting: list[Piece] = []
        for index, (piece, sense) in enumerate(zip(group, senses, strict=True)):
            ahead = senses[index + 1].sort if index + 1 < len(senses) else None
            if sense.sort is Sort.SHADE and ahead in _DESCRIBING:
                waiting.append(piece)
                continue
            is_last = not any(one.sort in (Sort.MATERIAL, Sort.STUFF) for one in senses[index:])
            self._take(piece, sense, waiting, is_last=is_last)
            waiting = []
        self._close()
        return self._done

    def _take(self, piece: Piece, sense: Sense, shades: Sequence[Piece], *, is_last: bool) -> None:
        if sense.sort is Sort.COLOUR:
            self._take_colour(piece, sense, is_last=is_last)
        elif sense.sort in (Sort.MATERIAL, Sort.STUFF):
            self._take_material(piece, sense)
        current = self._current
        for shade in shades:
            current.tokens.extend(shade.tokens)
        current.tokens.extend(piece.tokens)
        current._shades.extend(shades)
        if sense.sort is Sort.MARKING:
            current._markings.append(piece)
        elif sense.sort is Sort.SHADE:
            current._shades.append(piece)
        elif sense.sort is Sort.NOTE:
            current.remarks.append(piece.written)
        elif sense.sort is Sort.NONE:
            current.is_left_out = True
        elif sense.sort not in (*_NAMING, Sort.FILLER, Sort.COMMA):
            current.unread.append((piece.written, f"'{piece.written}' {UNKNOWN_WORD}"))

    def _take_colour(self, piece: Piece, sense: Sense, *, is_last: bool) -> None:
        if not self._tells_colour(sense, is_last) and (
            self._current.colour is not None or self._current.material is not None
        ):
            self._begin_another()
        current = self._current
        colours = self._glossary.trade.colours
        current.colour = colours[sense.gives]
        current.colour_phrase = piece.phrase
        current._colour_doubt = self._note_doubt("colour", piece, sense)
        if sense.parts:
            elsewhere = (one for one in piece.senses if one.sort is Sort.COLOUR and not one.parts)
            general = next(elsewhere, None)
            current._colour_elsewhere = colours[general.gives] if general else None

    def _tells_colour(self, sense: Sense, is_last: bool) -> bool:
        """Tell whether a colour is that of the stuff before it: "8/0 olive", at the end."""
        stuff, colour = self._current.material, self._glossary.trade.colours[sense.gives]
        is_bare = stuff is not None and self._current.colour is None
        return is_last and is_bare and stuff is not None and self._may_have(stuff, colour)

    def _take_material(self, piece: Piece, sense: Sense) -> None:
        material = self._glossary.trade.materials[sense.gives]
        current = self._current
        if current.material is not None and piece.phrase in _ENDS:
            return
        if current.material is not None and current.material is not material:
            if set(piece.phrase) <= set(phrase_of(current.material.name)):
                return
            first = current.material.name
            why = f"'{first}' and '{piece.written}' stand side by side: one, or both?"
            current.unread.append((piece.written, why))
            return
        if current.colour is not None and not self._may_have(material, current.colour):
            if self._is_list:
                self._begin_another()
            else:
                says = f"the tables do not list {material.name} in {current.colour.name}"
                current.inferences.append(Inference("colour", says, "", _UNLISTED))
        self._current.material = material
        self._current.is_stuff = sense.sort is Sort.STUFF
        self._current.material_phrase = piece.phrase
        self._note_doubt("material", piece, sense)

    def _may_have(self, material: Material, colour: Colour) -> bool:
        is_dyed = material.kind in DUBBINGS and ANY in material.colours
        return (
            is_dyed
            or colour.marking != Colour("", "").marking
            or comes_in(material, colour, self._glossary.trade)
        )

    def _note_doubt(self, what: str, piece: Piece, sense: Sense) -> Inference | None:
        if sense.sure >= 1.0:
            return None
        says = sense.says or f"'{piece.written}' may mean something else"
        doubt = Inference(what, says, sense.source, sense.sure)
        self._current.inferences.append(doubt)
        return doubt

    def _begin_another(self) -> None:
        self._close()
        says = "no comma or 'and' stands between two things: taken as a list"
        self._current.inferences.append(Inference("list", says, "", _SIDE_BY_SIDE))

    def _close(self) -> None:
        """Settle shades and markings of the current meaning and begin a new one."""
        current = self._current
        _of_named_stuff(current)
        for shade in current._shades:
            _shaded(current, shade, self._part, self._glossary)
        for marking in current._markings:
            _marked(current, marking, self._part, self._glossary)
        if current.tokens:
            self._done.append(current)
        self._current = Meaning()


def _senses_in_context(group: Group, part: str, glossary: Glossary) -> list[Sense]:
    """Choose each phrase's sense: a name that is colour and material by what stands beside it."""
    every = [glossary.senses_in(piece.senses, part) for piece in group]
    chosen = [senses[0] if senses else _NO_SENSE for senses in every]
    for index, senses in enumerate(every):
        sorts = {sense.sort: sense for sense in reversed(senses)}
        ahead = chosen[index + 1].sort if index + 1 < len(chosen) else None
        behind = chosen[index - 1].sort if index else None
        if Sort.MARKING in sorts and (ahead in _NAMING or behind in _NAMING):
            chosen[index] = sorts[Sort.MARKING]
        elif Sort.COLOUR in sorts and ahead in (Sort.MATERIAL, Sort.STUFF) and not senses[0].parts:
            chosen[index] = sorts[Sort.COLOUR]
    return chosen


def _of_named_stuff(meaning: Meaning) -> None:
    """Take a colour's common sense where the stuff is named and is not had in the special one.

    A red hackle is the natural red of a cock; red hair under the same label is dyed.
    """
    common, material, colour = meaning._colour_elsewhere, meaning.material, meaning.colour
    if common is None or material is None or colour is None or colour.id in material.colours:
        return
    meaning.colour = common
    if meaning._colour_doubt is not None:
        meaning.inferences.remove(meaning._colour_doubt)


def _shaded(meaning: Meaning, shade: Piece, part: str, glossary: Glossary) -> None:
    """Replace the colour by its lighter or darker neighbour of that name, if the tables have it."""
    named = (*shade.phrase, *(meaning.colour_phrase or meaning.material_phrase))
    found = glossary.named(named, Sort.COLOUR, part)
    if found:
        meaning.colour = glossary.trade.colours[found]
        meaning.colour_phrase = named
    else:
        why = f"no colour of the tables is called '{' '.join(named)}'"
        meaning.unread.append((shade.written, why))


def _marked(meaning: Meaning, marking: Piece, part: str, glossary: Glossary) -> None:
    """Find the colour that is marked so, by its name or by its components."""
    wanted = given(marking, Sort.MARKING, part, glossary) or ""
    if meaning.colour is None:
        found = _own_colour_marked(meaning, wanted, marking.phrase, part, glossary)
    elif meaning.colour.marking == wanted:
        found = meaning.colour.id
    else:
        colour, mark = meaning.colour_phrase, marking.phrase
        compound = glossary.compound(wanted, frozenset({meaning.colour.id}))
        found = (
            glossary.named((*colour, *mark), Sort.COLOUR, part)
            or glossary.named((*mark, *colour), Sort.COLOUR, part)
            or (compound.id if compound else None)
        )
    if found:
        meaning.colour = glossary.trade.colours[found]
    else:
        why = f"no colour of the tables is '{marking.written}' so"
        meaning.unread.append((marking.written, why))


def _own_colour_marked(
    meaning: Meaning, marking: str, words: Phrase, part: str, glossary: Glossary
) -> str | None:
    """Return the colour in which a material comes marked so: "mottled turkey", "speckled teal"."""
    own = _colours_of(meaning.material)
    named = meaning.material_phrase
    for length in range(len(named), 0, -1):
        found = glossary.named((*words, *named[:length]), Sort.COLOUR, part)
        if found in own:
            return found
    markings = [glossary.trade.colours[name].marking for name in own]
    if marking in markings:
        return own[markings.index(marking)]
    return own[0] if own and markings[0] != Colour("", "").marking else None


def _colours_of(material: Material | None) -> list[str]:
    return [name for name in material.colours if name != "any"] if material else []
