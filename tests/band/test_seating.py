"""Spans that players share: all of each reached by everyone who is told to join, none wider to be had."""

from hypothesis import given

from generators.band.request import ClassRequest, members_of
from generators.band.seating import WIDEST_SEAT, octaves_to, shared_seats
from generators.theory.key import parse_key
from generators.theory.pitch import parse_pitch
from tests.band.bands import FIRST_YEAR, any_bands, band, player

BB = parse_key("Bb")


@given(any_bands)
def test_who_joins_reaches_all_of_a_span(asked: ClassRequest) -> None:
    """Every span lies within the range of each of its players, in an octave of his own."""
    for seat in shared_seats(members_of(asked), BB):
        assert all(octaves_to(seat.low, seat.high, member) for member in seat.joining)


@given(any_bands)
def test_the_first_span_is_that_of_most_players(asked: ClassRequest) -> None:
    """No later span has more players than an earlier one."""
    counts = [len(seat.joining) for seat in shared_seats(members_of(asked), BB)]

    assert sorted(counts, reverse=True) == counts


def test_first_years_share_an_octave() -> None:
    """Cornet, trombone and euphonium of the first year share the octave from B flat to B flat."""
    best = shared_seats(members_of(FIRST_YEAR), BB)[0]

    assert (10, 12, 3) == (best.low % 12, best.width, len(best.joining))


def test_horns_in_e_flat_and_b_flat_share_five_notes() -> None:
    """A first-year cornet and tenor horn, an octave each, share the fifth from E flat to B flat."""
    best = shared_seats(members_of(band(player("cornet"), player("tenor-horn"))), BB)[0]

    assert (3, 7, 2) == (best.low % 12, best.width, len(best.joining))


def test_no_span_is_wider_than_a_class_needs() -> None:
    """Grown players share more than two octaves and get no more than those."""
    seats = shared_seats(members_of(band(player("cornet", ""), player("trumpet", ""))), BB)

    assert max(seat.width for seat in seats) == WIDEST_SEAT


def test_on_tubes_nobody_chooses_the_octave() -> None:
    """On tubes a span is counted from each horn's own fundamental: a trombone has what a cornet has, an octave lower."""
    [first, *_] = shared_seats(members_of(FIRST_YEAR), BB, on_tubes=True)

    assert (58, 70, 3) == (first.low, first.high, len(first.joining))


def test_a_line_lies_in_the_middle_of_the_staff() -> None:
    """Of two octaves a horn takes the one nearer to the middle of a learner's notes: six notes on G the higher."""
    (one,) = members_of(band(player("tenor-horn", "4", high="G5")))
    low, high = (parse_pitch(name).midi + one.horn.sounding_half_steps for name in ("G3", "E4"))

    assert (1, 0) == octaves_to(low, high, one)
