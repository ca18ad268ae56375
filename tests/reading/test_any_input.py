"""Whatever is read, the answer is a model or a located complaint, nothing else."""

from __future__ import annotations

from contextlib import suppress
from math import isfinite
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given
from hypothesis import strategies as st

from tests.build import SMALL
from variants.reading import Fault, InputError, parse_sizes, read_box, read_dressing
from variants.units import UnitError, parse_quantity, parse_range

WORDS = st.sampled_from(
    ["name", "part", "[part.hook]", "[", "]", "{", "}", "=", '"', "'", "\n", ",", "#", "14", "-",
     "material", "hen cape", "wet-fly hook", "item", "é", "\t", "1e999", "sizes", '"""', "also",
     "12-16", "\x1b"]
)  # fmt: skip
TEXTS = st.one_of(st.text(max_size=200), st.lists(WORDS, max_size=40).map(" ".join))


def reads_or_complains(raw: bytes, name: str) -> None:
    with TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(raw)
        reader = read_box if name.endswith(".csv") else read_dressing
        faults: tuple[Fault, ...] = ()
        try:
            reader(path, SMALL)
        except InputError as problem:
            faults = problem.faults
        assert all(fault.origin.file and fault.problem for fault in faults)


@given(TEXTS)
def test_any_text_as_a_dressing(text: str) -> None:
    reads_or_complains(text.encode(errors="surrogatepass"), "fly.toml")


@given(TEXTS)
def test_any_text_as_a_box(text: str) -> None:
    reads_or_complains(("item,material,amount\n" + text).encode(errors="surrogatepass"), "box.csv")


@given(st.binary(max_size=300), st.sampled_from(["fly.toml", "box.csv"]))
def test_any_bytes(raw: bytes, name: str) -> None:
    reads_or_complains(raw, name)


@given(st.text(max_size=80))
def test_measures_are_read_or_refused(text: str) -> None:
    with suppress(UnitError):
        assert isfinite(parse_quantity(text).magnitude)
    with suppress(UnitError):
        low, high = parse_range(text)
        assert low <= high


@given(st.text(alphabet="0123456789-, to", max_size=20))
def test_sizes_are_read_or_refused(text: str) -> None:
    sizes: tuple[int, ...] = ()
    with suppress(ValueError):
        sizes = parse_sizes(text)
    assert list(sizes) == sorted(set(sizes))


@given(st.integers(1, 99), st.integers(2, 64), st.sampled_from(["mm", "in", "gape"]))
def test_a_fraction_is_the_number_it_says(above: int, below: int, unit: str) -> None:
    assert abs(parse_quantity(f"{above}/{below} {unit}").magnitude - above / below) < 1e-12
