"""``python -m tests``: what is done by hand, see `tests.maintenance`."""

from tests.maintenance import maintenance

if __name__ == "__main__":
    maintenance(prog_name="python -m tests")
