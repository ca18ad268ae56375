"""Random spoilt files: a good one in which one value, one cell or one stretch is anything else."""

from __future__ import annotations

from hypothesis import strategies as st

_WORDS = [
    "hen neck",
    "olive",
    "9 mm",
    "1.5 gape",
    "12-16",
    "16-12",
    "-3",
    "y",
    "#12345g",
    "\x1b",
    "",
]
_TEXTS = st.one_of(st.sampled_from(_WORDS), st.text(max_size=12))


def _quoted(text: str) -> str:
    """Return a text as TOML writes it, everything unusual escaped."""
    return '"' + "".join(
        one if one.isascii() and one.isalnum() else f"\\U{ord(one):08X}" for one in text
    ) + '"'  # fmt: skip


#: TOML values of every type, nested a little.
TOML_VALUES = st.recursive(
    st.one_of(
        st.integers(-(10**20), 10**20).map(str),
        st.sampled_from(["inf", "-nan", "1e400", "0xfff", "true", "1979-05-27", "07:32:00"]),
        st.floats(allow_nan=False, allow_infinity=False).map(repr),
        _TEXTS.filter(lambda text: not any("\ud800" <= one <= "\udfff" for one in text)).map(
            _quoted
        ),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda some: f"[{', '.join(some)}]"),
        st.lists(inner, max_size=2).map(
            lambda some: "{" + ", ".join(f"key{n} = {one}" for n, one in enumerate(some)) + "}"
        ),
    ),
    max_leaves=5,
)


@st.composite
def toml_with_another_value(draw: st.DrawFn, good: str) -> str:
    """Return a TOML text in which the value of one line, or of two, is another."""
    lines = good.splitlines()
    stated = [number for number, line in enumerate(lines) if " = " in line]
    for number in draw(st.lists(st.sampled_from(stated), min_size=1, max_size=2, unique=True)):
        key = lines[number].partition(" = ")[0]
        lines[number] = f"{key} = {draw(TOML_VALUES)}"
    return "\n".join(lines) + "\n"


@st.composite
def table_with_another_cell(draw: st.DrawFn, good: str, separator: str) -> str:
    """Return a table in which one cell is another; the cell may break the table's form."""
    lines = [line.split(separator) for line in good.splitlines()]
    row = draw(st.integers(0, len(lines) - 1))
    column = draw(st.integers(0, len(lines[row]) - 1))
    lines[row][column] = draw(_TEXTS)
    return "\n".join(separator.join(cells) for cells in lines) + "\n"


@st.composite
def spoilt(draw: st.DrawFn, good: str) -> bytes:
    """Return a file in which one stretch of bytes is another."""
    raw = good.encode()
    start = draw(st.integers(0, len(raw)))
    end = draw(st.integers(start, min(len(raw), start + 20)))
    return raw[:start] + draw(st.binary(max_size=6)) + raw[end:]
