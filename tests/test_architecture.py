"""The order of imports, and what a bare import may load."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import packages_distributions
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
HEAVY = ["pint", "networkx", "constraint", "tree_sitter", "rapidfuzz", "numpy"]


def run(code: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)


def test_importing_the_package_loads_nothing_heavy() -> None:
    done = run(f"import sys, variants; print(*set({HEAVY}) & set(sys.modules))")
    assert done.stdout.strip() == "", done.stdout + done.stderr


def test_a_proposal_needs_no_graph_library() -> None:
    code = (
        "import sys, variants\n"
        "rules = variants.load_rules()\n"
        "dressing = variants.load_dressing('examples/dressings/tollgate-amber.toml', rules)\n"
        "box = variants.load_box('examples/box.csv', rules)\n"
        "assert variants.propose(dressing, box, rules, best=1)[1]\n"
        "print(*{'networkx', 'rich', 'tree_sitter', 'rapidfuzz'} & set(sys.modules))\n"
    )
    done = run(code)
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == ""


def test_imports_flow_one_way() -> None:
    from importlinter.application.use_cases import lint_imports
    from importlinter.configuration import configure

    configure()
    assert lint_imports(config_filename=str(ROOT / "pyproject.toml"), cache_dir=None)


def imported_libraries() -> Iterator[str]:
    for file in (ROOT / "variants").rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                yield from (one.name.partition(".")[0] for one in node.names)
            elif isinstance(node, ast.ImportFrom) and not node.level and node.module:
                yield node.module.partition(".")[0]


def test_every_library_that_is_imported_is_asked_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"]
    asked = [*project["dependencies"], *extras["print"], *extras["cluster"], *extras["web"]]
    names = {re.split(r"[^\w.-]", one)[0].lower() for one in asked}
    libraries = set(imported_libraries()) - set(sys.stdlib_module_names) - {"variants"}
    makers = packages_distributions()
    unasked = {
        library
        for library in libraries
        if not names & {one.lower() for one in makers.get(library, [library])}
    }
    assert not unasked
