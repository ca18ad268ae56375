"""What a package offers to others, and the layout that DEVELOPERS.md tells of them.

A package offers what its ``__all__`` names: names of its own, and modules loaded when asked for.
A package within another may use all that lies around it.
"""

from __future__ import annotations

import ast
import importlib
import re
import textwrap
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGES = {
    ".".join(file.relative_to(ROOT).parent.parts): file
    for file in sorted((ROOT / "variants").rglob("__init__.py"))
}


def package_of(module: str) -> str:
    """Return the innermost package that a module, or a name in one, stands in."""
    while module not in PACKAGES:
        module = module.rpartition(".")[0]
    return module


@cache
def offered(package: str) -> frozenset[str]:
    """Return what a package's ``__all__`` names."""
    for node in ast.parse(PACKAGES[package].read_text(encoding="utf-8")).body:
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__":
            return frozenset(ast.literal_eval(node.value))
    return frozenset()


def imported(file: Path) -> Iterator[tuple[int, str]]:
    """Yield line and full name of everything of ours that a file imports."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, one.name) for one in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}:{node.lineno}: a relative import"
            yield from ((node.lineno, f"{node.module}.{one.name}") for one in node.names)


def trespasses(file: Path) -> Iterator[str]:
    """Yield every import of a file that takes from another package what it does not offer."""
    package = ".".join(file.relative_to(ROOT).parent.parts)
    for line, name in imported(file):
        if name.partition(".")[0] != "variants" or name in PACKAGES:
            continue
        of = package_of(name)
        first = name.removeprefix(f"{of}.").partition(".")[0]
        within = of == "variants" or f"{package}.".startswith(f"{of}.")
        if not within and first not in offered(of):
            yield f"{file.relative_to(ROOT)}:{line}: {of} does not offer {first}"


def test_other_packages_use_only_what_a_package_offers() -> None:
    past = [one for file in sorted((ROOT / "variants").rglob("*.py")) for one in trespasses(file)]
    assert not past, "\n".join(past)


@pytest.mark.parametrize("package", PACKAGES)
def test_what_is_offered_is_there(package: str) -> None:
    there = importlib.import_module(package)
    folder = PACKAGES[package].parent
    missing = [
        name
        for name in offered(package)
        if not hasattr(there, name) and not (folder / f"{name}.py").is_file()
    ]
    assert not missing


def purpose(file: Path) -> str:
    """Return the sentence that a module's docstring opens with."""
    first = (ast.get_docstring(ast.parse(file.read_text(encoding="utf-8"))) or "").split("\n\n")[0]
    sentence = " ".join(first.split())
    assert re.fullmatch(r"[^.]+(\.\w[^.]*)*\.", sentence), f"{file}: one sentence first"
    return sentence


def layout() -> str:
    """Return the layout of the package: its floors from the top, each package with its sentence."""
    linter = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]
    floors = linter["importlinter"]["contracts"][0]["layers"]
    lines = ["variants/         the package (import variants; command flykin)"]
    for floor, layer in zip(range(len(floors), 0, -1), floors, strict=True):
        for name in re.split(r" [|:] ", layer):
            inner = [one for one in PACKAGES if one.startswith(f"variants.{name}.")]
            package = PACKAGES.get(f"variants.{name}")
            shown = f"{floor:>2} {name}/" if package else f"{floor:>2} {name}.py"
            lines += entry(shown, package or ROOT / f"variants/{name}.py")
            for one in inner:
                lines += entry(f"     {one.rpartition('.')[2]}/", PACKAGES[one])
    return "\n".join(lines)


def entry(name: str, file: Path) -> list[str]:
    return textwrap.wrap(f"{name:17} {purpose(file)}", 100, subsequent_indent=" " * 18)


def test_the_layout_in_developers_is_the_one_that_the_linter_holds() -> None:
    told = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert layout() in told, f"DEVELOPERS.md, Layout, is to say:\n{layout()}"
