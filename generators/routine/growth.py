"""How the top of ordinary days grows and shrinks: a fold of the practice log, one half-step at a time."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import reduce

from generators.brass.grade import grade_on, span_on
from generators.brass.horn import horn
from generators.fields import option
from generators.routine.logbook import Entry, Practice, practised, weeks
from generators.routine.profile import Profile, grade_of
from generators.theory.pitch import Pitch, parse_pitch, simple

# All four are our choice. Ten easy days that reach the top are three to four weeks of a player who practises five or six days
# a week and goes to the top on every second: a little further each month.
EASY_DAYS = 10
# Two heavy days in seven: one hard day is a concert, two in a week are a pattern.
HEAVY_DAYS, HEAVY_SPAN = 2, 7
# A major third: the top never falls further below the profile's own, however hard the weeks.
DEEPEST = 4
# The most days that growth is told to have counted; more than it ever counts.
MOST_DAYS = 99
# What of a player another value of begins growth anew.
OUTGROWN = ("horn", "grade", "high")
_SHARPS = (1, 6)
# What made the top what it is: easy days raised it, heavy days lowered it, nothing has changed it, or there is no log at all.
CAUSES = BY_EASY, BY_HEAVY, UNCHANGED, UNLOGGED = "easy", "heavy", "unchanged", "unlogged"


@dataclass(frozen=True, slots=True)
class Growth:
    """The top note of ordinary days, since when and by what, and how far the next half-step is; plain values."""

    top: Pitch
    since: date | None = None
    """The day of the last step; nothing before the first."""
    cause: str = option(UNLOGGED, "What made it so.", allowed=CAUSES)
    days: int = option(0, "How many days made the last step.", span=(0, MOST_DAYS))
    easy: int = option(0, "Easy days at this top so far.", span=(0, MOST_DAYS))
    next: Pitch | None = None
    """What the top will be after enough of them; nothing at the ceiling."""


@dataclass(frozen=True, slots=True)
class _State:
    """Where the fold stands: the top as half-steps above the profile's, and what has been counted since it changed."""

    rise: int = 0
    since: date | None = None
    easy: int = 0
    heavy: tuple[date, ...] = ()
    cause: str = UNCHANGED
    days: int = 0


def growth(entries: Iterable[Entry], profile_top: Pitch, today: date, ceiling: Pitch) -> Growth:
    """Return the top that the log up to today has earned, at most the ceiling, at least a third below the profile's top.

    Ten easy days that reach the top raise it a half-step, two heavy days within seven lower it by one; each step begins anew.
    """
    start = min(profile_top, ceiling)
    bounds = min(0, profile_top.midi - DEEPEST - start.midi), ceiling.midi - start.midi
    days = [day for day in practised(entries) if day.start <= today]
    state = reduce(lambda so_far, day: _after(so_far, day, start, bounds), days, _State())
    return Growth(
        top=_raised(start, state.rise, ceiling),
        since=state.since,
        cause=state.cause if days else UNLOGGED,
        days=state.days,
        easy=min(state.easy, EASY_DAYS),
        next=_raised(start, state.rise + 1, ceiling) if state.rise < bounds[1] else None,
    )


def planned_tops(entries: Sequence[Entry], profile_top: Pitch, today: date, ceiling: Pitch) -> tuple[Pitch, ...]:
    """Return the top of ordinary days at the end of every week of the log, as growth gave it then."""
    ends = (min(today, week.start + timedelta(days=6)) for week in weeks(entries, today))
    return tuple(growth(entries, profile_top, end, ceiling).top for end in ends)


def _after(state: _State, day: Practice, start: Pitch, bounds: tuple[int, int]) -> _State:
    """Return the state after one more day; the bounds are half-steps down and up from where it began."""
    if day.heavy:
        return _after_heavy(state, day.start, bounds[0])
    if not day.top or day.top.midi < start.midi + state.rise:
        return state
    if state.easy + 1 < EASY_DAYS or state.rise >= bounds[1]:
        return replace(state, easy=state.easy + 1)
    return _State(state.rise + 1, day.start, heavy=state.heavy, cause=BY_EASY, days=EASY_DAYS)


def _after_heavy(state: _State, day: date, floor: int) -> _State:
    recent = (*(before for before in state.heavy if (day - before).days < HEAVY_SPAN), day)
    if len(recent) < HEAVY_DAYS:
        return replace(state, heavy=recent)
    if state.rise <= floor:
        return replace(state, easy=0, heavy=())
    return _State(state.rise - 1, day, cause=BY_HEAVY, days=HEAVY_DAYS)


def _raised(start: Pitch, rise: int, ceiling: Pitch) -> Pitch:
    """Return a pitch some half-steps above another, as players usually spell it; ends keep their own spelling."""
    midi = start.midi + rise
    kept = [pitch for pitch in (start, ceiling) if pitch.midi == midi]
    return kept[0] if kept else simple(midi, sharp=midi % 12 in _SHARPS)


def top_and_ceiling(profile: Profile) -> tuple[Pitch, Pitch]:
    """Return the top that a profile begins with and the ceiling of its growth: stretch note, grade or horn, the lowest."""
    instrument = horn(profile.horn)
    own = grade_on(grade_of(profile), instrument)
    top = parse_pitch(profile.high) if profile.high else span_on(own, instrument)[1]
    ceilings = [instrument.ceiling, own.high]
    ceilings += [parse_pitch(profile.stretch)] if profile.stretch else []
    return top, max(top, min(ceilings))
