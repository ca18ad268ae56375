"""The order of imports, and what a bare import may load."""

from __future__ import annotations

import subprocess
import sys
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
