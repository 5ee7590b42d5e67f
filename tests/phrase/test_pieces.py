"""Laws of printed note values: where the beats of a bar are, its reader sees."""

from fractions import Fraction
from itertools import accumulate

from hypothesis import given
from hypothesis import strategies as st

from generators.phrase.bars import COMMON
from generators.phrase.label import Label
from generators.phrase.note import Event, Note, Rest
from generators.phrase.pieces import Piece, cut
from generators.phrase.study import Strain
from generators.theory.key import Key
from generators.theory.pitch import Pitch

UNIT, HALF_BAR = Fraction(1, 16), Fraction(1, 2)
lengths = st.lists(st.integers(1, 12), min_size=1, max_size=24)


def printed(counts: list[int]) -> list[tuple[Piece, ...]]:
    """Return the bars of a line in 4/4 whose notes have so many sixteenths, filled up with a rest."""
    left = -sum(counts) % 16
    music: tuple[Event[Pitch], ...] = tuple(Note(Pitch("C", 0, 5), count * UNIT) for count in counts)
    music += (Rest(left * UNIT),) if left else ()
    bars = (sum(counts) + left) // 16
    return list(cut(Strain(Label(), Key("C", 0), music, COMMON, (bars,))))


@given(counts=lengths)
def test_no_value_from_off_the_beat_hides_the_third_beat(counts: list[int]) -> None:
    """In 4/4 nothing that begins between beats is printed over the middle of its bar."""
    for bar in printed(counts):
        ends = list(accumulate(piece.event.length for piece in bar))
        starts = [end - piece.event.length for end, piece in zip(ends, bar, strict=True)]
        crossing = [start for start, end in zip(starts, ends, strict=True) if start < HALF_BAR < end]

        assert [] == [start for start in crossing if start % COMMON.beat]


def test_a_long_note_from_between_beats_is_a_dotted_quarter_and_a_quarter() -> None:
    """Five eighths after an eighth are written to the third beat and from it."""
    (bar,) = printed([2, 10, 4])

    assert [Fraction(1, 8), Fraction(3, 8), Fraction(1, 4), Fraction(1, 4)] == [piece.face for piece in bar]
