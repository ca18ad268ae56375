"""Statuses of materials against the statutes they rest on, row by row.

How the text of each came to us stands with the key in sources.toml; most of it is second-hand, and
the tables say so too.
"""

from __future__ import annotations

from functools import cache

import pytest

from tests.real import rulebook
from variants.model import Ingredient, Part
from variants.regions import LawOfTheLand, cautions, load_law


@cache
def law() -> LawOfTheLand:
    return load_law(rulebook().trade)


def statuses(place: str, material: str) -> set[tuple[str, str]]:
    """Return statute and status of every row that speaks of a material in a place itself."""
    part = Part("body", (Ingredient(rulebook().trade.materials[material]),))
    return {
        (one.statute.status, one.statute.section)
        for one in cautions([part], law(), place).law
        if one.place.id == place
    }


def words(rows: str) -> list[str]:
    return rows.split()


@pytest.mark.source("mbta-1918", "50 CFR 20.91")
@pytest.mark.parametrize(
    "material",
    words("mallard-flank bronze-mallard mallard-dyed-lemon mallard-speculum wood-duck-barred "
          "teal-flank teal-quill pintail-flank wigeon-flank gadwall-flank duck-quill-slip "
          "duck-breast swan-side"),
)  # fmt: skip
def test_waterfowl_feathers_are_allowed_for_flies_under_conditions(material: str) -> None:
    assert ("licensed", "50 CFR 20.91") in statuses("us", material)


@pytest.mark.source("mbta-1918", "50 CFR part 20, subpart J")
@pytest.mark.parametrize(
    "material", words("snipe-hackle snipe-quill woodcock-hackle woodcock-quill coot-hackle")
)
def test_the_exception_is_for_waterfowl_alone(material: str) -> None:
    assert statuses("us", material) == {("licensed", "50 CFR 20.92")}


@pytest.mark.source("mbta-1918", "50 CFR 10.13")
@pytest.mark.parametrize("material", words("owl-feather heron-hackle heron-herl"))
def test_not_even_a_found_feather_of_a_protected_bird(material: str) -> None:
    assert statuses("us", material) == {("forbidden", "50 CFR 10.13")}


@pytest.mark.source("mbta-1918", "16 U.S.C. 703-712")
@pytest.mark.parametrize(
    "material",
    words("starling-quill starling-body starling-covert sparrow pheasant-tail-cock "
          "hen-pheasant-tail partridge-brown partridge-grey"),
)  # fmt: skip
def test_birds_outside_the_act(material: str) -> None:
    assert statuses("us", material) == {("allowed", "16 U.S.C. 703-712")}


@pytest.mark.source("mmpa-1972", "16 U.S.C. 1361-1423h")
@pytest.mark.parametrize("material", words("seal-dubbing polar-bear-hair"))
def test_marine_mammals_are_barred(material: str) -> None:
    assert statuses("us", material) == {("forbidden", "16 U.S.C. 1361-1423h")}


@pytest.mark.source("cites-appendices", "appendices I to III")
@pytest.mark.parametrize(
    ("material", "status", "appendix"),
    [
        ("jungle-cock-nail", "licensed", "Appendix II"),
        ("peacock-herl", "licensed", "Appendix III"),
        ("peacock-sword", "licensed", "Appendix III"),
        ("polar-bear-hair", "licensed", "Appendix II"),
        ("ibis-feather", "licensed", "Appendix II"),
        ("macaw-tail", "licensed", "Appendix I or II, by species"),
        ("bustard-quill", "licensed", "Appendix I or II, by species"),
        ("otter-dubbing", "licensed", "Appendix I or II, by species"),
        ("chatterer-blue", "unknown", "Appendix I or II for some species"),
        ("indian-crow", "unknown", "not known here"),
        ("seal-dubbing", "unknown", "Appendix I, II or none, by species"),
        ("hares-mask", "allowed", "not listed"),
        ("mole-dubbing", "allowed", "not listed"),
        ("rabbit-dubbing", "allowed", "not listed"),
        ("fox-dubbing", "allowed", "not listed"),
    ],
)
def test_what_crosses_a_border(material: str, status: str, appendix: str) -> None:
    assert statuses("borders", material) == {(status, appendix)}


@pytest.mark.source("wca-1981", "Schedule 3 Part III, with sections 1 and 6")
@pytest.mark.parametrize(
    ("material", "status"),
    [
        *((one, "licensed") for one in words(
            "coot-hackle mallard-flank bronze-mallard mallard-dyed-lemon pintail-flank "
            "plover-hackle snipe-hackle teal-flank wigeon-flank woodcock-hackle")),
        *((one, "forbidden") for one in words(
            "waterhen-hackle gadwall-flank blackbird-quill owl-feather landrail-quill "
            "landrail-hackle kingfisher heron-hackle heron-herl lapwing curlew redshank dotterel")),
        *((one, "unknown") for one in words(
            "pigeon-quill coot-quill duck-quill-slip duck-breast starling-quill crow-quill jackdaw "
            "jay-blue magpie-herl grouse-hackle partridge-brown pheasant-tail-cock")),
        ("woodpigeon", "allowed"),
    ],
)  # fmt: skip
def test_sale_of_dead_birds_in_the_united_kingdom(material: str, status: str) -> None:
    assert {found for found, _ in statuses("uk", material)} == {status}


@pytest.mark.source("badgers-1992", "whole Act")
def test_badger_is_kept_under_conditions() -> None:
    assert statuses("uk", "badger-hair") == {("licensed", "whole Act")}


@pytest.mark.source("lead-weights-1986", "regulation 4")
def test_a_ban_on_lead_for_lines_leaves_weighted_flies_unknown() -> None:
    assert statuses("uk", "lead-wire") == {("unknown", "SI 1986/1992, regulation 4")}


@pytest.mark.source("nh-rsa-211-13-b", "211:13-b and 339:77")
def test_flies_are_neither_sinkers_nor_jigs_in_new_hampshire() -> None:
    assert statuses("us-nh", "lead-wire") == {("allowed", "211:13-b and 339:77")}


@pytest.mark.source("birds-directive-2009", "Article 6 and Annex III")
@pytest.mark.parametrize(
    ("material", "status"),
    [
        ("mallard-flank", "licensed"),
        ("red-legged-partridge", "licensed"),
        ("pheasant-tail-cock", "licensed"),
        ("woodpigeon", "licensed"),
        ("heron-herl", "forbidden"),
        ("landrail-quill", "forbidden"),
    ],
)
def test_sale_of_wild_birds_in_the_european_union(material: str, status: str) -> None:
    assert {found for found, _ in statuses("eu", material)} == {status}


@pytest.mark.source("seal-regulation-2009", "whole Regulation")
def test_seal_products_are_not_placed_on_the_market() -> None:
    assert statuses("eu", "seal-dubbing") == {("forbidden", "whole Regulation")}
