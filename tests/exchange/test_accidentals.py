"""Accidentals: printed where a reader needs them and nowhere else."""

import pytest

from generators.brass.horn import horn
from generators.exchange.accidentals import accidentals
from generators.phrase.pieces import cut
from generators.theory.key import Key
from tests.exchange.samples import EB, C, strain

BRACKETED = horn("trumpet").bracketed


@pytest.mark.parametrize(
    ("sketch", "key", "expected"),
    [
        ("1/4 2 3 4", EB, "...."),
        ("#4/4 #4 4 4", C, "x.x."),
        ("#4/4 #4' 4 1", C, "xxx."),
        ("#1/4 r b7 7", EB, "x.xx"),
        ("#4,/4 #4,, 4,, 4,", C, "x.x."),
    ],
)
def test_accidentals_change_a_line_for_the_bar(sketch: str, key: Key, expected: str) -> None:
    """An accidental holds on its line of the staff to the end of the bar; pedals share the line they are printed on."""
    bars = cut(strain(sketch, key))
    shown = "".join("x" if shows else "." for bar in bars for shows in accidentals(bar, key, BRACKETED))

    assert shown == expected


def test_a_tied_note_prints_no_accidental_over_the_bar_line() -> None:
    """The accidental of a tied note is not printed again in the next bar."""
    bars = cut(strain("1/2. #4/4~ | #4/4 1/2."))

    assert [list(accidentals(bar, C, BRACKETED)) for bar in bars] == [[False, True], [False, False]]
