"""What the words of a clause leave open: shared with a neighbour, or filled in by custom.

``black and yellow chenille`` is two chenilles, ``claret mohair or wool`` is claret both times, and
a hackle that is only ``brown`` is the hackle that custom takes. Whatever is filled in is marked as
inferred, with its reason.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from variants.model import MOST_TOGETHER, Colour, Ingredient, Material
from variants.reading.plain.clauses import Clause
from variants.reading.plain.customs import ANY, comes_in
from variants.reading.plain.glossary import Glossary
from variants.reading.plain.meanings import UNKNOWN_WORD, Meaning, meanings_of
from variants.reading.plain.result import Choice, Inference, ReadIngredient
from variants.reading.plain.words import BARBLESS, Sort

#: Grades of judgement for what is filled in without a table: a shared word, a colour not named.
_HOOK = "hook"
_SHARED, _NATURAL_OF_STUFF, _NATURAL_OF_SEVERAL = 0.95, 0.6, 0.9


@dataclass(frozen=True, slots=True)
class Settled:
    """A clause in full.

    Attributes
    ----------
    part : str
    words : str
    choices : tuple of Choice
    remarks : tuple of str
    unread : tuple of (str, str)
        Words not understood, and why.
    """

    part: str
    words: str
    choices: tuple[Choice, ...]
    remarks: tuple[str, ...]
    unread: tuple[tuple[str, str], ...]


def settle(clause: Clause, style: str, glossary: Glossary) -> Settled:
    """Return what a clause means, as far as words and custom tell it."""
    choices = [meanings_of(together, clause.part, glossary) for together in clause.choices]
    _share_materials(choices, clause.part, style, glossary)
    choices = _with_shared_colours(choices, glossary)
    meanings = [meaning for choice in choices for meaning in choice]
    unread = [dark for meaning in meanings for dark in meaning.unread]
    if not clause.choices:
        unread.append((clause.words, f"nothing follows '{clause.words}'"))
    settled: list[Choice] = []
    for choice in choices:
        found = [
            _ingredient(meaning, clause.part, style, glossary, unread)
            for meaning in choice
            if not meaning.is_left_out and not (meaning.is_remark and len(meanings) > 1)
        ]
        ingredients = tuple(one for one in found if one is not None)
        known = [[one.ingredient for one in earlier.ingredients] for earlier in settled]
        if len(ingredients) > MOST_TOGETHER:
            unread.append((clause.words, f"only {MOST_TOGETHER} of these go into one part"))
            ingredients = ingredients[:MOST_TOGETHER]
        if (ingredients or not found) and [one.ingredient for one in ingredients] not in known:
            settled.append(Choice(ingredients))
    remarks = dict.fromkeys(remark for meaning in meanings for remark in meaning.remarks)
    return Settled(
        clause.part, clause.words, tuple(settled), tuple(remarks), tuple(dict.fromkeys(unread))
    )


def _share_materials(
    choices: list[list[Meaning]], part: str, style: str, glossary: Glossary
) -> None:
    """Give a bare colour the material of the next thing, if that names a colour of its own."""
    following: Meaning | None = None
    for meaning in reversed([meaning for choice in choices for meaning in choice]):
        if meaning.material is not None:
            following = meaning
        elif meaning.colour is None:
            following = None
        elif following is not None and not _names_together(meaning, following, part, glossary):
            _share_material(meaning, following, part, style, glossary)


def _names_together(colour: Meaning, stuff: Meaning, part: str, glossary: Glossary) -> bool:
    """Take "grey or brown partridge" for two birds, each with a name of its own."""
    words = stuff.material_phrase if stuff.colour is not None else stuff.material_phrase[1:]
    whole = (*colour.colour_phrase, *words)
    named = glossary.named(whole, Sort.MATERIAL, part) if words and colour.colour_phrase else None
    if named is None:
        return False
    colour.material = glossary.trade.materials[named]
    colour.colour = None
    says = f"'{' '.join(whole)}' is meant"
    colour.inferences.append(Inference("material", says, "", _SHARED))
    return True


def _share_material(
    meaning: Meaning, following: Meaning, part: str, style: str, glossary: Glossary
) -> None:
    material = following.material
    if material is None or following.colour is None:
        return
    by_custom = glossary.customs.of(style, part, meaning.colour, named=True)
    may = following.is_stuff or (
        meaning.colour is not None and comes_in(material, meaning.colour, glossary.trade)
    )
    if by_custom is None and may:
        meaning.material = material
        meaning.is_stuff = following.is_stuff
        says = f"shares the {material.name} that is named after it"
        meaning.inferences.append(Inference("material", says, "", _SHARED))


def _with_shared_colours(choices: list[list[Meaning]], glossary: Glossary) -> list[list[Meaning]]:
    """Give stuff named without a colour, after ``or``, the colours named before it."""
    found: list[list[Meaning]] = []
    for choice in choices:
        donors = _donors(found) if len(choice) == 1 else []
        meaning = choice[0] if choice else Meaning()
        if not donors or not meaning.is_stuff or meaning.colour is not None:
            found.append(choice)
            continue
        for donor in donors:
            says = f"the colour of '{donor.words}' is meant here too"
            shared = Inference("colour", says, "", _SHARED)
            found.append(
                [replace(meaning, colour=donor.colour, inferences=[*meaning.inferences, shared])]
            )
    return found


def _donors(choices: list[list[Meaning]]) -> list[Meaning]:
    """Return the last choices that are one coloured thing each, of one material, in order."""
    donors: dict[str, Meaning] = {}
    material: Material | None = None
    for choice in reversed(choices):
        alone = choice[0] if len(choice) == 1 else None
        if alone is None or alone.colour is None:
            break
        if donors and alone.material is not material:
            break
        material = alone.material
        donors[alone.colour.id] = alone
    return list(donors.values())[::-1]


def _ingredient(
    meaning: Meaning,
    part: str,
    style: str,
    glossary: Glossary,
    unread: list[tuple[str, str]],
) -> ReadIngredient | None:
    material, colour = meaning.material, meaning.colour
    inferences = list(meaning.inferences)
    name = glossary.trade.parts[part].name
    if material is None:
        if any(why.endswith(UNKNOWN_WORD) for _, why in meaning.unread):
            # The word that is not known may name the stuff.
            return None
        custom = glossary.customs.of(style, part, colour)
        if custom is None or (colour is None and not custom.sizes):
            if not meaning.unread:
                what = f"a {name} of {colour.name}" if colour else f"this {name}"
                unread.append((meaning.words, f"no custom tells the material of {what}"))
            return None
        material = glossary.trade.materials[custom.material]
        colour = glossary.trade.colours[custom.colour] if custom.colour else colour
        inferences.append(Inference("material", custom.says, custom.source, custom.sure))
    elif part == _HOOK and BARBLESS & {token.word for token in meaning.tokens}:
        found = glossary.without_barb(material)
        if found is None:
            unread.append((meaning.words, f"no {material.name} without a barb is known here"))
        material = found or material
    elif not glossary.serves(material, part):
        unread.append((meaning.words, f"{material.name} does not serve as a {name}"))
    if colour is None and part == _HOOK and material.natural_colour:
        # Nobody names the finish of a hook.
        colour = glossary.trade.colours[material.natural_colour]
    if colour is None:
        colour = _natural(material.natural_colour, meaning, inferences, glossary)
    return ReadIngredient(
        Ingredient(material, colour),
        meaning.words,
        tuple(inferences),
        names_colour=meaning.colour is not None,
    )


def _natural(
    natural: str | None, meaning: Meaning, inferences: list[Inference], glossary: Glossary
) -> Colour | None:
    """Return the colour meant when none is named, marking it where it could be another."""
    if natural is None:
        return None
    colour = glossary.trade.colours[natural]
    own = [name for name in meaning.material.colours if name != ANY] if meaning.material else []
    if meaning.is_stuff or len(own) > 1:
        sure = _NATURAL_OF_STUFF if meaning.is_stuff else _NATURAL_OF_SEVERAL
        says = f"no colour is named: {colour.name}, its natural one"
        inferences.append(Inference("colour", says, "", sure))
    return colour
