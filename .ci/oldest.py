"""Print the oldest version that pyproject.toml allows of each thing it asks for, as pip takes it.

``pip install -c FILE`` with what this prints sets up the oldest that has to work. A requirement
without a lower bound ends it: nobody would know what works.
"""

from __future__ import annotations

import re
import sys
import tomllib
from pathlib import Path

PROJECT = tomllib.loads((Path(__file__).parents[1] / "pyproject.toml").read_text("utf-8"))[
    "project"
]
EXTRAS = PROJECT["optional-dependencies"].values()

for asked in (*PROJECT["dependencies"], *(one for extra in EXTRAS for one in extra)):
    if asked.startswith(f"{PROJECT['name']}["):
        continue
    bound = re.match(r"([\w.-]+)>=([\w.]+)", asked)
    if bound is None:
        sys.exit(f"pyproject.toml: '{asked}' has no lower bound: write the oldest that works")
    print(f"{bound[1]}=={bound[2]}")
