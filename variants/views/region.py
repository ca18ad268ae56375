"""The answer of `region` on a terminal: what is asked, the front as table and chart, the law."""

from __future__ import annotations

from variants.explain.changes import find_changes
from variants.explain.wording import departure_words, join_words, part_name, pluralize
from variants.model import Dressing, Natural
from variants.regions import Adaptation, RegionalTarget, RegionalVariant
from variants.text import printable
from variants.views.columns import wrap

_INDENT = 26
#: So many letters of a note go on one line under a picture.
_NOTE_WIDTH = 44
#: Columns and lines of the chart, its frame aside.
_CHART_WIDE, _CHART_HIGH = 64, 14
_MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]


def region_lines(adaptation: Adaptation) -> list[str]:
    """Return the whole answer but the law, line by line."""
    target = adaptation.target
    base = printable(adaptation.design.request.base.name)
    items = pluralize(len(adaptation.design.request.box.items), "item")
    lines = [
        *wrap(f"{base} for {target.place.name}, {target.style.name}, from {items}"),
        "",
        *target_lines(target, adaptation.design.request.base),
        "",
    ]
    if not adaptation.front:
        return [*lines, *none_lines(adaptation)]
    lines.append(" No  Departure  Distance  What differs")
    for one in adaptation.front:
        lines += variant_lines(adaptation, one)
    return [*lines, "", *chart_lines(adaptation), "", *_ending(adaptation)]


def target_lines(target: RegionalTarget, base: Dressing) -> list[str]:
    """Return what the water and the natural ask, each with its source."""
    water, natural = target.place.water, target.natural
    of_water = f"The water: {water.speed}, {water.clarity}, {water.surface}"
    of_water += f", {water.depth_m:g} m deep" if water.depth_m is not None else ""
    lines = wrap(of_water, subsequent_indent="  ")
    lines += wrap(f"The natural: {natural_words(natural)}", subsequent_indent="  ")
    others = [one.name for one in target.place.region.naturals if one is not natural]
    if others:
        told_of = f"Other naturals, chosen by --natural or --month: {join_words(others)}"
        lines += wrap(printable(told_of), subsequent_indent="  ")
    lines.append("What they ask:")
    by_source: dict[str, list[str]] = {}
    for words, source in asked_of(target, base):
        by_source.setdefault(source, []).append(words)
    for source, told in by_source.items():
        lines += wrap(f"{'; '.join(told)} (source: {source})",
                      initial_indent="  ", subsequent_indent="    ")  # fmt: skip
    return lines


def natural_words(natural: Natural) -> str:
    """Return a natural with its stage, months, length and colours."""
    first, last = natural.months[0] - 1, natural.months[-1] - 1
    months = _MONTHS[first] if first == last else f"{_MONTHS[first]} to {_MONTHS[last]}"
    low, high = natural.body_mm
    colours = [
        f"{name} {colour.name}"
        for name in ("body", "wing", "legs")
        if (colour := getattr(natural, name)) is not None
    ]
    told = [f"{natural.name} ({natural.order}), {natural.stage}", months, f"{low:g} to {high:g} mm"]
    return printable(", ".join([*told, *colours]))


def asked_of(target: RegionalTarget, base: Dressing) -> list[tuple[str, str]]:
    """Return what a target asks of a dressing's parts, in words, each with its source."""
    weights, water = target.weights, target.place.water
    shank = target.rulebook.scale[target.hook_size].shank_mm
    told = [(f"hook {target.hook_size}, shank {shank:.1f} mm", weights.size.source)]
    parts = target.rulebook.trade.parts
    for part in (one.id for one in base.parts):
        colour = target.colour_of(part)
        if colour is not None:
            shown, wanted = colour
            told.append((f"{part_name(parts, part)} {wanted.name}", shown.source))
    for rule in target.counts_asked(base):
        low, high = rule.range_for({}, water.speed)
        end = {"clear": "the sparse end", "coloured": "the full end"}.get(water.clarity, "")
        span = pluralize(high, rule.count[:-1]) if low == high else f"{low} to {high} {rule.count}"
        words = f"{part_name(parts, rule.part)} {span}"
        words += " of the stiffest feather" if rule.stiffness_scales else ""
        told.append((words + (f", {end}" if end and low != high else ""), rule.source))
    if target.sinking_class is not None:
        name = weights.classes[target.sinking_class]
        told.append((f"a fly that {name}" if "sinks" in name else f"a fly {name}",
                     weights.sinking.source))  # fmt: skip
    return told


def variant_lines(adaptation: Adaptation, one: RegionalVariant) -> list[str]:
    """Return a variant with its number, its departure, its distance and what differs."""
    told = [f"{c.part}: {c.words}" for c in find_changes(adaptation.design, one.variant)]
    lead = " " * _INDENT
    lines = [
        line
        for words in told or ["nothing: as written"]
        for line in wrap(words, initial_indent=lead, subsequent_indent=lead + "  ")
    ]
    mark = "*" if one is adaptation.chosen else " "
    departure, distance = departure_words(one.departure), departure_words(one.distance)
    first = f"{one.variant.rank:3}{mark} {departure:>9} {distance:>9}  "
    return [first + lines[0].lstrip(), *lines[1:]]


def none_lines(adaptation: Adaptation) -> list[str]:
    """Return why there is no variant, and what would help."""
    empty = adaptation.design.empty_parts
    if empty:
        parts = adaptation.design.rulebook.trade.parts
        names = join_words((part_name(parts, part) for part in empty), "or")
        return wrap(f"No variant: nothing in the box can be the {names} there.")
    told = f"No variant departs {departure_words(adaptation.within)} or less and keeps every rule."
    if adaptation.closest is None:
        return wrap(f"{told} None does at all; whynot tells why.")
    return wrap(f"{told} The closest departs {departure_words(adaptation.closest)}; see --kin.")


def _ending(adaptation: Adaptation) -> list[str]:
    chosen = adaptation.chosen
    assert chosen is not None  # the front is not empty
    front = adaptation.front
    told = (
        "The whole front, proven: of all variants that depart"
        f" {departure_words(adaptation.within)} or less, none is nearer both to the dressing and"
        " to what is asked than one of these"
        f" {len(front)}. The dressing as written is"
        f" {departure_words(adaptation.base_distance)} from it."
    )
    if len(front) == 1:
        told = (
            "The only one that counts, proven: it is nearest to the dressing and to what is asked."
        )
    lines = wrap(told)
    first = f"* Tie No {chosen.variant.rank} first: departure and distance come to least in sum."
    lines += wrap(first, subsequent_indent="  ")
    for change in find_changes(adaptation.design, chosen.variant):
        if change.from_box:
            lines += wrap(f"{change.part}: {change.from_box}",
                          initial_indent="  ", subsequent_indent="    ")  # fmt: skip
    for hint, source in adaptation.target.hints_for(chosen.variant.chosen):
        lines += wrap(f"At the vice: {hint} (source: {source}).", subsequent_indent="  ")
    return lines


def chart_lines(adaptation: Adaptation) -> list[str]:
    """Return the front as a chart of letters: departure to the right, distance upward."""
    front = adaptation.front
    most = max(one.departure for one in front) or 1
    distances = [adaptation.base_distance, *(one.distance for one in front)]
    low, span = min(distances), (max(distances) - min(distances)) or 1
    rows = [[" "] * (_CHART_WIDE + 4) for _ in range(_CHART_HIGH + 1)]

    def put(x: int, y: int, mark: str, is_sure: bool) -> None:
        column = round(_CHART_WIDE * x / most)
        row = rows[_CHART_HIGH - round(_CHART_HIGH * (y - low) / span)]
        end = column + len(mark)
        if is_sure or not "".join(row[max(0, column - 1) : end + 1]).strip():
            row[column:end] = mark
        elif row[column] == " ":
            row[column] = "·"

    chosen = adaptation.chosen
    put(0, adaptation.base_distance, "o", True)
    for one in sorted(front, key=lambda one: (one is not chosen, one.variant.rank)):
        mark = f"{one.variant.rank}{'*' if one is chosen else ''}"
        put(one.departure, one.distance, mark, one is chosen)
    labels = {0: departure_words(low + span), _CHART_HIGH: departure_words(low)}
    lines = ["distance to what is asked (o: as written)"]
    lines += [f"{labels.get(at, ''):>6} │{''.join(line)}".rstrip() for at, line in enumerate(rows)]
    lines.append(f"{'':6} └{'─' * (_CHART_WIDE + 2)}")
    end = departure_words(most)
    lines.append(f"{'':8}0.00{'departure':^{_CHART_WIDE - 4 - len(end)}}{end}")
    return lines


def distance_lines(adaptation: Adaptation, one: RegionalVariant) -> list[str]:
    """Return what the distance of a variant is made of, term by term with its source."""
    parts = adaptation.target.rulebook.trade.parts
    lines = [f"Distance to the target {departure_words(one.distance)}"]
    for part, terms in one.terms.items():
        for term in terms:
            what = f"{part_name(parts, part)} {term.what.replace('_', ' ')}"
            words = f"+{departure_words(term.cost)}  {what}"
            lines += wrap(f"{words}: {term.says} (source: {term.source})",
                          initial_indent="  ", subsequent_indent=" " * 11)  # fmt: skip
    for part in one.variant.chosen:
        if part not in one.terms:
            lines.append(f"  +0.00  {part_name(parts, part)}: as asked, or nothing is asked of it")
    return lines


def picture_notes(adaptation: Adaptation) -> list[str]:
    """Return the lines under a picture of the fly to tie first."""
    chosen = adaptation.chosen
    assert chosen is not None  # only a front with variants is drawn
    told = [f"{c.part}: {c.words}" for c in find_changes(adaptation.design, chosen.variant)]
    return [
        f"{adaptation.target.place.name}, {adaptation.target.natural.name}",
        f"departs {departure_words(chosen.departure)},"
        f" {departure_words(chosen.distance)} from what is asked",
        *(line for one in told for line in wrap(one, _NOTE_WIDTH)),
    ]
