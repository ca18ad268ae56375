"""Region files (TOML) to `Region`: waters, their rules, and naturals, every fault located.

name = "Upper Wendle"
jurisdiction = "uk"

[[water]]
name = "Upper Wendle"
speed = "slow"
clarity = "clear"
surface = "smooth"
depth = "0.8 m"
barbless = true

[[natural]]
name = "olive of the weirs"
order = "mayflies"
stage = "adult"
months = "April-June"
shortest_mm = 6
longest_mm = 8
body = "olive"

[palette]
body = ["olive", "medium olive"]

Tables ``[[rule]]`` add rules of the house; they are read with the other rules.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from functools import partial
from pathlib import Path
from typing import TypeVar

from variants.model import (
    CLARITIES,
    SURFACES,
    WATERS,
    Natural,
    Origin,
    Region,
    Trade,
    Water,
    WaterRules,
)
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.reading.sizes import LARGEST_HOOK, SMALLEST_HOOK
from variants.reading.toml import TomlDocument
from variants.text import nearest, shown
from variants.units import millimetres

STAGES = ("nymph", "larva", "pupa", "emerger", "adult", "spinner", "fry", "shrimp")
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_MONTHS_HELP = "write a month or a range, such as May or April-June"
#: Bodies of naturals, and depths, beyond which a file is wrong.
SHORTEST_MM, LONGEST_MM, _DEEPEST_M = 0.5, 150.0, 100.0
_MM_IN_A_METRE = 1000.0
_WIDEST_GAPE_MM = 100.0
_GAPE_HELP = "write a gape with its unit, such as 13 mm"
Record = TypeVar("Record", Water, Natural)


def read_region(path: str | Path, trade: Trade, jurisdictions: Collection[str]) -> Region:
    """Read a region file.

    Parameters
    ----------
    path : str or Path
        ``-`` is standard input.
    trade : Trade
    jurisdictions : collection of str
        Ids that the tables of law know.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    return parse_region(TomlDocument.read(path), trade, jurisdictions)


def is_region(document: TomlDocument) -> bool:
    """Tell whether a document means to be a region: it speaks of waters or naturals."""
    return any(kind in document.value for kind in ("water", "natural"))


def parse_region(document: TomlDocument, trade: Trade, jurisdictions: Collection[str]) -> Region:
    """Return the region of a document; raises InputError with every fault of it."""
    faults = Faults()
    top = Fields(document.value, lambda field: document.origin((field,)), faults)
    region = Region(
        name=top.text("name", None),
        jurisdiction=top.choice("jurisdiction", sorted(jurisdictions)),
        waters=_records(document, top, "water", _water, faults),
        naturals=_records(document, top, "natural", lambda fields: _natural(fields, trade), faults),
        palette=_palette(document, top, trade, faults),
        origin=document.origin(()),
    )
    top.raw("rule")  # read where rules are known
    top.finish()
    faults.stop_if_any()
    return region


def _palette(
    document: TomlDocument, top: Fields, trade: Trade, faults: Faults
) -> dict[str, frozenset[str]]:
    """Return the colours of a place, part by part."""
    table = top.raw("palette")
    if table is None:
        return {}
    fields = Fields(table, lambda field: document.origin(("palette", field)), faults)
    found: dict[str, frozenset[str]] = {}
    for word in table if isinstance(table, dict) else ():
        part = fields.lookup(word, word, trade.part_names, "part of a fly")
        colours = [
            fields.lookup(word, name, trade.colour_names, "colour") for name in fields.words(word)
        ]
        if not fields.words(word):
            fields.wrong(word, "names no colour", f'write {word} = ["olive", "brown"]')
        if part is not None:
            found[part.id] = frozenset(colour.id for colour in colours if colour is not None)
    return found


def _records(
    document: TomlDocument,
    top: Fields,
    kind: str,
    read: Callable[[Fields], Record],
    faults: Faults,
) -> tuple[Record, ...]:
    tables = top.raw(kind)
    if not isinstance(tables, list) or not tables:
        top.wrong(kind, f"the region has no {kind}", f"add tables [[{kind}]]")
        return ()
    found: dict[str, Record] = {}
    for place, table in enumerate(tables):
        locate = partial(_origin, document, (kind, place))
        fields = Fields(table if isinstance(table, dict) else {}, locate, faults)
        if not isinstance(table, dict):
            fields.wrong("", f"{shown(table)} is no table", f"write [[{kind}]]")
            continue
        record = read(fields)
        fields.finish()
        if record.name and record.name in found:
            fields.wrong("name", f"{shown(record.name)} stands twice", "rename one")
        found[record.name] = record
    return tuple(found.values())


def _origin(document: TomlDocument, path: tuple[str, int], field: str) -> Origin:
    return document.origin((*path, field) if field else path)


def _water(fields: Fields) -> Water:
    depth = fields.quantity("depth", "write a depth with its unit, such as 0.8 m")
    depth_m = None
    if depth is not None:
        if depth.check("[length]") and 0 < millimetres(depth) <= _DEEPEST_M * _MM_IN_A_METRE:
            depth_m = millimetres(depth) / _MM_IN_A_METRE
        else:
            fields.wrong("depth", f"{depth:~} is no depth", "write it in metres, such as 0.8 m")
    rules = WaterRules(
        barbless=bool(fields.flag("barbless", False)),
        no_lead=bool(fields.flag("no_lead", False)),
        fly_only=bool(fields.flag("fly_only", False)),
        pressed_barb=bool(fields.flag("pressed_barb", False)),
        largest_hook=fields.whole("largest_hook", LARGEST_HOOK, SMALLEST_HOOK),
        most_hooks=fields.whole("most_hooks", 1, 20),
        most_points=fields.whole("most_points", 1, 4),
        largest_gape_mm=_gape_mm(fields),
        unweighted=bool(fields.flag("unweighted", False)),
        no_scent=bool(fields.flag("no_scent", False)),
    )
    if rules.pressed_barb and not rules.barbless:
        problem = "says what counts as barbless where barbs are not asked about"
        fields.wrong("pressed_barb", problem, "add barbless = true, or leave it out")
    return Water(
        name=fields.text("name", None),
        speed=fields.choice("speed", WATERS, None),
        clarity=fields.choice("clarity", CLARITIES, None),
        surface=fields.choice("surface", SURFACES, None),
        depth_m=depth_m,
        rules=rules,
        origin=fields.origin(),
    )


def _gape_mm(fields: Fields) -> float | None:
    gape = fields.quantity("largest_gape", _GAPE_HELP)
    if gape is None:
        return None
    if gape.check("[length]") and 0 < millimetres(gape) <= _WIDEST_GAPE_MM:
        return millimetres(gape)
    fields.wrong("largest_gape", f"{gape:~} is no gape", _GAPE_HELP)
    return None


def _natural(fields: Fields, trade: Trade) -> Natural:
    low = fields.number("shortest_mm", SHORTEST_MM, LONGEST_MM)
    high = fields.number("longest_mm", SHORTEST_MM, LONGEST_MM)
    for name, value in (("shortest_mm", low), ("longest_mm", high)):
        if value is None and not fields.has(name):
            fields.wrong(name, "is missing", "write the body's length in mm, without tails")
    if low is not None and high is not None and low > high:
        fields.wrong("longest_mm", f"{high:g} is less than the shortest, {low:g}", "swap them")
    return Natural(
        name=fields.text("name", None),
        order=fields.text("order", None),
        stage=fields.choice("stage", STAGES, None),
        months=_months(fields),
        body_mm=(low or 0.0, high or 0.0),
        body=fields.entry("body", trade.colour_names, "colour"),
        wing=fields.entry("wing", trade.colour_names, "colour"),
        legs=fields.entry("legs", trade.colour_names, "colour"),
        origin=fields.origin(),
    )


def _months(fields: Fields) -> tuple[int, ...]:
    text = fields.text("months", None)
    if not text:
        return ()
    ends = [end.strip().capitalize() for end in text.split("-")]
    for end in ends:
        if end not in MONTHS:
            problem = f"{shown(end)} is not a month"
            fields.wrong("months", problem, _MONTHS_HELP, nearest(end, MONTHS))
            return ()
    if len(ends) > 2:
        fields.wrong("months", f"{shown(text)} is not a range", _MONTHS_HELP)
        return ()
    first, last = MONTHS.index(ends[0]), MONTHS.index(ends[-1])
    return tuple((first + step) % 12 + 1 for step in range((last - first) % 12 + 1))
