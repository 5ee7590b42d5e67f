"""The last month of the log added up: days, minutes, how it felt, the keys and the areas that were practised and those not."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from generators.brass.grade import Grade, grade_on
from generators.brass.horn import horn
from generators.fields import option
from generators.routine.logbook import FELT, LONGEST_SESSION, Entry
from generators.routine.profile import Profile
from generators.routine.rotation import MAJORS, MINORS, sounding
from generators.studies.catalogue import DAY_PARTS
from generators.studies.kit.kind import AREAS
from generators.theory.pitch import Pitch

# How many days a month is: our choice.
MONTH_DAYS = 30
# The most sessions and minutes that a month is told to have, far more than it has; our choice.
MOST_SESSIONS = 10_000


@dataclass(frozen=True, slots=True)
class Counted:
    """How often something was there; 0 for what was neglected."""

    name: str
    count: int = option(0, "How often.", span=(0, MOST_SESSIONS))


@dataclass(frozen=True, slots=True, kw_only=True)
class Month:
    """What the days of a month add up to."""

    first: date
    last: date
    days: int = option(0, "Days with practice.", span=(0, MONTH_DAYS))
    known: int = option(0, "Days of which the log says what was played.", span=(0, MONTH_DAYS))
    minutes: int = option(0, "Minutes played.", span=(0, MOST_SESSIONS * LONGEST_SESSION))
    top: Pitch | None = None
    felt: tuple[Counted, ...] = ()
    """Sessions by how they felt."""
    keys: tuple[Counted, ...] = ()
    """Days by key: those that the player is asked to know, and whatever else was played."""
    areas: tuple[Counted, ...] = ()
    """Days by area, those that the player may have in a day, and whatever else was played."""


def month(entries: Iterable[Entry], profile: Profile, last: date) -> Month:
    """Return the month that ends with a day."""
    first = last - timedelta(days=MONTH_DAYS - 1)
    heard = [entry for entry in entries if first <= entry.day <= last]
    keys = {(entry.day, name) for entry in heard for name in sounding(entry.keys, 0)}
    areas = {(entry.day, area) for entry in heard for part in entry.parts for area in DAY_PARTS[part].areas}
    asked = grade_on(profile.grade, horn(profile.horn))
    return Month(
        first=first,
        last=last,
        days=len({entry.day for entry in heard}),
        known=len({entry.day for entry in heard if entry.keys or entry.parts}),
        minutes=sum(entry.minutes for entry in heard),
        top=max((entry.top for entry in heard if entry.top), default=None),
        felt=_counted([entry.felt for entry in heard], tuple(FELT), ()),
        keys=_counted([name for _, name in keys], (*MAJORS, *MINORS), _known_keys(asked)),
        areas=_counted([area for _, area in areas], AREAS, _known_areas(profile, asked)),
    )


def _known_keys(asked: Grade) -> Sequence[str]:
    return sounding(asked.keys, 0) if asked.keys else (*MAJORS, *MINORS)


def _known_areas(profile: Profile, asked: Grade) -> Sequence[str]:
    left = (*profile.leave_out, *asked.leaves_out)
    return [area for row in DAY_PARTS.values() if row.name not in left for area in row.areas]


def _counted(found: Sequence[str], order: Sequence[str], wanted: Sequence[str]) -> tuple[Counted, ...]:
    """Return how often each was found, in order; those that are wanted although they were not found too."""
    counts = Counter(found)
    return tuple(Counted(name, counts[name]) for name in order if counts[name] or name in wanted)
