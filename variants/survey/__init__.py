"""What a book of dressings comes to with one box or many: tied as written, with changes, or not."""

from variants.survey.outlook import Block, Outlook, Standing, Swap, outlook
from variants.survey.survey import Survey, Wishes, survey

__all__ = ["Block", "Outlook", "Standing", "Survey", "Swap", "Wishes", "outlook", "survey"]
