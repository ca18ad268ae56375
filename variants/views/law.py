"""What law and a water's owner say of a fly, and care at the bench, on a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from variants.explain.wording import join_words
from variants.regions import (
    Caution,
    Cautions,
    Place,
    says_words,
    written_words,
)
from variants.text import printable
from variants.views.columns import wrap

_NO_PLACE = "No jurisdiction is named, so nothing is known of the law: check with {whom}."
_LOCAL = "the local authority"
_STATUSES = {"permit": "only with leave"}


def law_lines(places: Sequence[Place], told: Cautions) -> list[str]:
    """Return what waters under one law ask, what statutes say, what is unknown, whom to ask."""
    *others, last = places
    said = [*map(_asked, others), *law_sentences(last, told)]
    return [line for one in said for line in wrap(printable(one), subsequent_indent="  ")]


def _asked(place: Place) -> str:
    return f"On {place.name}: {'; '.join(water_asks(place)) or 'no rules are told'}."


def law_sentences(place: Place, told: Cautions) -> list[str]:
    """Return the same for one water, not yet broken into lines."""
    said = [_asked(place), *_rows(told.law)]
    if not place.region.jurisdiction:
        return [*said, _NO_PLACE.format(whom=_LOCAL)]
    said += [f"The answer depends on which it is. {one}" for one in told.asks]
    said += _looked_up(told.law)
    if told.unknown:
        said.append(f"Not looked up there: {join_words(told.unknown)}.")
    return [*said, told.advice]


def _rows(told: Sequence[Caution]) -> list[str]:
    """Return what each row says, once for all the stuff that it speaks of."""
    alike: dict[str, list[Caution]] = {}
    for one in told:
        if not _is_silent(one):
            alike.setdefault(one.statute.id, []).append(one)
    return [
        f"{_status(first)}, {first.place.name}: {join_words(map(_name, (first, *rest)))}: "
        f"{says_words(first.statute)} ({written_words(first.statute)})"
        for first, *rest in alike.values()
    ]


def _looked_up(told: Sequence[Caution]) -> list[str]:
    """Return, place by place, of what the law was looked up and does not speak."""
    silent: dict[str, dict[str, None]] = {}
    for one in filter(_is_silent, told):
        silent.setdefault(one.place.name, {})[_name(one)] = None
    return [
        f"Looked up, {where}: the law does not speak of {join_words(stuff)}."
        for where, stuff in silent.items()
    ]


def _status(told: Caution) -> str:
    status = told.statute.status
    return "Asked" if told.is_asked else _STATUSES.get(status, status).capitalize()


def _is_silent(told: Caution) -> bool:
    return told.statute.status == "silent"


def _name(told: Caution) -> str:
    return f"{told.material} ({told.only_if})" if told.only_if else told.material


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
    if rules.unweighted:
        asked.append("unweighted flies")
    if rules.no_scent:
        asked.append("no scent on the fly")
    if rules.most_points is not None:
        points = "one point" if rules.most_points == 1 else f"{rules.most_points} points"
        asked.append(f"hooks of {points} at most")
    if rules.largest_gape_mm is not None:
        asked.append(f"no gape over {rules.largest_gape_mm:g} mm")
    if rules.largest_hook is not None:
        asked.append(f"no hook larger than size {rules.largest_hook}")
    if rules.most_hooks is not None:
        flies = "one fly" if rules.most_hooks == 1 else f"{rules.most_hooks} flies"
        asked.append(f"{flies} on the line at most")
    return asked
