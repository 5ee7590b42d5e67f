"""What is other on a day of the week: laws over texts, profiles and dates."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.jobs.codec import music_code
from generators.routine.other_days import other_days, other_on, plainly
from generators.routine.profile import WEEKDAYS, Profile
from generators.routine.profile_check import check_profile
from generators.routine.requests import DayRequest, WeekRequest
from generators.routine.week import day_requests
from tests.keep.profiles import profiles

FIELDS = (
    "horn=cornet",
    "horn=flugelhorn",
    "high=G5",
    "low=C4",
    "grade=2",
    "minutes=12",
    "minutes=40",
    "kind=light",
    "kind=concert",
)
texts = st.lists(st.builds("{}:{}".format, st.sampled_from(WEEKDAYS), st.sampled_from(FIELDS)), max_size=8).map(tuple)
DATES = st.dates(date(2000, 1, 1), date(2099, 12, 1))


@given(texts)
def test_there_is_one_way_to_write_it(days: tuple[str, ...]) -> None:
    """Written plainly, days say the same as before, each field once, and plainer they cannot be."""
    plain = plainly(days)

    assert other_days(days) == other_days(plain)
    assert plain == plainly(plain)
    assert len(plain) == len({text.partition("=")[0] for text in plain})


@given(texts, texts)
def test_later_goes_over_earlier_field_by_field(earlier: tuple[str, ...], later: tuple[str, ...]) -> None:
    """Of two lists each field has the value of the second, or where it says nothing that of the first."""
    first, second, both = other_days(earlier), other_days(later), other_days((*earlier, *later))

    assert both == {day: {**first.get(day, {}), **second.get(day, {})} for day in {*first, *second}}


@given(profiles, DATES, st.sampled_from(["normal", "light", "concert"]))
def test_a_settled_day_has_nothing_other(profile: Profile, on: date, kind: str) -> None:
    """A day is settled once and for all, is of the horn and the minutes of its table, and is the same music as before."""
    request = DayRequest(profile=profile, on=on, kind=kind)
    own, other = request.settled, other_on(profile.days, on.weekday())

    assert () == own.profile.days
    assert own == own.settled
    assert (other.fields.get("horn", profile.horn), other.minutes) == (own.profile.horn, own.minutes)
    assert music_code(request) == music_code(own)


@given(profiles, DATES, texts)
def test_the_days_of_a_week_are_those_asked_for_alone(profile: Profile, first: date, days: tuple[str, ...]) -> None:
    """Whatever is other, a day of a week has the code of that day asked for alone, the table said by profile or by week."""
    whole = replace(profile, days=plainly((*profile.days, *days)))
    week = WeekRequest(profile=profile, on=first, days=days)
    asked = {day.on: day for day in day_requests(week)}
    alone = {on: DayRequest(profile=whole, on=on, kind=day.kind) for on, day in asked.items()}

    assert {first + timedelta(days=later) for later in range(7)} == set(asked)
    assert {on: music_code(day) for on, day in alone.items()} == {on: music_code(day) for on, day in asked.items()}
    assert music_code(week) == music_code(WeekRequest(profile=whole, on=first))


@pytest.mark.parametrize(
    "text", ["someday:horn=cornet", "friday:horn=kazoo", "friday:minutes=7", "friday:minutes=61", "friday"]
)
def test_a_profile_with_what_cannot_be_is_refused(text: str) -> None:
    """A weekday, a horn or minutes that there are not are refused in a profile as in a week."""
    with pytest.raises(BadRequest, match="allowed: "):
        check_profile(Profile(days=(text,)))


def test_a_range_on_one_day_runs_upwards() -> None:
    """A low note of one day above the profile's high one is refused with the day."""
    with pytest.raises(BadRequest, match="days: friday: high G5 lies below low A5"):
        check_profile(Profile(high="G5", days=("friday:low=A5",)))
