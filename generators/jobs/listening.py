"""What a routine hears from the practice log before it is planned."""

from datetime import date

from generators.keep.log import entries
from generators.routine.growth import Growth, growth, top_and_ceiling
from generators.routine.profile import Profile


def growth_by_log(profile: Profile, on: date) -> Growth | None:
    """Return where the player's top has arrived on a date by the log; nothing without a log."""
    kept = entries()
    if not kept:
        return None
    top, ceiling = top_and_ceiling(profile)
    return growth(kept, top, on, ceiling)
