"""The pictures kept with the examples are those that the commands draw."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

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
#: Those of other commands and of the whole folder, as these are run.
OTHERS: dict[str, list[str]] = {
    "tenter-mill-quill-descent": [
        "graph", str(EXAMPLES / "dressings" / "tenter-mill-quill.toml"), "--box", BOX,
        "--best", "6",
    ],
    "tenter-mill-quill-departure": [
        "chart", "departure", str(EXAMPLES / "dressings" / "tenter-mill-quill.toml"),
        "--box", BOX, "--best", "5",
    ],
    "valley": ["draw", str(EXAMPLES / "dressings")],
    "box-at-a-glance": ["chart", "box", BOX],
    "dry-upright-proportions": ["chart", "proportions", "--style", "dry upright"],
}  # fmt: skip
#: Those that a command writes to a file: the command, and its option for the file.
_DUN = ["region", str(EXAMPLES / "dressings" / "ferrymans-dun.toml"), "--box", BOX,
        "--month", "May"]  # fmt: skip
_WATERS = [str(EXAMPLES / "regions" / f"{name}.toml")
           for name in ("lower-wendle", "skirl-burn", "merrel-tarn")]  # fmt: skip
WRITTEN: dict[str, tuple[list[str], str]] = {
    "ferrymans-dun-three-waters": (
        [*_DUN, *(word for path in _WATERS for word in ("--region", path))],
        "--picture",
    ),
    "ferrymans-dun-skirl-burn": ([*_DUN, "--region", _WATERS[1]], "--chart"),
}


def drawn(name: str) -> str:
    if name in WRITTEN:
        command, option = WRITTEN[name]
        with TemporaryDirectory() as folder:
            out = Path(folder) / "drawn.svg"
            assert flykin(*command, option, str(out)).returncode == 0
            return out.read_text(encoding="utf-8")
    if name in OTHERS:
        return flykin(*OTHERS[name]).stdout
    dressing, *rest = PICTURES[name]
    path = EXAMPLES / "dressings" / f"{dressing}.toml"
    return flykin("draw", str(path), *rest).stdout


def draw_anew() -> None:
    """Draw every picture anew, as ``python -m tests renew pictures`` does."""
    for name in (*PICTURES, *OTHERS, *WRITTEN):
        (EXAMPLES / "pictures" / f"{name}.svg").write_text(drawn(name), encoding="utf-8")


@pytest.mark.parametrize("name", [*PICTURES, *OTHERS, *WRITTEN])
def test_a_picture_is_not_stale(name: str) -> None:
    kept = Path(EXAMPLES / "pictures" / f"{name}.svg").read_text(encoding="utf-8")
    assert kept == drawn(name), "renew it: python -m tests renew pictures"
