"""Towards a recital: the share of every day, its kind, and the week that leads there."""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from generators.jobs.compose import compose
from generators.routine.profile import Profile
from generators.routine.requests import WeekRequest
from generators.routine.taper import SHARES, kind_towards, share, towards_words
from generators.routine.week import plan_week
from generators.studies.kit.kind import DAY_KINDS
from tests.press.sheets import text_of

RECITAL = date(2026, 12, 12)


def before(days: int) -> date:
    """Return the day so many days before the recital."""
    return RECITAL - timedelta(days=days)


@given(st.integers(-400, 400))
def test_far_off_and_afterwards_nothing_changes(days: int) -> None:
    """Without a date, after it and long before it a day is as ever."""
    for on, towards in ((before(days), None), *([] if 0 <= days < len(SHARES) else [(before(days), RECITAL)])):
        assert 1.0 == share(on, towards)
        assert "" == towards_words(on, towards)
        assert all(kind == kind_towards(kind, on, towards) for kind in DAY_KINDS)


@given(st.integers(0, 7))
def test_the_last_week_falls(days: int) -> None:
    """In the last week no day is longer than the one before it; the second week before has more than usual."""
    assert share(before(days), RECITAL) <= share(before(days + 1), RECITAL)
    assert share(before(10), RECITAL) > 1.0


def test_the_day_before_is_light_and_the_day_a_warm_up() -> None:
    """The day before is light, the day itself one for a concert, nothing is stretched shortly before."""
    kinds = [kind_towards("stretch", before(days), RECITAL) for days in range(5)]

    assert ["concert", "light", "normal", "normal", "stretch"] == kinds


def test_a_week_leads_to_its_day() -> None:
    """The minutes of a week fall to the recital, the pages count the days, and the cover shows the curve."""
    asked = WeekRequest(profile=Profile(minutes=30, rest_day="none"), on=before(6), towards=RECITAL)
    week, text = plan_week(asked), text_of(compose(asked))
    minutes = [day.minutes for day in week.days]

    assert sorted(minutes, reverse=True) == minutes
    assert ["light", "concert"] == [day.kind for day in week.days[-2:]]
    assert "Towards 12 December 2026" in text
    assert "Tomorrow is the day: short and easy." == week.days[-2].told
