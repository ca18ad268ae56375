"""The answer of `region` as JSON, in one documented and versioned shape.

An object with

- ``version`` (1), ``dressing`` (name, style), ``place`` (region, water, jurisdiction), ``natural``;
- ``asked``: what the water and the natural ask, each with ``what`` and ``source``;
- ``kin``: how far a variant may depart; ``base_distance``: of the dressing as written;
- ``front``: the whole front, by rising departure: each variant as in ``propose --json`` with its
  ``distance``, ``distance_terms`` (by part: what, cost, says, source) and whether it is to be tied
  ``first``;
- ``law``: ``told`` (material, place, status, statute, section, only_if, asked, acts,
  origin, says, exceptions, address, text_date, seen, until), ``unknown`` (materials that law could
  speak of and whose law was not looked up), ``asks`` (what the answer hangs on), ``advice``.

Of several waters, an object with ``version``, ``waters`` (each as above), ``ancestors`` (flies for
several waters: ``waters`` by place in the list, ``together``, and ``variants``, one for each) and
``derivation`` (node-link, as networkx writes it).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from variants.model import Term
from variants.regions import Adaptation, Cautions, Family, RegionalVariant
from variants.views.as_json import variant_json
from variants.views.region import asked_of

VERSION = 1


def adaptation_json(adaptation: Adaptation, law: Cautions) -> dict[str, Any]:
    """Return the answer of `region`."""
    request, target = adaptation.design.request, adaptation.target
    return {
        "version": VERSION,
        "dressing": {"name": request.base.name, "style": request.base.style},
        "place": {
            "region": target.place.region.name,
            "water": target.place.water.name,
            "jurisdiction": target.place.region.jurisdiction,
        },
        "natural": target.natural.name,
        "asked": [
            {"what": what, "source": source} for what, source in asked_of(target, request.base)
        ],
        "kin": adaptation.within / 1000,
        "base_distance": adaptation.base_distance / 1000,
        "front": [_variant(adaptation, one) for one in adaptation.front],
        "law": law_json(law),
    }


def family_json(family: Family, laws: Sequence[Cautions]) -> dict[str, Any]:
    """Return the answer of `region` for several waters."""
    import networkx as nx

    return {
        "version": VERSION,
        "waters": [
            adaptation_json(one, law) for one, law in zip(family.adaptations, laws, strict=True)
        ],
        "ancestors": [
            {
                "waters": list(ancestor.places),
                "together": ancestor.together / 1000,
                "variants": [
                    _variant(family.adaptations[place], one)
                    for place, one in ancestor.variants.items()
                ],
            }
            for ancestor in family.ancestors
        ],
        "derivation": nx.node_link_data(family.descent.graph, edges="edges"),
    }


def _variant(adaptation: Adaptation, one: RegionalVariant) -> dict[str, Any]:
    return {
        **variant_json(adaptation.design, one.variant),
        "distance": one.distance / 1000,
        "distance_terms": {
            part: [_term(term) for term in terms] for part, terms in one.terms.items()
        },
        "first": one is adaptation.chosen,
    }


def _term(term: Term) -> dict[str, Any]:
    return {
        "what": term.what, "cost": term.cost / 1000, "says": term.says, "source": term.source,
    }  # fmt: skip


def law_json(law: Cautions) -> dict[str, Any]:
    """Return what law says of materials, with what is unknown."""
    return {
        "told": [
            {
                "material": one.material,
                "place": one.place.name,
                "status": one.statute.status,
                "statute": one.statute.statute,
                "section": one.statute.section,
                "only_if": one.only_if,
                "asked": one.is_asked,
                "acts": list(one.statute.acts),
                "origin": one.statute.origin,
                "says": one.statute.condition,
                "exceptions": one.statute.exceptions,
                "address": one.statute.address,
                "text_date": one.statute.text_date,
                "seen": one.statute.seen,
                "until": one.statute.until.isoformat() if one.statute.until else "",
            }
            for one in law.law
        ],
        "unknown": list(law.unknown),
        "asks": list(law.asks),
        "advice": law.advice,
    }
