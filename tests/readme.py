"""The screens of the pages people read: run every command in them, rewrite what they print.

``python -m tests renew screens`` rewrites the README and the tour in place; the test only compares.
A block that opens with ```` ```console ```` holds a command after ``$ `` and what it printed; one
that opens with ```` ```mermaid ```` holds the file that the last command wrote.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
README = ROOT / "README.md"
TOUR = ROOT / "examples" / "README.md"
PAGES = (README, TOUR)
_BLOCK = re.compile(r"```(console|mermaid)\n(.*?)```\n", re.DOTALL)
_WRITTEN = re.compile(r"--graph (\S+)")


def renew_screens(text: str, scratch: Path) -> str:
    """Return a page with every screen printed anew; files are written under ``scratch``."""
    last_command = ""

    def renew(block: re.Match[str]) -> str:
        nonlocal last_command
        if block[1] == "mermaid":
            written = _WRITTEN.search(last_command)
            assert written is not None, "a mermaid block follows a command with --graph"
            return f"```mermaid\n{(scratch / written[1]).read_text()}```\n"
        last_command = _command(block[2])
        shown = block[2].removesuffix(_first_output(block[2]))
        return f"```console\n{shown}{_run(last_command, scratch)}```\n"

    return _BLOCK.sub(renew, text)


def _first_output(screen: str) -> str:
    """Return what follows the command and its continued lines."""
    lines = screen.splitlines(keepends=True)
    last = next(place for place, line in enumerate(lines) if not line.rstrip().endswith("\\"))
    return "".join(lines[last + 1 :])


def _command(screen: str) -> str:
    command = screen.removesuffix(_first_output(screen))
    assert command.startswith("$ "), f"a screen begins with its command: {command!r}"
    return command[2:]


def _run(command: str, scratch: Path) -> str:
    environment = {**os.environ, "NO_COLOR": "1"}
    environment["PATH"] = f"{Path(sys.executable).parent}{os.pathsep}{environment['PATH']}"
    examples = scratch / "examples"
    if not examples.exists():
        examples.symlink_to(ROOT / "examples")
    done = subprocess.run(
        ["bash", "-c", command], cwd=scratch, env=environment, capture_output=True, text=True
    )
    assert "Traceback" not in done.stderr, done.stderr
    return done.stdout + done.stderr


def rewrite_pages() -> None:
    """Rewrite the pages."""
    import tempfile

    for page in PAGES:
        with tempfile.TemporaryDirectory() as scratch:
            page.write_text(renew_screens(page.read_text(), Path(scratch)))
