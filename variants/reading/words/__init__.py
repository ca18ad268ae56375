"""Dressings written in the trade's plain words to the model, with a confidence and the doubts."""

from variants.reading.words.colours import composed_colour
from variants.reading.words.composing import compose_stuff
from variants.reading.words.customs import Custom, Customs, read_customs
from variants.reading.words.glossary import BARBLESS, Glossary, load_glossary
from variants.reading.words.lexicon import Kind, Lexicon, Sense, read_lexicon
from variants.reading.words.quantities import take_quantities
from variants.reading.words.questions import Question, questions_of
from variants.reading.words.reader import NO_NAME, read_plain
from variants.reading.words.result import (
    Choice,
    Inference,
    Other,
    PartReading,
    Reading,
    ReadIngredient,
    Unread,
)
from variants.reading.words.stuff import Stuff, read_stuff
from variants.reading.words.telling import Telling, read_tellings
from variants.reading.words.text import phrase_of, tokenize
from variants.reading.words.things import Thing
from variants.reading.words.written import dressing_text

__all__ = [
    "BARBLESS",
    "NO_NAME",
    "Choice",
    "Custom",
    "Customs",
    "Glossary",
    "Inference",
    "Kind",
    "Lexicon",
    "Other",
    "PartReading",
    "Question",
    "ReadIngredient",
    "Reading",
    "Sense",
    "Stuff",
    "Telling",
    "Thing",
    "Unread",
    "compose_stuff",
    "composed_colour",
    "dressing_text",
    "load_glossary",
    "phrase_of",
    "questions_of",
    "read_customs",
    "read_lexicon",
    "read_plain",
    "read_stuff",
    "read_tellings",
    "take_quantities",
    "tokenize",
]
