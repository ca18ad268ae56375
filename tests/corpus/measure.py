"""How much of the 1940 handbook is read, and how much of that rightly.

``python -m tests measure corpus`` prints the share of the dressings read with every part mapped to
a known material and colour, and how eighty hand-checked ones compare with what a tyer wrote down:
forty before any program read them (truth.tsv), forty more to see whether the reader was made to
fit the first (truth_later.tsv).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from variants.model import Colour, Material, Trade, plain
from variants.reading import read_trade
from variants.reading.words import PartReading, Reading, load_glossary, read_plain

HERE = Path(__file__).parent
RULES = HERE.parents[1] / "rules"
STYLE = "winged-wet"
UNREAD = "unread"
FIRST, LATER = "truth.tsv", "truth_later.tsv"

#: One ingredient as a tyer takes it: materials and colours that are equally right.
Taken = tuple[frozenset[str], frozenset[str]]


@dataclass(frozen=True)
class Truth:
    """One part of one entry as the tyer read it: any of the choices, each with its ingredients.

    Without choices the print is damaged, and the right reading says that it is not understood.
    """

    entry: int
    name: str
    part: str
    choices: tuple[tuple[Taken, ...], ...]


def _rows(name: str) -> Iterator[list[str]]:
    lines = (HERE / name).read_text(encoding="utf-8").splitlines()
    rows = [line.split("\t") for line in lines if line.strip() and not line.startswith("#")]
    yield from rows[1:]


@cache
def trade() -> Trade:
    """The trade's tables as they ship."""
    return read_trade([RULES])


@cache
def readings() -> tuple[Reading, ...]:
    """The whole table of the handbook, read."""
    text = (HERE / "dressings.tsv").read_text(encoding="utf-8").splitlines()
    table = "\n".join(line for line in text if not line.startswith("#"))
    return read_plain(table, load_glossary([RULES], trade()), style=STYLE, file="dressings.tsv")


def is_read(reading: Reading) -> bool:
    """Tell whether every part is mapped and nothing was left dark."""
    return reading.dressing is not None and not reading.unread


@cache
def accepted() -> Mapping[str, frozenset[str]]:
    """Words for sets of materials that a tyer takes as equally right."""
    return {
        word: frozenset(one.strip() for one in ids.split(";") if one.strip())
        for word, ids, *_why in _rows("accepted.tsv")
    }


def truths(file: str = FIRST) -> list[Truth]:
    """What the tyer wrote of forty entries."""
    found = []
    for entry, name, part, reading, *_remark in _rows(file):
        if reading == UNREAD:
            found.append(Truth(int(entry), name, part, ()))
            continue
        choices = tuple(
            tuple(_taken(one) for one in choice.split(" + ")) for choice in reading.split(" or ")
        )
        found.append(Truth(int(entry), name, part, choices))
    return found


def _taken(words: str) -> Taken:
    materials, _, colours = words.lstrip("* ").partition(" / ")
    return _ids(materials, trade().material_names), _ids(colours, trade().colour_names)


def _ids(words: str, names: Mapping[str, Material] | Mapping[str, Colour]) -> frozenset[str]:
    """Return the ids that words stand for; an empty set is anything."""
    ids: set[str] = set()
    for word in words.split("|"):
        word = word.strip()
        if word.startswith("@"):
            ids |= accepted()[word]
            if word == "@any":
                return frozenset()
        elif word:
            known = names.get(plain(word))
            ids.add(known.id if known else word)
    return frozenset(ids)


def agrees(truth: Truth, reading: Reading) -> bool:
    """Tell whether a part was read as the tyer reads it."""
    part = next((one for one in reading.parts if one.part == truth.part), None)
    if not truth.choices:
        told = {one.field for one in reading.unread}
        return truth.part in told and (part is None or part.has_unread)
    return part is not None and any(_matches(choice, part) for choice in truth.choices)


def _matches(choice: tuple[Taken, ...], part: PartReading) -> bool:
    read = part.choices[0].ingredients
    if len(read) != len(choice):
        return False
    left = [found.ingredient.key for found in read]
    for materials, colours in choice:
        match = next(
            (
                key
                for key in left
                if (not materials or key[0] in materials) and (not colours or key[1] in colours)
            ),
            None,
        )
        if match is None:
            return False
        left.remove(match)
    return True


def compare(file: str = FIRST) -> dict[int, list[str]]:
    """Return, for each hand-checked entry, the parts that were read otherwise."""
    wrong: dict[int, list[str]] = defaultdict(list)
    by_entry: dict[int, set[str]] = defaultdict(set)
    for truth in truths(file):
        by_entry[truth.entry].add(truth.part)
        reading = readings()[truth.entry - 1]
        assert reading.name == truth.name, (reading.name, truth.name)
        if not agrees(truth, reading):
            wrong[truth.entry].append(truth.part)
    custom = {"hook", "thread"}
    for entry, parts in by_entry.items():
        extra = {one.part for one in readings()[entry - 1].parts} - parts - custom
        wrong[entry] += sorted(extra)
    return {entry: wrong[entry] for entry in by_entry}


def print_figures() -> None:
    """Print the figures."""
    whole = readings()
    read = [one for one in whole if is_read(one)]
    print(
        f"read with every part mapped: {len(read)} of {len(whole)} ({len(read) / len(whole):.1%})"
    )
    for one in whole:
        if not is_read(one):
            print(f"  not: {one.name}: " + "; ".join(map(str, one.unread)))
    for file in (FIRST, LATER):
        _print_compared(file)


def _print_compared(file: str) -> None:
    compared = compare(file)
    right = sum(not wrong for wrong in compared.values())
    print(f"hand-checked, {file}: {right} of {len(compared)} entries as the tyer reads them")
    for entry, wrong in compared.items():
        for part in wrong:
            reading = readings()[entry - 1]
            found = next((one for one in reading.parts if one.part == part), None)
            got = (
                [[i.ingredient.key for i in c.ingredients] for c in found.choices]
                if found
                else None
            )
            print(f"  {entry} {reading.name}, {part}: {found.words if found else ''} -> {got}")
