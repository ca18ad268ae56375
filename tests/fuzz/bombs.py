"""Inputs made to exhaust: small files that unpack to huge ones, deep nests, endless lines."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from functools import cache

_MB = 1024 * 1024
_SHEET = (
    '<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/'
    'spreadsheetml/2006/main"><sheetData>{}</sheetData></worksheet>'
)
_LAUGHS = (
    '<?xml version="1.0"?><!DOCTYPE lolz [<!ENTITY lol "lol">'
    + "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10 if n else "&lol;" * 10}">' for n in range(9))
    + "]><worksheet><sheetData><row><c><v>&l8;</v></c></row></sheetData></worksheet>"
)


@cache
def bombs() -> tuple[tuple[str, bytes], ...]:
    """Return hostile inputs, each with the name of its reader; no name: for every one."""
    return (*_everywhere(), *_tomls(), *_tables(), *_workbooks(), *_words())


def _everywhere() -> Iterator[tuple[str, bytes]]:
    for raw in (b"", b"\n", b"\0" * 1000, b"\xff" * 1000, b"\n" * 100_000, b"#" * 150_000):
        yield "", raw
    yield "", b"\xff\xfe" + "name".encode("utf-16-le")
    yield "", b"x" * 210_000
    yield "", b"\x1b[31m\x9b\x07" * 500


def _tomls() -> Iterator[tuple[str, bytes]]:
    deep = b"a = " + b"[" * 100_000
    inline = b"a = " + b"{a=" * 5000 + b"1" + b"}" * 5000
    dotted = b"a" + b".a" * 20_000 + b" = 1"
    tables = b"".join(b"[t%d]\n" % n for n in range(50_000))
    keys = b"".join(b"k%d = 1\n" % n for n in range(100_000))
    twice = b"".join(b"k%d = 1\n" % (n % 20_000) for n in range(40_000))
    number = b"name = 1" + b"0" * 100_000
    text = b'name = "' + b"a" * 190_000 + b'"'
    lines = b'name = """' + b"a\n" * 200_000 + b'"""'
    listed = b"sizes = [" + b"1," * 90_000 + b"]"
    for reader in ("dressing", "rules", "region", "batch"):
        for raw in (deep, inline, dotted, tables, keys, twice, number, text, lines, listed):
            yield reader, raw
    yield "rules", b"[[rule]]\n" * 20_000
    yield "region", b"[[water]]\nname = 1\n" * 10_000
    yield "region", b"[[natural]]\n" * 20_000
    yield "batch", b'[[fly]]\ndressing = "../../etc/passwd"\ncount = 1\n' * 300
    for name in (b"/dev/zero", b"/dev/stdin", b"-", b".", b"/proc/self/mem", b"\\u0000"):
        yield "batch", b'[[fly]]\ndressing = "' + name + b'"\ncount = 1\n'
    parts = b"".join(b"[part.x%d]\nmaterial = 'otter fur'\n" % n for n in range(10_000))
    yield "dressing", b'name = "x"\nstyle = "nymph"\nsizes = "14"\n' + parts
    also = b"{ material = 'otter fur' }," * 7000
    hook = b"[part.body]\nmaterial = 'otter fur'\nalso = [" + also + b"]\n"
    yield "dressing", b'name = "x"\nstyle = "nymph"\nsizes = "14"\n' + hook


def _tables() -> Iterator[tuple[str, bytes]]:
    head = b"item,material\n"
    for raw in (
        b"," * 190_000,
        (b"c," * 50_000) + b"\n" + (b"1," * 50_000),
        b'"' + b"a\n" * 300_000,
        head + b'"' * 199_999,
        head + b"a,b\n" * 100_000,
        head + b"".join(b"item %d,otterfur\n" % n for n in range(20_000)),
        head + b"".join(b"item %d,otter fur\n" % n for n in range(5_000)),
        head + b"x,otter fur\n" * 5_000,
        b"item;material\n" + b'"x;y";otter fur\n' * 5_000,
        b"item\tmaterial\n" + b"#\n" * 100_000,
        head.replace(b"item", b"i" * 100_000),
        head + b"x," + b"o" * 190_000,
    ):
        yield "box", raw
    for reader, first in (("prices", b"material,price\n"), ("gauge", b"known,read\n")):
        yield reader, first + b"x,y\n" * 100_000
        yield reader, first + b"1e999 mm,9999999999999999999999 mm\n" * 100
        yield reader, first + b"," * 190_000
    yield "gauge", b"known,read\n" + b"1 mm,1 mm\n" * 5_000
    yield "gauge", b"known,read\n1000000000 mm,0.000001 mm\n2 mm,3 mm\n3 mm,2 mm\n"
    yield "journal", b"[" * 100_000
    yield "journal", b'{"a":' * 50_000
    yield "journal", b'{"number": 1' + b"0" * 100_000 + b"}"
    yield "journal", b"{}\n" * 50_000


def _workbooks() -> Iterator[tuple[str, bytes]]:
    yield "workbook", _packed(b"0" * (80 * _MB))
    yield "workbook", _packed(b"0" * (60 * _MB))
    yield "workbook", _packed(_LAUGHS.encode())
    yield "workbook", _packed(_LAUGHS.encode("utf-16"))
    wide = '<row r="1">' + '<c r="XFD1048576" t="inlineStr"><is><t>x</t></is></c>' * 10 + "</row>"
    yield "workbook", _packed(_SHEET.format(wide).encode())
    far = '<row r="1048576"><c r="A1048576"><v>1</v></c></row>'
    yield "workbook", _packed(_SHEET.format(far).encode())
    rows = "".join(f'<row r="{n}"><c r="A{n}"><v>1</v></c></row>' for n in range(1, 90_000))
    yield "workbook", _packed(_SHEET.format(rows).encode())
    long = f'<row r="1"><c r="A1" t="inlineStr"><is><t>{"a" * 3_000_000}</t></is></c></row>'
    yield "workbook", _packed(_SHEET.format(long).encode())
    deep = "<a>" * 200_000
    yield "workbook", _packed(_SHEET.format(deep).encode())
    attributes = " ".join(f'a{n}="1"' for n in range(200_000))
    yield "workbook", _packed(_SHEET.format(f"<row {attributes}/>").encode())
    many = io.BytesIO()
    with zipfile.ZipFile(many, "w") as packed:
        for number in range(3000):
            packed.writestr(f"../../{number}.xml", b"")
    yield "workbook", many.getvalue()
    lying = bytearray(_packed(b"0" * (60 * _MB)))
    place = lying.rfind(b"PK\x01\x02xl/worksheets"[:4])
    lying[place + 24 : place + 28] = (100).to_bytes(4, "little")
    yield "workbook", bytes(lying)


def _packed(sheet: bytes) -> bytes:
    """Return a workbook whose sheet holds some bytes."""
    from variants.reading.workbooks import workbook_bytes

    written = io.BytesIO()
    good = io.BytesIO(workbook_bytes([["item", "material"], ["x", "otter fur"]], "box"))
    with (
        zipfile.ZipFile(good) as packed,
        zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as made,
    ):
        for name in packed.namelist():
            made.writestr(name, sheet if "sheet1" in name else packed.read(name))
    return written.getvalue()


def _words() -> Iterator[tuple[str, bytes]]:
    for raw in (
        b"Body: " + b"olive " * 3000,
        b"Body: " + b"olive and " * 3000 + b"fur",
        b"Body: " + b"fur, " * 5000,
        b"Body: " + b"or " * 5000,
        b"Body: " + b"(" * 5000,
        b"Body: " + b"dark " * 100 + b"olive fur " + b"ribbed with " * 500,
        b"X\nBody: fur\n\n" * 500,
        b"X\n" + b"Body: fur\n" * 3000,
        b"".join(b"Fly %d\nBody: yellow floss\nHackle: red or brown or black hen\n\n" % n
                 for n in range(300)),
        b"a\tb\tc\td\te\tf\tg\n" * 600,
        b"Hackle: " + b"red or " * 40 + b"brown",
        b"\n".join(b"P%d: red or brown hen" % n for n in range(400)),
        b"Hackle: red or brown\nWing: red or brown\nTail: red or brown\nBody: red or brown\n" * 6,
        b"-" * 100_000,
        b": " * 50_000,
    ):  # fmt: skip
        yield "plain words", raw
    for raw in (b"9" * 100_000 + b" mm", b"1/" * 50_000, b"12-" * 50_000, b"12," * 50_000,
                b" " * 100_000 + b"9 mm", b"9 mm" + b" " * 100_000):  # fmt: skip
        yield "measures", raw
    for line in ("propose " + "x" * 50_000, "--" + "x" * 50_000, "x " * 20_000, "instead " * 3000):
        yield "command line", line.encode()
