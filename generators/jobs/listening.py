"""What a routine hears from the practice log before it is planned, and what the log remembers of it."""

from datetime import date, timedelta
from pathlib import Path

from generators.jobs.codec import music_code
from generators.jobs.kinds import AnyRoutine
from generators.keep.log import entries
from generators.routine.condition import Lately, lately
from generators.routine.day import Day, plan
from generators.routine.growth import Growth, growth, top_and_ceiling
from generators.routine.logbook import PrintedDay
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest
from generators.routine.week import DAYS, plan_week


def growth_by_log(profile: Profile, on: date, log: Path) -> Growth | None:
    """Return where the player's top has arrived by the log before a date; nothing without a log.

    What is logged on a day does not change what was printed for it.
    """
    kept = [entry for entry in entries(log) if entry.day < on]
    if not kept:
        return None
    top, ceiling = top_and_ceiling(profile)
    return growth(kept, top, on, ceiling)


def lately_by_log(on: date, log: Path) -> Lately:
    """Return what the log has of the heavy days before a date."""
    return lately(entries(log), on)


def done_by_log(first: date, log: Path) -> tuple[date, ...]:
    """Return the days of the week from a date that the log has something of."""
    return tuple(sorted({entry.day for entry in entries(log) if first <= entry.day < first + timedelta(days=DAYS)}))


def pages_of(request: AnyRoutine) -> tuple[PrintedDay, ...]:
    """Return what the log is to remember of the days that were printed."""
    return tuple(map(_page, [plan(request)] if isinstance(request, DayRequest) else plan_week(request).days))


def _page(day: Day) -> PrintedDay:
    return PrintedDay(
        day=day.on,
        code=music_code(day.request),
        horn=day.context.horn.id,
        kind=day.kind,
        minutes=day.minutes,
        keys=day.context.keys.all,
        parts=tuple(part.name for part in day.parts),
    )
