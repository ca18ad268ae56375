"""The public library: few names, all documented, none hidden by a folder of the package."""

from __future__ import annotations

import ast
import inspect
import os
import pkgutil
import re
import subprocess
import sys
from functools import cache
from importlib.resources import files

import pytest

import variants
from tests.real import EXAMPLES, ROOT
from variants import api

NAMES = [name for name in variants.__all__ if name != "__version__"]


@cache
def rules() -> variants.Rulebook:
    return variants.load_rules()


@cache
def dun() -> variants.Dressing:
    return variants.load_dressing(EXAMPLES / "dressings" / "ferrymans-dun.toml", rules())


@cache
def box() -> variants.Box:
    return variants.load_box(EXAMPLES / "box.csv", rules())


def test_the_names_are_few_and_documented() -> None:
    assert len(NAMES) <= 20
    for name in NAMES:
        assert inspect.getdoc(getattr(variants, name)), name
    assert api.__all__ == NAMES
    assert dir(variants) == sorted(variants.__all__)


def test_no_name_is_hidden_by_a_folder_once_that_is_imported() -> None:
    folders = {module.name for module in pkgutil.iter_modules(variants.__path__)}
    assert not folders & set(NAMES)


@pytest.mark.parametrize("name", [name for name in NAMES if name[0].islower()])
def test_the_tour_or_the_example_calls_every_function(name: str) -> None:
    told = (variants.__doc__ or "") + (EXAMPLES / "tour.py").read_text(encoding="utf-8")
    called = f"variants.{name}("
    assert called in told or f">>> answer = {name}(" in (getattr(variants, name).__doc__ or "")


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"missing": ["boddy"]}, "'boddy' is no part, item or material"),
        ({"missing": ["beaver"]}, ""),
        ({"missing": ["fine dry dubbing brown"]}, ""),
        ({"keep": ["wings"]}, ""),
        ({"keep": ["thorax"]}, "'thorax' is no part of this dressing"),
        ({"water": "wild"}, "'wild' is no water: slow, medium, fast"),
    ],
)
def test_a_name_is_understood_or_refused_with_the_nearest(
    asked: dict[str, object], said: str
) -> None:
    if not said:
        assert variants.propose(dun(), box(), rules(), best=1, **asked)[0]  # type: ignore[arg-type]
        return
    with pytest.raises(ValueError, match=said):
        variants.propose(dun(), box(), rules(), **asked)  # type: ignore[arg-type]


def test_instead_refuses_an_unknown_name_with_the_nearest() -> None:
    with pytest.raises(ValueError, match="did you mean 'otter fur'"):
        variants.instead("oter fur", rules(), part="body", style="nymph")


def test_the_example_script_runs_as_its_reader_would_run_it() -> None:
    done = subprocess.run(
        [sys.executable, "-W", "error", "examples/tour.py"],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    assert done.stderr == ""
    lines = done.stdout.splitlines()
    assert lines[0].startswith("Ferryman's Dun, from 195 items")
    departures = [float(line[:4]) for line in lines if re.match(r"0\.[0-9]{2}  ", line)]
    assert departures == sorted(departures)
    assert len(departures) == 4
    assert "nothing in the box can be: body" in lines


def test_the_example_is_cut_into_cells_that_use_the_public_names_alone() -> None:
    text = (EXAMPLES / "tour.py").read_text(encoding="utf-8")
    assert text.count("\n# %% ") >= 6
    imports = [one for one in ast.walk(ast.parse(text)) if isinstance(one, ast.Import)]
    assert [alias.name for one in imports for alias in one.names] == ["variants"]
    assert set(re.findall(r"\bvariants\.(\w+)", text)) <= set(NAMES)


def test_the_log_of_changes_begins_with_this_version() -> None:
    text = files("variants").joinpath("CHANGELOG.md").read_text(encoding="utf-8")
    versions = re.findall(r"^## (\S+) \([0-9]{4}-[0-9]{2}-[0-9]{2}\)$", text, re.MULTILINE)
    assert versions[0] == variants.__version__
    assert re.fullmatch(r"[0-9]+\.[0-9]+\.[0-9]+", variants.__version__)
