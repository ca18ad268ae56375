"""Text in any layout to entries: where a dressing begins, which words stand under which label.

Labels are found wherever they may stand: at the head of a line, after a bullet, in a bar of a
table, after a full stop, a semicolon or a comma of a running line. Signs tell how sure a label is:
a colon, a dash or a gap more than a mere blank. Words without a label are a title, a part named at
their end ("copper wire rib"), or a remark.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from variants.model import Origin
from variants.reading.faults import Fault, InputError
from variants.reading.words.lexicon import Lexicon
from variants.reading.words.text import normalize, phrase_of, write_out
from variants.text import has_unseen, shown

NAME, STYLE, SIZES, SOURCE, NOTE = ABOUT = ("name", "style", "sizes", "source", "note")
HANDBOOK_PARTS = ("tag", "tail", "rib", "body", "hackle", "wing")
_LONGEST_NAME = 120
_BULLET = re.compile(r"^\s*(?:[-*•·>–—]+\s+|#\s*(?=[A-Za-z])|\d{1,2}[.)]\s+(?=\D)|\*+(?=\w)|•)")
_WORD = r"(?:[A-Za-z][A-Za-z'’/&-]*\.?|1/[23]|2/3)"
#: A label and the sign behind it; the label is looked up afterwards.
_LABEL = re.compile(
    rf"(?P<label>{_WORD}(?:[ /&,-]{{1,3}}{_WORD}){{0,4}}?\s?\d?\s?(?:\([^()]{{1,30}}\))?)"
    r"(?P<sign>\s*[:=|]+\s*-?\s*|\s+-+\s*|-+\s+|\s{2,}|\t+|\.\s+(?=[A-Z\d#])|,\s+|\s+)",
)
_STRONG = re.compile(r"[:=|-]|\s{2,}|\t")
#: What parts one thing from the next where it stands more than once.
_HARD_BREAK = re.compile(r";\s+|\s/\s")
#: Where a label may begin within a line.
_BREAK = re.compile(
    r"(?:(?:[.;|•]\s*|\s/\s|/\s)+(?:the\s+|then\s+|and\s+)*|,\s+(?:then\s+|and\s+|the\s+)*|"
    r"\s\|\s|\s-\s|\)\s+|\s{2,}|\sand (?:the|a) (?=\w+\s))",
    re.IGNORECASE,
)
_SECTIONS = ("rear", "front", "middle", "back", "first", "second", "third", "inner", "outer",
             "main", "centre", "center", "top", "under", "over", "head", "tail", "trailing",
             "trailer", "body", "upper", "lower")  # fmt: skip


_SECTION = re.compile(
    r"(?:(?P<which>rear|front|back|fore|middle|first|second|third)\s)?"
    r"(?:(?:half|third|section|part|1/2|1/3|2/3)\s)?(?:of\s)?(?:the\s)?(?P<part>body|abdomen)"
    r"(?:\s(?P<last>rear|front|middle)(?:\s(?:half|third|section))?)?"
)
_SECTION_NAMES = {"rear": "rear", "back": "rear", "first": "rear", "front": "front",
                  "fore": "front", "second": "front", "third": "front", "middle": "middle",
                  None: ""}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Cell:
    """The words under one label."""

    labels: tuple[str, ...]
    text: str
    line: int
    sure: float = 1.0


@dataclass(slots=True)
class Entry:
    """One dressing as it stands on the page, no word of its parts understood yet."""

    line: int
    name: str = ""
    about: dict[str, Cell] = field(default_factory=dict)
    cells: list[Cell] = field(default_factory=list)
    remarks: list[tuple[int, str]] = field(default_factory=list)
    unlabelled: list[tuple[int, str]] = field(default_factory=list)

    def put(self, labels: Sequence[str], text: str, line: int, sure: float = 1.0) -> None:
        """File words under their labels: a part's, or what they tell about the dressing."""
        parts = tuple(label for label in labels if label not in ABOUT)
        for label in labels:
            if label in ABOUT and label not in self.about:
                self.about[label] = Cell((label,), text, line)
        if parts:
            self.cells.append(Cell(parts, text, line, sure))


class Layout:
    """Finds labels by the words of a lexicon."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._labels = lexicon.labels
        self._lexicon = lexicon
        self._part_names = {phrase_of(name) for name in lexicon.trade.part_names}

    def read(self, text: str, file: str) -> list[Entry]:
        """Return the entries of a text.

        Raises
        ------
        InputError
            When the text is empty, or a line holds what can't be seen.
        """
        lines = [
            (number, line.rstrip())
            for number, line in enumerate(text.split("\n"), start=1)
            if not self._is_comment(line)
        ]
        said = [(number, line) for number, line in lines if line.strip()]
        if not said:
            raise InputError(
                [
                    Fault(
                        Origin(file, 1),
                        "holds no dressing",
                        "write what the fly is made of, part by part",
                    )
                ]
            )
        _check_seen(said, file)
        table = self._read_table(said)
        if table is not None:
            return table
        blocks = list(_blocks(lines))
        if all(len(block) == len(HANDBOOK_PARTS) + 1 for block in blocks) and not any(
            self._cut(_BULLET.sub("", normalize(line)).strip(), strong=False) for _, line in said
        ):
            return [_block_entry(block) for block in blocks]
        return self._read_lines(lines)

    def _is_comment(self, line: str) -> bool:
        """Tell whether a line begins with # and is no hook size and no label with a sign."""
        line = line.strip()
        if not line.startswith("#") or re.match(r"#+\s?\d", line):
            return False
        return self._cut(normalize(line.lstrip("# ")), strong=True) is None

    def label_of(self, text: str) -> tuple[str, ...]:
        """Return what a label stands for: parts, or what is told about the dressing; or none."""
        text = re.sub(r"\([^()]*\)", " ", text).strip(" .:-*_")
        if not text or len(text) > 60:
            return ()
        whole = self._one_label(text)
        if whole and not re.search(r"[/&+]", text):
            return (whole,)
        found: list[str] = []
        for piece in re.split(r"\s*(?:/|&|\+|,|\band\b)\s*", text):
            label = self._one_label(piece)
            if label is None:
                return (whole,) if whole else ()
            found.append(label)
        return tuple(dict.fromkeys(found))

    def _one_label(self, text: str) -> str | None:
        section = _SECTION.fullmatch(text.lower())
        if section:
            text = f"{_SECTION_NAMES[section['which'] or section['last']]} {section['part']}"
        phrase = phrase_of(text)
        if phrase and phrase[-1].isdigit():
            phrase = phrase[:-1]
        found = self._labels.get(phrase) or self._labels.get(self._lexicon.spell(phrase))
        if found or len(phrase) < 2:
            return found
        if phrase[0] in _SECTIONS:
            own = f"{phrase[0]}-{self._labels.get(phrase[1:], '')}"
            if own in self._lexicon.trade.parts:
                return own
            return self._labels.get(phrase[1:])
        return None

    def _cut(self, text: str, *, strong: bool) -> tuple[tuple[str, ...], str, bool] | None:
        """Cut a text that begins with a label: labels, words, and whether the sign is sure."""
        best: tuple[tuple[str, ...], str, bool] | None = None
        if _HOOK.match(text):
            return ("hook",), text.strip(), False
        for words in range(5, 0, -1):
            found = _label_pattern(words).match(text)
            labels = self.label_of(found["label"]) if found else ()
            if found is None or not labels:
                continue
            is_sure = _is_sure(found["label"], found["sign"])
            if (is_sure or not strong) and (best is None or is_sure):
                words_after = text[found.end() :].strip(" *_")
                best = labels, _LINKING.sub("", words_after), is_sure
            if is_sure:
                break
        return best

    def _with_stuff(self, label: str, words: str) -> str:
        """Return the words under a label that names a stuff itself, with its name: "Foam: 2 mm"."""
        label = label.strip(" .:=|-*_•")
        phrase = phrase_of(label)
        if phrase in self._part_names or not self._lexicon.materials_named(phrase):
            return words
        own = set(phrase_of(words))
        return words if set(phrase) <= own else f"{label} {words}"

    def _read_lines(self, lines: Sequence[tuple[int, str]]) -> list[Entry]:
        entries: list[Entry] = []
        bare = self._join_lone_labels(
            [(number, _BULLET.sub("", write_out(normalize(line)))) for number, line in lines]
        )
        sure = sum(self._cut(line.strip(), strong=True) is not None for _, line in bare)
        is_running = sure < 2
        after_blank = True
        for number, line in bare:
            text = line.strip()
            if not text:
                after_blank = True
                continue
            pieces = list(self._pieces(text, is_running=is_running))
            current = entries[-1] if entries else None
            begins = current is None or self._begins(current, pieces, after_blank)
            if begins:
                current = Entry(number)
                entries.append(current)
            assert current is not None
            self._put_pieces(current, number, line, pieces, is_running=is_running)
            after_blank = False
        return [entry for entry in entries if entry.cells or entry.name or entry.unlabelled]

    def _join_lone_labels(self, lines: Sequence[tuple[int, str]]) -> list[tuple[int, str]]:
        """Join a line that is a label alone with the words on the line below it."""
        joined: list[tuple[int, str]] = []
        waiting: tuple[int, str] | None = None
        alone = sum(bool(self.label_of(line)) for _, line in lines)
        for number, line in lines:
            if waiting is not None and line.strip() and not self.label_of(line):
                joined.append((waiting[0], f"{waiting[1].strip(' :')}: {line.strip()}"))
                waiting = None
                continue
            if waiting is not None:
                joined.append(waiting)
                waiting = None
            if alone >= 3 and self.label_of(line):
                waiting = (number, line)
            else:
                joined.append((number, line))
        return [*joined, waiting] if waiting else joined

    def _begins(
        self,
        current: Entry,
        pieces: Sequence[tuple[tuple[str, ...], str, float]],
        after_blank: bool,
    ) -> bool:
        labels = pieces[0][0] if pieces else ()
        if NAME in labels:
            return bool(current.cells) or bool(current.name) or NAME in current.about
        if not after_blank or not current.cells:
            return False
        return not labels and len(pieces[0][1]) <= _LONGEST_NAME and len(pieces[0][1].split()) <= 9

    def _pieces(
        self, text: str, *, is_running: bool
    ) -> Iterator[tuple[tuple[str, ...], str, float]]:
        """Yield labels with their words, in the order of a line; no label: () ."""
        starts = [0, *(found.end() for found in _BREAK.finditer(text))]
        starts += [
            found.start() for found in re.finditer(r"(?<=\s)[A-Z][a-z]+(?:\s[a-z]+)?\s?:", text)
        ]
        if ": " in text[:_LONGEST_NAME] and self._cut(text, strong=False) is None:
            starts.append(text.find(": ") + 2)  # behind a title
        cuts: list[tuple[int, tuple[str, ...], int, float]] = []
        for start in sorted(set(starts)):
            if start >= len(text) or (cuts and start < cuts[-1][2]):
                continue
            cut = self._cut(text[start:], strong=not (is_running or (start == 0 and not cuts)))
            if cut is None:
                continue
            labels, words, is_sure = cut
            if not is_sure and set(labels) & _NEED_A_SIGN:
                continue
            if not is_sure and start == 0 and not is_running and not _is_large(text[start:]):
                continue
            stop = len(text) - len(text[start:]) + (len(text[start:]) - len(words.rstrip()))
            cuts.append(
                (
                    start,
                    labels,
                    text.find(words, start) if words else len(text),
                    1.0 if is_sure else 0.8,
                )
            )
            del stop
        if not cuts:
            yield (), text, 1.0
            return
        if cuts[0][0] > 0:
            yield (), text[: cuts[0][0]].strip(" ;|•,:"), 1.0
        is_parted = len(_HARD_BREAK.findall(text)) > 1
        for place, (start, labels, begins, sure) in enumerate(cuts):
            ends = cuts[place + 1][0] if place + 1 < len(cuts) else len(text)
            told = text[begins:ends].strip(" ;|•,").removesuffix(".")
            own, *rest = _HARD_BREAK.split(told) if is_parted else (told,)
            yield labels, self._with_stuff(text[start:begins], own), sure
            yield from (((), one, 1.0) for one in rest if one.strip(" ;/"))

    def _put_pieces(
        self,
        entry: Entry,
        number: int,
        line: str,
        pieces: Sequence[tuple[tuple[str, ...], str, float]],
        *,
        is_running: bool,
    ) -> None:
        for place, (labels, words, sure) in enumerate(pieces):
            if labels:
                entry.put(labels, words, number, sure)
                if NAME in labels and not entry.name:
                    entry.name = words
            elif not entry.cells and not entry.name:
                self._put_title(entry, number, words, is_running=is_running or len(pieces) > 1)
            elif place == 0 and line[:1].isspace() and entry.cells and not is_running:
                last = entry.cells[-1]
                entry.cells[-1] = Cell(last.labels, f"{last.text} {words}", last.line, last.sure)
            else:
                self._put_unlabelled(entry, number, words)

    def _put_title(self, entry: Entry, number: int, words: str, *, is_running: bool) -> None:
        title, colon, rest = words.partition(":")
        if not colon:
            title, colon, rest = words.partition(". ") if is_running else (words, "", "")
        if not colon and is_running:
            title, colon, rest = words.partition(", ")
        if self._ends_in_label(title) and is_running and not colon:
            self._put_unlabelled(entry, number, words)
            return
        entry.name = title.strip().removesuffix(".")[:_LONGEST_NAME]
        if rest.strip():
            self._put_unlabelled(entry, number, rest.strip())

    def _put_unlabelled(self, entry: Entry, number: int, words: str) -> None:
        """File words without a label: a part that they name at their end, or what is told later."""
        for sentence in re.split(r"[.;]\s+|\s/\s|\s/$|\s-\s", words):
            for phrase in self._phrases(sentence.strip(" .;,")):
                label = self._ends_in_label(phrase)
                if label:
                    entry.put((label,), phrase, number, 0.7)
                else:
                    entry.unlabelled.append((number, phrase))

    def _phrases(self, sentence: str) -> list[str]:
        """Part a sentence at the commas behind which another part is named."""
        phrases: list[str] = []
        for piece in re.split(r",\s+", sentence):
            own = self._ends_in_label(piece) or _OWN_PLACE.search(piece)
            before = phrases and (
                self._ends_in_label(phrases[-1]) or _OWN_PLACE.search(phrases[-1])
            )
            if phrases and not own and not before:
                phrases[-1] = f"{phrases[-1]}, {piece}"
            elif piece:
                phrases.append(piece)
        return phrases

    def _ends_in_label(self, text: str) -> str | None:
        """Return the part that words name at their end: "copper wire rib", "#16 dry hook"."""
        words = phrase_of(text)
        inner = self._label_within(words)
        if inner:
            return inner
        for length in (2, 1):
            if len(words) > length or (length == 1 and words):
                label = self._labels.get(words[-length:])
                if words[-1] in _NO_ENDS:
                    continue
                if label and label not in ABOUT and len(words) <= 12:
                    return label
        if "hook" in words and len(words) <= 8:
            return "hook"
        return None

    def _label_within(self, words: Sequence[str]) -> str | None:
        """Return the part of "black squirrel wing and a few strands of flash": the first named."""
        for place in range(1, len(words) - 2):
            if words[place + 1] in ("and", "with", "in", "of") and words[place] not in _NO_ENDS:
                label = self._labels.get((words[place],))
                if label and label not in ABOUT and words[place] in _SURE_ENDS:
                    return label
        return None

    def _read_table(self, said: Sequence[tuple[int, str]]) -> list[Entry] | None:
        """Read a table parted by tabs, one dressing a row; None for another layout."""
        tabs = [line.strip().count("\t") for _, line in said]
        if max(tabs) < 2 or (sum(count >= 2 for count in tabs) < 0.8 * len(tabs)):
            return None
        entries: list[Entry] = []
        columns: list[tuple[str, ...]] = [(NAME,), *((part,) for part in HANDBOOK_PARTS)]
        for index, (number, line) in enumerate(said):
            cells = [cell.strip() for cell in line.split("\t")]
            named = [self.label_of(cell) for cell in cells]
            if index == 0 and (NAME,) in named:
                columns = named
                continue
            entry = Entry(number)
            for labels, cell in zip(columns, cells, strict=False):
                if cell:
                    entry.put(labels, cell, number)
            for cell in cells[len(columns) :]:
                if cell:
                    entry.unlabelled.append((number, cell))
            entry.name = entry.about[NAME].text if NAME in entry.about else ""
            entries.append(entry)
        return entries


#: A hook of a kind with its size: "jig hook 8-10".
_HOOK = re.compile(r"(?:[a-z-]+\s){1,3}hooks?,?\s(?:size\s|#\s?)?\d", re.IGNORECASE)
#: Words that tell their part by themselves: a hook's or a thread's size.
_OWN_PLACE = re.compile(
    r"\bhooks?\b|(?<![\w/])#\s?\d|\b\d{1,2}/0\b|\b(?:hk|beads?)\b", re.IGNORECASE
)
#: What joins a label to its words in prose: "the wing is a post of".
_LINKING = re.compile(r"^(?:is|are|of|was|were)\s+", re.IGNORECASE)
#: Words that name a part at the end of a phrase only by chance.
_NO_ENDS = frozenset(
    (
        "side",
        "back",
        "top",
        "tip",
        "eye",
        "joint",
        "loop",
        "link",
        "junction",
        "middle",
        "spot",
        "base",
        "iron",
        "coat",
        "glue",
        "guard",
        "lead",
    )
)
#: Words that name a part wherever something follows them: no stuff ends in them.
_SURE_ENDS = frozenset(("wing", "body", "collar", "rib", "ribbing", "thorax", "hackle", "beard"))
#: Labels that are common words as well.
_NEED_A_SIGN = frozenset(("tip", "back", "marking", "finish", "connection", "liner", "lip", "ears"))
_PATTERNS: dict[int, re.Pattern[str]] = {}


def _label_pattern(words: int) -> re.Pattern[str]:
    """Return a pattern for a label of so many words, and the sign behind it."""
    if words not in _PATTERNS:
        _PATTERNS[words] = re.compile(
            rf"(?P<label>\*{{0,2}}{_WORD}(?:[ /&,-]{{1,3}}{_WORD}){{{words - 1}}}?"
            r"\s?(?:\d(?!\d))?\s?(?:\([^()]{1,30}\))?\*{0,2})"
            r"(?P<sign>\s*[:=|]+\s*-?\s*|\s+-+\s*|-+\s+|\s{2,}|\.\s+|,\s+|\s+(?=\S)|$)",
        )
    return _PATTERNS[words]


def _is_sure(label: str, sign: str) -> bool:
    """Tell whether a label is no mere word: a sign stands behind it, or it is in capitals."""
    if _STRONG.search(sign):
        return True
    return label.isupper() and (sign.startswith(".") or (not sign.strip() and len(label) > 2))


def _is_large(text: str) -> bool:
    """Tell whether a label without a sign is written large, its words small: "Hook 14"."""
    label, _, words = text.partition(" ")
    return label[:1].isupper() and bool(words)


def _check_seen(said: Sequence[tuple[int, str]], file: str) -> None:
    faults = [
        Fault(
            Origin(file, number),
            f"{shown(line)} holds a character that can't be seen",
            "type the line anew",
        )
        for number, line in said
        if has_unseen(line)
    ]
    if faults:
        raise InputError(faults)


def _blocks(lines: Sequence[tuple[int, str]]) -> Iterator[list[tuple[int, str]]]:
    block: list[tuple[int, str]] = []
    for number, line in [*lines, (0, "")]:
        if line.strip():
            block.append((number, line.strip()))
        elif block:
            yield block
            block = []


def _block_entry(block: Sequence[tuple[int, str]]) -> Entry:
    entry = Entry(block[0][0], name=block[0][1])
    for part, (number, text) in zip(HANDBOOK_PARTS, block[1:], strict=True):
        entry.put((part,), text, number)
    return entry
