"""What CI sets up as the oldest is what pyproject.toml allows, one version of everything."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

from packaging.requirements import Requirement

from tests.real import ROOT


def test_the_oldest_of_everything_asked_for_is_one_that_is_allowed() -> None:
    words = [sys.executable, str(ROOT / ".ci" / "oldest.py")]
    told = subprocess.run(words, capture_output=True, text=True, check=True).stdout
    oldest = {one.name: one.specifier for one in map(Requirement, told.splitlines())}
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    extras = project["optional-dependencies"].values()
    lists = [project["dependencies"], *extras]
    asked = [Requirement(one) for each in lists for one in each if not one.startswith("flykin[")]
    assert {one.name for one in asked} == set(oldest)
    for one in asked:
        (version,) = (bound.version for bound in oldest[one.name])
        assert one.specifier.contains(version), one
        # Nothing older is allowed, or the oldest would not have been tried.
        (least,) = (bound.version for bound in one.specifier if bound.operator == ">=")
        assert version == least


def test_a_requirement_without_a_lower_bound_is_refused(tmp_path: Path) -> None:
    (tmp_path / ".ci").mkdir()
    script = tmp_path / ".ci" / "oldest.py"
    script.write_text((ROOT / ".ci" / "oldest.py").read_text("utf-8"))
    (tmp_path / "pyproject.toml").write_text(
        '[project]\nname = "own"\ndependencies = ["click"]\noptional-dependencies = {}\n'
    )
    done = subprocess.run([sys.executable, str(script)], capture_output=True, text=True)
    assert done.returncode == 1
    assert "'click' has no lower bound" in done.stderr
