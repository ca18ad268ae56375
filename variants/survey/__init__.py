"""Many dressings at once: what a book and boxes can tie, what to buy, batches for a class."""

from variants.survey.outlook import Block, BoxStanding, Outlook, Swap, assess_dressing
from variants.survey.survey import Survey, Wishes, survey

__all__ = [
    "Block",
    "BoxStanding",
    "Outlook",
    "Survey",
    "Swap",
    "Wishes",
    "assess_dressing",
    "batches",
    "class_kit",
    "purchases",
    "shopping",
    "survey",
    "wants",
    "worker_pool",
]
