"""`flykin completion`: the script with which a shell completes flykin's words."""

from __future__ import annotations

from pathlib import Path

import click

_SHELLS = ("bash", "zsh", "fish")
#: Where each shell looks for the scripts of one user, below the folder that its variable names.
_FOLDERS = {
    "bash": ("XDG_DATA_HOME", ".local/share", "bash-completion/completions/flykin"),
    "zsh": ("XDG_DATA_HOME", ".local/share", "zsh/site-functions/_flykin"),
    "fish": ("XDG_CONFIG_HOME", ".config", "fish/completions/flykin.fish"),
}


@click.command("completion", short_help="Complete commands and names at a tab: bash, zsh, fish.")
@click.argument("shell", type=click.Choice(_SHELLS))
@click.option("--install", is_flag=True, help="Write it to where the shell looks for your own.")
def command(shell: str, install: bool) -> None:
    """Print the script with which SHELL completes commands, options and names at a tab.

    Materials, colours, styles and parts are offered as the tables name them, dressings by their
    names from folders called dressings. With --install the script is written to your own folder of
    completions.

    \b
    Example:
      flykin completion bash
    """
    from click.shell_completion import get_completion_class

    from variants.cli import flykin

    kind = get_completion_class(shell)
    assert kind is not None  # click knows all three
    script = kind(flykin, {}, "flykin", "_FLYKIN_COMPLETE").source().strip() + "\n"
    if not install:
        click.echo(script, nl=False)
        return
    path = _own_place(shell)
    _write(path, script)
    click.echo(f"Written to {path}; open a new shell to use it.")
    if shell == "zsh":
        click.echo(f"If ~/.zshrc does not yet do so, let it begin with: fpath+=({path.parent})")
        click.echo("and further down: autoload -U compinit && compinit")


def _own_place(shell: str) -> Path:
    import os

    variable, usual, name = _FOLDERS[shell]
    stated = os.environ.get(variable, "")
    return (Path(stated) if stated.startswith("/") else Path.home() / usual) / name


def _write(path: Path, script: str) -> None:
    from variants.box import write_atomically
    from variants.cli.group import InputRefused

    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        reason = (problem.strerror or "unknown reason").lower()
        raise InputRefused(f"{path.parent}: the folder can't be made: {reason}") from None
    write_atomically(path, script)
