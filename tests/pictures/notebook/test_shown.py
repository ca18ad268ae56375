"""Dressings, variants and graphs show themselves, and are otherwise what they were."""

from __future__ import annotations

from xml.etree import ElementTree as ET

from tests.real import EXAMPLES, example_box, rulebook
from variants import api
from variants.model import Dressing, Variant
from variants.reading import read_dressing

PATH = EXAMPLES / "dressings" / "ferrymans-dun.toml"


def title(svg: object) -> str:
    assert isinstance(svg, str)
    found = ET.fromstring(svg).find("{http://www.w3.org/2000/svg}title")
    assert found is not None
    return found.text or ""


def test_a_dressing_shows_itself_as_written() -> None:
    dressing = api.load_dressing(PATH, rulebook())
    assert title(dressing._repr_svg_()) == "Ferryman's Dun"  # type: ignore[attr-defined]


def test_a_variant_shows_itself() -> None:
    dressing = api.load_dressing(PATH, rulebook())
    _design, found = api.propose(dressing, example_box(), rulebook(), best=2)
    told = [title(one._repr_svg_()) for one in found]  # type: ignore[attr-defined]
    assert told == ["Ferryman's Dun, variant 1", "Ferryman's Dun, variant 2"]


def test_a_derivation_shows_itself_and_its_copies_hold_their_tongue() -> None:
    dressing = api.load_dressing(PATH, rulebook())
    design, found = api.propose(dressing, example_box(), rulebook(), best=5, different=True)
    graph = api.derive(design, found)
    assert title(graph._repr_svg_()) == "Ferryman's Dun"  # type: ignore[attr-defined]
    part = graph.subgraph(["base", "v1"]).copy()
    assert part._repr_svg_() is None  # type: ignore[attr-defined]
    assert set(part) == {"base", "v1"}


def test_they_travel_and_compare_as_the_plain_things_they_are() -> None:
    dressing = api.load_dressing(PATH, rulebook())
    _design, found = api.propose(dressing, example_box(), rulebook(), best=1)
    kind, told = dressing.__reduce__()[:2]
    assert kind is Dressing
    again = Dressing(*told)
    assert again == read_dressing(PATH, rulebook().trade)
    assert api.load_dressing(PATH, rulebook()) == dressing
    kind, told = found[0].__reduce__()[:2]
    assert kind is Variant
    assert Variant(*told).departure == found[0].departure
    assert isinstance(found[0], Variant)


def test_a_hook_of_unknown_size_leaves_the_words() -> None:
    dressing = api.load_dressing(PATH, rulebook())
    from dataclasses import replace

    lost = replace(dressing, size=99, sizes=(99,))
    assert lost._repr_svg_() is None  # type: ignore[attr-defined]
