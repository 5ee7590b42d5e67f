"""What the log remembers of a routine that was printed: a law over players, dates and what is other on a day."""

from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from generators.jobs.codec import music_code
from generators.jobs.listening import pages_of
from generators.routine.logbook import Entry, PrintedDay
from generators.routine.other_days import profile_of_day
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest, WeekRequest

FIRST = date(2026, 11, 30)
OTHERS = ("thursday:horn=cornet", "thursday:minutes=12", "friday:kind=light", "monday:horn=flugelhorn")
players = st.builds(
    Profile,
    horn=st.sampled_from(["trumpet", "cornet", "euphonium"]),
    minutes=st.integers(8, 15),
    days=st.lists(st.sampled_from(OTHERS), unique=True, max_size=3).map(tuple),
)


def session(page: PrintedDay) -> Entry:
    """Return a session of what was printed, as the log would keep it."""
    return Entry(
        day=page.day,
        minutes=page.minutes,
        kind=page.kind,
        code=page.code,
        horn=page.horn,
        keys=page.keys,
        parts=page.parts,
    )


@settings(max_examples=12)
@given(players, st.dates(FIRST, FIRST + timedelta(days=300)), st.sampled_from(["normal", "light", "concert"]))
def test_what_is_remembered_of_a_day_is_the_day(profile: Profile, on: date, kind: str) -> None:
    """A day is remembered by its date, the code on its page and the horn of that weekday, and can be logged as it is."""
    asked = DayRequest(profile=profile, on=on, kind=kind)
    [page] = pages_of(asked)

    assert (on, music_code(asked), profile_of_day(profile, on).horn) == (page.day, page.code, page.horn)
    assert session(page).keys == page.keys != ()
    assert page.parts


def test_of_a_week_seven_days_are_remembered() -> None:
    """Each of the seven is remembered as it is when it is printed alone."""
    profile = Profile(minutes=8, days=OTHERS, rest_day="none")
    week = pages_of(WeekRequest(profile=profile, on=FIRST))

    assert [pages_of(DayRequest(profile=profile, on=FIRST + timedelta(days=later)))[0] for later in range(7)] == list(week)
