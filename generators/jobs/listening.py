"""What a routine hears from the practice log before it is planned."""

from datetime import date

from generators.keep.log import entries
from generators.routine.condition import Lately, lately
from generators.routine.growth import Growth, growth, top_and_ceiling
from generators.routine.profile import Profile


def growth_by_log(profile: Profile, on: date) -> Growth | None:
    """Return where the player's top has arrived by the log before a date; nothing without a log.

    What is logged on a day does not change what was printed for it.
    """
    kept = [entry for entry in entries() if entry.day < on]
    if not kept:
        return None
    top, ceiling = top_and_ceiling(profile)
    return growth(kept, top, on, ceiling)


def lately_by_log(on: date) -> Lately:
    """Return what the log has of the heavy days before a date."""
    return lately(entries(), on)
