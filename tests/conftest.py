"""The same tests on every machine and every day: what is drawn and in what order is settled here, once for the whole suite.

Chance has a command of its own, `python tests/search.py`; each of its finds becomes a test.
"""

import pytest
from hypothesis import HealthCheck, settings
from hypothesis.internal.conjecture import providers

# The order of the tests is drawn from this number; `--randomly-seed` gives another for once.
ORDER = 6
# How quick a machine is must not decide a test; much that is drawn is refused, which is the great law's matter.
OURS = (HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large)

settings.register_profile(
    "suite", derandomize=True, database=None, deadline=None, print_blob=True, suppress_health_check=OURS, max_examples=60
)
settings.load_profile("suite")
# Hypothesis mixes in the numbers and words of whatever project modules are loaded, and which those are differs by folder,
# worker and order; there is no setting for it.
providers._get_local_constants = lambda: providers._local_constants


@pytest.hookimpl(tryfirst=True)
def pytest_configure(config: pytest.Config) -> None:
    """Settle the order, unless another is asked for or pytest-randomly is off; workers are told it by their master."""
    if getattr(config.option, "randomly_seed", None) == "default":
        config.option.randomly_seed = ORDER
