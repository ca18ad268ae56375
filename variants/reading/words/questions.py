"""What to ask of a dressing: the doubtful words, and what they may be, likeliest first."""

from __future__ import annotations

from dataclasses import dataclass

from variants.reading.words.result import Other, PartReading, Reading, ReadIngredient

#: Below this a reading is worth a question, as is another reading that is at least so sure.
_SURE_ENOUGH, _WORTH_ASKING = 0.7, 0.3


@dataclass(frozen=True, slots=True)
class Question:
    """Words to ask about; leaving them open is always one of the answers.

    Attributes
    ----------
    line : int
    field : str
        Id of the part, or what of the dressing is meant; empty where that is not known.
    words : str
    why : str
    taken : str
        Id of the material that they are taken for meanwhile, or empty.
    may_be : tuple of Other
        What they may name, likeliest first.
    near : tuple of str
        Names that are spelt nearly so.
    """

    line: int
    field: str
    words: str
    why: str
    taken: str = ""
    may_be: tuple[Other, ...] = ()
    near: tuple[str, ...] = ()


def questions_of(reading: Reading) -> tuple[Question, ...]:
    """Return what to ask of a dressing: what is not understood, then what is doubtful."""
    dark = [
        Question(one.line, one.field, one.words, one.why, near=one.near) for one in reading.unread
    ]
    doubtful = [
        _question(part, one)
        for part in reading.parts
        for choice in part.choices
        for one in choice.ingredients
        if one.confidence < _SURE_ENOUGH or any(other.sure >= _WORTH_ASKING for other in one.others)
    ]
    return (*dark, *doubtful)


def _question(part: PartReading, one: ReadIngredient) -> Question:
    material = one.ingredient.material
    rest = 1.0 - sum(other.sure for other in one.others)
    taken = Other(material, round(one.confidence * rest, 3))
    may_be = sorted((taken, *one.others), key=lambda other: -other.sure)
    why = "; ".join(inference.says for inference in one.inferences)
    return Question(
        part.line,
        part.part,
        one.words or part.words,
        why or "the words may name more than one stuff",
        material.id,
        tuple(may_be),
    )
