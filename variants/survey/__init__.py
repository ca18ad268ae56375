"""Many dressings at once: what a book and boxes can tie, what to buy, batches for a class."""

from variants.survey.outlook import Block, Outcome, Outlook, Replacement, assess_dressing
from variants.survey.survey import Survey, Wishes, survey

__all__ = [
    "Block",
    "Outcome",
    "Outlook",
    "Replacement",
    "Survey",
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
