"""What is done by hand, now and then: files renewed, figures measured, harm done on purpose.

``python -m tests --help`` lists it. Each command loads what it runs only when it is run.
"""

from __future__ import annotations

import sys
from pathlib import Path

import click

SIZES_HELP = "A size of box, in items; may be given several times. All by default."


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
def maintenance() -> None:
    """Renew what is generated, measure, and do harm on purpose. The tests are run by pytest."""


@maintenance.group()
def renew() -> None:
    """Write generated files anew; read the diff."""


@renew.command()
def screens() -> None:
    """Run every command that the pages show, and put in what it prints today.

    Writes README.md and examples/README.md.
    """
    from tests.readme import rewrite_pages

    rewrite_pages()


@renew.command()
def pictures() -> None:
    """Draw the flies, plates and charts of the examples by the commands that draw them.

    Writes the SVG files of examples/pictures.
    """
    from tests.pictures.test_examples import draw_anew

    draw_anew()


@renew.command()
def page() -> None:
    """Take the pictures of the page in a browser.

    Writes the PNG files of examples/pictures. Needs Chromium.
    """
    from tests.web.pictures import take_pictures

    take_pictures()


@renew.command()
def schema() -> None:
    """Make the JSON Schema of region files from what their reader knows.

    Writes rules/schemas/region.schema.json.
    """
    from tests.reading.test_region_schema import write_schema

    write_schema()


@maintenance.group()
def measure() -> None:
    """Hold what is understood against truths of others."""


@measure.command()
def corpus() -> None:
    """Count the dressings of the 1940 handbook that are read, and those that are read rightly.

    Writes nothing.
    """
    from tests.corpus.measure import print_figures

    print_figures()


@measure.command()
@click.option("--single", is_flag=True, help="Count each stuff by itself, not with its likes.")
@click.option("--verbose", "-v", is_flag=True, help="Show what was answered in every case.")
def substitutions(single: bool, verbose: bool) -> None:
    """Hold what is found instead of a stuff against what practitioners put in its place.

    Writes nothing.
    """
    from tests.published.measure_substitutions import print_figures

    print_figures(single=single, verbose=verbose)


@maintenance.group()
def harm() -> None:
    """Break commands at work and count what is lost."""


@harm.command()
def box() -> None:
    """Harm a box at every step of every write: killed, failing, full disk, many writers.

    Takes some minutes; the exit code is 1 when anything is lost. Writes nothing but boxes of its
    own, among temporary files.
    """
    from tests.box.injury import print_losses

    sys.exit(not print_losses())


@harm.command()
@click.argument("names", nargs=-1, metavar="[COMMAND]...")
@click.option("--times", default=100, show_default=True, help="So many runs of each command.")
@click.option("--seed", default=0, show_default=True, help="Of the moments, drawn at random.")
def commands(names: tuple[str, ...], times: int, seed: int) -> None:
    """Send Ctrl-C at random moments to every long command, or to those named.

    Takes an hour or so; the exit code is 1 when a command ends badly. Writes nothing but files of
    its own, among temporary files.
    """
    from tests.cli.interrupts import COMMANDS, send_signals

    for name in names:
        if name not in COMMANDS:
            raise click.BadParameter(f"'{name}' is none of: {', '.join(COMMANDS)}")
    sys.exit(not send_signals(names, times, seed))


@maintenance.group()
def fuzz() -> None:
    """Give the readers spoilt and hostile inputs."""


@fuzz.command("readers")
@click.option("--tries", default=20_000, show_default=True, help="So many inputs in all.")
@click.option("--seed", default=1, show_default=True, help="Of the inputs, drawn at random.")
@click.option("--reader", "names", multiple=True, help="This reader alone; may be repeated.")
@click.option(
    "--input",
    "file",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="This input alone, to try it again; takes one --reader.",
)
@click.option(
    "--keep",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("/tmp/fuzz"),
    show_default=True,
    help="The folder for inputs that are met with anything but a clear answer.",
)
def fuzz_readers(
    tries: int, seed: int, names: tuple[str, ...], file: Path | None, keep: Path
) -> None:
    """Spoil good inputs at random and give them to every reader, some minutes for 100000.

    Writes each input that is met with anything but a clear answer into the folder of --keep; the
    exit code is 1 when there is one.
    """
    from tests.fuzz.campaign import try_again, try_readers
    from tests.fuzz.readers import readers

    for name in names:
        if name not in readers():
            raise click.BadParameter(f"'{name}' is none of: {', '.join(readers())}")
    if file is None:
        sys.exit(not try_readers(names, tries, seed, keep))
    if len(names) != 1:
        raise click.UsageError("--input takes one --reader")
    click.echo(try_again(names[0], file.read_bytes()))


@fuzz.command(context_settings={"ignore_unknown_options": True})
@click.argument("reader")
@click.argument("options", nargs=-1, type=click.UNPROCESSED)
def guided(reader: str, options: tuple[str, ...]) -> None:
    """Look for inputs to READER by what they reach in the code; OPTIONS are atheris's own.

    Needs atheris. Writes the first input that is met with anything but a clear answer into this
    folder, and ends there.
    """
    from tests.fuzz.guided import fuzz_reader

    fuzz_reader(reader, options)


@maintenance.group()
def bench() -> None:
    """Measure how long things take."""


SIZES = click.option("--size", "sizes", type=click.IntRange(1), multiple=True, help=SIZES_HELP)
SHARE = click.option(
    "--share", type=click.FloatRange(0, 1), default=1.0, help="Share of the usual instances."
)


@bench.command("all")
@SIZES
@SHARE
def bench_all(sizes: tuple[int, ...], share: float) -> None:
    """Measure all that has an aim (search, start, survey, agreement), and set the aims beside it.

    Writes nothing.
    """
    from tests.benchmarks.aims import print_aims

    print_aims(sizes, share)


@bench.command("search")
@SIZES
@SHARE
def bench_search(sizes: tuple[int, ...], share: float) -> None:
    """Measure the search by size of box, beside CP-SAT for the same answers.

    Writes nothing.
    """
    from tests.benchmarks.search import SIZES as EVERY
    from tests.benchmarks.search import measure_all

    measure_all(sizes or list(EVERY), share)


@bench.command("start")
def bench_start() -> None:
    """Measure how long commands take to start, beside a bare python.

    Writes nothing but an installed copy among temporary files.
    """
    from tests.benchmarks.start import print_times

    print_times()


@bench.command("survey")
def bench_survey() -> None:
    """Measure the survey of a handbook against one box and four, on one process and two.

    Writes nothing.
    """
    from tests.benchmarks.survey import print_times

    print_times()


@bench.command("agreement")
@click.option("--problems", default=2000, show_default=True, help="So many of them.")
def bench_agreement(problems: int) -> None:
    """Solve random small problems in three ways, and count where the answers differ.

    Writes nothing.
    """
    from tests.benchmarks.agreement import print_agreement

    print_agreement(problems)


@bench.command("buying")
def bench_buying() -> None:
    """Measure how long it takes to find what to buy, and why not.

    Writes nothing.
    """
    from tests.benchmarks.buying import print_times

    print_times()


@bench.command("page")
@SIZES
def bench_page(sizes: tuple[int, ...]) -> None:
    """Measure how soon the page shows the first variant, by size of box.

    Writes nothing but a box and a book among temporary files.
    """
    from tests.benchmarks.page import print_times

    print_times(sizes)


@bench.command("pictures")
def bench_pictures() -> None:
    """Measure how long a fly takes to draw, and how large a plate gets.

    Writes nothing.
    """
    from tests.benchmarks.pictures import print_times

    print_times()
