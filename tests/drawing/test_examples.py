"""The pictures kept with the examples are those that the commands draw."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.test_flykin import BOX, flykin
from tests.real import EXAMPLES

PICTURES: dict[str, list[str]] = {
    "ferrymans-dun-beside": [
        "ferrymans-dun", "--box", BOX, "--missing", "body", "--missing", "hackle", "--beside",
    ],
    "packhorse-badger": ["packhorse-badger"],
    "long-acre-olive-views": ["long-acre-olive", "--view", "both", "--patterns"],
    "bellringer": ["bellringer"],
}  # fmt: skip
#: Those of other commands, as these are run.
OTHERS: dict[str, list[str]] = {
    "tenter-mill-quill-descent": [
        "graph", str(EXAMPLES / "dressings" / "tenter-mill-quill.toml"), "--box", BOX,
        "--best", "6",
    ],
    "tenter-mill-quill-departure": [
        "chart", "departure", str(EXAMPLES / "dressings" / "tenter-mill-quill.toml"),
        "--box", BOX, "--best", "5",
    ],
    "box-at-a-glance": ["chart", "box", BOX],
    "dry-upright-proportions": ["chart", "proportions", "--style", "dry upright"],
}  # fmt: skip


def drawn(name: str) -> str:
    if name in OTHERS:
        return flykin(*OTHERS[name]).stdout
    dressing, *rest = PICTURES[name]
    path = EXAMPLES / "dressings" / f"{dressing}.toml"
    return flykin("draw", str(path), *rest).stdout


def renew() -> None:
    """Draw every picture anew: ``python -m tests.drawing.test_examples``."""
    for name in (*PICTURES, *OTHERS):
        (EXAMPLES / "pictures" / f"{name}.svg").write_text(drawn(name), encoding="utf-8")


@pytest.mark.parametrize("name", [*PICTURES, *OTHERS])
def test_a_picture_is_not_stale(name: str) -> None:
    kept = Path(EXAMPLES / "pictures" / f"{name}.svg").read_text(encoding="utf-8")
    assert kept == drawn(name), "renew it: python -m tests.drawing.test_examples"


if __name__ == "__main__":
    renew()
