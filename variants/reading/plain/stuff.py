"""One stuff in plain words, as somebody asks for it: "cree rooster hackle", "black tying silk".

The words, the part and the style it is wanted for come in; the material and colour that they mean
go out, with what custom filled in, the other choices they leave and what was not understood.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from variants.model import Colour, Ingredient, Material
from variants.reading.plain.clauses import clauses_of
from variants.reading.plain.glossary import Glossary
from variants.reading.plain.measures import measured
from variants.reading.plain.result import Choice, Inference, ReadIngredient
from variants.reading.plain.settling import settle
from variants.reading.plain.words import Sort, tokens_of

_LONGEST = 200
_BRACKETED = re.compile(r"\([^()]*\)")
#: How far the custom of a style is trusted where no colour is named: a grade of judgement.
_BY_PART = 0.7


@dataclass(frozen=True, slots=True)
class Stuff:
    """What words for one stuff mean.

    Attributes
    ----------
    material : Material
        What is taken: the first that is named.
    colours : tuple of Colour
        Those that the words tell; several where they go in together; none where it is left open.
    others : tuple of Ingredient
        What else the words may mean or name.
    inferences : tuple of Inference
    unread : tuple of (str, str)
        Words that were not understood, and why.
    """

    material: Material
    colours: tuple[Colour, ...]
    others: tuple[Ingredient, ...] = ()
    inferences: tuple[Inference, ...] = ()
    unread: tuple[tuple[str, str], ...] = ()


def read_stuff(text: str, part: str, style: str, glossary: Glossary) -> Stuff | None:
    """Return what words for one stuff mean at a part of a style; None when they name nothing.

    Parameters
    ----------
    text : str
    part, style : str
        Ids.
    glossary : Glossary
    """
    text = text[:_LONGEST]
    # What stands in brackets says the same again, or belongs to the name: "landrail (corncrake)".
    tellings = dict.fromkeys((_BRACKETED.sub(" ", text), re.sub(r"[()]", " ", text)))
    read = [_read(one, part, style, glossary) for one in tellings]
    # With words that say nothing here, only a stuff that is named outright is no guess.
    known = [one for one in read if one is not None and not (one.unread and one.inferences)]
    return min(known, key=lambda stuff: len(stuff.unread), default=None)


def _read(text: str, part: str, style: str, glossary: Glossary) -> Stuff | None:
    found = measured(text, part)
    pieces = glossary.vocabulary.pieces(tokens_of(found.words))
    clauses = [clause for clause in clauses_of(pieces, part) if clause.part == part]
    if not clauses or not clauses[0].choices:
        return None
    settled = settle(clauses[0], style, glossary)
    named = [one for choice in settled.choices for one in choice.ingredients]
    if named:
        material = named[0].ingredient.material
        taken = _together(settled.choices[0], material)
        return Stuff(
            material,
            tuple(one.ingredient.colour for one in taken if one.ingredient.colour),
            tuple(dict.fromkeys(one.ingredient for one in named if one not in (*taken, named[0]))),
            tuple(one for one in named[0].inferences if one.what == "material"),
            settled.unread,
        )
    # Words that say no more than the part's name: custom tells the rest, with not one of them dark.
    is_bare = all(piece.has(Sort.FILLER, Sort.NOTE) for piece in pieces)
    is_named = any(piece.has(Sort.FILLER) for piece in pieces)
    usual = _customary(part, style, glossary) if is_bare and is_named else None
    if usual is None:
        return None
    says = "named by nothing but its part: what the style commonly takes"
    told = Inference("material", says, "common practice", _BY_PART)
    return Stuff(usual, (), (), (told,))


def _together(choice: Choice, material: Material) -> list[ReadIngredient]:
    """Return what goes in together of one material in colours that the words tell."""
    return [
        one
        for one in choice.ingredients
        if one.ingredient.material is material and one.names_colour
    ]


def _customary(part: str, style: str, glossary: Glossary) -> Material | None:
    custom = glossary.customs.of(style, part, None)
    return glossary.trade.materials[custom.material] if custom else None
