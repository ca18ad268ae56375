"""`flykin propose`: the closest valid variants of a dressing from a box."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from variants.cli.answers import NO_VARIANT, seconds
from variants.cli.gathering import gather
from variants.cli.places import PlaceOptions, apply_place, region_options
from variants.cli.requests import RequestOptions, request_options
from variants.stopping import INTERRUPTED

if TYPE_CHECKING:
    from variants.design import DesignProblem, Watch
    from variants.design.search import SearchResult
    from variants.explain import VariantGroup
    from variants.model import Variant
    from variants.regions import Place


@dataclass(frozen=True, slots=True)
class ProposeOptions:
    """What the command was asked, as it was typed."""

    folders: tuple[str, ...]
    best: int
    closest: bool
    different: bool
    cheapest: bool
    gauge_file: str | None
    within: str | None
    explained: int | None
    tree: bool
    graph_file: str | None
    as_json: bool
    books: tuple[str, ...]


@click.command("propose", short_help="The closest variants of a dressing from your box.")
@click.argument("dressing")
@click.option("--box", required=True, help="Your box: a CSV file, or - for standard input.")
@request_options
@region_options
@click.option("--best", type=click.IntRange(1, 10_000), default=5, show_default=True,
              help="How many to show.")  # fmt: skip
@click.option("--closest", is_flag=True,
              help="Every variant by itself, needless changes as well.")  # fmt: skip
@click.option("--different", is_flag=True,
              help="Only the best of each set of changes, needless ones as well.")  # fmt: skip
@click.option("--cheapest", is_flag=True,
              help="As --closest; of variants that depart alike, cheapest first.")  # fmt: skip
@click.option("--gauge", "gauge_file", metavar="FILE",
              help="Set measured barbs right: readings of known lengths.")  # fmt: skip
@click.option("--within", metavar="TIME",
              help="Stop after a while, such as 2s, with what is found by then.")  # fmt: skip
@click.option("--explain", "explained", type=click.IntRange(1), metavar="N",
              help="Explain variant N: numbers, rules, sources.")  # fmt: skip
@click.option("--tree", is_flag=True, help="Show how the variants derive from the dressing.")
@click.option("--graph", "graph_file", metavar="FILE",
              help="Write the derivation: .json, .graphml, .dot or .mmd.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--book", "books", multiple=True, metavar="PATH",
              help="Whose names to tell: a folder of dressings, or plain words.")  # fmt: skip
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(ProposeOptions)
def command(
    dressing: str,
    box: str,
    asked: RequestOptions,
    where: PlaceOptions,
    options: ProposeOptions,
) -> None:
    """Propose the closest valid variants of DRESSING that BOX can tie.

    DRESSING is a dressing file, or a .txt file in plain words (see flykin read).

    Shown are those that change no more than they must, and what looks much the same, such as
    another thread, stands in one line with "or". Their numbers are those of draw and sheet.

    Ctrl-C ends the search as --within does: with what is found by then, and what is proven of it.

    \b
    Example:
      flykin propose examples/dressings/ferrymans-dun.toml \\
             --box examples/box.csv --missing body
    """
    from variants.cli.books import read_one
    from variants.design import TimeUpError, Watch, build_problem
    from variants.design.search import Ended
    from variants.reading import read_box
    from variants.rulebook import load_rulebook

    if dressing == box == "-":
        raise click.UsageError("Only one of DRESSING and --box can be standard input.")
    _check_graph_name(options.graph_file)
    folders = options.folders
    watch = Watch(seconds("--within", options.within))
    rulebook = load_rulebook(folders)
    base = read_one(dressing, rulebook, folders)
    stock = read_box(box, rulebook.trade)
    if options.gauge_file is not None:
        from variants.geometry import correct_lengths, read_gauge

        stock = correct_lengths(stock, read_gauge(options.gauge_file))
    place, rulebook, asked = apply_place(where, asked, rulebook, folders)
    request = asked.request(base, stock, rulebook)
    try:
        design = build_problem(request, rulebook, watch=watch)
    except TimeUpError:
        click.echo("The time was up before the search began: give it longer.", err=True)
        sys.exit(INTERRUPTED)
    wanted = max(options.best, options.explained or 0)
    result, looked_through = _search(design, wanted, watch, options)
    if result.ended is Ended.NONE_EXISTS:
        _show_conflict(design, options.as_json, watch)
        sys.exit(NO_VARIANT)
    _show(design, result, wanted, options, place, looked_through)
    if not result.is_finished and not result.so_far:
        sys.exit(INTERRUPTED)


def _search(
    design: DesignProblem, wanted: int, watch: Watch, options: ProposeOptions
) -> tuple[SearchResult, int | None]:
    """Return what the search finds, or has found when it is stopped; see `search_needed`."""
    from variants.design.search import search_within
    from variants.explain import search_groups

    if _is_in_lines(options):
        return search_groups(design, wanted, watch)
    if options.cheapest:
        from variants.geometry import load_layout, sort_by_price

        layout = load_layout(options.folders)
        return sort_by_price(design, wanted, layout, options.different, watch), None
    return search_within(design, wanted, options.different, watch), None


def _is_in_lines(options: ProposeOptions) -> bool:
    """Tell whether variants that look much the same are shown in one line."""
    return not (options.closest or options.different or options.cheapest)


def _check_graph_name(graph_file: str | None) -> None:
    if graph_file is None:
        return
    from pathlib import Path

    from variants.explain.derivation import EXPORTS

    if Path(graph_file).suffix not in EXPORTS:
        raise click.BadParameter(
            f"'{graph_file}' should end in {', '.join(EXPORTS)}", param_hint="--graph"
        )


def _show_conflict(design: DesignProblem, as_json: bool, watch: Watch) -> None:
    from variants.design import TimeUpError
    from variants.explain import find_conflict

    try:
        conflict = find_conflict(design, watch)
    except TimeUpError:
        click.echo("No variant exists; the time was up before it was known why.", err=True)
        return
    assert conflict is not None  # the search has proven that there is no variant
    if as_json:
        from variants.views.as_json import conflict_json

        _print_json(conflict_json(design, conflict))
        return
    from variants.views.reasons import conflict_lines

    click.echo("\n".join(conflict_lines(design, conflict)))


def _show(
    design: DesignProblem,
    result: SearchResult,
    wanted: int,
    options: ProposeOptions,
    place: Place | None,
    looked_through: int | None,
) -> None:
    from variants.design.search import Ended

    found = list(result.so_far)
    if options.as_json:
        from variants.views.as_json import proposal_json

        told = proposal_json(design, result, wanted, _lines(design, found, options))
        if place is not None:
            told["law"] = _law_json(place, design, found, options.folders)
        _print_json(told)
    elif options.explained:
        _show_explanation(design, result, options.explained)
    else:
        _show_table(design, result, options, place, looked_through)
    if options.graph_file and result.ended is Ended.INTERRUPTED:
        click.echo(f"Stopped: {options.graph_file} is not written.", err=True)
    elif options.graph_file:
        _write_graph(design, found, options.graph_file)


def _law_json(
    place: Place, design: DesignProblem, found: list[Variant], folders: tuple[str, ...]
) -> dict[str, Any]:
    from variants.cli.places import law_told, parts_of
    from variants.views.region_json import law_json

    return law_json(law_told(place, parts_of(found), design.rulebook, folders))


def _show_table(
    design: DesignProblem,
    result: SearchResult,
    options: ProposeOptions,
    place: Place | None,
    looked_through: int | None,
) -> None:
    from variants.views.proposal import caution_lines, ending_lines, proposal_lines
    from variants.views.reasons import refused_lines

    found = list(result.so_far)
    gathered = _lines(design, found, options)
    names = _names(design, found, options.books, options.folders)
    through, kind = looked_through, _kind(options)
    lines = [
        *proposal_lines(design, gathered, names),
        "",
        *ending_lines(
            result, options.best, kind, through, len(gathered), design.request.base.unread
        ),
    ]
    cautions = [*refused_lines(design), *caution_lines(found)]
    if place is not None:
        from variants.cli.places import law_of, parts_of

        cautions += law_of(place, parts_of(found), design.rulebook, options.folders)
    click.echo("\n".join([*lines, *(["", *cautions] if cautions else [])]))
    if options.tree:
        from variants.explain.derivation import BASE, derive
        from variants.views.tree import tree_lines

        click.echo("\n" + "\n".join(tree_lines(derive(design, found), BASE)))


def _lines(
    design: DesignProblem, found: list[Variant], options: ProposeOptions
) -> tuple[VariantGroup, ...]:
    """Gather what looks much the same into one line, unless each is asked for by itself."""
    from variants.explain import VariantGroup, group_variants

    return (
        group_variants(design, found) if _is_in_lines(options) else tuple(map(VariantGroup, found))
    )


def _kind(options: ProposeOptions) -> str:
    if options.different:
        return "sets of changes"
    return "variants without a needless change" if _is_in_lines(options) else "variants"


def _names(
    design: DesignProblem,
    found: list[Variant],
    books: tuple[str, ...],
    folders: tuple[str, ...],
) -> dict[int, tuple[str, ...]]:
    """Return the names that variants already carry in the user's books, by rank."""
    if not books:
        return {}
    from variants.cli.books import read_books
    from variants.explain.derivation import Names

    style = design.request.base.style
    names = Names(read_books(books, design.rulebook, style=style, rules=folders))
    own = design.request.base.name
    return {
        variant.rank: carried
        for variant in found
        if (carried := tuple(n for n in names.of(style, variant.chosen) if n != own))
    }


def _show_explanation(design: DesignProblem, result: SearchResult, rank: int) -> None:
    from variants.explain import explain
    from variants.views.proposal import ending_lines, heading
    from variants.views.reasons import explanation_lines

    found = result.so_far
    if not result.is_finished and rank > result.proven:
        # What stands there is not known to be variant N, or is not there yet.
        click.echo("\n".join(ending_lines(result, rank, "variants")), err=rank > len(found))
        if rank > len(found):
            sys.exit(INTERRUPTED)
    elif rank > len(found):
        raise click.BadParameter(
            f"there are {len(found)} variants, so none has number {rank}", param_hint="--explain"
        )
    click.echo(heading(design) + "\n")
    click.echo("\n".join(explanation_lines(design, explain(design, found[rank - 1]))))


def _write_graph(design: DesignProblem, found: list[Variant], graph_file: str) -> None:
    from pathlib import Path

    from variants.box import write_atomically
    from variants.explain.derivation import EXPORTS, derive

    path = Path(graph_file)
    write_atomically(path, EXPORTS[path.suffix](derive(design, found)))


def _print_json(answer: dict[str, Any]) -> None:
    import json

    click.echo(json.dumps(answer, indent=2, ensure_ascii=False))
