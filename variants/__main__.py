"""`python -m variants` is `flykin`."""

from __future__ import annotations

from variants.stopping import take_over


def main() -> None:
    """Run `flykin` as a program."""
    take_over()
    from variants.cli import main

    main()


if __name__ == "__main__":
    main()
