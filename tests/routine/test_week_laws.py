"""Laws of a week as a player reads it: how its days begin and end, and what does not come too often."""

from datetime import date
from fractions import Fraction
from itertools import pairwise

from generators.phrase.study import Strain
from tests.routine.test_day_laws import each_week, strains_of, week

EIGHTH, FIFTH, E5 = Fraction(1, 8), 7, 76


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
