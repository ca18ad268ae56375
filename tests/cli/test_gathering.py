"""Options gathered into a dataclass."""

from __future__ import annotations

from dataclasses import dataclass

import click
from click.testing import CliRunner

from variants.cli.gathering import gather


@dataclass(frozen=True, slots=True)
class Wanted:
    best: int
    is_long: bool


@click.command()
@click.argument("name")
@click.option("--best", type=int, default=3)
@click.option("--long", "is_long", is_flag=True)
@gather(Wanted)
def show(name: str, options: Wanted) -> None:
    click.echo(f"{name} {options}")


def test_a_command_takes_its_options_as_one_value() -> None:
    done = CliRunner().invoke(show, ["midge", "--best", "5"])
    assert done.output == "midge Wanted(best=5, is_long=False)\n"
