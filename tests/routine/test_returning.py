"""Who does not know his grade is proposed one: higher with the years, lower after a pause."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.brass.grade import GRADES, grade_on
from generators.brass.horn import HORNS, horn
from generators.routine.profile import Profile
from generators.routine.profile_check import check_profile
from generators.routine.returning import proposed_grade, with_proposal
from generators.theory.pitch import parse_pitch

RANKS = [*GRADES, ""]


@pytest.mark.parametrize(
    ("years", "weeks", "answer"),
    [(0.2, 0, "0"), (0.9, 0, "1"), (1.5, 1, "2"), (2.5, 0, "3"), (20, 0, ""), (20, 10, "5"), (20, 60, "4"), (20, 1000, "2")],
)
def test_what_is_proposed(years: float, weeks: int, answer: str) -> None:
    """Half a year is first notes, the first three years a grade each, a grown player none; a pause takes some off."""
    assert answer == proposed_grade(years, weeks)


@given(st.floats(0, 60), st.floats(0, 10), st.integers(0, 3000), st.integers(0, 500))
def test_years_raise_and_pauses_lower(years: float, more: float, weeks: int, longer: int) -> None:
    """More years never propose a lower grade, a longer pause never a higher one."""
    ranks = [RANKS.index(proposed_grade(*asked)) for asked in ((years, weeks + longer), (years, weeks), (years + more, weeks))]

    assert sorted(ranks) == ranks


@given(st.sampled_from(sorted(HORNS)), st.floats(0, 60), st.integers(0, 3000))
def test_a_proposal_is_a_profile(name: str, years: float, weeks: int) -> None:
    """On every horn what is proposed can be kept, and asks for no note outside the grade."""
    profile = with_proposal(Profile(horn=name), years, weeks)
    check_profile(profile)

    if profile.grade:
        of = grade_on(profile.grade, horn(name))
        assert of.low <= parse_pitch(profile.low) < parse_pitch(profile.high) <= of.high
