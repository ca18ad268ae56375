"""Turns of hackle are seen: no two numbers of turns are the same drawing."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from tests.real import fly, propose
from variants.geometry import fly_geometry, load_layout
from variants.model import Box
from variants.pictures import draw_fly

LAYOUT = load_layout()
TURNS = range(1, 13)
_FLIES = {
    ("soft hackle", "hackle"): ("wet fly hook", "partridge-brown"),
    ("dry upright", "hackle"): ("dry fly hook", "rooster-neck-dry, ginger"),
    ("winged wet", "hackle"): ("wet fly hook", "hen-neck, brown"),
    ("parachute", "hackle"): ("dry fly hook", "rooster-neck-dry, ginger"),
    ("palmer", "palmer"): ("dry fly hook", "rooster-neck-dry, ginger"),
    ("streamer", "collar"): ("streamer hook", "hen-neck, brown"),
}


def drawn(style: str, part: str, turns: int, view: str) -> str:
    hook, feather = _FLIES[style, part]
    parts = {
        "hook": hook,
        "thread": "polyester tying thread, black",
        "body": "fine synthetic dubbing, olive",
        part: f"{feather}|turns = {turns}",
    }
    if style == "parachute":
        parts["post"] = "calf-body, white"
    design, _ = propose(fly(parts, style), Box(()))
    assert fly_geometry(design, LAYOUT).parts[part].counts["turns"] == turns
    return draw_fly(design, LAYOUT, view=view).svg  # type: ignore[arg-type]


def barbs(svg: str, part: str) -> int:
    """How many sub-paths all groups of a part have."""
    groups = re.findall(rf'<g[^>]*data-part="{part}"[^>]*>(.*?)</g>', svg, re.DOTALL)
    return sum(path.count("M") for group in groups for path in re.findall(r' d="([^"]*)"', group))


@pytest.mark.parametrize("view", ["profile", "front"])
@pytest.mark.parametrize(("style", "part"), _FLIES)
def test_each_turn_is_seen(style: str, part: str, view: str) -> None:
    pictures = [drawn(style, part, turns, view) for turns in TURNS]
    assert len(set(pictures)) == len(TURNS)
    found = [barbs(svg, part) for svg in pictures]
    assert all(fewer < more for fewer, more in pairwise(found)), found
    # Told honestly: twice the turns, about twice the barbs.
    assert found[11] / found[5] == pytest.approx(2.0, rel=0.12)


def test_the_turns_of_the_stem_are_bands_along_the_shank() -> None:
    for turns in TURNS:
        svg = drawn("palmer", "palmer", turns, "profile")
        (group,) = re.findall(r'<g[^>]*data-part="palmer"[^>]*>(.*?)</g>', svg, re.DOTALL)
        assert group.count('data-measure="turn"') == turns
