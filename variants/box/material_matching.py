"""The material and the colour of the tables that a few words name, such as ``olive seal's fur``.

Words come in as people label their boxes. The match goes out, with what the words leave open: one
that is not known, one that may mean two things, two materials side by side. Nothing is guessed:
where anything is open the match is not unique, and the caller has to ask.
"""

from __future__ import annotations

from dataclasses import dataclass

from variants.model import Colour, Material, Trade, plain
from variants.reading.words import (
    BARBLESS,
    Glossary,
    Kind,
    Thing,
    phrase_of,
    take_quantities,
    tokenize,
)
from variants.text import shown

_LONGEST = 200
_NATURAL, _DYED = "natural", "any"
#: Two readings so near in score are both told: the words do not settle it.
_AS_GOOD = 0.25


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
    words = take_quantities(text[:_LONGEST]).words
    thing = glossary.parser.parse(tokenize(words), "")
    told: list[str] = [
        f"{shown(written)} is taken for {instead}" for written, instead in thing.slips
    ]
    choices = _choices(thing, glossary, told)
    found = choices[0] if len(choices) == 1 else None
    if len(choices) > 1:
        names = ", ".join(one.name for one in choices[:4])
        told.append(f"{shown(text.strip())} may be {names}")
    if found is not None and (
        thing.stuff is None
        or found.id != thing.stuff.material.id
        or (thing.colour and found.colours == (thing.colour.id,))
    ):
        thing.colour = None  # the word for it is in the name of the stuff, which has no other
    told_colour: list[str] = []
    colour = _colour(thing, material or found, told_colour, glossary)
    return MaterialMatch(
        found,
        None if told_colour else colour,
        choices,
        tuple(thing.unknown),
        tuple(dict.fromkeys(told)),
        tuple(dict.fromkeys(told_colour)),
    )


def _choices(thing: Thing, glossary: Glossary, told: list[str]) -> tuple[Material, ...]:
    """Return what the words name: one stuff, or several that they name as well."""
    if thing.stuff is None:
        return ()
    words = glossary.lexicon.spell(tuple(one.word for one in thing.tokens if one.word.isalnum()))
    exact = [glossary.trade.materials[one] for one in glossary.lexicon.materials_named(words)]
    best = thing.stuff
    as_good = [
        one
        for one in (best, *thing.others)
        if best.score - one.score <= _AS_GOOD and set(one.missing) <= set(best.missing)
    ]
    whole = [one.material for one in as_good if set(one.name) == set(words)]
    found = exact or whole or [one.material for one in as_good]
    return tuple(dict.fromkeys(_without_barb(one, thing, told, glossary) for one in found))


def _without_barb(
    material: Material, thing: Thing, told: list[str], glossary: Glossary
) -> Material:
    """Return what the word makes of a hook: one without its barb, or that it is open."""
    deciding = [token.word for token in thing.tokens if token.word in BARBLESS]
    if not deciding or "hook" not in material.functions:
        return material
    found = glossary.without_barb(material)
    if found is None:
        told.append(f"“{deciding[0]}” makes another thing of it than a {material.name}")
    return found or material


def _colour(
    thing: Thing, material: Material | None, told: list[str], glossary: Glossary
) -> Colour | None:
    """Return the one colour that is named; what may be two is told."""
    trade = glossary.trade
    words = [token.word for token in thing.tokens]
    if thing.colour is None:
        return _natural(material, told, trade) if _NATURAL in words and material else None
    phrase = tuple(word for word in words if _is_colour(word, glossary))
    own = material.colours if material else ()
    special = {
        sense.gives
        for sense in glossary.lexicon.senses.get(phrase, ())
        if sense.kind is Kind.COLOUR and sense.parts and sense.gives in own
    }
    meant = special | {thing.colour.id}
    if len(meant) > 1:
        known = [trade.colours[one].name for one in meant if one in trade.colours]
        names = " or ".join(sorted(known))
        told.append(f"{shown(' '.join(phrase))} may be {names}")
        return None
    return thing.colour


def _is_colour(word: str, glossary: Glossary) -> bool:
    senses = glossary.lexicon.senses.get((word,), ())
    return any(sense.kind in (Kind.COLOUR, Kind.SHADE) for sense in senses)


def _natural(material: Material, told: list[str], trade: Trade) -> Colour | None:
    own = [trade.colours[one] for one in material.colours if one != _DYED]
    called = [one for one in own if _NATURAL in plain(one.name).split()] or own
    if len(called) == 1:
        return called[0]
    told.append(f"{material.name} has not one natural colour")
    return None


def shares_word(text: str, material: Material) -> bool:
    """Tell whether a name has a word of a material in it: "teal slips" may be a teal's quills."""
    own = {word for name in (material.name, *material.also) for word in phrase_of(name)}
    return any(token.word in own for token in tokenize(text[:_LONGEST]))


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
