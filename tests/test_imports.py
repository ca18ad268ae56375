"""What a bare import may load: a command must not wait for what it does not use."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SHOWS = """
import sys
before = set(sys.modules)
import {module}
loaded = {{name.partition('.')[0] for name in set(sys.modules) - before}}
print(*sorted(loaded - set(sys.stdlib_module_names)))
"""


@pytest.mark.parametrize(
    ("module", "allowed"),
    [
        ("variants", ["variants"]),
        ("variants.units", ["variants"]),
        ("variants.model", ["variants"]),
        ("variants.reading", ["variants"]),
        ("variants.cli", ["click", "variants"]),
    ],
)
def test_an_import_loads_no_package_outside_the_list(module: str, allowed: list[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", SHOWS.format(module=module)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.split() == allowed
