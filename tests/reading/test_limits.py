"""Files that are too large are refused at once, whatever their kind, in little time and memory."""

from __future__ import annotations

import io
import random
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.real import ROOT
from variants.reading import InputError, read_sheet, read_text, read_words

MOST_SECONDS, MOST_MEGABYTES = 1.0, 200
ROW = b"cape %d,hen cape,blue dun,12-16\n"


def rows(count: int) -> bytes:
    return b"item,material,colour,sizes\n" + b"".join(ROW % n for n in range(count))


def workbook(row: bytes, count: int) -> bytes:
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as packed:
        # Something that does not shrink, as pictures do not: else it is refused for shrinking.
        packed.writestr("xl/media/image1.png", random.Random(1).randbytes(200_000))
        packed.writestr("xl/worksheets/sheet1.xml", b"<sheetData>" + row * count)
    return written.getvalue()


HOSTILE = {
    "rows.csv": (lambda: rows(2_000_000), "is larger than 16 MB"),
    "short.csv": (lambda: rows(200_000), "holds more than 100 000 lines"),
    "commas.csv": (lambda: b"item,material" + b"," * 250 + b"\n" + (b"," * 160 + b"\n") * 90_000,
                   "holds more than 2 000 000 cells"),
    "words.txt": (lambda: b"Hackle: brown hen\n" * 1_100_000, "is larger than 16 MB"),
    "line.txt": (lambda: b"Hackle: brown hen\n" * 90_000, "letters long"),
    "fly.toml": (lambda: b'name = "x"\n' * 90_000, "letters long"),
    "cells.xlsx": (lambda: workbook(b"<row>" + b"<c r='A1'/>" * 200 + b"</row>", 19_000),
                   "holds more than 2 000 000 cells"),
    "rows.xlsx": (lambda: workbook(b"<row/>", 200_000),
                  "holds more than 100 000 rows"),
}  # fmt: skip


#: Runs a command, then tells its processor seconds and the most memory it held, in MB.
MEASURED = """
import atexit, sys, time
def tell():
    held = [line for line in open("/proc/self/status") if line.startswith("VmHWM")]
    print(time.process_time(), int(held[0].split()[1]) / 1024)
atexit.register(tell)
from variants.cli import main
main()
"""


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="memory is read from /proc")
@pytest.mark.parametrize("name", HOSTILE)
def test_what_is_too_large_is_refused_within_a_second_and_little_memory(
    name: str, tmp_path: Path
) -> None:
    make, said = HOSTILE[name]
    path = tmp_path / name
    path.write_bytes(make())
    command = "read" if name.endswith(".txt") else "check"
    words = [sys.executable, "-c", MEASURED, command, str(path)]
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True)
    seconds, megabytes = map(float, done.stdout.split())
    assert done.returncode == 2
    assert said in " ".join(done.stderr.split())
    assert seconds < MOST_SECONDS
    assert megabytes < MOST_MEGABYTES


def test_a_box_of_a_hundred_thousand_lines_is_still_read(tmp_path: Path) -> None:
    path = tmp_path / "box.csv"
    path.write_bytes(rows(99_999))
    assert read_sheet(path).count("\n") == 100_000
    path.write_bytes(rows(100_000))
    for read in (read_sheet, read_text, read_words):
        with pytest.raises(InputError, match="holds more than 100 000 lines"):
            read(path)
