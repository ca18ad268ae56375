"""Names that no row has, composed of what their words tell: "turkey rump feather", "orange brown".

A composed stuff is an animal's: its own name, the law of the row of that animal, and all else from
the row of its form. A composed colour is reckoned of those that its words name. Both are the same
wherever they are asked for, by a dressing's words, a box or a file, for they hang on their name.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from variants.model import Material
from variants.reading.words.lexicon import Kind, Lexicon, Sense
from variants.reading.words.text import Phrase, phrase_of

_NO_LAW = "no row tells what law says of {animal}: ask the seller which animal it is"


def compose_stuff(words: Phrase, lexicon: Lexicon) -> Material | None:
    """Return the stuff that words compose: an animal's, of a place or a form; else None."""
    words = lexicon.spell(words)
    senses = _cut(words, lexicon)
    if senses is None:
        return None
    animals = [sense for sense in senses if sense.kind is Kind.ANIMAL]
    made = [sense for sense in senses if sense.kind in (Kind.FORM, Kind.PLACE)]
    if not animals or not made:
        return None
    kin = _kin(animals[-1], lexicon)
    forms = [lexicon.trade.materials[one.gives] for one in made if one.kind is Kind.FORM]
    base = next((one for form in forms for one in kin if one.kind == form.kind), None)
    base = base or (forms[-1] if forms else kin[0] if kin else None)
    return make_like(base, words, animals[-1].gives, kin) if base is not None else None


def _cut(words: Phrase, lexicon: Lexicon) -> list[Sense] | None:
    """Cut words into animals, places, forms and grades; None where one is none of them."""
    telling = (Kind.ANIMAL, Kind.PLACE, Kind.FORM, Kind.GRADE)
    senses: list[Sense] = []
    start = 0
    while start < len(words):
        for length in range(min(4, len(words) - start), 0, -1):
            found = lexicon.senses_of(words[start : start + length], "", *telling)
            if found:
                senses.append(found[0])
                start += length
                break
        else:
            return None
    return senses


def _kin(animal: Sense, lexicon: Lexicon) -> list[Material]:
    """Return the stuffs of the tables that are that animal's, as their trade names tell."""
    named = set(lexicon.spell(phrase_of(animal.gives)))
    materials = lexicon.trade.materials.values()
    return [one for one in materials if named <= set(lexicon.names[one.id][0])]


def make_like(
    base: Material, words: Sequence[str], animal: str, kin: Sequence[Material]
) -> Material:
    """Return a stuff of its own name, with an animal's law, that takes all else from a row."""
    name = " ".join(words)
    law = next((one for one in kin if one.taxa), None)
    return replace(
        base,
        id=name.replace(" ", "-"),
        name=name,
        also=(),
        substitutes=(),
        caution=law.caution if law else "",
        restriction=law.restriction if law else "",
        taxa=law.taxa if law else (),
        origins=law.origins if law else (),
        ask=law.ask if law else _NO_LAW.format(animal=animal),
        note=f"no row of its own: graded as {base.name}",
        source=f"as {base.name}",
    )
