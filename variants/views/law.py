"""What law and a water's owner say of a fly, and care at the bench, on a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from variants.regions import Caution, Cautions, Place
from variants.views.columns import wrap
from variants.views.words import listed, printable

WIDTH = 80
_NO_PLACE = "No jurisdiction is named, so nothing is known of the law: check with {whom}."
_LOCAL = "the local authority"


def law_lines(places: Sequence[Place], told: Cautions) -> list[str]:
    """Return what waters under one law ask, what statutes say, what is unknown, whom to ask."""
    *others, last = places
    said = [*map(_asked, others), *law_sentences(last, told)]
    return [line for one in said for line in _wrapped(one)]


def _asked(place: Place) -> str:
    return f"On {place.name}: {'; '.join(water_asks(place)) or 'no rules are told'}."


def law_sentences(place: Place, told: Cautions) -> list[str]:
    """Return the same for one water, not yet broken into lines."""
    said = [_asked(place)]
    spoken_of: dict[str, list[Caution]] = {}
    for one in told.law:
        spoken_of.setdefault(one.statute.id, []).append(one)
    for alike in spoken_of.values():
        row, names = alike[0].statute, listed(one.material for one in alike)
        said.append(
            f"{row.status.capitalize()}, {alike[0].place.name}: {names}: {row.says}"
            f" ({row.statute}, {row.section}; as of {row.known}, {row.source})"
        )
    if not place.region.jurisdiction:
        return [*said, _NO_PLACE.format(whom=_LOCAL)]
    if told.unknown:
        said.append(f"Unknown, no row of law speaks of: {listed(told.unknown)}.")
    return [*said, told.advice]


def hazard_lines(told: Cautions) -> list[str]:
    """Return the hazards at the bench that a fly calls for."""
    return [line for one in told.hazards for line in _wrapped(f"{one.says}")]


def water_asks(place: Place) -> list[str]:
    """Return what the water's owner asks, each in a few words."""
    rules = place.water.rules
    asked = []
    if rules.barbless:
        asked.append("barbless hooks" + (" or barbs pressed flat" if rules.pressed_barb else ""))
    if rules.no_lead:
        asked.append("no lead")
    if rules.fly_only:
        asked.append("fly only")
    if rules.largest_hook is not None:
        asked.append(f"no hook larger than size {rules.largest_hook}")
    if rules.most_hooks is not None:
        flies = "one fly" if rules.most_hooks == 1 else f"{rules.most_hooks} flies"
        asked.append(f"{flies} on the line at most")
    return asked


def _wrapped(text: str) -> list[str]:
    return wrap(printable(text), WIDTH, subsequent_indent="  ")
