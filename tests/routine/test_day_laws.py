"""Laws of a day as a player reads it: widths as they are called, no strain twice, tongues by turns, high parts from below."""

from datetime import date
from functools import cache

import pytest

from generators.phrase.study import Strain
from generators.routine.day import Day
from generators.routine.profile import Profile
from generators.routine.requests import WeekRequest
from generators.routine.week import plan_week
from tests.routine.players import MONDAY

# The Wednesday before, and weeks later on.
FIRSTS = [date.fromordinal(MONDAY - 5), date.fromordinal(MONDAY + 30), date.fromordinal(MONDAY + 66)]
each_week = pytest.mark.parametrize("first", FIRSTS, ids=str)
# Half-steps of each width.
WIDTHS = {"half-step": {1}, "step": {2}, "third": {3, 4}, "fourth": {5}, "fifth": {7}}


@cache
def week(first: date) -> tuple[Day, ...]:
    """Return the days of a week of a player without a profile."""
    return plan_week(WeekRequest(profile=Profile(), on=first)).days


def strains_of(day: Day, *names: str) -> list[Strain]:
    """Return the strains of some parts of a day."""
    return [strain for part in day.parts if part.name in names for strain in part.study.strains]


@each_week
def test_air_is_as_wide_as_it_is_called(first: date) -> None:
    """From the tonic or fifth, at rest, the widest turn is the half-step, step, third, fourth or fifth that its label says."""
    found = [strain for day in week(first) for strain in strains_of(day, "air")]

    assert all(_widest(strain) in WIDTHS[strain.label.detail] for strain in found)
    assert {0, 4} >= {(strain.notes[0].pitch.place - strain.key.degree(0).place) % 7 for strain in found}


def _widest(strain: Strain) -> int:
    middle = strain.notes[0].pitch.midi
    return max(abs(note.pitch.midi - middle) for note in strain.notes)


@each_week
def test_the_cover_tells_keys_that_are_played(first: date) -> None:
    """Every key that a day is said to have is that of a strain in it, and every scale of it is told."""
    for day in week(first):
        played = {strain.label.key.name for part in day.parts for strain in part.study.strains if strain.label.key}
        scales = {strain.label.key.name for strain in strains_of(day, "scales") if strain.label.key}

        assert scales <= set(day.keys) <= played
