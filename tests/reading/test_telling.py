"""Which style a dressing in plain words is of: hook and feather tell more than the title's word."""

from __future__ import annotations

import pytest

from tests.reading.test_plain import glossary
from variants.reading.words import read_plain

#: Title, lines, and the style a tyer takes it for (common practice).
DRESSINGS = [
    ("Mill Stonefly", "hook: dry fly 8-12; body: yellow fur; wing: elk; hackle: brown cock",
     "down-wing"),
    ("Mill Stonefly", "hook: 8-12; body: yellow fur", "nymph"),
    ("Ginger Spider", "hook: dry fly, 16; hackle: ginger cock", "dry-upright"),
    ("Ginger Spider", "hook: wet fly, 14; body: ginger silk; hackle: partridge", "soft-hackle"),
    ("Slate Dun", "hook: wet fly 14-16; body: mole fur; hackle: jackdaw", "soft-hackle"),
    ("Slate Dun", "hook: dry fly 14-16; body: mole fur; hackle: blue dun cock", "dry-upright"),
    ("Hair Caddis", "hook: 14; body: olive fur; wing: elk hair", "down-wing"),
    ("Elk Wing", "hook: dry fly 12-16; body: brown fur; wing: elk", "down-wing"),
    ("Lake Palmer", "hook: wet fly 10-14; body: red fur; palmer: brown", "palmer"),
    ("Lake Claret", "hook: wet fly 10-14; body: claret fur; palmer: claret", "palmer"),
    ("Hanging Olive", "hook: emerger 12-16; body: olive fur; post: white poly yarn; hackle: dun",
     "emerger"),
    ("White Post", "hook: dry fly 12-16; body: olive fur; post: white poly yarn; hackle: dun",
     "parachute"),
    ("Tarn Buzzer", "hook: 12; body: black silk", "nymph"),
    ("Sallow Shuttlecock", "hook: 14; body: black silk; wing: CDC", "emerger"),
    ("Reed Worm", "hook: wet fly 10; body: green floss; back: brown", "nymph"),
]  # fmt: skip


@pytest.mark.parametrize(("title", "lines", "style"), DRESSINGS)
def test_a_style_is_told_by_hook_and_feather_before_the_word(
    title: str, lines: str, style: str
) -> None:
    (found,) = read_plain("\n".join([title, *lines.split("; ")]), glossary())
    assert found.dressing is not None
    assert found.dressing.style == style


def test_a_back_of_foam_on_a_dry_hook_is_no_wing_case_of_a_nymph() -> None:
    text = "Bank Crawler\nhook: dry fly 12\nbody: peacock herl\nback: black foam"
    (found,) = read_plain(text, glossary())
    assert found.dressing is None or found.dressing.style != "nymph"
