"""`buy` on the screen and as JSON."""

from __future__ import annotations

import json

from tests.cli.test_flykin import BOX, flykin
from tests.real import EXAMPLES

BOOK = str(EXAMPLES / "dressings")
PRICES = str(EXAMPLES / "prices.csv")


def test_the_answer_fits_a_terminal_and_ranks_by_what_is_gained() -> None:
    done = flykin("buy", BOOK, "--box", BOX, "--sets", "2", "--prices", PRICES)
    assert done.returncode == 0
    assert max(map(len, done.stdout.splitlines())) <= 80
    answer = json.loads(flykin("buy", BOOK, "--box", BOX, "--json").stdout)
    gains = [(len(g["opened"]), len(g["as_written"]), g["saved"]) for g in answer["single"]]
    assert gains == sorted(gains, reverse=True)


def test_a_budget_without_prices_is_refused() -> None:
    done = flykin("buy", BOOK, "--box", BOX, "--budget", "10")
    assert done.returncode == 2
    assert "needs --prices" in done.stderr
