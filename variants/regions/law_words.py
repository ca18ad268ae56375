"""Statutes in words: what may be done with what, where it is written, and how old the text is."""

from __future__ import annotations

from datetime import date

from variants.model import Statute

_UNDATED = "undated"
_SEEN = {
    "text": "read",
    "excerpt": "read in an excerpt",
    "summary": "read in a summary",
    "memory": "from memory",
}
_FLY = "fly"


def says_words(statute: Statute) -> str:
    """Return what a row says, with the acts it speaks of and its exceptions."""
    acts = [] if statute.when else [one for one in statute.acts if one != _FLY]
    told = f"to {join_acts(acts)}: {statute.condition}" if acts else statute.condition
    return f"{told}; except: {statute.exceptions}" if statute.exceptions else told


def join_acts(acts: list[str]) -> str:
    """Return acts as they are said.

    >>> join_acts(["hold", "sell", "buy"])
    'hold, sell or buy'
    """
    *first, last = acts
    return f"{', '.join(first)} or {last}" if first else last


def written_words(statute: Statute, today: date | None = None) -> str:
    """Return where a row is written, how old its text is and how it came to us.

    Parameters
    ----------
    statute : Statute
    today : date, optional
        The day that decides whether the text may have lapsed; by default this one.
    """
    text = f"text of {statute.text_date}"
    if statute.text_date == _UNDATED:
        text = "text without a date"
    if statute.has_lapsed(today or date.today()):
        text += ", may have lapsed"
    where = f"{statute.statute}, {statute.section}; {text}, {_SEEN[statute.seen]}"
    return where if statute.seen == "memory" else f"{where}; {statute.address}"
