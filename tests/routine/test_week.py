"""A week: its kinds of day, its coverage, its seed, the same for the same player and date."""

from collections import Counter
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.jobs.compose import compose
from generators.routine.load import load
from generators.routine.profile import WEEKDAYS, Profile
from generators.routine.requests import WeekRequest, Wishes
from generators.routine.week import Week, day_requests, kinds, plan_week
from generators.studies.catalogue import DAY_PARTS
from tests.press.sheets import text_of

FIRST = date(2026, 11, 30)
LAWS = settings(max_examples=60)


@pytest.fixture(scope="module")
def week() -> Week:
    """Return a professional's week."""
    return plan_week(WeekRequest(profile=Profile(stretch="C6"), on=FIRST))


@LAWS
@given(st.dates(date(1950, 1, 1), date(2150, 1, 1)), st.sampled_from([*WEEKDAYS, "none"]), st.sampled_from(["", "C6"]))
def test_kinds_of_day(first: date, rest: str, stretch: str) -> None:
    """The rest day alone is light, and one other day is for stretching where there is a stretch note."""
    found = list(kinds(Profile(rest_day=rest, stretch=stretch), first))

    assert 7 == len(found)
    assert (0 if rest == "none" else 1) == found.count("light")
    assert (1 if stretch else 0) == found.count("stretch")
    assert rest == "none" or rest == f"{first + timedelta(days=found.index('light')):%A}".lower()


def test_every_part_is_covered(week: Week) -> None:
    """In a fortnight every part of the day comes, all but the small ones on two days at least; but for leaps and tunes."""
    after = plan_week(replace(week.request, on=FIRST + timedelta(days=7)))
    days = Counter(name for each in (week, after) for name, minutes in each.coverage.items() for value in minutes if value)

    assert set(DAY_PARTS) - {"intervals", "tune"} == set(days)
    assert all(count >= 2 or DAY_PARTS[name].group == "small" for name, count in days.items())


def test_coverage_adds_up_to_the_days(week: Week) -> None:
    """The minutes of the chart are the minutes of the days."""
    total = sum(sum(minutes) for minutes in week.coverage.values())

    assert total == pytest.approx(sum(day.seconds for day in week.days) / 60)


def test_the_light_day_is_the_lightest(week: Week) -> None:
    """The light day has the fewest minutes and the least time above the staff."""
    (light,) = [day for day in week.days if day.kind == "light"]

    assert min(day.seconds for day in week.days) == light.seconds
    assert min(load(day).above for day in week.days) == load(light).above


def test_the_etude_changes_with_week_and_player() -> None:
    """Another week or another seed has another etude; another name has the same."""
    weeks = [
        Week(WeekRequest(profile=Profile(name="solo horn", seed=seed), on=first), ())
        for seed in (0, 1)
        for first in (FIRST, FIRST + timedelta(days=7))
    ]
    again = Week(WeekRequest(profile=Profile(name="second cornet"), on=FIRST), ())

    assert 4 == len({week.seed for week in weeks})
    assert weeks[0].seed == again.seed


def test_a_week_that_cannot_be_says_so() -> None:
    """A range of less than an octave leaves no week, and the message says what would do."""
    with pytest.raises(BadRequest, match="at least an octave"):
        plan_week(WeekRequest(profile=Profile(low="C5", high="F5"), on=FIRST))


def test_minutes_asked_for_stand_for_the_profiles() -> None:
    """Minutes asked of a week are those of its normal days; the light day keeps its share of them."""
    asked = WeekRequest(profile=Profile(minutes=22), on=FIRST, minutes=40, concert=True)
    days = list(day_requests(asked))

    assert {40} == {day.profile.minutes for day in days}
    assert {None} == {day.minutes for day in days}
    assert all(day.concert for day in days)
    assert [FIRST + timedelta(days=later) for later in range(7)] == [day.on for day in days]


def test_minutes_that_would_do_hold_for_every_day() -> None:
    """What a refused week says would do is tried on all of its days, not on the first that was refused."""
    short = Profile(leave_out=("flow", "slurs", "tonguing", "air", "fingers"))
    asked = WeekRequest(profile=short, on=date(2033, 6, 18), minutes=52, wishes=Wishes(tempo=136))

    with pytest.raises(BadRequest) as refused:
        plan_week(asked)
    ((field, (minutes,)),) = refused.value.refusal.would_do

    assert "minutes" == field
    assert plan_week(replace(asked, minutes=int(minutes)))


def test_days_of_a_week_may_differ() -> None:
    """One day is for another horn and shorter, another a concert day; the others stay as they are, and the cover says so."""
    others = ("thursday:horn=flugelhorn,minutes=12", "friday:kind=concert")
    asked = WeekRequest(profile=Profile(high="A5"), on=FIRST, days=others)
    plain, made = plan_week(replace(asked, days=())), plan_week(asked)
    thursday, friday = (next(day for day in made.days if day.on.weekday() == place) for place in (3, 4))

    assert ("flugelhorn", 12) == (thursday.context.horn.id, thursday.minutes)
    assert "" == thursday.request.profile.high
    assert "concert" == friday.kind
    assert [day.parts for day in plain.days if day.on.weekday() not in (3, 4)] == [
        day.parts for day in made.days if day.on.weekday() not in (3, 4)
    ]
    assert "Flugelhorn" in text_of(compose(asked))


NO_DAYS = [
    "someday:horn=cornet",
    "thursday",
    "thursday:mood=good",
    "thursday:minutes=ten",
    "thursday:minutes=7",
    "friday:horn=kazoo",
]


@pytest.mark.parametrize("text", NO_DAYS)
def test_what_is_no_day_is_refused(text: str) -> None:
    """A weekday, a field or a value that there is not is refused."""
    with pytest.raises(BadRequest):
        plan_week(WeekRequest(profile=Profile(), on=FIRST, days=(text,)))
