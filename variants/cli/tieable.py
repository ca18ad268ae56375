"""`flykin tieable`: what can be tied from a box, over a whole book of dressings."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from variants.cli.answers import hook_sizes, water_named
from variants.cli.gathering import gather
from variants.cli.progress import progress_bar
from variants.stopping import INTERRUPTED

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from variants.model import Box, Dressing
    from variants.rulebook import Rulebook
    from variants.survey import Survey

NOTHING = 1


@dataclass(frozen=True, slots=True)
class TieableOptions:
    """What the command was asked, as it was typed."""

    sizes: str | None
    water: str | None
    max_changes: int | None
    at_most: float | None
    style: str | None
    workers: int
    scheduler: str | None
    as_json: bool
    folders: tuple[str, ...]


@click.command("tieable", short_help="What can be tied from your box, over a book.")
@click.argument("book", nargs=-1)
@click.option("--box", "boxes", multiple=True, required=True, metavar="FILE",
              help="A box: a CSV file, or - for standard input; may be given again.")  # fmt: skip
@click.option("--size", "--sizes", "sizes", help="Hook sizes to tie, such as 14 or 12-16.")
@click.option("--water", help="How fast the water runs: slow, medium or fast.")
@click.option("--max-changes", type=click.IntRange(0), help="How many parts may change.")
@click.option("--at-most", type=click.FloatRange(0), metavar="DEPARTURE",
              help="Tell what departs more as too far off."
                   "  [default: 1.0, a convention]")  # fmt: skip
@click.option("--style", help="Style of dressings in plain words that state none.")
@click.option("--workers", type=click.IntRange(1, 512), default=1, show_default=True,
              help="Processes to work in.")  # fmt: skip
@click.option("--scheduler", metavar="ADDRESS",
              help="Work on a Dask cluster, such as tcp://10.0.0.5:8786.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(TieableOptions)
def command(book: tuple[str, ...], boxes: tuple[str, ...], options: TieableOptions) -> None:
    """Tell which dressings of BOOK can be tied from a box: as written, with changes, or not.

    BOOK is any number of folders of dressings, dressing files or files of plain words. Left out,
    it is the folder "dressings" beside the first box.

    \b
    Example:
      flykin tieable examples/dressings --box examples/box.csv
    """
    from variants.rulebook import load_rulebook
    from variants.survey import BoxStanding, Wishes, survey

    water_named(options.water)
    at_most = None if options.at_most is None else round(1000 * options.at_most)
    wishes = Wishes(
        hook_sizes(options.sizes),
        options.water,
        max_changes=options.max_changes,
        at_most=at_most,
    )
    rulebook = load_rulebook(options.folders)
    stocks = _read_boxes(boxes, rulebook)
    dressings = _read_book(book, boxes, rulebook, options)
    with _executor(options) as executor, progress_bar("surveying") as progress:
        found = survey(dressings, stocks, rulebook, wishes, executor, progress)
    _show(found, stocks, rulebook, wishes.ceiling(rulebook), options.as_json)
    tied = (BoxStanding.AS_WRITTEN, BoxStanding.SUBSTITUTED)
    if not any(one.standing in tied for one in found.outlooks):
        sys.exit(NOTHING if found.is_complete else INTERRUPTED)


def _read_boxes(paths: tuple[str, ...], rulebook: Rulebook) -> list[tuple[str, Box]]:
    from variants.reading import read_box

    if len(set(paths)) < len(paths):
        raise click.BadParameter("the same box is named twice", param_hint="--box")
    return [(path, read_box(path, rulebook.trade)) for path in paths]


def _read_book(
    book: tuple[str, ...], boxes: tuple[str, ...], rulebook: Rulebook, options: TieableOptions
) -> list[Dressing]:
    from variants.cli.answers import entry_named
    from variants.cli.books import read_books

    if not book:
        beside = Path(boxes[0]).parent / "dressings"
        if not beside.is_dir():
            raise click.UsageError(
                "Name a BOOK: a folder of dressings, or a file of dressings in plain words."
            )
        book = (str(beside),)
    style = options.style
    if style is not None:
        style = entry_named("--style", style, rulebook.trade.style_names, "style").id
    dressings = read_books(book, rulebook, style=style, rules=options.folders)
    if not dressings:
        raise click.UsageError(f"There is no dressing in {', '.join(book)}.")
    return dressings


@contextmanager
def _executor(options: TieableOptions) -> Iterator[Executor | None]:
    """Give the executor that the options ask for; None works in this process."""
    if options.scheduler:
        with _cluster(options.scheduler) as executor:
            yield executor
    elif options.workers > 1:
        from variants.survey.worker_pool import WorkerPool

        with WorkerPool(options.workers) as pool:
            yield pool
    else:
        yield None


@contextmanager
def _cluster(address: str) -> Iterator[Executor]:
    try:
        import distributed
    except ImportError:
        raise click.UsageError(
            "--scheduler needs the extra 'cluster': pip install 'flykin[cluster]'"
        ) from None
    try:
        client: Any = distributed.Client(address, timeout="10s")  # type: ignore[no-untyped-call]
    except (OSError, ValueError) as problem:
        reason = str(problem).splitlines()[0] if str(problem) else "no answer"
        raise click.BadParameter(
            f"no scheduler answers at {address}: {reason}", param_hint="--scheduler"
        ) from None
    with client:
        yield client.get_executor()


def _show(
    found: Survey,
    stocks: list[tuple[str, Box]],
    rulebook: Rulebook,
    at_most: int,
    as_json: bool,
) -> None:
    from variants.views.survey import survey_json, survey_lines

    if as_json:
        import json

        click.echo(json.dumps(survey_json(found), indent=2, ensure_ascii=False))
        return
    boxes = [(name, len(box.items)) for name, box in stocks]
    click.echo("\n".join(survey_lines(found, boxes, rulebook.trade, at_most)))
