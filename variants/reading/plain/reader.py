"""Reads dressings written in the trade's words: text in, readings with their doubts out.

Nothing is guessed in silence. What custom fills in is marked with its reason and source, what is
not understood is listed with its line, and a part whose words say nothing is left unstated.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from variants.model import Dressing, Ingredient, Origin, Style
from variants.reading.plain.clauses import clauses_of
from variants.reading.plain.glossary import Glossary
from variants.reading.plain.layout import NAME, NOTE, SIZES, SOURCE, STYLE, Cell, Entry, entries_of
from variants.reading.plain.measures import Measured, hook_sizes, measured
from variants.reading.plain.result import (
    Choice,
    Inference,
    PartReading,
    Reading,
    ReadIngredient,
    Unread,
)
from variants.reading.plain.settling import Settled, settle
from variants.reading.plain.telling import told_style
from variants.reading.plain.words import Piece, Sort, tokens_of
from variants.text import nearest, shown

HOOK, THREAD = "hook", "thread"
#: How far a body of tying silk is taken to be of the thread's colour: a grade of judgement.
_THREADS_OWN = 0.95
#: A part told in more phrases than this is prose; it is reported, not read.
_MOST_PIECES = 60
_LONGEST_CELL = 600
#: Names near to an unknown word are looked up for so many words of a text.
_MOST_NEAR = 12
NO_NAME = "(no name)"


def read_plain(
    text: str,
    glossary: Glossary,
    *,
    style: str | None = None,
    sizes: Sequence[int] = (),
    file: str = "(text)",
) -> tuple[Reading, ...]:
    """Read every dressing of a text.

    Parameters
    ----------
    text : str
        Lines ``Label: words`` under a title, a table parted by tabs, or seven lines in the
        handbook's order: name, tag, tail, rib, body, hackle, wing.
    glossary : Glossary
        The trade with its words and customs.
    style : str, optional
        Id of the style, where the text states none.
    sizes : sequence of int, optional
        Hook sizes, where the text states none.
    file : str
        Name of the text, for messages.

    Raises
    ------
    InputError
        When the text holds no dressing in a layout that is known.
    """
    entries = entries_of(text, glossary, file)
    near = _Near(glossary)
    return tuple(_Reader(entry, glossary, style, sizes, file, near).read() for entry in entries)


class _Near:
    """Names near to unknown words, for the first few of a text: each costs a walk of all names."""

    def __init__(self, glossary: Glossary) -> None:
        self._glossary = glossary
        self._left = _MOST_NEAR

    def names(self, word: str) -> tuple[str, ...]:
        if self._left <= 0:
            return ()
        self._left -= 1
        trade = self._glossary.trade
        return nearest(word, dict.fromkeys([*trade.material_names, *trade.colour_names]))


@dataclass(slots=True)
class _Reader:
    """One entry being read."""

    entry: Entry
    glossary: Glossary
    asked_style: str | None
    asked_sizes: Sequence[int]
    file: str
    near: _Near
    parts: dict[str, PartReading] = field(default_factory=dict)
    unread: list[Unread] = field(default_factory=list)
    unstated: list[tuple[str, int]] = field(default_factory=list)
    inferences: list[Inference] = field(default_factory=list)

    def read(self) -> Reading:
        self.unread.extend(self.entry.unread)
        style = self._style()
        sizes = self._sizes()
        for cell in self.entry.cells:
            for part in cell.labels:
                if part == HOOK:
                    sizes = self._hook_cell(cell, style) or sizes
                else:
                    self._cell(cell, part, style)
        self._of_the_thread()
        if not self.parts.keys() - {HOOK} and not self.unread:
            why = "says nothing of what the fly is made of"
            self.unread.append(Unread(self.entry.line, NAME, self.entry.name, why))
        if style is not None:
            sizes = self._custom_hook(style, sizes)
        name = self.entry.name[:200].strip() or NO_NAME
        return Reading(
            dressing=self._dressing(name, style, sizes),
            name=name,
            line=self.entry.line,
            parts=tuple(self.parts.values()),
            unread=tuple(self.unread),
            unstated=tuple(self.unstated),
            inferences=tuple(self.inferences),
        )

    def _style(self) -> Style | None:
        styles = self.glossary.trade.styles
        cell = self.entry.about.get(STYLE)
        if cell is None and self.asked_style is not None:
            return styles[self.asked_style]
        if cell is None:
            return self._told_style()
        names = self.glossary.trade.style_names
        found = names.get(" ".join(cell.text.lower().replace("-", " ").split()))
        if found is None:
            why = f"{shown(cell.text)} is no style that the tables know"
            self.unread.append(Unread(cell.line, STYLE, cell.text, why, nearest(cell.text, names)))
        return found

    def _told_style(self) -> Style | None:
        """Return the style that title, hook and parts tell, marked as inferred."""
        cells = self.entry.cells
        hooks = [cell.text for cell in cells if HOOK in cell.labels]
        title = " ".join((self.entry.name, *hooks))[:_LONGEST_CELL]
        said = [cell.text[:_LONGEST_CELL] for cell in cells]
        parts = {part for cell in cells for part in cell.labels}
        told = told_style(self.glossary.tellings, title, said, parts)
        if told is None:
            why = "the style is not stated, and custom depends on it: add a line 'Style: …'"
            self.unread.append(Unread(self.entry.line, STYLE, "", why))
            return None
        style = self.glossary.trade.styles[told.style]
        says = f"taken for a {style.name}: {told.says}"
        self.inferences.append(Inference(STYLE, says, told.source, told.sure))
        return style

    def _sizes(self) -> tuple[int, ...]:
        cell = self.entry.about.get(SIZES)
        if cell is None:
            return tuple(self.asked_sizes)
        return self._parsed_sizes(cell)[0]

    def _parsed_sizes(self, cell: Cell) -> tuple[tuple[int, ...], str]:
        try:
            return hook_sizes(cell.text[:_LONGEST_CELL])
        except ValueError as problem:
            self.unread.append(Unread(cell.line, SIZES, cell.text, str(problem)))
            return (), ""

    def _hook_cell(self, cell: Cell, style: Style | None) -> tuple[int, ...]:
        sizes, words = self._parsed_sizes(cell)
        if words:
            self._cell(replace(cell, text=words), HOOK, style)
        return sizes

    def _cell(self, cell: Cell, part: str, style: Style | None) -> None:
        found = measured(cell.text[:_LONGEST_CELL], part)
        pieces = self.glossary.vocabulary.pieces(tokens_of(found.words))
        if len(cell.text) > _LONGEST_CELL or len(pieces) > _MOST_PIECES:
            why = "is too long to be what one part is made of"
            self.unread.append(Unread(cell.line, part, shown(cell.text), why))
        elif _says_none(pieces):
            self.unstated.append((part, cell.line))
        else:
            clauses = clauses_of(pieces, part)
            for clause in clauses:
                settled = settle(clause, style.id if style else "", self.glossary)
                self._put(settled, cell, found if clause.part == part else Measured(""), style)
            if not clauses:
                self.unread.append(Unread(cell.line, part, cell.text, "nothing is said of it"))

    def _put(self, settled: Settled, cell: Cell, found: Measured, style: Style | None) -> None:
        """Keep a part that was read, or say why it can't be kept."""
        part, kind = settled.part, self.glossary.trade.parts[settled.part]
        for words, why in settled.unread:
            unknown = [word for word in words.split() if why.startswith(f"'{word}' is not a word")]
            near = self.near.names(unknown[0]) if unknown else ()
            self.unread.append(Unread(cell.line, part, words, why, near))
        if style is not None and style.part(part) is None:
            why = f"a {style.name} has no {kind.name}"
            self.unread.append(Unread(cell.line, part, settled.words, why))
        elif part in self.parts:
            why = f"the {kind.name} is given twice; the first is kept"
            self.unread.append(Unread(cell.line, part, settled.words, why))
        elif part == HOOK and all(choice.is_left_out for choice in settled.choices):
            self.unread.append(Unread(cell.line, part, settled.words, "a fly needs a hook"))
        elif settled.choices:
            choices = settled.choices
            if part == HOOK:
                choices = tuple(choice for choice in choices if not choice.is_left_out)
            self.parts[part] = PartReading(
                part=part,
                words=cell.text,
                line=cell.line,
                choices=choices,
                length=found.length,
                thickness=found.thickness,
                counts=found.counts,
                remarks=(*settled.remarks, *found.remarks),
                has_unread=bool(settled.unread),
            )

    def _of_the_thread(self) -> None:
        """Give a body or head of tying thread, whose colour is not named, the thread's own."""
        thread = self.parts.get(THREAD)
        first = thread.choices[0].ingredients if thread else ()
        colour = first[0].ingredient.colour if first else None
        if colour is None:
            return
        says = f"no colour is named: {colour.name}, the thread's own"
        told = Inference("colour", says, "common practice", _THREADS_OWN)
        for name, part in self.parts.items():
            choices = tuple(
                Choice(tuple(
                    replace(one, ingredient=replace(one.ingredient, colour=colour),
                            inferences=(*one.inferences, told))
                    if one.ingredient.material.kind == THREAD and not one.names_colour
                    else one
                    for one in choice.ingredients
                ))
                for choice in part.choices
            )  # fmt: skip
            if name != THREAD and choices != part.choices:
                self.parts[name] = replace(part, choices=choices)

    def _custom_hook(self, style: Style, sizes: tuple[int, ...]) -> tuple[int, ...]:
        """Fill in the hook, or its sizes, where the author states none and custom knows."""
        custom = self.glossary.customs.of(style.id, HOOK, None)
        if custom is None:
            return sizes
        inference = Inference("material", custom.says, custom.source, custom.sure)
        if HOOK not in self.parts:
            hook = self.glossary.trade.materials[custom.material]
            natural = hook.natural_colour
            colour = self.glossary.trade.colours[natural] if natural else None
            read = ReadIngredient(Ingredient(hook, colour), "", (inference,))
            reading = PartReading(HOOK, "", self.entry.line, (Choice((read,)),))
            self.parts = {HOOK: reading} | self.parts
        if sizes or not custom.sizes:
            return sizes
        says = f"no hook size is stated: {_range(custom.sizes)} are usual in a {style.name}"
        self.inferences.append(Inference("sizes", says, custom.source, custom.sure))
        return custom.sizes

    def _dressing(self, name: str, style: Style | None, sizes: tuple[int, ...]) -> Dressing | None:
        if style is None or not sizes or HOOK not in self.parts or len(self.parts) == 1:
            return None
        told = self.entry.about.items()
        about = {label: cell.text[:_LONGEST_CELL].strip() for label, cell in told}
        signed = {one.part: one.signature for one in style.parts}
        parts = (part.as_part(signed.get(name, ())) for name, part in self.parts.items())
        return Dressing(
            name=name,
            style=style.id,
            sizes=sizes,
            size=sizes[len(sizes) // 2],
            parts=tuple(part for part in parts if part is not None),
            source=about.get(SOURCE, ""),
            note=about.get(NOTE, ""),
            origin=Origin(self.file, self.entry.line),
        )


def _range(sizes: Sequence[int]) -> str:
    return f"{sizes[0]} to {sizes[-1]}" if len(sizes) > 1 else str(sizes[0])


def _says_none(pieces: Iterable[Piece]) -> bool:
    return all(piece.has(Sort.NONE, Sort.FILLER) for piece in pieces) and any(
        piece.has(Sort.NONE) for piece in pieces
    )
