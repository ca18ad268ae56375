"""Dressings written in the trade's plain words to the model, with a confidence and the doubts."""

from variants.reading.plain.customs import Custom, Customs, read_customs
from variants.reading.plain.glossary import Glossary, load_glossary
from variants.reading.plain.reader import NO_NAME, read_plain
from variants.reading.plain.result import (
    Choice,
    Inference,
    PartReading,
    Reading,
    ReadIngredient,
    Unread,
)
from variants.reading.plain.stuff import Stuff, read_stuff
from variants.reading.plain.telling import Telling, read_tellings
from variants.reading.plain.written import dressing_text

__all__ = [
    "NO_NAME",
    "Choice",
    "Custom",
    "Customs",
    "Glossary",
    "Inference",
    "PartReading",
    "ReadIngredient",
    "Reading",
    "Stuff",
    "Telling",
    "Unread",
    "dressing_text",
    "load_glossary",
    "read_customs",
    "read_plain",
    "read_stuff",
    "read_tellings",
    "words",
]
