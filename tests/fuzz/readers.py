"""Every reader of what a user may bring, each with good inputs to spoil."""

from __future__ import annotations

import contextlib
import io
import random
import shlex
import shutil
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from tests.fuzz.mutation import spoil, spoil_workbook
from tests.real import EXAMPLES, ROOT
from variants.model import Trade
from variants.reading import InputError, parse_sizes, read_box, read_dressing, read_text, read_trade
from variants.rulebook import Rulebook, load_rulebook
from variants.units import UnitError, parse_quantity, parse_range

if TYPE_CHECKING:
    from variants.box import BoxStore
    from variants.regions import LawOfTheLand

RULES = ROOT / "rules"
Spoiler = Callable[[random.Random, bytes, Sequence[bytes]], bytes]


@dataclass(frozen=True)
class Reader:
    """One reader: its good inputs, and what tries an input.

    Attributes
    ----------
    name : str
    good : sequence of bytes
    tries : callable
        From an input and an empty folder to what was complained of, or None; anything else that
        is raised is a bug.
    spoiler : callable
    share : float
        Of all inputs, before all shares are brought to one.
    """

    name: str
    good: Sequence[bytes]
    tries: Callable[[bytes, Path], str | None]
    spoiler: Spoiler = spoil
    share: float = 1.0


@cache
def rulebook() -> Rulebook:
    return load_rulebook()


def _file(name: str, read: Callable[[Path], object]) -> Callable[[bytes, Path], str | None]:
    """Return what writes an input into a file of some name and has it read."""

    def tries(raw: bytes, folder: Path) -> str | None:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(raw)
        complaint: InputError | None = None
        try:
            read(path)
        except InputError as problem:
            complaint = problem
        if complaint is None:
            return None
        assert complaint.faults, "a complaint names what is wrong"
        assert all(one.problem and one.origin.file for one in complaint.faults)
        return str(complaint)

    return tries


def _chunks(path: Path, head: int, size: int) -> list[bytes]:
    """Return parts of a table, each with its first lines."""
    lines = [line for line in path.read_bytes().split(b"\n") if line and line[:1] != b"#"]
    first, rest = lines[:head], lines[head:]
    step = max(size, len(rest) // 12)
    return [b"\n".join([*first, *rest[n : n + size]]) + b"\n" for n in range(0, len(rest), step)]


def _tables(path: Path, size: int) -> list[bytes]:
    """Return parts of a TOML file of ``[[tables]]``, some tables each."""
    text = path.read_text(encoding="utf-8")
    pieces = [f"[[{piece}" for piece in text.split("\n[[")[1:]]
    return ["\n".join(pieces[n : n + size]).encode() for n in range(0, len(pieces), size)]


def _boxes() -> list[bytes]:
    plain = _chunks(EXAMPLES / "box.csv", 1, 6)
    semicolons = [one.replace(b",", b";") for one in plain[:3]]
    tabs = [one.replace(b",", b"\t") for one in plain[:3]]
    odd = [plain[0].decode().encode(code, "replace") for code in ("utf-16", "latin-1", "utf-8-sig")]
    own = b'item,material,colour,amount,blend,own\nmix,otter fur,#A0B0C0,"0,5 g",,=1+1\n'
    measured = b'item,material,colour,length\nx,hen neck hackle,"lab(60, 5, 20)","6-8 mm"\n'
    return [*plain, *semicolons, *tabs, *odd, own, measured]


def _workbooks() -> list[bytes]:
    from variants.reading.workbooks import workbook_bytes

    rows = [
        [line.decode().split(",") for line in part.split(b"\n")]
        for part in _chunks(EXAMPLES / "box.csv", 1, 4)[:4]
    ]
    return [workbook_bytes(one, "box") for one in rows]


def _dressing(trade: Trade, path: Path) -> None:
    read_dressing(path, trade)


def _box(trade: Trade, path: Path) -> None:
    read_box(path, trade)


def _lists() -> list[bytes]:
    own = [path.read_bytes() for path in sorted((EXAMPLES / "lists").glob("*.csv"))]
    return [*own, *_boxes()[:2]]


def _rules(path: Path) -> None:
    from variants.reading import Faults
    from variants.rulebook import read_rules

    faults = Faults()
    read_rules(path, rulebook().trade, faults, with_cases=True)
    faults.stop_if_any()


def _region(path: Path) -> None:
    from variants.reading.regions import read_region
    from variants.regions.place import read_places

    read_region(path, rulebook().trade, ("uk", "us", "eu", "dk"))
    read_places(path, rulebook(), _laws())


@cache
def _laws() -> LawOfTheLand:
    from variants.regions import load_law

    return load_law(rulebook().trade)


def _batch(path: Path) -> None:
    from variants.reading.batches import read_batch

    if not (path.parent / "dressings").exists():
        shutil.copytree(EXAMPLES / "dressings", path.parent / "dressings")
    read_batch(path, rulebook().trade)


def _prices(path: Path) -> None:
    from variants.reading.prices import read_prices

    read_prices(path, rulebook().trade)


def _gauge(path: Path) -> None:
    from variants.geometry import read_gauge

    read_gauge(path)


def _journal(path: Path) -> None:
    from variants.box import read_journal
    from variants.box.audit import audit
    from variants.box.journal import journal_path

    box = path.parent / "box.csv"
    box.write_bytes(b"item,material\nginger cape,cock neck\n")
    path.rename(journal_path(box))
    audit(str(box), rulebook().trade)
    read_journal(box)


@cache
def _journals() -> tuple[bytes, ...]:
    """Return the journal of a box that was used."""
    from variants.box import BoxStore
    from variants.box.journal import journal_path

    with TemporaryDirectory() as folder:
        box = Path(folder) / "box.csv"
        store = BoxStore(box, rulebook().trade)
        store.add({"item": "ginger cape", "material": "cock neck", "amount": "40 feathers"})
        store.use("ginger cape", "2 feathers", note="an evening")
        first = journal_path(box).read_bytes()
        store.undo()
        return first, journal_path(box).read_bytes()


def _kept(raw: bytes, folder: Path) -> str | None:
    """Try changes to a box, one a line; whatever is refused, the box can still be read."""
    from variants.box import BoxStore

    with TemporaryDirectory(dir=folder) as inner:
        box = Path(inner) / "box.csv"
        store = BoxStore(box, rulebook().trade)
        store.add({"item": "cape", "material": "cock neck", "amount": "40 feathers"})
        told = [_changed(store, line) for line in raw.decode(errors="replace").split("\n")[:12]]
        read_box(box, rulebook().trade)
        store.history()
    return "\n".join(filter(None, told)) or None


def _changed(store: BoxStore, line: str) -> str | None:
    what, item, text, column = (*line.split(","), "", "", "", "")[:4]
    try:
        if what == "add":
            store.add({"item": item, "material": text, column or "note": text})
        elif what == "use":
            store.use(item, text, note=column)
        elif what == "undo":
            store.undo()
        else:
            store.correct(item, {column or "note": text})
    except InputError as problem:
        return str(problem)
    return None


_CHANGES = (
    b"add,fur,otter fur,note\nuse,cape,2 feathers,tonight\ncorrect,cape,drawer 2,place\nundo\n",
    b"use,cape,all\nundo\ncorrect,cape,5 feathers,amount\nadd,cape,cock neck\n",
)


def _import(raw: bytes, folder: Path) -> str | None:
    """Try a list to be taken into a box, looked at only."""
    (folder / "list.csv").write_bytes(raw)
    box = folder / "box.csv"
    box.write_bytes(b"item,material\nginger cape,cock neck\n")
    words = ["box", "import", str(folder / "list.csv"), "--box", str(box), "--dry-run"]
    return _said(words)


def _plain(path: Path) -> None:
    from variants.reading.words import dressing_text, read_plain

    for reading in read_plain(read_text(path), _glossary(), style="winged-wet", file=str(path)):
        if (dressing := reading.dressing) is not None:
            again = path.parent / "again.toml"
            again.write_text(dressing_text(dressing, rulebook().trade), encoding="utf-8")
            read_dressing(again, rulebook().trade)


@cache
def _glossary() -> object:
    from variants.reading.words import load_glossary

    return load_glossary([RULES], rulebook().trade)


def _trade_folder(raw: bytes, folder: Path) -> str | None:
    """Try a table of the trade among good ones: the first line of an input names the table."""
    name, _, content = raw.partition(b"\n")
    table = name.decode(errors="replace").strip()
    own = folder / "rules"
    if not own.exists():
        _all_rules(own)
    path = own / (table if table in _TABLES else _TABLES[0])
    kept = path.read_bytes()
    path.write_bytes(content)
    try:
        read_trade([own])
    except InputError as problem:
        return str(problem)
    finally:
        path.write_bytes(kept)
    return None


_TABLES = (
    "materials/hackle.tsv", "colours.tsv", "markings.tsv", "parts.tsv", "styles/spinner.toml",
    "hooks/scales.tsv", "hooks/models.tsv",
)  # fmt: skip


def _all_rules(own: Path) -> None:
    for pattern in ("*.tsv", "materials/*.tsv", "styles/*.toml", "hooks/*.tsv"):
        for path in RULES.glob(pattern):
            copy = own / path.relative_to(RULES)
            copy.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(path, copy)


def _whole(tables: Iterable[str]) -> list[bytes]:
    """Return whole tables, each after a line with its name."""
    return [f"{table}\n".encode() + (RULES / table).read_bytes() for table in tables]


def _own_folder(raw: bytes, folder: Path) -> str | None:
    """Try a file of a user's own rules that stands beside ours: its name is the first line."""
    name, _, content = raw.partition(b"\n")
    table = name.decode(errors="replace").strip()
    if table not in _OWN:
        table = "conventions.toml"
    own = folder / "own"
    path = own / table
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    try:
        _OWN[table](own)
    except InputError as problem:
        return str(problem)
    finally:
        shutil.rmtree(own)
    return None


def _likeness(own: Path) -> None:
    from variants.rulebook import load_likeness

    load_likeness([RULES, own], rulebook().trade)


def _conventions(own: Path) -> None:
    from variants.rulebook.conventions import read_conventions

    read_conventions([RULES, own])


def _law(own: Path) -> None:
    from variants.regions import load_law

    load_law(rulebook().trade, [own])


def _statutes(own: Path) -> None:
    from variants.reading import read_trade
    from variants.regions import load_law

    load_law(read_trade([RULES, own]), [own])


def _weights(own: Path) -> None:
    from variants.regions.weights import load_weights

    load_weights(rulebook().trade, [own])


def _layout(own: Path) -> None:
    from variants.geometry import load_layout

    load_layout([own])


def _words(own: Path) -> None:
    from variants.reading.words import load_glossary

    load_glossary([own], rulebook().trade)


def _box_words(own: Path) -> None:
    from variants.box.list_columns import read_column_words
    from variants.box.sold_as import read_sold_as

    read_column_words([own])
    read_sold_as([own])


def _steps(own: Path) -> None:
    from variants.views.sheet import load_steps

    load_steps(rulebook().trade, [own])


#: Files of a user's own rules folder, and what reads them.
_OWN: dict[str, Callable[[Path], None]] = {
    "conventions.toml": _conventions,
    "likeness/hackles.toml": _likeness,
    "likeness/properties.toml": _likeness,
    "law/statutes.tsv": _statutes,
    "law/hazards.tsv": _law,
    "law/jurisdictions.tsv": _statutes,
    "law/taxa.tsv": _statutes,
    "law/stuffs.tsv": _statutes,
    "law/waters.toml": _law,
    "regions/target.toml": _weights,
    "geometry/places.tsv": _layout,
    "geometry/builds.tsv": _layout,
    "geometry/winding.tsv": _layout,
    "proportions.tsv": _layout,
    "pictures/bends.tsv": _layout,
    "pictures/feathers.tsv": _layout,
    "words.tsv": _words,
    "customary.tsv": _words,
    "telling.tsv": _words,
    "columns.tsv": _box_words,
    "sold-as.tsv": _box_words,
    "bench/steps.tsv": _steps,
}


def _named(tables: Iterable[str]) -> list[bytes]:
    """Return good inputs that begin with the name of their table."""
    made = []
    for table in tables:
        path = RULES / table
        parts = [path.read_bytes()] if path.suffix == ".toml" else _chunks(path, 1, 5)
        made += [f"{table}\n".encode() + part for part in parts]
    return made


def _measures(raw: bytes, _folder: Path) -> str | None:
    """Try the texts that options take: measures, ranges, hook sizes."""
    text = raw.decode(errors="replace")
    told = []
    for read in (parse_quantity, parse_range, parse_sizes):
        try:
            read(text)
        except (UnitError, ValueError) as problem:
            told.append(str(problem))
    return "\n".join(told) or None


def _command_line(raw: bytes, _folder: Path) -> str | None:
    """Try a command line, with the rulebook that has been read already."""
    line = raw.decode(errors="surrogateescape")
    try:
        words = shlex.split(line)
    except ValueError:
        words = line.split()
    words = [word.replace("\0", "") for word in words]
    if {"serve", "--out", "--install", "--commit", "--graph"} & set(words):
        return None  # these stay, or write
    return _said(words)


def _said(words: Sequence[str]) -> str | None:
    """Return what a command complains of, run in this process."""
    import variants.rulebook
    from variants.cli import main

    shown, told = io.StringIO(), io.StringIO()
    kept, variants.rulebook.load_rulebook = variants.rulebook.load_rulebook, _load_once
    arguments, sys.argv = sys.argv, ["flykin", *words]
    code = None
    try:
        with (
            contextlib.chdir(ROOT),
            contextlib.redirect_stdout(shown),
            contextlib.redirect_stderr(told),
        ):
            main()
    except SystemExit as done:
        code = done.code
    finally:
        variants.rulebook.load_rulebook, sys.argv = kept, arguments
    assert code in (0, 1, 2), f"exit code {code}"
    assert "Traceback" not in told.getvalue()
    said = shown.getvalue() + told.getvalue()
    assert not any(one in said for one in "\x1b\x9b\x07\r\0\u202e"), "sent to the terminal"
    return told.getvalue() or None


def _load_once(extra: Sequence[str | Path] = (), *, with_cases: bool = False) -> Rulebook:
    return load_rulebook(extra, with_cases=with_cases) if extra or with_cases else rulebook()


_LINES = (
    "check examples/dressings/ferrymans-dun.toml",
    "check examples/box.csv",
    "measure --style 'dry upright' --sizes 12-16 --gauge examples/gauge.csv --reading '7 mm'",
    "measure --style nymph --hook 'nymph hook' --size 10 --json",
    "instead 'otter fur' --part body --style 'dry upright' --colour otter --best 3",
    "read examples/plain/weir-keeper.txt --style 'winged wet' --sizes 12-14",
    "amounts examples/dressings/bellringer.toml --flies 12 --size 12",
    "kin examples/dressings/tollgate-amber.toml --book examples/dressings --best 2",
    "propose examples/dressings/bellringer.toml --box examples/box.csv --best 1 --water slow",
    "whynot examples/dressings/bellringer.toml --box examples/box.csv --max-changes 0",
    "explain 'dry upright'",
    "explain dry-hackle-length --json",
    "box find 'olive fur' --box examples/box.csv",
    "box list --family hair --sort place --box examples/box.csv",
    "region examples/regions/skirl-burn.toml",
    "chart proportions --style nymph",
    "--version",
    "propose --help",
)


def readers() -> dict[str, Reader]:
    """Return all readers by name."""
    trade = rulebook().trade
    dressings = [path.read_bytes() for path in sorted((EXAMPLES / "dressings").glob("*.toml"))]
    plain = [path.read_bytes() for path in sorted((EXAMPLES / "plain").glob("*"))]
    rules = [one for path in sorted(RULES.glob("trade/*.toml")) for one in _tables(path, 4)]
    law = _tables(RULES / "law" / "waters.toml", 3)
    regions = [path.read_bytes() for path in sorted((EXAMPLES / "regions").glob("*.toml"))]
    measures = [b"9 mm", b"7/64 in", b"1 1/4 in", b"6-8 mm", b"12-16", b"12, 14; 16", b"70 denier"]
    made = [
        Reader(
            "dressing", dressings, _file("fly.toml", lambda p: read_dressing(p, trade)), share=3
        ),
        Reader("box", _boxes(), _file("box.csv", partial(_box, trade)), share=3),
        Reader(
            "workbook",
            _workbooks(),
            _file("box.xlsx", partial(_box, trade)),
            spoil_workbook,
        ),
        Reader("rules", [*rules, *law], _file("own.toml", _rules), share=2),
        Reader("region", regions, _file("region.toml", _region), share=2),
        Reader("batch", [(EXAMPLES / "batch.toml").read_bytes()], _file("batch.toml", _batch)),
        Reader("prices", [(EXAMPLES / "prices.csv").read_bytes()], _file("prices.csv", _prices)),
        Reader("gauge", [(EXAMPLES / "gauge.csv").read_bytes()], _file("gauge.csv", _gauge)),
        Reader("plain words", plain, _file("fly.txt", _plain), share=2),
        Reader("trade tables", _whole(_TABLES), _trade_folder, share=0.2),
        Reader("own folder", _named(_OWN), _own_folder, share=0.5),
        Reader("changes to a box", _CHANGES, _kept, share=0.1),
        Reader("list for a box", _lists(), _import, share=0.1),
        Reader("journal", [*_journals()], _file("journal.jsonl", _journal), share=0.5),
        Reader("measures", measures, _measures),
        Reader("command line", [line.encode() for line in _LINES], _command_line, share=0.05),
    ]
    return {one.name: one for one in made}
