"""Bars: they are full, they add up, ties cross their lines; and lengths are written with plain and dotted values."""

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.phrase.algebra import length, notes, then
from generators.phrase.bars import COMMON, WALTZ, Meter, bars, written
from generators.phrase.notation import degrees
from generators.phrase.note import Note, Phrase, Rest

LAWS = settings(max_examples=80)
METERS = st.sampled_from([COMMON, WALTZ, Meter(2, 4), Meter(5, 4), Meter(6, 8), Meter(3, 8), Meter(2, 2)])
LENGTHS = st.sampled_from([Fraction(n, d) for d in (1, 2, 4, 8, 12, 16) for n in (1, 2, 3, 5, 9)])
MARKS: dict[str, Any] = {
    "slur_open": st.booleans(),
    "slur_close": st.booleans(),
    "tie": st.booleans(),
    "articulations": st.sampled_from([(), ("tenuto",), ("accent", "fermata")]),
    "dynamic": st.sampled_from(["", "p"]),
    "hairpin": st.sampled_from(["", "<", "."]),
    "breath": st.booleans(),
    "may_breathe": st.booleans(),
    "syllable": st.sampled_from(["", "t"]),
    "valves": st.sampled_from(["", "1-3"]),
    "glide": st.booleans(),
    "role": st.sampled_from(["", "bent", "slowing"]),
    "beats": st.sampled_from([0, 4]),
}
EVENTS = st.builds(Note, st.integers(0, 7), LENGTHS, **MARKS) | st.builds(Rest, LENGTHS)
PHRASES = st.lists(EVENTS, max_size=8).map(tuple)
PLAIN = {Fraction(2, 2**n) for n in range(8)}
VALUES = PLAIN | {value * Fraction(3, 2) for value in PLAIN}


@LAWS
@given(PHRASES, METERS)
def test_every_bar_is_full(phrase: Phrase[int], meter: Meter) -> None:
    """All bars but the last are exactly full, and the last is neither empty nor too long."""
    *full, last = [length(bar) for bar in bars(phrase, meter)] or [meter.bar]

    assert [meter.bar] * len(full) == full
    assert 0 < last <= meter.bar


@LAWS
@given(PHRASES, METERS)
def test_bars_join_to_the_whole_length(phrase: Phrase[int], meter: Meter) -> None:
    """Cutting into bars loses no time."""
    assert length(phrase) == length(then(*bars(phrase, meter)))


@LAWS
@given(PHRASES, METERS)
def test_bars_cut_again_stay(phrase: Phrase[int], meter: Meter) -> None:
    """Bars joined and cut again are the same bars."""
    cut = bars(phrase, meter)

    assert cut == bars(then(*cut), meter)


@LAWS
@given(st.builds(Note, st.integers(0, 7), LENGTHS, **MARKS), METERS, LENGTHS)
def test_a_note_over_a_bar_line_is_tied(note: Note[int], meter: Meter, lead: Fraction) -> None:
    """The pieces of a note have its pitch, are tied to one another, and the last is tied on only if the note was."""
    pieces = notes(then(*bars((Rest(lead), note), meter)))

    assert [note.pitch] * len(pieces) == [piece.pitch for piece in pieces]
    assert [True] * (len(pieces) - 1) + [note.tie] == [piece.tie for piece in pieces]


@LAWS
@given(st.builds(Note, st.integers(0, 7), LENGTHS, **MARKS), METERS, LENGTHS)
def test_each_mark_of_a_tied_note_stands_once(note: Note[int], meter: Meter, lead: Fraction) -> None:
    """What begins with a note stays on its first piece, what ends it moves to its last, and nothing is lost or doubled."""
    pieces = notes(then(*bars((Rest(lead), note), meter)))
    first, last = pieces[0], pieces[-1]

    assert ("slur_open", "dynamic", "hairpin", "syllable", "valves", "role", "beats") == tuple(
        mark
        for mark in ("slur_open", "dynamic", "hairpin", "syllable", "valves", "role", "beats")
        if getattr(first, mark) == getattr(note, mark) and not any(getattr(piece, mark) for piece in pieces[1:])
    )
    assert ("slur_close", "breath", "may_breathe", "glide") == tuple(
        mark
        for mark in ("slur_close", "breath", "may_breathe", "glide")
        if getattr(last, mark) == getattr(note, mark) and not any(getattr(piece, mark) for piece in pieces[:-1])
    )
    assert note.articulations == tuple(mark for piece in pieces for mark in piece.articulations)


@LAWS
@given(PHRASES, METERS)
def test_a_phrase_that_fits_its_bars_is_not_changed(phrase: Phrase[int], meter: Meter) -> None:
    """An event that crosses no bar line is kept as it is."""
    short = tuple(event for event in phrase if event.length == Fraction(1, 16))

    assert short == then(*bars(short, Meter(meter.beats, meter.unit)))


def test_a_fermata_is_held_at_the_end() -> None:
    """The fermata of a tied note stands on its last piece, the accent on its first."""
    pieces = notes(then(*bars(degrees("1/2. 2/1:ac:fe*"), COMMON)))

    assert [(), ("accent",), ("fermata",)] == [piece.articulations for piece in pieces]
    assert [False, False, True] == [piece.breath for piece in pieces]


def test_a_note_of_three_bars() -> None:
    """A note over two bar lines has a bare piece in the middle, tied on."""
    cut = bars(degrees("1/2. 2/1:te( 3/4)"), Meter(2, 4))

    assert (degrees("1/2~"), degrees("1/4 2/4:te(~"), degrees("2/2~"), degrees("2/4 3/4)")) == cut


def test_a_rest_over_a_bar_line() -> None:
    """A rest over a bar line is two rests."""
    assert (degrees("1/4 r/2"), degrees("r/4")) == bars(degrees("1/4 r/2."), WALTZ)


def test_no_bars() -> None:
    """Nothing has no bars."""
    assert () == bars((), COMMON)


@LAWS
@given(st.integers(1, 256).map(lambda n: Fraction(n, 64)))
def test_written_values_add_up(total: Fraction) -> None:
    """The values that write a length add up to it, longest first, each plain or dotted."""
    values = written(total)

    assert total == sum(values)
    assert set(values) <= VALUES
    assert sorted(values, reverse=True) == list(values)


@LAWS
@given(st.integers(1, 96).map(lambda n: Fraction(n, 48)))
def test_written_triplets_add_up(total: Fraction) -> None:
    """A length of triplets is written with thirds of plain or dotted values, any other with the values themselves."""
    values = written(total)
    scale = 3 if total.denominator % 3 == 0 else 1

    assert total == sum(values)
    assert {value * scale for value in values} <= VALUES


@pytest.mark.parametrize("value", sorted(VALUES))
def test_one_value_where_one_does(value: Fraction) -> None:
    """A plain or dotted length is written with one value."""
    assert (value,) == written(value)


@pytest.mark.parametrize(
    ("total", "expected"),
    [
        (Fraction(5, 8), (Fraction(1, 2), Fraction(1, 8))),
        (Fraction(7, 8), (Fraction(3, 4), Fraction(1, 8))),
        (Fraction(9, 8), (Fraction(1), Fraction(1, 8))),
        (Fraction(5, 4), (Fraction(1), Fraction(1, 4))),
        (Fraction(1, 12), (Fraction(1, 12),)),
        (Fraction(5, 12), (Fraction(1, 3), Fraction(1, 12))),
        (Fraction(0), ()),
    ],
)
def test_written(total: Fraction, expected: tuple[Fraction, ...]) -> None:
    """A length that no single value has is the longest that fits, tied to what is left."""
    assert expected == written(total)


@pytest.mark.parametrize("total", [Fraction(1, 5), Fraction(1, 128), Fraction(1, 9), Fraction(-1, 4)])
def test_a_length_without_values_is_refused(total: Fraction) -> None:
    """A length that no note values write is refused by name."""
    with pytest.raises(ValueError, match=f"write {total} of a whole note"):
        written(total)


@pytest.mark.parametrize(
    ("meter", "bar", "beat", "strong"),
    [
        (COMMON, Fraction(1), Fraction(1, 4), Fraction(1, 2)),
        (WALTZ, Fraction(3, 4), Fraction(1, 4), Fraction(3, 4)),
        (Meter(2, 4), Fraction(1, 2), Fraction(1, 4), Fraction(1, 2)),
        (Meter(2, 2), Fraction(1), Fraction(1, 2), Fraction(1)),
        (Meter(6, 8), Fraction(3, 4), Fraction(3, 8), Fraction(3, 4)),
    ],
    ids=str,
)
def test_meter(meter: Meter, bar: Fraction, beat: Fraction, strong: Fraction) -> None:
    """A meter knows its bar, its felt beat and the distance of its strong beats."""
    assert (bar, beat, strong) == (meter.bar, meter.beat, meter.strong)


def test_meter_in_words() -> None:
    """A meter reads as it is printed."""
    assert "6/8" == str(Meter(6, 8))
