"""The log as values: entries that cannot be wrong, days and weeks that add up."""

from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.routine.calendar import full_date, in_words, parse_day, weekday_name
from generators.routine.logbook import Entry, monday, parse_top, practised, week_days, weeks
from generators.theory.pitch import parse_pitch

TODAY = date(2026, 11, 25)
logs = st.lists(
    st.builds(
        Entry,
        day=st.dates(date(2025, 10, 1), TODAY),
        minutes=st.integers(1, 120),
        felt=st.sampled_from(["easy", "good", "hard", "sore"]),
    ),
    max_size=30,
)


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"felt": "sorer"}, 'felt "sorer" is not known; allowed: easy, good, hard, sore. Did you mean "sore"?'),
        ({"kind": "gig"}, 'kind "gig" is not known; allowed: normal, light, concert, stretch. Did you mean "light"?'),
        ({"minutes": 0}, "minutes 0 is out of reach; allowed: 1 to 600."),
        ({"minutes": 601}, "minutes 601 is out of reach; allowed: 1 to 600."),
    ],
)
def test_a_wrong_entry_is_refused(wrong: dict[str, Any], message: str) -> None:
    """An entry with a wrong value is never made."""
    with pytest.raises(BadRequest) as refusal:
        Entry(**({"day": TODAY, "minutes": 20} | wrong))

    assert message == str(refusal.value)


def test_load_is_minutes_weighted_by_how_they_felt() -> None:
    """Forty good minutes weigh forty, forty hard ones sixty."""
    assert [40.0, 60.0] == [Entry(day=TODAY, minutes=40, felt=felt).load for felt in ("good", "hard")]


def test_a_week_begins_on_monday() -> None:
    """Sunday and Monday lie in different weeks; a week without practice between is there too."""
    log = [
        Entry(day=date(2026, 11, 8), minutes=10),
        Entry(day=date(2026, 11, 16), minutes=20, felt="hard", top=parse_pitch("G5")),
    ]
    found = [(week.start.isoformat(), week.days, week.minutes, week.heavy_minutes) for week in weeks(log, date(2026, 11, 20))]

    assert [("2026-11-02", 1, 10, 0), ("2026-11-09", 0, 0, 0), ("2026-11-16", 1, 20, 20)] == found


@given(logs)
def test_weeks_and_days_lose_no_minute(log: list[Entry]) -> None:
    """Weeks and days hold the minutes of all entries, and weeks follow one another without a gap."""
    spans = weeks(log, TODAY)

    assert sum(entry.minutes for entry in log) == sum(week.minutes for week in spans)
    assert sum(entry.minutes for entry in log) == sum(day.minutes for day in practised(log))
    assert all(after.start - before.start == timedelta(weeks=1) for before, after in pairwise(spans))


@given(logs)
def test_the_days_of_a_week_are_counted_once(log: list[Entry]) -> None:
    """Of the seven days of this week those are done on which something is logged, however often; other weeks do not count."""
    done = week_days(log, TODAY)

    assert 7 == len(done)
    assert {entry.day.weekday() for entry in log if monday(entry.day) == monday(TODAY)} == {i for i in range(7) if done[i]}


def test_days_in_words() -> None:
    """A day is said without its year in the same year."""
    assert ["3 November", "3 November 2025"] == [in_words(date(year, 11, 3), TODAY) for year in (2026, 2025)]


def test_days_are_named_as_the_c_locale_names_them() -> None:
    """Our own words are those of the calendar without a locale, for every day of a year."""
    days = [date(2026, 1, 1) + timedelta(days=i) for i in range(365)]

    assert [day.strftime("%A") for day in days] == [weekday_name(day) for day in days]
    assert [f"{day.day} {day.strftime('%B %Y')}" for day in days] == [full_date(day) for day in days]


def test_a_date_that_is_none_is_refused() -> None:
    """A text that is no date is refused with an example."""
    with pytest.raises(BadRequest, match="2026-11-25"):
        parse_day("next tuesday")


def test_a_session_may_have_no_top() -> None:
    """An empty top is no note."""
    assert (None, parse_pitch("Bb5")) == (parse_top(" "), parse_top("B♭5"))
