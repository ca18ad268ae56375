"""The topics that list or describe a whole: styles, rules, colours, how departure is reckoned."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from variants.rulebook import ATTRIBUTES, KINDS, WATERS, Count, Rule
from variants.views.topics.page import Page, Row, Section

if TYPE_CHECKING:
    from variants.views.topics.shelf import Shelf, Told

_ONE_OF = "Name one for all that is known of it"
#: What a departure is made of; the numbers follow from the tables.
_DEPARTURE = (
    "How far a variant stands from its dressing: 0 is the dressing as written, and about 1 is a "
    "wholly different stuff in the part that matters most. It is the sum over the parts of the "
    "part's weight in its style times what differs in material, colour, marking and measure, and "
    "what soft rules cost. A hard rule that is broken makes no variant at all. Whole thousandths "
    "are added, so that ties and the proof of the order are exact. `flykin propose --explain N` "
    "tells every term of a variant."
)
_PLACES_THAT_DIFFER = (
    "Kinds of place on the fly, and what matters there (0 not at all, 4 most of all)"
)


def styles(shelf: Shelf) -> Page:
    """Return the styles."""
    found = shelf.trade.styles.values()
    return _list("Styles", f"How flies are built and fished. {_ONE_OF}.", found)


def parts(shelf: Shelf) -> Page:
    """Return the places on a fly, in tying order."""
    found = sorted(shelf.trade.parts.values(), key=lambda one: one.tying_order)
    return _list("Parts", f"The places on a fly, in tying order. {_ONE_OF}.", found)


def markings(shelf: Shelf) -> Page:
    """Return the markings of feathers and hairs."""
    found = shelf.trade.markings.values()
    return _list("Markings", f"How a feather or hair carries its colours. {_ONE_OF}.", found)


def _list(title: str, says: str, entries: Iterable[object]) -> Page:
    rows = tuple(Row(one.name, one.says) for one in entries)  # type: ignore[attr-defined]
    return Page(title, says, (Section("", rows),))


def colours(shelf: Shelf) -> Page:
    """Return the colours, by family."""
    found = sorted(shelf.trade.colours.values(), key=lambda one: (one.family, one.name))
    sections = tuple(
        Section(
            family or "of no family",
            tuple(Row(one.name, f"{', '.join(one.hexes)} {one.marking}".strip()) for one in group),
        )
        for family, group in groupby(found, key=lambda one: one.family)
    )
    says = f"The trade's colours by their families (ISCC-NBS), as a screen shows them. {_ONE_OF}."
    return Page("Colours", says, sections)


def materials(shelf: Shelf) -> Page:
    """Return the materials, by class."""
    found = sorted(shelf.trade.materials.values(), key=lambda one: (one.kind, one.name))
    sections = tuple(
        Section(kind, tuple(Row(one.name, _material_words(one.functions)) for one in group))
        for kind, group in groupby(found, key=lambda one: one.kind)
    )
    return Page("Materials", f"What flies are made of, by class. {_ONE_OF}.", sections)


def _material_words(functions: Iterable[str]) -> str:
    return f"serves as {', '.join(sorted(functions))}"


def rules(shelf: Shelf) -> Page:
    """Return the rules, file by file."""
    return rules_page("Rules", shelf.rulebook.rules)


def rules_page(title: str, found: Iterable[Rule]) -> Page:
    """Return a list of rules, under the names of the files that hold them."""
    sections = tuple(
        Section(
            Path(file).stem.replace("-", " "),
            tuple(Row(rule.id, f"{rule.says} ({_weight_word(rule)})") for rule in group),
        )
        for file, group in groupby(found, key=lambda rule: rule.origin.file)
    )
    says = (
        "Hard rules make a fly that breaks them no variant; soft ones add to its departure. "
        f"{_ONE_OF}, its source and the line of the file where it stands; name a style or a part "
        "for its rules alone: flykin explain rules hackle."
    )
    return Page(title, says, sections)


def _weight_word(rule: Rule) -> str:
    return "hard" if rule.is_hard else f"soft, {rule.weight:g}"


def departure(shelf: Shelf) -> Page:
    """Return how departure is reckoned, with every number that goes into it."""
    scales = [one for one in shelf.decisions.values() if one.value is not None]
    profiles = [one for one in shelf.decisions.values() if one.value is None and one.says]
    return Page(
        "Departure",
        _DEPARTURE,
        (
            Section("The numbers that hold for every fly", tuple(map(_decision_row, scales))),
            Section(_PLACES_THAT_DIFFER, tuple(Row(one.id, one.says) for one in profiles)),
        ),
    )


def _decision_row(told: Told) -> Row:
    return Row(told.id, f"{_value_words(told.value)}. {told.says}", told.source)


def _value_words(value: object) -> str:
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)


def decision_page(told: Told) -> Page:
    """Return one decision or scale, or what matters at one kind of place."""
    fields = told.fields
    rows = [
        Row(name, _field_words(value))
        for name, value in fields.items()
        if name not in ("id", "says", "source")
    ]
    return Page(told.id, told.says, (Section("", tuple(rows)),), told.source, told.place)


def _field_words(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        return ", ".join(f"{name} {_field_words(one)}" for name, one in value.items())
    if isinstance(value, list):
        joint = "; " if any(isinstance(one, dict) for one in value) else ", "
        return joint.join(_field_words(one) for one in value)
    return str(value)


def hook_scales(shelf: Shelf) -> Page:
    """Return the hook sizes in millimetres, scale by scale, and how makes differ."""
    used = shelf.rulebook.conventions.hook_scale
    sections = [
        Section(
            f"Scale {name}{', the one that is used' if name == used else ''}",
            tuple(
                Row(
                    str(size),
                    f"gape {hook.gape_mm:.2f}, shank {hook.shank_mm:.2f}, "
                    f"wire {hook.wire_mm:.2f}, eye {hook.eye_mm:.2f} mm",
                )
                for size, hook in sorted(scale.items())
            ),
        )
        for name, scale in sorted(shelf.trade.hooks.items(), key=lambda pair: pair[0] != used)
    ]
    return Page(
        "Hook scales",
        "What a hook size is in millimetres. No standard binds makers: two hooks marked alike may "
        "differ by two sizes or three, so measure yours and write gape and shank into your box.",
        tuple(sections),
        shelf.decisions["hook_scale"].source,
        shelf.decisions["hook_scale"].place,
    )


def waters(shelf: Shelf) -> Page:
    """Return what changes with the speed of the water."""
    rows = tuple(
        Row(
            rule.id,
            f"{rule.part} {rule.count.replace('_', ' ')}: "
            + ", ".join(
                f"{water} {rule.bounds[water][0]} to {rule.bounds[water][1]}"
                for water in WATERS
                if water in rule.bounds
            ),
            rule.source,
        )
        for rule in shelf.rulebook.rules
        if isinstance(rule, Count) and len(set(rule.bounds.values())) > 1
    )
    named = tuple(
        Row(rule.id, f"{rule.says} ({', '.join(sorted(rule.waters))} water)", rule.source)
        for rule in shelf.rulebook.rules
        if rule.waters
    )
    says = "How fast the water runs (--water slow, medium or fast); medium is the books' own."
    return Page(
        "Waters",
        says,
        (Section("Counts that change with the water", rows), Section("Rules of one water", named)),
    )


def law(shelf: Shelf) -> Page:
    """Return the places whose law the tables know of, and the hazards at the bench."""
    places = tuple(
        Row(one.name, f"ask {one.authority}", one.source)
        for one in shelf.law.jurisdictions.values()
    )
    hazards = tuple(Row(one.id, one.words, one.source) for one in shelf.law.hazards.values())
    return Page(
        "Law and care",
        "Some materials come from birds and mammals that law protects; lead and barbs are "
        "forbidden on some waters. The tables know a little of it and are no legal advice: what "
        "they do not name is not thereby allowed. Name a material for what they say of it.",
        (
            Section("Places", places),
            Section(
                "Laws",
                tuple(Row(one.id, one.condition) for one in shelf.law.statutes.values()),
            ),
            Section(
                "What a water may ask",
                tuple(Row(one.id, one.says) for one in shelf.law.of_waters.values()),
            ),
            Section("Care at the bench", hazards),
        ),
    )


def kinds(_shelf: Shelf) -> Page:
    """Return the kinds of rules, and the attributes that a rule may read."""
    told = tuple(
        Row(name, (kind.__doc__ or "").strip().split("\n")[0]) for name, kind in KINDS.items()
    )
    attributes = tuple(Row(name, says) for name, says in ATTRIBUTES.items())
    return Page(
        "Kinds of rules",
        "A rule is data: a kind, the fields of its kind, a sentence and a source. Write your own "
        "into a folder laid out like rules/ and name it with --rules.",
        (Section("Kinds", told), Section("What a rule may read of a part", attributes)),
    )


#: Topic to what tells it, with the words that mean it besides its name.
TOPICS: dict[str, tuple[str, Callable[[Shelf], Page], tuple[str, ...]]] = {
    "styles": ("how flies are built and fished", styles, ("style",)),
    "parts": ("the places on a fly", parts, ("part",)),
    "materials": ("what flies are made of", materials, ("material",)),
    "colours": ("the trade's colours", colours, ("colour", "colors", "color")),
    "markings": ("how feathers carry their colours", markings, ("marking",)),
    "rules": ("what a fly keeps or breaks", rules, ("rule",)),
    "kinds of rules": ("how rules are written", kinds, ("kinds", "attributes")),
    "departure": ("how far a variant stands from its dressing", departure, ("conventions",)),
    "hook scales": ("hook sizes in millimetres", hook_scales, ("hook sizes", "hooks", "scales")),
    "waters": ("what changes with the speed of the water", waters, ("water",)),
    "law": ("whom to ask, and care at the bench", law, ("care", "hazards")),
}
