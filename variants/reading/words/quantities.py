"""Numbers in the words of a part, in every notation that tyers use.

Hook sizes (``#10-#18``, ``14 to 10``, ``1/0``), counts (``4-5 turns``, ``12 wraps``), lengths and
thicknesses (``2.8 mm``, ``7/64"``, ``.015``, ``8/0``, ``70 den``, ``2xl``) are found and taken out,
so that the words between them stand together. A count that is not one number stays a remark.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from variants.reading.words.text import normalize

_NUMBER_WORDS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
                 "eight": 8, "nine": 9, "ten": 10, "twelve": 12}  # fmt: skip
_COUNTED = {"turn": "turns", "wrap": "turns", "wr": "turns", "wind": "turns",
            "fibre": "fibres", "fiber": "fibres", "barb": "fibres", "whisk": "fibres",
            "fib": "fibres", "strand": "strands"}  # fmt: skip
_N = r"\d{1,4}(?:\.\d{1,4})?|\.\d{1,4}|\d{1,3}/\d{1,3}|\d \d/\d"
_WORDED = "|".join(_NUMBER_WORDS)
_NOUGHTS = re.compile(r"(?<![\w./#])(\d{1,2})\s?/\s?0(?![\w./])(?:\s?-\s?\d{1,2}/0(?![\w./]))?")
_HOOK_LENGTH = re.compile(
    r"(?<![\w./])\d\s?x(?:\s?-?\s?(?:long|short|fine|heavy|strong|stout|light|wide|l|s|f|h)\b)"
    r"(?:\s?wire|\s?shank)?|(?<![\w./])\dx(?=\s(?:nymph|dry|wet|streamer|curved|hook))",
    re.IGNORECASE,
)
_SIZES = re.compile(
    r"(?P<mark>\b(?:hook\s)?(?:sizes?|sz\.?|nos?\.?|numbers?)\s?|#\s?)?(?<![\w./])"
    r"(?P<first>\d{1,2}(?:/0)?)(?:s\b)?"
    r"(?P<rest>(?:\s?(?:-|to|,|and|&|or|through|/(?!0))\s?#?\s?(?:size\s)?\d{1,2}(?:/0)?(?:s\b)?"
    r"(?![\w./]*\s?(?:mm|x|xl|turns?|wraps?|hackles?|mil)\b)){0,12})"
    r"(?![\w/]|\.\d|\s?(?:mm|cm|x\b|xl|inch|in\b|deg|[\"°]|turns?|wraps?|fibres?|strands?|"
    r"hackles?|feathers?|layers?|lb|den))",
    re.IGNORECASE,
)
_LENGTH = re.compile(
    rf"(?<![\w./])(?P<low>{_N})(?:\s?(?:-|to|or)\s?(?P<high>{_N}))?\s?"
    rf"(?P<unit>mm|cm|inch(?:es)?|in(?=[\s,;).]|$)|\"|gauge|lbs?|pounds?|den(?:ier)?|d(?=\b)|dtex|mil)"
    rf"(?![A-Za-z])(?:\s(?:long|thick|wide|across|dia(?:meter)?))?\+?",
    re.IGNORECASE,
)
_OF_HOOK = re.compile(
    rf"(?<![\w./])(?:about |over )?(?:{_N}|one and a half|half|one|two|twice)?\s?(?:x|times)?\s?"
    rf"(?:the\s)?(?:hook\s|shank\s)?(?:shank|gape|gap|hook length|shank length|body length)s?"
    rf"(?:[\s-](?:lengths?|widths?|long))?\b(?!\s?(?:hook|nymph|salt|dry|wet|streamer|curved))",
    re.IGNORECASE,
)
_COUNT = re.compile(
    rf"(?<![\w./#])(?:about |some )?(?P<low>\d{{1,3}}|{_WORDED})"
    rf"(?:\s?(?:-|to|or)\s?(?P<high>\d{{1,3}}|{_WORDED}))?\s?"
    rf"(?P<unit>(?:turn|wrap|wr|wind|fibre|fiber|barb|whisk|fib|strand|layer|coat|hair|piece|pair|"
    rf"plume|puff)s?)(?:\s(?:each side|a side|per side))?\b",
    re.IGNORECASE,
)
_TIMES = re.compile(r"(?<![\w./])(?:x\s?\d{1,2}|\d{1,2}\s?x)(?![\w])", re.IGNORECASE)
_BARE = re.compile(rf"(?<![\w./#])(?:{_N})(?:\s?(?:-|to|or)\s?(?:{_N}))?(?![\w./])")
_INCHES = re.compile(r"(?<![\w/])0?\.0\d{1,3}\"?(?!\s?mm)")


@dataclass(slots=True)
class Quantities:
    """What was taken out of the words of a part, and the words that are left.

    Attributes
    ----------
    words : str
    sizes : list of str
        Hook sizes as written, the first and last of a range.
    counts : dict of str to (int, int)
        Least and most, by ``turns``, ``fibres`` or ``strands``.
    measures : list of str
        Lengths, thicknesses and weights as written.
    remarks : list of str
        Numbers of which nothing says what they count.
    joins : set of str
        "-" where the sizes are a range.
    """

    words: str = ""
    sizes: list[tuple[str, ...]] = field(default_factory=list)
    counts: dict[str, tuple[int, int]] = field(default_factory=dict)
    measures: list[str] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    joins: set[str] = field(default_factory=set)


def take_quantities(text: str, *, is_hook: bool = False) -> Quantities:
    """Take the numbers out of the words of a part.

    Examples
    --------
    >>> take_quantities("dry fly, #10-#18", is_hook=True).sizes
    [('10', '18')]
    >>> take_quantities("brown cock, 4-5 turns").counts
    {'turns': (4, 5)}
    >>> take_quantities('black, 8/0').measures
    ['8/0']
    """
    found = Quantities()
    text = normalize(text)

    def measure(match: re.Match[str]) -> str:
        found.measures.append(match[0].strip())
        return " "

    def count(match: re.Match[str]) -> str:
        low, high = _whole(match["low"]), _whole(match["high"] or match["low"])
        name = _COUNTED.get(match["unit"].lower().rstrip("s"))
        if name:
            found.counts[name] = (low, high)
        else:
            found.remarks.append(match[0].strip())
        # What is counted may be all that names the stuff: "two fibres of pheasant tail".
        return f" {match['unit']} " if name == "fibres" else " "

    def remark(match: re.Match[str]) -> str:
        found.remarks.append(match[0].strip())
        return " "

    def sizes(match: re.Match[str]) -> str:
        told = (match["first"], *re.findall(r"\d{1,2}(?:/0)?", match["rest"] or ""))
        found.sizes.append(told)
        if re.search(r"\d\s?(?:-|to|through)\s?#?\s?\d|-\s?size|to\s#", match[0]):
            found.joins.add("-")
        return " , " if "," in match[0] else " "

    text = _HOOK_LENGTH.sub(measure, text)
    if is_hook:
        text = _LENGTH.sub(measure, text)
        text = _SIZES.sub(sizes, text)
    text = _COUNT.sub(count, text)
    text = _NOUGHTS.sub(measure, text)
    text = _INCHES.sub(measure, text)
    text = _LENGTH.sub(measure, text)
    text = _OF_HOOK.sub(
        lambda match: (
            measure(match) if re.search(r"\d|half|one|two|twice|length", match[0]) else match[0]
        ),
        text,
    )
    text = _TIMES.sub(remark, text)
    text = re.sub(
        r"(?:#|\bsizes?\s|\bno\.?\s)\s?\d{1,2}(?:/0)?(?:\s?-\s?#?\d{1,2})?",
        remark,
        text,
        flags=re.IGNORECASE,
    )
    if not is_hook:
        text = _BARE.sub(remark, text)
    found.words = re.sub(r"\s+", " ", text).strip(" ,;-")
    return found


def _whole(text: str) -> int:
    return _NUMBER_WORDS.get(text.lower()) or int(text)


def size_number(text: str) -> int:
    """Return a hook size as one number that falls as hooks grow: 12, 2, 1, then 0 for 1/0.

    >>> [size_number(text) for text in ("14", "1", "1/0", "3/0")]
    [14, 1, 0, -2]
    """
    number, _, nought = text.partition("/")
    return 1 - int(number) if nought else int(number)
