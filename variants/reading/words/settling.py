"""What the words of a clause leave open: a colour of nature, a stuff by custom, told as such.

A hackle that is only ``brown`` is the hackle that custom takes; a body of plain hare's ear has its
natural colour. Whatever is filled in is marked as inferred, with its reason; what no custom tells
stays open.
"""

from __future__ import annotations

from dataclasses import dataclass

from variants.model import MOST_TOGETHER, Colour, Ingredient, Material
from variants.reading.words.clauses import Clause
from variants.reading.words.customs import Custom
from variants.reading.words.glossary import BARBLESS, Glossary
from variants.reading.words.lexicon import BUILT_AS, Kind
from variants.reading.words.result import Choice, Inference, Other, ReadIngredient
from variants.reading.words.things import Thing

HOOK = "hook"
#: Grades of judgement for what is filled in without a table.
_COMPOSED, _SLIP, _NATURAL_OF_SEVERAL, _MAY_BE_OTHER = 0.85, 0.9, 0.9, 0.6
#: A runner-up this near in score is worth telling; this near makes a reading doubtful.
_WORTH_TELLING, _CLOSE = 1.2, 0.12
_DYED = "any"


@dataclass(slots=True)
class Settler:
    """Settles the things of a clause for one part of one style."""

    glossary: Glossary
    part: str
    style: str
    clause: Clause

    def choices(self) -> tuple[Choice, ...]:
        """Return the author's alternatives as far as words and custom tell them."""
        choices: list[Choice] = []
        for choice in self.clause.choices:
            if any(thing.is_none for thing in choice):
                if self.part != HOOK and choices:
                    choices.append(Choice(()))
                continue
            found = [self._ingredient(thing) for thing in choice]
            for thing, one in zip(choice, found, strict=True):
                if one is None and thing.colour is not None and any(found):
                    why = f"nothing tells what stuff of {thing.colour.name} is meant"
                    self.clause.refused.append((thing.words, why))
            kept = tuple(dict.fromkeys(one for one in found if one is not None))
            if len(kept) > MOST_TOGETHER:
                why = f"only {MOST_TOGETHER} of these go into one part"
                self.clause.refused.extend((one.words, why) for one in kept[MOST_TOGETHER:])
                kept = kept[:MOST_TOGETHER]
            if kept and [one.ingredient for one in kept] not in [
                [one.ingredient for one in other.ingredients] for other in choices
            ]:
                choices.append(Choice(kept))
        return tuple(choices[:1] if self.part == HOOK else choices)

    def by_custom(self, words: str) -> ReadIngredient | None:
        """Return what custom takes where the words name nothing."""
        custom = self._custom(None)
        return None if custom is None else self._customary(custom, None, words)

    def _ingredient(self, thing: Thing) -> ReadIngredient | None:
        if thing.stuff is None:
            return self._by_colour(thing)
        material = thing.stuff.material
        inferences = [
            Inference("spelling", f"'{written}' is taken for '{instead}'", "", _SLIP)
            for written, instead in thing.slips
        ]
        sense = thing.stuff_sense
        if sense is not None and sense.sure < 1:
            says = sense.says or f"'{thing.words}' may mean something else"
            inferences.append(Inference("material", says, sense.source, sense.sure))
        elif thing.stuff.is_composed:
            inferences.append(Inference("material", material.note, "", _COMPOSED))
        if self.part == HOOK:
            material = self._without_barb(thing, material)
        colour = self._colour(thing, material, inferences)
        return ReadIngredient(
            Ingredient(material, colour),
            thing.words,
            tuple(inferences),
            names_colour=thing.colour is not None,
            others=_others(thing),
        )

    def _without_barb(self, thing: Thing, hook: Material) -> Material:
        if not BARBLESS & {token.word for token in thing.tokens}:
            return hook
        found = self.glossary.without_barb(hook)
        if found is None:
            why = f"no {hook.name} without a barb is known here"
            self.clause.refused.append((thing.words, why))
        return found or hook

    def _colour(
        self, thing: Thing, material: Material, inferences: list[Inference]
    ) -> Colour | None:
        trade = self.glossary.trade
        colour, sense = thing.colour, thing.colour_sense
        if colour is not None and sense is not None and sense.parts:
            plain = self._dyed(thing, colour)
            own = [trade.colours[name].name for name in material.colours if name != _DYED]
            if plain is not None and not any(name in colour.name for name in own):
                # A red hackle is a bird's natural red, light or dark; red hair there is dyed.
                return plain
            if sense.sure < 1:
                inferences.append(Inference("colour", sense.says, sense.source, sense.sure))
        if colour is not None:
            return colour
        natural = material.natural_colour
        if natural is None:
            return None
        own = [one for one in material.colours if one != _DYED]
        if self.part != HOOK and (len(own) > 1 or _DYED in material.colours):
            says = f"no colour is named: {trade.colours[natural].name}, its natural one"
            inferences.append(Inference("colour", says, "", _NATURAL_OF_SEVERAL))
        return trade.colours[natural]

    def _dyed(self, thing: Thing, colour: Colour) -> Colour | None:
        """Return what the words for a natural colour mean of other stuff: the dyer's colour."""
        lexicon = self.glossary.lexicon
        phrase = tuple(
            token.word
            for token in thing.tokens
            if any(one.kind is Kind.COLOUR for one in lexicon.senses.get((token.word,), ()))
        )
        general = [one for one in lexicon.senses_of(phrase, "", Kind.COLOUR) if not one.parts]
        return lexicon.trade.colours[general[0].gives] if general else None

    def _by_colour(self, thing: Thing) -> ReadIngredient | None:
        """Return what custom takes of which only a colour is told; None beside unknown words."""
        if thing.colour is None or thing.unknown:
            return None
        trade = self.glossary.trade
        custom = self._custom(thing.colour)
        if custom is None:
            custom = self._custom(None)
            if custom is None or _DYED not in trade.materials[custom.material].colours:
                return None
            if self._is_a_stuffs(thing):
                return None  # "gold" is tinsel, and no hackle
        return self._customary(custom, thing, thing.words)

    def _custom(self, colour: Colour | None) -> Custom | None:
        """Return the custom of the part, or of the part that it is built as."""
        customs, built_as = self.glossary.customs, BUILT_AS.get(self.part)
        found = customs.of(self.style, self.part, colour)
        return found or (customs.of(self.style, built_as, colour) if built_as else None)

    def _is_a_stuffs(self, thing: Thing) -> bool:
        """Tell whether the one word for a colour names a stuff at other parts."""
        phrase = tuple(token.word for token in thing.tokens)
        senses = self.glossary.lexicon.senses.get(phrase, ())
        return any(sense.kind is Kind.MATERIAL for sense in senses)

    def _customary(self, custom: Custom, thing: Thing | None, words: str) -> ReadIngredient:
        trade = self.glossary.trade
        material = trade.materials[custom.material]
        colour = thing.colour if thing else None
        if custom.colour:
            colour = trade.colours[custom.colour]
        inferences = [Inference("material", custom.says, custom.source, custom.sure)]
        if colour is None and material.natural_colour:
            colour = trade.colours[material.natural_colour]
        sense = thing.colour_sense if thing else None
        if thing is not None and colour is thing.colour and sense is not None and sense.sure < 1:
            inferences.append(Inference("colour", sense.says, sense.source, sense.sure))
        named = thing is not None and thing.colour is not None
        return ReadIngredient(Ingredient(material, colour), words, tuple(inferences), named)


def _others(thing: Thing) -> tuple[Other, ...]:
    """Return what else the words may name, each with its share of the likelihood."""
    if thing.stuff is None:
        return ()
    near = [one for one in thing.others if thing.stuff.score - one.score < _WORTH_TELLING]
    shares = [2.0 ** (4 * (one.score - thing.stuff.score)) for one in near]
    whole = 1.0 + sum(shares)
    return tuple(
        Other(one.material, round(share / whole, 3))
        for one, share in zip(near, shares, strict=True)
    )
