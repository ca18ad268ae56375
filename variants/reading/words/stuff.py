"""One stuff in plain words, as somebody asks for it: "cree rooster hackle", "black tying silk".

The words, the part and the style it is wanted for come in; the material and colour that they mean
go out, with what custom filled in, the other choices they leave and what was not understood.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from variants.model import Colour, Ingredient, Material
from variants.reading.words.clauses import parse_field
from variants.reading.words.glossary import Glossary
from variants.reading.words.result import Choice, Inference, ReadIngredient
from variants.reading.words.settling import Settler
from variants.text import has_unseen

_LONGEST = 200
_BRACKETED = re.compile(r"\([^()]*\)")
#: How far the custom of a style is trusted where no colour is named: a grade of judgement.
_BY_PART = 0.7
#: How sure another reading has to be before it is told.
_LIKELY = 0.3


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
    if has_unseen(text):
        return None
    # What stands in brackets says the same again, or belongs to the name: "landrail (corncrake)".
    tellings = dict.fromkeys((_BRACKETED.sub(" ", text), re.sub(r"[()]", " ", text)))
    read = [_read(one, part, style, glossary) for one in tellings]
    # With words that say nothing here, only a stuff that is named outright is no guess.
    known = [one for one in read if one is not None and not (one.unread and one.inferences)]
    return min(known, key=lambda stuff: len(stuff.unread), default=None)


def _read(text: str, part: str, style: str, glossary: Glossary) -> Stuff | None:
    found = parse_field(text, part, glossary.parser)
    clause = next((one for one in found if one.part == part), None)
    if clause is None:
        return None
    settler = Settler(glossary, part, style, clause)
    choices = settler.choices()
    unread = [(words, f"'{words}' is not a word known here") for words in clause.unknown]
    unread += clause.refused
    named = [one for choice in choices for one in choice.ingredients]
    if named:
        material = named[0].ingredient.material
        taken = _together(choices[0], material)
        others = [one.ingredient for one in named if one not in (*taken, named[0])]
        others += [Ingredient(one.material, None) for one in named[0].others if one.sure > _LIKELY]
        return Stuff(
            material,
            tuple(one.ingredient.colour for one in taken if one.ingredient.colour),
            tuple(dict.fromkeys(others)),
            tuple(one for one in named[0].inferences if one.what != "colour"),
            tuple(unread),
        )
    # Words that say no more than the part's name: custom tells the rest, with not one of them dark.
    usual = None if clause.unknown or clause.things else settler.by_custom(text)
    if usual is None:
        return None
    says = "named by nothing but its part: what the style commonly takes"
    told = Inference("material", says, "common practice", _BY_PART)
    return Stuff(usual.ingredient.material, (), (), (told,))


def _together(choice: Choice, material: Material) -> list[ReadIngredient]:
    """Return what goes in together of one material in colours that the words tell."""
    return [
        one
        for one in choice.ingredients
        if one.ingredient.material is material and one.names_colour
    ]
