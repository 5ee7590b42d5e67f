"""Laws of a week as a player reads it: how its days begin and end, and what does not come too often."""

from datetime import date
from fractions import Fraction
from itertools import pairwise

import pytest

from generators.phrase.study import Strain
from generators.routine.part import Part
from tests.routine.test_day_laws import FIRSTS, HIGH, each_week, strains_of, week

EIGHTH, FIFTH, E5 = Fraction(1, 8), 7, 76


def parts_of(first: date, *names: str) -> list[Part]:
    """Return the parts of a week that have one of some names."""
    return [part for day in week(first) for part in day.parts if part.name in names]


def heights(strain: Strain) -> list[int]:
    """Return the notes of a strain, in half-steps."""
    return [note.pitch.midi for note in strain.notes]


@each_week
def test_the_first_slurs_of_a_day_are_plain(first: date) -> None:
    """The first line of slurs leaps no more than a fifth, begins under E5 and not from its top, no quicker than eighths."""
    firsts = [strains_of(day, "slurs", "high-slurs")[0] for day in week(first)]
    begun = [heights(strain) for strain in firsts]

    assert FIFTH >= max(abs(one - other) for each in begun for one, other in pairwise(each))
    assert all(each[0] < min(E5, max(each)) for each in begun)
    assert EIGHTH <= min(note.length for strain in firsts for note in strain.notes)


@pytest.mark.parametrize("later", range(0, 63, 9))
def test_high_slurs_come_twice_a_week(later: int) -> None:
    """High slurs come on two of seven days at the most, and the high parts of a week are four different ones or more."""
    first = date.fromordinal(FIRSTS[0].toordinal() + later)
    figures = {(part.name, part.request) for part in parts_of(first, *HIGH)}

    assert len(parts_of(first, "high-slurs")) <= 2
    assert 4 <= len({(name, getattr(asked, "approach", ""), asked.high, asked.keys) for name, asked in figures})


@each_week
def test_no_high_flow_comes_again(first: date) -> None:
    """In seven days no line of high flow has the key and the rhythm of another."""
    lines = [
        (strain.key, tuple(note.length for note in strain.notes))
        for part in parts_of(first, "wide-flow")
        for strain in part.study.strains
    ]

    assert len(set(lines)) == len(lines) > 0
