"""`python -m variants` is `flykin`."""

from variants.cli import main

main()
