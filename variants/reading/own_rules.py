"""Where the rules that come with Flykin lie."""

from __future__ import annotations

from pathlib import Path

from variants.model import Origin
from variants.reading.faults import Fault, InputError


def own_rules_folder() -> Path:
    """Return the folder of the rules that come with Flykin: in the wheel, or in a checkout."""
    package = Path(__file__).resolve().parents[1]
    for folder in (package / "rules", package.parent / "rules"):
        if (folder / "conventions.toml").is_file():
            return folder
    missing = Fault(Origin(str(package)), "the rules folder is missing", "install Flykin again")
    raise InputError([missing])
