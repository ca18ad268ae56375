"""The command `flykin`: one click module a command, no work done here."""

from __future__ import annotations

import click

from variants import __version__
from variants.cli.group import FlykinGroup, run

__all__ = ["flykin", "main"]


@click.group(cls=FlykinGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="flykin", message="%(prog)s %(version)s")
def flykin() -> None:
    """Design variants of a fly from what is in your box.

    A dressing, a box and the rules of the trade go in; the closest valid variants come out, in
    proven order, each with its reasons.
    """


def main() -> None:
    """Run `flykin` as a program."""
    run(flykin)
