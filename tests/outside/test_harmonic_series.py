"""Partials against arithmetic and a published table.

R. Bain, University of South Carolina School of Music, "A Web-based Multimedia Approach to the Harmonic Series" (1997-2002),
fig. 2, address not kept.
It prints partial 12 as -2; arithmetic gives +1.96, so that the sign is a misprint.
"""

from math import log2

import pytest

from generators.brass.horn import horn
from generators.brass.tube import partial_cents, partial_pitch

PRINTED = {1: 0, 2: 0, 3: 2, 4: 0, 5: -14, 6: 2, 7: -31, 8: 0, 9: 4, 10: -14, 11: -49}
MISPRINTED = {12: -2}
# The eleventh lies half-way between F and F sharp; charts print either.
OPEN_SERIES = "C3 C4 G4 C5 E5 G5 Bb5 C6 D6 E6 F#6 G6 Ab6 Bb6 B6 C7"
TRUMPET = horn("trumpet")


@pytest.mark.parametrize("partial", PRINTED)
def test_printed(partial: int) -> None:
    """Each partial is as far from temperament as the page prints it, rounded to a cent."""
    assert PRINTED[partial] == round(partial_cents(partial))


def test_misprint() -> None:
    """Partial 12 is as far off as printed, but sharp, as its octave below is."""
    assert -MISPRINTED[12] == round(partial_cents(12)) == PRINTED[6]


@pytest.mark.parametrize("partial", range(1, 17))
def test_arithmetic(partial: int) -> None:
    """A partial lies 1200 log2(n) cents above the first."""
    above = 100 * (partial_pitch(TRUMPET, "0", partial).midi - 48) + partial_cents(partial)

    assert pytest.approx(1200 * log2(partial)) == above


def test_open_series() -> None:
    """The open horn's written series is that of every textbook."""
    assert OPEN_SERIES.split() == [partial_pitch(TRUMPET, "0", n).name for n in range(1, 17)]
