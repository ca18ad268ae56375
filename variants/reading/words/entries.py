"""One dressing of a text: its style, its hook sizes, and its parts one by one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from variants.model import MOST_TOGETHER, Colour, Ingredient, Style
from variants.reading.words.clauses import Clause, parse_field
from variants.reading.words.glossary import Glossary
from variants.reading.words.layout import SIZES, STYLE, Cell, Entry
from variants.reading.words.numbers import counts_of, part_measures, remarks_of
from variants.reading.words.quantities import Quantities, size_number, take_quantities
from variants.reading.words.result import (
    Choice,
    Inference,
    PartReading,
    ReadIngredient,
    Unread,
)
from variants.reading.words.settling import HOOK, Settler
from variants.reading.words.telling import told_style
from variants.reading.words.text import phrase_of
from variants.reading.words.unlabelled import hook_of_title, likely_part, part_of_words
from variants.text import nearest

THREAD = "thread"
_COATING, _COATED = "body-coating", ("finish", "head", "body-coating")
_BACK, _BELLY, _CASE = "back", "belly", "wing-case"
#: What only flies built as a fish have, whose back is a part of its own.
_FISHES = frozenset(("eyes", "flash", "fins", "overwing", "lip"))
_THREADS_OWN = 0.95
#: Hooks by how many sizes longer than standard they are told to be; three stands for more.
_BY_LENGTH = {2: "hook-nymph", 3: "hook-streamer"}
_BY_ITS_LENGTH, _JIG = 0.8, "jig"
_STRANGE_PART, _TOLD_TWICE = 0.6, 0.9
#: How sure a part is that no label told; below what it is told as a doubt.
_NO_LABEL, _DOUBTFUL = 0.45, 0.5
#: Smallest and largest hook of the hook tables, as numbers that fall as hooks grow.
_LARGEST, _SMALLEST = 2, 24
_WIDEST_RANGE = 24
_AS = re.compile(
    r"^(?:(?:tied\s)?(?:as|same as|like)\s+(?:the\s+)?(?P<part>[a-z -]+)|same|ditto|the same)$",
    re.IGNORECASE,
)
_NEVER_THE_SAME = frozenset(("rib", "thread", "hook", "weight", "bead", "eyes"))
#: A word and a colon that look like a label.
_LABELLED = re.compile(r"([A-Za-z][A-Za-z -]{2,30}?)\s?:\s")
_UNKNOWN = "is not a word known here"


@dataclass(slots=True)
class EntryReader:
    """One entry being read; `read` fills in what is found.

    Attributes
    ----------
    style : Style or None
    sizes, held_sizes : list and tuple of int
        As told; and those of the hook tables, or usual ones.
    """

    entry: Entry
    glossary: Glossary
    asked_style: str | None = None
    asked_sizes: Sequence[int] = ()
    parts: dict[str, PartReading] = field(default_factory=dict)
    unread: list[Unread] = field(default_factory=list)
    unstated: list[tuple[str, int]] = field(default_factory=list)
    inferences: list[Inference] = field(default_factory=list)
    sizes: list[int] = field(default_factory=list)
    style: Style | None = None
    held_sizes: tuple[int, ...] = ()

    @property
    def told(self) -> bool:
        """Whether anything is said of what the fly is made of."""
        return bool(self.parts.keys() - {HOOK}) or bool(self.unread)

    def read(self) -> None:
        """Read the entry."""
        parser = self.glossary.parser
        cells = [*self.entry.cells, *self._labelled()]
        clauses = [
            (cell, clause)
            for cell in cells
            for part in cell.labels
            for clause in _with_coatings(parse_field(cell.text, part, parser))
        ]
        told = self.entry.about.get(SIZES)
        if told is not None:
            self._take_sizes(take_quantities(told.text, is_hook=True))
        _name_backs([clause for _, clause in clauses])
        self.style = self._find_style([clause for _, clause in clauses], cells)
        for cell, clause in clauses:
            self._put(clause, cell)
        self._give_thread_colour()
        self.held_sizes = self._settle_sizes(cells)
        self._add_customary_hook()

    def _labelled(self) -> list[Cell]:
        """Return the words without a label that tell by themselves where they go."""
        cells: list[Cell] = []
        taken = [part for cell in self.entry.cells for part in cell.labels]
        for number, words in self.entry.unlabelled:
            part, sure = part_of_words(words, {*taken}, self.glossary), 1.0
            if part is None:
                part, sure = likely_part(words, taken, self.glossary), _NO_LABEL
            if part is None or _LABELLED.match(words):
                self._tell_no_label(number, words)
                continue
            taken.append(part)
            cells.append(Cell((part,), words, number, sure))
        in_title = hook_of_title(self.entry.name) if HOOK not in taken else ""
        if in_title:
            cells.append(Cell((HOOK,), in_title, self.entry.line))
        return cells

    def _tell_no_label(self, number: int, words: str) -> None:
        label = _LABELLED.match(words)
        if label is None:
            self.unread.append(Unread(number, "", words, "the line has no label"))
            return
        near = nearest(label[1], self.glossary.trade.part_names)
        why = f"'{label[1]}' is no part that the tables know"
        self.unread.append(Unread(number, label[1], words, why, near))

    # -- style and sizes

    def _find_style(self, clauses: Sequence[Clause], cells: Sequence[Cell]) -> Style | None:
        trade = self.glossary.trade
        parts = {clause.part for clause in clauses if clause.things}
        stated = self._stated_style()
        if stated is not None:
            strange = self._strange(stated, parts)
            if strange:
                says = f"a {stated.name} has no {strange}: kept out of the fly"
                self.inferences.append(Inference(STYLE, says, "", _STRANGE_PART))
            return stated
        hooks = " ".join(cell.text for cell in cells if HOOK in cell.labels)
        said = [cell.text for cell in cells]
        sign = told_style(self.glossary.tellings, f"{self.entry.name} {hooks}", said, parts)
        if sign is None:
            return None
        style = trade.styles[sign.style]
        says, sure = f"taken for a {style.name}: {sign.says}", sign.sure
        strange = self._strange(style, parts)
        if strange:
            says, sure = f"{says}; but a {style.name} has no {strange}", sure * _STRANGE_PART
        self.inferences.append(Inference(STYLE, says, sign.source, sure))
        return style

    def _stated_style(self) -> Style | None:
        trade = self.glossary.trade
        told = self.entry.about.get(STYLE)
        if told is not None:
            words = " ".join(told.text.lower().replace("-", " ").split()).strip(" .")
            style = trade.style_names.get(words)
            if style is not None:
                return style
            near = nearest(told.text, trade.style_names)
            why = f"'{told.text[:60]}' is no style that the tables know"
            self.unread.append(Unread(told.line, STYLE, told.text, why, near))
        return trade.styles[self.asked_style] if self.asked_style is not None else None

    def _strange(self, style: Style, parts: Iterable[str]) -> str:
        known = self.glossary.trade.parts
        return ", ".join(known[part].name for part in sorted(parts) if style.part(part) is None)

    def _take_sizes(self, quantities: Quantities) -> None:
        for told in quantities.sizes:
            numbers = [size_number(one) for one in told]
            if len(numbers) == 2 and "-" in quantities.joins:
                low, high = sorted(numbers)
                step = 2 if low % 2 == 0 == high % 2 and low > 0 else 1
                if high - low <= _WIDEST_RANGE:
                    numbers = [*range(low, high + 1, step)]
            self.sizes.extend(number for number in numbers if number not in self.sizes)

    def _settle_sizes(self, cells: Sequence[Cell]) -> tuple[int, ...]:
        sizes = self.sizes or list(self.asked_sizes)
        held = tuple(size for size in sorted(set(sizes)) if _LARGEST <= size <= _SMALLEST)
        line = next((cell.line for cell in cells if HOOK in cell.labels), self.entry.line)
        for size in sizes:
            if size not in held:
                told = f"{1 - size}/0" if size < 1 else str(size)
                why = f"the hook tables have no size {told}: {_LARGEST} to {_SMALLEST}"
                self.unread.append(Unread(line, SIZES, told, why))
        if sizes or self.style is None:
            return held
        custom = self.glossary.customs.of(self.style.id, HOOK, None)
        if custom is None or not custom.sizes:
            return ()
        first, last = custom.sizes[0], custom.sizes[-1]
        usual = f"{first} to {last}" if first != last else str(first)
        says = f"no hook size is stated: {usual} are usual in a {self.style.name}"
        self.inferences.append(Inference(SIZES, says, custom.source, custom.sure))
        return custom.sizes

    # -- parts

    def _put(self, clause: Clause, cell: Cell) -> None:
        part = clause.part
        if part == HOOK:
            self._take_sizes(clause.quantities)
        same = _AS.match(clause.words.strip(" ,"))
        if same:
            self._put_same(same["part"] or "", part, cell)
            return
        if clause.things and all(thing.is_none for thing in clause.things):
            self.unstated.append((part, cell.line))
            return
        settler = Settler(self.glossary, part, self.style.id if self.style else "any", clause)
        choices = settler.choices()
        length, thickness, faults = part_measures(clause.quantities, part)
        if cell.sure < _DOUBTFUL:
            choices = self._doubted(choices, part)
        self._tell_unread(clause, cell, faults)
        if not choices:
            self._ask(settler, cell)
            return
        reading = PartReading(
            part=part,
            words=cell.text,
            line=cell.line,
            choices=choices,
            length=length,
            thickness=thickness,
            counts=counts_of(clause.quantities),
            remarks=(*clause.remarks, *remarks_of(clause.quantities)),
            has_unread=bool(clause.unknown or clause.refused),
        )
        self.parts[part] = _together(self.parts[part], reading) if part in self.parts else reading

    def _doubted(self, choices: tuple[Choice, ...], part: str) -> tuple[Choice, ...]:
        """Return what goes into a part that no label told, each with the doubt."""
        name = self.glossary.trade.parts[part].name
        says = f"the line has no label: taken for the {name} by what it is made of"
        told = Inference("part", says, "common practice", _NO_LABEL)
        return tuple(
            Choice(
                tuple(
                    replace(one, inferences=(*one.inferences, told)) for one in choice.ingredients
                )
            )
            for choice in choices
        )

    def _tell_unread(self, clause: Clause, cell: Cell, faults: Sequence[str]) -> None:
        for words in clause.unknown:
            near = _near_names(words, self.glossary) if len(self.unread) < 40 else ()
            why = f"'{words}' {_UNKNOWN}"
            self.unread.append(Unread(cell.line, clause.part, words, why, near))
        for words, why in clause.refused:
            self.unread.append(Unread(cell.line, clause.part, words, why))
        for why in faults:
            self.unread.append(Unread(cell.line, clause.part, cell.text, why))

    def _put_same(self, named: str, part: str, cell: Cell) -> None:
        """Give a part the stuff of another: "as body"."""
        other = self.glossary.lexicon.labels.get(phrase_of(named)) if named else None
        like = self.parts.get(other or "")
        if like is None and not named:
            like = next(
                (one for one in reversed(self.parts.values()) if one.part not in _NEVER_THE_SAME),
                None,
            )
        if like is None:
            self.unread.append(Unread(cell.line, part, cell.text, "the same as what?"))
            return
        self.parts[part] = replace(like, part=part, words=cell.text, line=cell.line)

    def _ask(self, settler: Settler, cell: Cell) -> None:
        """Fill in by custom what the words leave open, or ask."""
        part, clause = settler.part, settler.clause
        if part == HOOK:
            self._put_long_hook(clause, cell)
            return  # what is tied on no stated hook is tied on the style's own
        name = self.glossary.trade.parts[part].name
        if clause.unknown or clause.things:
            colours = [thing.colour.name for thing in clause.things if thing.colour]
            why = f"which stuff is meant for the {name}?"
            if colours and not clause.unknown:
                why = f"no custom tells the material of a {name} of {', '.join(colours)}"
            self.unread.append(Unread(cell.line, part, cell.text, why))
            return
        read = settler.by_custom(cell.text)
        if read is None:
            self.unread.append(Unread(cell.line, part, cell.text, "nothing is said of it"))
            return
        self.parts.setdefault(
            part,
            PartReading(
                part, cell.text, cell.line, (Choice((read,)),), remarks=tuple(clause.remarks)
            ),
        )

    def _is_jig(self) -> bool:
        """Tell whether a nymph's title says that it is tied on a jig hook."""
        return _JIG in phrase_of(self.entry.name)

    def _jig(self) -> ReadIngredient:
        hook = self.glossary.trade.materials["hook-jig"]
        natural = hook.natural_colour
        colour = self.glossary.trade.colours[natural] if natural else None
        told = Inference("material", "a jig by its title", "common practice", _BY_ITS_LENGTH)
        return ReadIngredient(Ingredient(hook, colour), "", (told,))

    def _put_long_hook(self, clause: Clause, cell: Cell) -> None:
        """Take a hook of which only the length is told for the kind that is so long."""
        told = " ".join(clause.quantities.measures).lower()
        found = re.search(r"(\d)\s?x(?:l|\s?-?\s?long)", told)
        kind = _BY_LENGTH.get(min(int(found[1]), 3)) if found else None
        if kind is None:
            return
        hook = self.glossary.trade.materials[kind]
        natural = hook.natural_colour
        colour = self.glossary.trade.colours[natural] if natural else None
        says = f"a hook so long is taken for a {hook.name}"
        read = ReadIngredient(
            Ingredient(hook, colour), cell.text, (Inference("material", says, "", _BY_ITS_LENGTH),)
        )
        self.parts[HOOK] = PartReading(HOOK, cell.text, cell.line, (Choice((read,)),))

    # -- the rest

    def _give_thread_colour(self) -> None:
        """Give a body, rib or head of tying thread, whose colour is not named, the thread's own."""
        thread = self.parts.get(THREAD)
        first = thread.choices[0].ingredients if thread and thread.choices else ()
        colour = first[0].ingredient.colour if first and first[0].names_colour else None
        if colour is None:
            return
        for name, part in self.parts.items():
            if name != THREAD:
                self.parts[name] = _of_thread(part, colour)

    def _add_customary_hook(self) -> None:
        if self.style is None or HOOK in self.parts:
            return
        cell = next((one for one in self.entry.cells if HOOK in one.labels), None)
        settler = Settler(self.glossary, HOOK, self.style.id, Clause(HOOK))
        read = settler.by_custom("") if not self._is_jig() else self._jig()
        if read is not None:
            words, line = (cell.text, cell.line) if cell else ("", self.entry.line)
            self.parts = {HOOK: PartReading(HOOK, words, line, (Choice((read,)),))} | self.parts


def _name_backs(clauses: Sequence[Clause]) -> None:
    """Take the back of a fly without a belly for what lies over it: a nymph's wing case."""
    parts = {clause.part for clause in clauses}
    if _BELLY not in parts and _CASE not in parts and not parts & _FISHES:
        for clause in clauses:
            clause.part = _CASE if clause.part == _BACK else clause.part


def _with_coatings(clauses: list[Clause]) -> list[Clause]:
    """Give varnish or resin that stands beside other stuff a clause of its own: it coats that."""
    for clause in list(clauses):
        things = clause.things
        coats = [one for one in things if one.stuff and one.stuff.material.kind == "resin"]
        if clause.part in _COATED or not coats or len(coats) == len(things):
            continue
        clause.choices = [
            kept
            for choice in clause.choices
            if (kept := [one for one in choice if not any(one is coat for coat in coats)])
        ]
        clauses.append(Clause(_COATING, [coats], ", ".join(one.words for one in coats)))
    return clauses


def _together(first: PartReading, second: PartReading) -> PartReading:
    """Return a part that is told twice: both stuffs together, the alternatives of the first."""
    stuffs = [*first.choices[0].ingredients, *second.choices[0].ingredients]
    unlike = {one.ingredient: one for one in reversed(stuffs)}
    told = Inference("list", "the part is told twice: both are taken, together", "", _TOLD_TWICE)
    together = Choice(
        tuple(
            replace(one, inferences=(*one.inferences, told))
            for one in stuffs
            if unlike[one.ingredient] is one
        )[:MOST_TOGETHER]
    )
    words = first.words if second.words == first.words else f"{first.words}; {second.words}"
    return replace(
        first,
        choices=(together, *first.choices[1:]),
        words=words,
        remarks=(*first.remarks, *second.remarks),
        has_unread=first.has_unread or second.has_unread,
    )


def _of_thread(part: PartReading, colour: Colour) -> PartReading:
    says = f"no colour is named: {colour.name}, the thread's own"
    told = Inference("colour", says, "common practice", _THREADS_OWN)
    choices = tuple(
        Choice(
            tuple(
                replace(
                    one,
                    ingredient=replace(one.ingredient, colour=colour),
                    inferences=(*one.inferences, told),
                )
                if one.ingredient.material.kind == THREAD and not one.names_colour
                else one
                for one in choice.ingredients
            )
        )
        for choice in part.choices
    )
    return replace(part, choices=choices) if choices != part.choices else part


def _near_names(words: str, glossary: Glossary) -> tuple[str, ...]:
    names = (*glossary.trade.material_names, *glossary.trade.colour_names)
    return _near(words.lower()[:40], names) if len(words) > 3 else ()


@lru_cache(maxsize=1024)
def _near(words: str, names: tuple[str, ...]) -> tuple[str, ...]:
    return nearest(words, names)
