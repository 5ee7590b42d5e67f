"""What hypothesis draws, settled: the same on every machine and every day, for the suite and for the long search."""

from hypothesis import HealthCheck, settings
from hypothesis.internal.conjecture import providers

# How quick a machine is must not decide a test; much that is drawn is refused, which is the great law's matter.
OURS = (HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large)


def settle() -> None:
    """Load the profile of the suite, and draw from nothing but the strategies.

    Hypothesis mixes in the numbers and words of whatever project modules are loaded, and which those are differs by folder,
    worker and order; there is no setting for it.
    """
    settings.register_profile(
        "suite", derandomize=True, database=None, deadline=None, print_blob=True, suppress_health_check=OURS, max_examples=10
    )
    settings.load_profile("suite")
    providers._get_local_constants = lambda: providers._local_constants
