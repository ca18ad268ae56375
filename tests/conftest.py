"""What all tests share: the trade as it ships, repeatable random tests, and checks of sources."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.breadth import USUAL
from tests.published.sources import fault_of, known_keys
from variants.model import Trade
from variants.reading import read_trade

RULES = Path(__file__).parents[1] / "rules"
PUBLISHED = Path(__file__).parent / "published"

# The same examples on every run and machine; `--hypothesis-profile=long` looks further.
settings.register_profile(
    "whole",
    max_examples=USUAL,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("quick", settings.get_profile("whole"), max_examples=12)
settings.register_profile(
    "long", settings.get_profile("whole"), max_examples=3000, derandomize=False
)


def pytest_configure(config: pytest.Config) -> None:
    """Try fewer examples where slow tests are left out; hypothesis's own option wins over this."""
    settings.load_profile("quick" if "not slow" in config.getoption("markexpr") else "whole")


def pytest_runtest_setup(item: pytest.Item) -> None:
    """Fail a test of a published fact that does not say where the fact was published."""
    if isinstance(item, pytest.Function):
        marks = list(item.iter_markers("source"))
        fault = fault_of(marks, PUBLISHED in item.path.parents, known_keys())
        if fault:
            pytest.fail(fault, pytrace=False)


@pytest.fixture(scope="session")
def real_trade() -> Trade:
    """The trade's tables as they ship."""
    return read_trade([RULES])
