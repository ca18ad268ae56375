"""What was read from plain words: how sure each part is, what was filled in, what stayed dark.

The JSON of ``read`` is an object with ``version`` (1) and ``dressings``: each with ``name``,
``line``, ``confidence``, ``style``, ``sizes`` (as told: 12, "1/0"), ``parts`` (``part``, ``words``,
``confidence`` and ``choices``, each a list of ``material``, ``colour``, ``inferred`` and
``others``: what else the words may mean, ``material`` and how ``sure``), ``unread`` (``line``,
``field``, ``words``, ``why``, ``near``), ``unstated`` (parts given as "none"), ``inferred``,
``remarks`` (lines set aside: ``line``, ``words``) and ``questions`` (``line``, ``field``,
``words``, ``why``, ``taken``, and ``may_be``, the likeliest first: ``material`` and how ``sure``,
or a ``name`` spelt nearly so).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from variants.explain.wording import join_words, pluralize
from variants.model import Ingredient
from variants.reading.words import (
    Inference,
    PartReading,
    Question,
    Reading,
    Stuff,
    questions_of,
)
from variants.text import printable
from variants.views.columns import WIDTH, shortened, wrap, wrap_indented


def report_lines(reading: Reading) -> list[str]:
    """Return the report on one dressing."""
    lines = [f"{printable(reading.name)}: confidence {reading.confidence:.2f}"]
    return lines + [line for doubt in doubts(reading) for line in wrap_indented(doubt, 2)]


def doubts(reading: Reading) -> list[str]:
    """Return what was filled in, left open or not understood, a sentence each."""
    told = [f"{inference.what}: {_why(inference)}" for inference in reading.inferences]
    for part in reading.parts:
        for inference in _inferences(part):
            by = " by custom" if inference.source else ""
            says = f"{part.part} “{printable(part.words)}”: {inference.what}{by}:"
            told.append(f"{says} {_why(inference)}")
        if len(part.choices) > 1:
            others = join_words(_choice_words(part), "or")
            told.append(f"{part.part}: the author leaves a choice: {others}")
    if reading.unstated:
        names = join_words(part for part, _line in reading.unstated)
        told.append(f"given as “none”, that is not used or not known: {names}")
    for line, words in reading.remarks:
        told.append(f"set aside, line {line}: “{printable(words)}”")
    for unread in reading.unread:
        where = f"line {unread.line}, {unread.field}: “{printable(unread.words)}”"
        told.append(f"NOT UNDERSTOOD {where}: {printable(str(unread))}")
    return told


def summary_lines(readings: Sequence[Reading]) -> list[str]:
    """Return a line for each of several dressings."""
    lines = [f"{pluralize(len(readings), 'dressing')} read; --out FOLDER writes them as files", ""]
    for reading in readings:
        lines.append(shortened(f"{reading.confidence:5.2f}  {printable(reading.name)}", WIDTH))
        for unread in reading.unread:
            lines += wrap(
                f"{unread.field} “{printable(unread.words)}”: {printable(str(unread))}",
                initial_indent=" " * 7,
                subsequent_indent=" " * 9,
            )
    return lines


def stuff_lines(words: str, stuff: Stuff) -> list[str]:
    """Return what plain words for one stuff were taken for, and what of them was not."""
    named = [printable(Ingredient(stuff.material, one).words) for one in stuff.colours]
    taken = join_words(named or [printable(stuff.material.name)])
    lines = wrap(
        f"“{printable(words)}” taken for {taken}"
        + "".join(f"; {_why(one)}" for one in stuff.inferences),
        subsequent_indent="  ",
    )
    if stuff.others:
        others = join_words((printable(one.words) for one in stuff.others), "or")
        lines += wrap_indented(f"it may also mean {others}: ask for that by itself", 2)
    for dark, why in stuff.unread:
        lines += wrap_indented(f"NOT UNDERSTOOD “{printable(dark)}”: {printable(why)}", 2)
    return lines


def _why(inference: Inference) -> str:
    return f"{inference.says} ({inference.source})" if inference.source else inference.says


def _inferences(part: PartReading) -> list[Inference]:
    found = part.choices[0].ingredients
    return list(dict.fromkeys(one for ingredient in found for one in ingredient.inferences))


def _choice_words(part: PartReading) -> list[str]:
    return [
        " with ".join(one.ingredient.words for one in choice.ingredients) or "nothing"
        for choice in part.choices
    ]


def reading_json(reading: Reading) -> dict[str, Any]:
    """Return one reading; see the module for the shape."""
    dressing = reading.dressing
    return {
        "name": reading.name,
        "line": reading.line,
        "confidence": round(reading.confidence, 3),
        "style": dressing.style if dressing else None,
        "sizes": [told_size(size) for size in reading.sizes],
        "parts": [_part_json(part) for part in reading.parts],
        "unread": [
            {
                "line": one.line,
                "field": one.field,
                "words": one.words,
                "why": one.why,
                "near": list(one.near),
            }
            for one in reading.unread
        ],
        "unstated": [part for part, _line in reading.unstated],
        "inferred": [_inference_json(one) for one in reading.inferences],
        "remarks": [{"line": line, "words": words} for line, words in reading.remarks],
        "questions": [_question_json(one) for one in questions_of(reading)],
    }


def _question_json(question: Question) -> dict[str, Any]:
    return {
        "line": question.line,
        "field": question.field,
        "words": question.words,
        "why": question.why,
        "taken": question.taken or None,
        "may_be": [
            *({"material": one.material.id, "sure": one.sure} for one in question.may_be),
            *({"name": name} for name in question.near),
        ],
    }


def told_size(size: int) -> int | str:
    """Return a hook size as it is written: 0 is 1/0, -1 is 2/0."""
    return size if size > 0 else f"{1 - size}/0"


def _part_json(part: PartReading) -> dict[str, Any]:
    return {
        "part": part.part,
        "words": part.words,
        "confidence": round(part.confidence, 3),
        "choices": [
            [
                {
                    "material": one.ingredient.material.id,
                    "colour": one.ingredient.colour.id if one.ingredient.colour else None,
                    "inferred": [_inference_json(inference) for inference in one.inferences],
                    "others": [
                        {"material": other.material.id, "sure": other.sure} for other in one.others
                    ],
                }
                for one in choice.ingredients
            ]
            for choice in part.choices
        ],
    }


def _inference_json(inference: Inference) -> dict[str, Any]:
    return {
        "what": inference.what,
        "says": inference.says,
        "source": inference.source,
        "sure": inference.sure,
    }
