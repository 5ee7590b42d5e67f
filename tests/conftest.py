"""The same tests on every machine and every day: what is drawn and in what order is settled here, once for the whole suite.

Chance has a command of its own, `python tests/search.py`; each of its finds becomes a test.
"""

import gc

import pytest

from tests.settled import settle

# The order of the tests is drawn from this number; `--randomly-seed` gives another for once.
ORDER = 6

settle()


@pytest.hookimpl(tryfirst=True)
def pytest_configure(config: pytest.Config) -> None:
    """Settle the order, unless another is asked for or pytest-randomly is off; workers are told it by their master."""
    if getattr(config.option, "randomly_seed", None) == "default":
        config.option.randomly_seed = ORDER


def pytest_collection_finish() -> None:
    """Leave what thousands of tests hold out of every later collection of garbage, and collect as seldom as the product."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(200_000, 20, 20)
