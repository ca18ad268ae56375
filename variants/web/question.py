"""What is asked, as it stands in a link: read strictly, written back in one form.

A link that can be kept holds the whole question, so every view of it shows the same again. A field
that is not known, or known twice, is refused with what would be right.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from http import HTTPStatus
from urllib.parse import urlencode

from variants.rulebook import WATERS
from variants.text import shown
from variants.web.errors import RequestError, bad_field, near_hint

#: Which variants are listed; the words are the page's.
LISTINGS = {
    "needed": "change no more than they must",
    "closest": "the closest, whatever they change",
    "different": "the closest of each set of changes",
}
DEFAULT_LISTING = "needed"
#: So many variants are shown at first, and at most.
FIRST, MOST = 6, 60
LARGEST_HOOK, SMALLEST_HOOK = 1, 32
LONGEST_TEXT = 4_000
_LONGEST_WORD = 200
_FIELDS = (
    "dressing", "text", "style", "sizes", "size", "water", "on", "missing", "keep", "changes",
    "list", "show",
)  # fmt: skip
#: The form sends one choice for each part under a name that begins so.
_PART = "part."
_MANY = ("missing", "keep")

Pairs = Sequence[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class Question:
    """A question about one dressing.

    Attributes
    ----------
    dressing : str
        Key of a dressing on the shelf; empty when one was pasted.
    text : str
        A dressing in plain words, as pasted.
    style, sizes : str
        What the pasted words leave unsaid: id of a style, hook sizes.
    size : int or None
    water : str or None
    on : str
        Key of the place whose rules are kept; empty for none.
    missing, keep : tuple of str
        Ids of parts (or, for missing, of items and materials), sorted.
    changes : int or None
        How many parts may differ.
    listing : str
        One of `LISTINGS`.
    show : int
        How many variants.
    """

    dressing: str = ""
    text: str = ""
    style: str = ""
    sizes: str = ""
    size: int | None = None
    water: str | None = None
    on: str = ""
    missing: tuple[str, ...] = ()
    keep: tuple[str, ...] = ()
    changes: int | None = None
    listing: str = DEFAULT_LISTING
    show: int = FIRST

    @classmethod
    def read(cls, pairs: Pairs) -> Question:
        """Return the question of a link.

        Raises
        ------
        RequestError
            When a field is unknown, stands twice, or holds what it can't.
        """
        fields = _sorted_out(pairs)
        one = {name: values[0] for name, values in fields.items() if values}
        dressing, text = one.get("dressing", "").strip(), one.get("text", "").strip()
        if len(text) > LONGEST_TEXT:
            problem = f"the dressing is {len(text)} characters long; {LONGEST_TEXT} is the most"
            raise RequestError(HTTPStatus.REQUEST_ENTITY_TOO_LARGE, problem, "Paste one dressing.")
        if text and dressing:
            raise bad_field("dressing", "a link names a dressing or holds one, not both")
        missing, keep = _words(fields, "missing"), _words(fields, "keep")
        both = sorted(set(missing) & set(keep))
        if both:
            raise bad_field("keep", f"{shown(both[0])} can't be kept and missing at once")
        return cls(
            dressing[:_LONGEST_WORD],
            text,
            one.get("style", "").strip()[:_LONGEST_WORD] if text else "",
            one.get("sizes", "").strip()[:_LONGEST_WORD] if text else "",
            whole("size", one.get("size", ""), LARGEST_HOOK, SMALLEST_HOOK),
            choice("water", one.get("water", ""), WATERS),
            one.get("on", "").strip()[:_LONGEST_WORD],
            missing,
            keep,
            whole("changes", one.get("changes", ""), 0, 40),
            choice("list", one.get("list", ""), LISTINGS) or DEFAULT_LISTING,
            whole("show", one.get("show", ""), 1, MOST) or FIRST,
        )

    def pairs(self) -> list[tuple[str, str]]:
        """Return the question's fields, those at rest left out, always in one order."""
        told: list[tuple[str, str]] = [
            ("dressing", self.dressing),
            ("text", self.text),
            ("style", self.style),
            ("sizes", self.sizes),
            ("size", "" if self.size is None else str(self.size)),
            ("water", self.water or ""),
            ("on", self.on),
            *(("missing", name) for name in self.missing),
            *(("keep", name) for name in self.keep),
            ("changes", "" if self.changes is None else str(self.changes)),
            ("list", "" if self.listing == DEFAULT_LISTING else self.listing),
            ("show", "" if self.show == FIRST else str(self.show)),
        ]
        return [(name, value) for name, value in told if value]

    def link(self, page: str, **more: object) -> str:
        """Return the link of a page about this question."""
        further = [(name, str(value)) for name, value in more.items()]
        query = urlencode([*self.pairs(), *further])
        return f"{page}?{query}" if query else page

    def changed(self, **fields: object) -> Question:
        """Return the question with some of its fields changed."""
        return replace(self, **fields)  # type: ignore[arg-type]


def _sorted_out(pairs: Pairs) -> dict[str, list[str]]:
    """Return the values of each field; refuse what is unknown or stands twice."""
    fields: dict[str, list[str]] = {}
    for name, value in pairs:
        if name.startswith(_PART):
            _put_part(fields, name.removeprefix(_PART), value)
            continue
        if name not in _FIELDS:
            hint = near_hint(name, _FIELDS)
            raise bad_field(shown(name), "is no field of a link here", hint)
        if not value:
            continue
        if name in fields and name not in _MANY:
            raise bad_field(name, "stands twice in the link", "Keep one of the two.")
        fields.setdefault(name, []).append(value)
    return fields


def _put_part(fields: dict[str, list[str]], part: str, value: str) -> None:
    if value in _MANY:
        fields.setdefault(value, []).append(part)
    elif value not in ("", "free"):
        raise bad_field(
            f"part {shown(part)}", f"{shown(value)} is no choice", "Write free, keep or missing."
        )


def _words(fields: Mapping[str, list[str]], name: str) -> tuple[str, ...]:
    words = {word.strip() for word in fields.get(name, []) if word.strip()}
    if any(len(word) > _LONGEST_WORD for word in words) or len(words) > 60:
        raise bad_field(name, "too long, or too many", "Name parts of the dressing.")
    return tuple(sorted(words))


def whole(field: str, text: str, low: int, high: int) -> int | None:
    """Return a whole number, None for an empty text; refuse another."""
    text = text.strip()
    if not text:
        return None
    if not (text.isascii() and text.isdecimal()) or not low <= int(text[:9]) <= high:
        raise bad_field(
            field, f"{shown(text)} does not fit", f"Write a whole number from {low} to {high}."
        )
    return int(text)


def choice(field: str, text: str, known: Iterable[str]) -> str | None:
    """Return one of some known words, None for an empty text; refuse another."""
    known = list(known)
    text = text.strip()
    if text and text not in known:
        raise bad_field(field, f"{shown(text)} is not known", f"Write one of: {', '.join(known)}.")
    return text or None
