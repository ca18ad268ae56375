"""Many dressings at once: what a book and boxes can tie, what to buy, batches for a class."""

from variants.survey.outlook import Block, Outlook, Standing, Swap, outlook
from variants.survey.survey import Survey, Wishes, survey

__all__ = [
    "Block",
    "Outlook",
    "Standing",
    "Survey",
    "Swap",
    "Wishes",
    "batches",
    "class_kit",
    "outlook",
    "pool",
    "purchases",
    "shopping",
    "survey",
    "wants",
]
