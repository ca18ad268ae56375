"""Spoilt inputs made of good ones: bytes, tokens, lines, cells and values are put wrong at random.

The same seed gives the same inputs on every machine.
"""

from __future__ import annotations

import io
import random
import re
import zipfile
from collections.abc import Callable, Sequence

#: What people, programs and the malicious put into files.
TOKENS: tuple[bytes, ...] = (
    b"", b" ", b"\n", b"\r", b"\r\n", b"\t", b"\0", b"\x1b[31m", b"\x9b2J", b"\x7f", b"\x07",
    b"\xef\xbb\xbf", b"\xff\xfe", b"\xff", b"\xc3", b"\xed\xa0\x80", b"\xf4\x90\x80\x80",
    b"nan", b"inf", b"-inf", b"-1", b"0", b"-0", b"1e999", b"1e-999", b"0x7fffffff", b"1_000",
    b"9" * 30, b"9" * 4500, b"1." + b"0" * 400, b"00", b"1/0", b"0/0 in", b"1/3 in", b"-5 mm",
    b"9 mm", b"1.5 gape", b"99999999 m", b"14", b"12-16", b"16-12", b"14-", b"2/0", b"1-99",
    b"true", b"false", b"1979-05-27", b"07:32:00", b"1979-05-27T07:32:00Z", b"[]", b"{}",
    b"[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[", b"]]]]]]", b"{a={a={a={a={a={a={}}}}}}}", b"a.b.c.d.e.f.g.h",
    b"[[rule]]", b"[part.hook]", b"[part]", b"also = [", b"id = ", b'"""', b"'''", b'"', b"'",
    b"\\", b"\\u0000", b"\\uD800", b"\\U00110000", b"#", b"=", b",", b";", b":", b"|",
    b"../../../etc/passwd", b"/dev/zero", b"-", b"..", b"%s%s%s%n", b"{0}", b"${HOME}", b"`id`",
    b"=1+1", b"+1", b"@SUM(A1)", b"=HYPERLINK(\"x\")", b"'=1+1", b"<!DOCTYPE x>", b"&lol;",
    b"<script>", b"a" * 300, b"a" * 5000, b"hen neck", b"olive", b"dry fly hook", b"any", b"solid",
    "é".encode(), "鹿の毛".encode(), "\u202eabc".encode(), "\u200b".encode(), "🪶".encode(),
    "１４".encode(), "١٢".encode(), "½".encode(), "−5 mm".encode(), "Ⅻ".encode(), "ﬁ".encode(),
    "İ".encode(), "ß".encode(), "e\u0301".encode() * 40, "Zalgo̴̵̶".encode() * 20,
)  # fmt: skip
_VALUE = re.compile(rb"(?<== )[^\n]*")
_NUMBER = re.compile(rb"[0-9]+(?:\.[0-9]+)?")
_MOST_REPEATS = 400


def spoil(rng: random.Random, good: bytes, others: Sequence[bytes]) -> bytes:
    """Return an input that is one to four spoilings away from a good one."""
    raw = good
    for _ in range(rng.choice((1, 1, 1, 2, 2, 3, 4))):
        raw = rng.choice(_SPOILINGS)(rng, raw, others)
    return raw


def spoil_workbook(rng: random.Random, good: bytes, others: Sequence[bytes]) -> bytes:
    """Return a workbook spoilt as a file, or within one of the files that it packs."""
    if rng.random() < 0.4:
        return spoil(rng, good, others)
    written = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(good)) as packed, zipfile.ZipFile(written, "w") as made:
        names = packed.namelist()
        chosen = rng.choice(names)
        for name in names:
            content = packed.read(name)
            if name == chosen:
                if rng.random() < 0.1:
                    continue
                content = spoil(rng, content, others)
            made.writestr(name, content, zipfile.ZIP_DEFLATED)
    return written.getvalue()


def _bytes(rng: random.Random, raw: bytes, _others: Sequence[bytes]) -> bytes:
    start = rng.randint(0, len(raw))
    end = min(len(raw), start + rng.choice((0, 0, 1, 1, 2, 8)))
    return raw[:start] + rng.randbytes(rng.choice((0, 1, 1, 2, 6))) + raw[end:]


def _token(rng: random.Random, raw: bytes, _others: Sequence[bytes]) -> bytes:
    start = rng.randint(0, len(raw))
    end = min(len(raw), start + rng.choice((0, 0, 3, 12)))
    return raw[:start] + rng.choice(TOKENS) + raw[end:]


def _lines(rng: random.Random, raw: bytes, _others: Sequence[bytes]) -> bytes:
    """Move, drop or repeat a line."""
    lines = raw.split(b"\n")
    place = rng.randrange(len(lines))
    line = lines.pop(place)
    way = rng.randrange(4)
    if way == 1:
        lines.insert(rng.randint(0, len(lines)), line)
    elif way == 2:
        lines[place:place] = [line] * rng.choice((2, 2, 3, _MOST_REPEATS))
    elif way == 3:
        lines.insert(place, line * rng.choice((2, 50)))
    return b"\n".join(lines)


def _cell(rng: random.Random, raw: bytes, _others: Sequence[bytes]) -> bytes:
    """Put a token in the place of one cell of a table."""
    lines = raw.split(b"\n")
    place = rng.randrange(len(lines))
    separator = max((b",", b"\t", b";"), key=lines[0].count)
    cells = lines[place].split(separator)
    cells[rng.randrange(len(cells))] = rng.choice(TOKENS)
    lines[place] = separator.join(cells)
    return b"\n".join(lines)


def _value(rng: random.Random, raw: bytes, _others: Sequence[bytes]) -> bytes:
    """Put another value behind one ``=``; as it is, or as a text."""
    found = list(_VALUE.finditer(raw))
    if not found:
        return _token(rng, raw, _others)
    one = rng.choice(found)
    token = rng.choice((*TOKENS, rng.choice(found)[0]))
    value = token if rng.random() < 0.5 else b'"' + token.replace(b'"', b"") + b'"'
    return raw[: one.start()] + value + raw[one.end() :]


def _number(rng: random.Random, raw: bytes, _others: Sequence[bytes]) -> bytes:
    found = list(_NUMBER.finditer(raw))
    if not found:
        return _bytes(rng, raw, _others)
    one = rng.choice(found)
    told = rng.choice((b"0", b"-1", b"1e308", b"99999999999", b"9" * 400, b"0.0000001", b"nan"))
    return raw[: one.start()] + told + raw[one.end() :]


def _splice(rng: random.Random, raw: bytes, others: Sequence[bytes]) -> bytes:
    """Join the head of one good input to the tail of another."""
    other = rng.choice(others)
    return raw[: rng.randint(0, len(raw))] + other[rng.randint(0, len(other)) :]


def _cut(rng: random.Random, raw: bytes, _others: Sequence[bytes]) -> bytes:
    return raw[: rng.randint(0, len(raw))]


_SPOILINGS: tuple[Callable[[random.Random, bytes, Sequence[bytes]], bytes], ...] = (
    _bytes, _token, _token, _lines, _cell, _cell, _value, _value, _number, _splice, _cut,
)  # fmt: skip
