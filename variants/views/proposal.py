"""The answer of `propose` on a terminal, 80 columns wide."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

from variants.design import DesignProblem, adapted_counts
from variants.design.search import Ended, SearchResult
from variants.explain import VariantGroup
from variants.explain.changes import find_changes, is_same_hook
from variants.explain.wording import departure_words, join_words, part_name, pluralize, source_items
from variants.model import Variant
from variants.text import printable
from variants.views.columns import wrap, wrap_indented

_INDENT = 16


def heading(design: DesignProblem) -> str:
    """Return the line above the variants: the dressing, its style, the sizes and the water."""
    request = design.request
    style = design.rulebook.trade.styles[request.base.style].name
    sizes = request.sizes or request.base.sizes
    several = "sizes" if len(sizes) > 1 else "size"
    told = [printable(request.base.name), style, f"{several} {', '.join(map(str, sizes))}"]
    if request.water:
        told.append(f"{request.water} water")
    told.append(f"from {pluralize(len(request.box.items), 'item')}")
    return ", ".join(told)


def proposal_lines(
    design: DesignProblem,
    found: Sequence[VariantGroup],
    names: Mapping[int, Sequence[str]] = MappingProxyType({}),
) -> list[str]:
    """Return the whole answer, line by line; ``names`` tells by rank which have one already."""
    lines = [*wrap(heading(design)), "", " No  Departure  What differs"]
    for line in found:
        lines += _variant_lines(design, line.first, names.get(line.first.rank, ()))
        for told in others_words(design, line):
            lines += wrap_indented(told, _INDENT)
        for other in line.others:
            if own := names.get(other.rank):
                lines += wrap_indented(
                    f"No {other.rank} is the {join_words(map(printable, own))}", _INDENT + 4
                )
    return lines


def others_words(design: DesignProblem, line: VariantGroup) -> list[str]:
    """Say what else a line holds: the sizes it may be tied in on one row, then each other fly."""
    told = [
        or_words(design, line.first, other)
        for other in line.others
        if not _is_only_another_size(line.first, other)
    ]
    sizes = [
        f"{other.chosen['hook'].attributes['size']} (No {other.rank})"
        for other in line.others
        if _is_only_another_size(line.first, other)
    ]
    return [f"or in size {join_words(sizes, 'or')}", *told] if sizes else told


def _is_only_another_size(first: Variant, other: Variant) -> bool:
    """Tell whether two variants are one fly on two sizes of the same hook, no farther off."""
    return other.departure == first.departure and all(
        part == "hook" and is_same_hook(used, first.chosen[part])
        for part, used in other.chosen.items()
        if used.identity != first.chosen[part].identity
    )


def or_words(design: DesignProblem, first: Variant, other: Variant) -> str:
    """Say what another variant of a line has otherwise than the first: ``or No 3, 0.15: …``."""
    if _is_only_another_size(first, other):
        return f"or No {other.rank}: in size {other.chosen['hook'].attributes['size']}"
    parts = design.rulebook.trade.parts
    told = [
        f"{part_name(parts, part)} {used.words}"
        for part, used in other.chosen.items()
        if used.identity != first.chosen[part].identity
    ]
    return printable(f"or No {other.rank}, {departure_words(other.departure)}: {'; '.join(told)}")


def _variant_lines(design: DesignProblem, variant: Variant, names: Sequence[str]) -> list[str]:
    lines: list[str] = []
    for change in find_changes(design, variant):
        lines += wrap_indented(f"{change.part}: {change.words}", _INDENT)
        if change.from_box:
            lines += wrap_indented(change.from_box, _INDENT + 4)
    if not lines:
        told = "nothing: as written"
        if variant.departure:
            told += f", though a rule is stretched: --explain {variant.rank} tells which"
        lines = wrap_indented(told, _INDENT)
    if names:
        lines += wrap_indented(f"this is the {join_words(map(printable, names))}", _INDENT)
    stock = _stock_words(variant)
    if stock:
        lines += wrap_indented(stock, _INDENT + 4)
    first = f"{variant.rank:3}  {departure_words(variant.departure):>9}  "
    return [first + lines[0].lstrip(), *lines[1:]]


def _stock_words(variant: Variant) -> str:
    """Return which hooks and hackle feathers stand ready, where no change has told it."""
    told = [
        source_items(candidate)
        for part in ("hook", "hackle")
        if (candidate := variant.chosen.get(part)) is not None
        and candidate.items
        and not candidate.is_changed
        and not adapted_counts(candidate)
    ]
    return f"with {'; '.join(told)}" if told else ""


def ending_lines(
    result: SearchResult,
    asked: int,
    kind: str,
    looked_through: int | None = None,
    lines: int | None = None,
    unread: Sequence[str] = (),
) -> list[str]:
    """Return the words that say how far the answer is complete, and what is proven.

    ``kind`` names what is listed, such as ``"variants"``; ``lines`` is in how many lines they are
    shown, where several may share one; ``unread`` are words of the dressing that were not
    understood.
    """
    shown, proven = len(result.so_far), result.proven
    if unread:
        words = join_words(f"“{printable(one)}”" for one in unread)
        told = f"The closest {kind} to what was understood. Nothing is proven of the fly as "
        return wrap(f"{told}written while {words} is not understood.")
    if looked_through is not None:
        told = f"Those {kind} that are among the {looked_through} closest, in proven order."
        return wrap(told)
    if lines is not None and shown == 1 and not result.so_far[0].changed:
        return wrap("As written: nothing needs to change, and nothing closer can be.")
    if result.ended is Ended.PROVEN:
        if (shown if lines is None else lines) < asked:
            told = f"These are all {kind} that the rules and the box allow, in proven order."
            return wrap(told)
        if shown == 1:
            return ["The closest of all: it is proven that nothing closer exists."]
        told = f"The {shown} closest {kind}, in proven order: nothing closer exists."
        return wrap(told)
    why = "Stopped" if result.ended is Ended.INTERRUPTED else "The time was up"
    told = f"{why} before the search was done. "
    told += f"Proven: the first {proven}. " if proven else "Not proven: none of those shown. "
    if shown > proven > 0:
        told += "Not proven: the others, closer ones may exist. "
    if result.bound is not None:
        told += f"Nothing else departs less than {departure_words(result.bound)}."
    return wrap(told)


def caution_lines(variants: Iterable[Variant]) -> list[str]:
    """Return the cautions of the materials shown, each once."""
    return [line for one in cautions(variants) for line in wrap(f"Caution: {one}")]


def cautions(variants: Iterable[Variant]) -> list[str]:
    """Return the cautions of the materials of variants, each once, with the material's name."""
    told = {
        f"{ingredient.material.name}: {ingredient.material.caution}"
        for variant in variants
        for candidate in variant.chosen.values()
        for ingredient in candidate.ingredients
        if ingredient.material.caution
    }
    return sorted(told)
