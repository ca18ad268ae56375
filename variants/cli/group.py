"""The command group: commands loaded by name when asked for, errors shown in one shape."""

from __future__ import annotations

import importlib
import io
import sys
from collections.abc import Mapping
from typing import Any, ClassVar

import click

from variants.cli.terminal import safe_output
from variants.stopping import INTERRUPTED, begin_work, end_work, was_asked

#: Command to the module that holds it, by section of the help; each module offers ``command``.
SECTIONS = {
    "Design a fly": {
        "propose": "variants.cli.propose",
        "region": "variants.cli.region",
        "whynot": "variants.cli.whynot",
        "instead": "variants.cli.instead",
        "kin": "variants.cli.kin",
    },
    "Your box and your books": {
        "box": "variants.cli.box",
        "tieable": "variants.cli.tieable",
        "buy": "variants.cli.buy",
        "amounts": "variants.cli.amounts",
        "batch": "variants.cli.batch",
    },
    "At the vice": {
        "serve": "variants.cli.serve",
        "draw": "variants.cli.draw",
        "sheet": "variants.cli.sheet",
        "graph": "variants.cli.graph",
        "chart": "variants.cli.chart",
        "measure": "variants.cli.measure",
    },
    "Your files": {
        "read": "variants.cli.read",
        "check": "variants.cli.check",
    },
    "Help": {
        "explain": "variants.cli.explain",
        "completion": "variants.cli.completion",
    },
}
COMMANDS = {name: module for section in SECTIONS.values() for name, module in section.items()}
#: What the help calls the value of an option, where the option says nothing else.
VALUES = {
    "--box": "FILE",
    "--size": "SIZES",
    "--sizes": "SIZES",
    "--water": "SPEED",
    "--missing": "NAME",
    "--keep": "PART",
    "--part": "PART",
    "--for": "PART",
    "--style": "STYLE",
    "--material": "MATERIAL",
    "--colour": "COLOUR",
    "--family": "CLASS",
    "--place": "PLACE",
    "--hook": "MODEL",
    "--month": "MONTH",
    "--book": "BOOK",
    "--sheet": "NAME",
}
_LONGEST_MESSAGE = 20_000


class InputRefused(click.ClickException):
    """Bad input, as click shows it: the located message alone, exit code 2."""

    exit_code = 2

    def show(self, file: Any = None) -> None:
        """Print the message to standard error without a prefix."""
        click.echo(self.format_message(), file=file or sys.stderr, err=file is None)


def name_values(command: click.Command) -> None:
    """Let the help call the values of options alike in every command."""
    for param in command.params:
        if not isinstance(param, click.Option) or param.metavar is not None:
            continue
        if isinstance(param.type, click.IntRange):
            param.metavar = "N"
        elif isinstance(param.type, click.FloatRange):
            param.metavar = "NUMBER"
        elif not param.is_flag and not isinstance(param.type, click.Choice):
            param.metavar = next((VALUES[one] for one in param.opts if one in VALUES), None)
    if isinstance(command, click.Group):
        for one in command.commands.values():
            name_values(one)


class LazyGroup(click.Group):
    """Loads a command's module only when the command is named.

    Attributes
    ----------
    modules : mapping
        Command to the module that holds it, in the order of the help; each offers ``command``.
    """

    modules: ClassVar[Mapping[str, str]] = {}

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the commands' names in the order of a tyer's work."""
        return [*self.modules]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return the command of that name, or None."""
        module = self.modules.get(cmd_name)
        if module is None:
            return None
        command: click.Command = importlib.import_module(module).command
        name_values(command)
        if ctx.resilient_parsing:
            from variants.cli.completing import add_completion

            add_completion(command)
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Name the nearest command when one is misspelt."""
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError as problem:
            from variants.text import did_you_mean, nearest

            hint = did_you_mean(nearest(args[0], self.modules)) if args else ""
            said = f"{problem.message} D{hint[1:]}" if hint else problem.message
            raise click.UsageError(said, ctx) from None


class FlykinGroup(LazyGroup):
    """All commands; input errors are shown as click shows its own."""

    modules = COMMANDS

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the commands section by section."""
        for title, names in SECTIONS.items():
            found = [(name, self.get_command(ctx, name)) for name in names]
            with formatter.section(title):
                formatter.write_dl(
                    [(name, one.get_short_help_str(80)) for name, one in found if one]
                )

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; turn our input errors into click's."""
        try:
            return super().invoke(ctx)
        except click.ClickException:
            raise
        except Exception as problem:
            if getattr(problem, "exit_code", None) == InputRefused.exit_code:
                raise InputRefused(str(problem)) from None
            raise


def run(group: click.Group) -> None:
    """Run a group as a program: no traceback for what a user can meet, exit codes as documented.

    0 done, 1 no variant exists, 2 bad input or no room for output, 130 stopped, by Ctrl-C or a time
    limit, before there was anything to show.
    """
    _settle_encoding()
    with safe_output():
        try:
            begin_work()
            code = _exit_code(group)
            end_work()
        except BaseException as problem:
            # A library may turn Ctrl-C into an error of its own.
            if not was_asked() and not isinstance(problem, KeyboardInterrupt):
                raise
            click.echo("stopped", err=True)
            code = INTERRUPTED
            end_work()
    sys.exit(code)


def _exit_code(group: click.Group) -> int:
    """Run a group, tell what went wrong, and return the code to exit with."""
    try:
        code = group.main(prog_name="flykin", standalone_mode=False)
        sys.stdout.flush()
        return code or 0
    except SystemExit as done:
        return done.code if isinstance(done.code, int) else 0
    except click.exceptions.Exit as done:
        return done.exit_code
    except click.Abort:
        click.echo("stopped", err=True)
        return INTERRUPTED
    except click.ClickException as problem:
        told = io.StringIO()
        problem.show(told)
        click.echo(_readable(told.getvalue()), nl=False, err=True)
        return problem.exit_code
    except BrokenPipeError:
        _let_go_of_output()
        return 0
    except OSError as problem:
        # Readers tell most troubles with files; what is left is a name that no file can have, and
        # the output: a full disk, a lost terminal.
        if problem.filename is None:
            _let_go_of_output()
        click.echo(_trouble(problem), err=True)
        return InputRefused.exit_code


def _trouble(problem: OSError) -> str:
    """Return what the system complains of, with the name of the file where it tells one."""
    reason = (problem.strerror or "unknown reason").lower()
    if problem.filename is None:
        return f"the answer can't be written: {reason}"
    from variants.model import Origin
    from variants.reading import Fault

    return str(Fault(Origin(str(problem.filename)), reason, "name another file"))


def _readable(message: str) -> str:
    """Return a message of click's without the middle of a word that no screen holds."""
    if len(message) <= _LONGEST_MESSAGE:
        return message
    return f"{message[: _LONGEST_MESSAGE - 200]}…{message[-200:]}"


def _settle_encoding() -> None:
    """Write UTF-8 to files and pipes, as our files are; a terminal shows ? for what it lacks."""
    for stream in (sys.stdout, sys.stderr):
        if not isinstance(stream, io.TextIOWrapper):
            continue
        if stream.isatty():
            stream.reconfigure(errors="replace")
        else:
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")


def _let_go_of_output() -> None:
    """Point standard output elsewhere, so that Python's own flush at exit finds a reader."""
    import os

    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
