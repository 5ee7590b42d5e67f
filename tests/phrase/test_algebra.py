"""The algebra on phrases: each test is an equation."""

from dataclasses import fields, replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.phrase.algebra import (
    augmented,
    breaths,
    inverted,
    length,
    line,
    mapped,
    notes,
    on,
    onsets,
    shifted,
    slurred,
    slurred_to_bars,
    spread,
    then,
    times,
    with_pitch,
)
from generators.phrase.notation import degrees
from generators.phrase.note import Degree, Note, Phrase, Rest
from generators.theory.pitch import STEPS, Pitch

LAWS = settings(max_examples=60)
LENGTHS = st.sampled_from([Fraction(n, d) for d in (2, 4, 8, 12, 16) for n in (1, 3)])
MARKS: dict[str, Any] = {
    "slur_open": st.booleans(),
    "slur_close": st.booleans(),
    "tie": st.booleans(),
    "articulations": st.sampled_from([(), ("staccato",), ("tenuto", "accent"), ("fermata",)]),
    "dynamic": st.sampled_from(["", "p", "mf"]),
    "hairpin": st.sampled_from(["", "<", "."]),
    "breath": st.booleans(),
    "may_breathe": st.booleans(),
    "syllable": st.sampled_from(["", "t", "k"]),
    "valves": st.sampled_from(["", "1-3"]),
    "glide": st.booleans(),
    "role": st.sampled_from(["", "bent", "slowing"]),
    "beats": st.sampled_from([0, 4]),
}


def phrases(pitches: st.SearchStrategy[Any], least: int = 0) -> st.SearchStrategy[Any]:
    """Return random phrases on the given pitches, rests among them."""
    events = st.builds(Note, pitches, LENGTHS, **MARKS) | st.builds(Rest, LENGTHS)
    return st.lists(events, min_size=least, max_size=8).map(tuple)


DEGREES = phrases(st.builds(Degree, st.integers(-10, 20), st.integers(-1, 1)))
PITCHES = phrases(st.builds(Pitch, st.sampled_from(STEPS), st.integers(-1, 1), st.integers(3, 5)))


@LAWS
@given(DEGREES, st.integers(-8, 8))
def test_inverted_twice_is_the_identity(phrase: Phrase[Degree], axis: int) -> None:
    """A line mirrored twice in the same degree is the line itself, marks included."""
    assert phrase == inverted(inverted(phrase, axis), axis)


@LAWS
@given(DEGREES, st.integers(-8, 8), st.integers(-8, 8))
def test_two_mirrors_make_a_shift(phrase: Phrase[Degree], one: int, other: int) -> None:
    """A line mirrored in two degrees is moved by twice their distance."""
    assert shifted(phrase, 2 * (other - one)) == inverted(inverted(phrase, one), other)


def test_inverted() -> None:
    """Mirrored in the tonic, what rose falls, and a sharp becomes a flat."""
    assert degrees("1 7, #6, 1") == inverted(degrees("1 2 b3 1"), 0)


@LAWS
@given(DEGREES, st.integers(-8, 8), st.integers(-8, 8))
def test_shifts_add(phrase: Phrase[Degree], one: int, other: int) -> None:
    """Two moves along the scale are one move by their sum."""
    assert shifted(phrase, one + other) == shifted(shifted(phrase, one), other)


@LAWS
@given(DEGREES, st.integers(0, 5))
def test_times_n_has_n_times_the_length(phrase: Phrase[Degree], count: int) -> None:
    """A phrase played n times is n times as long."""
    assert count * length(phrase) == length(times(phrase, count))


@LAWS
@given(DEGREES)
def test_times_two_is_then_itself(phrase: Phrase[Degree]) -> None:
    """A phrase twice is the phrase and then the phrase."""
    assert then(phrase, phrase) == times(phrase, 2)


@LAWS
@given(DEGREES, DEGREES, DEGREES)
def test_then(one: Phrase[Degree], two: Phrase[Degree], three: Phrase[Degree]) -> None:
    """It does not matter how phrases in a row are grouped, the empty one changes nothing, and lengths add."""
    whole = then(one, two, three)

    assert whole == then(then(one, two), three) == then(one, then(two, three), ())
    assert length(one) + length(two) + length(three) == length(whole)


@LAWS
@given(DEGREES)
def test_mapped_keeps_marks(phrase: Phrase[Degree]) -> None:
    """Whatever happens to the pitches, every length, mark and rest stays in place."""
    changed = mapped(phrase, lambda degree: str(degree.index))
    bare = tuple(event if isinstance(event, Rest) else with_pitch(event, "") for event in changed)

    assert tuple(event if isinstance(event, Rest) else replace(event, pitch="") for event in phrase) == bare
    assert [str(note.pitch.index) for note in notes(phrase)] == [note.pitch for note in notes(changed)]


@LAWS
@given(DEGREES)
def test_mapped_by_nothing_is_the_identity(phrase: Phrase[Degree]) -> None:
    """A change that changes no pitch changes nothing."""
    assert phrase == mapped(phrase, lambda degree: degree)


@LAWS
@given(DEGREES, st.sampled_from([Fraction(1, 2), Fraction(2), Fraction(3, 2), Fraction(2, 3)]))
def test_augmented(phrase: Phrase[Degree], factor: Fraction) -> None:
    """A phrase in longer values is longer by that factor, and in the inverse factor the same again."""
    longer = augmented(phrase, factor)

    assert factor * length(phrase) == length(longer)
    assert phrase == augmented(longer, 1 / factor)


@LAWS
@given(DEGREES)
def test_onsets_add_up(phrase: Phrase[Degree]) -> None:
    """Each event begins where all before it end; an empty phrase has no beginnings."""
    assert tuple(length(phrase[:i]) for i in range(len(phrase))) == onsets(phrase)


@LAWS
@given(DEGREES)
def test_breaths_partition_the_notes(phrase: Phrase[Degree]) -> None:
    """The stretches in order hold every note once and no rest, and none is empty."""
    stretches = breaths(phrase)

    assert notes(phrase) == then(*stretches)
    assert all(stretches)


@LAWS
@given(DEGREES)
def test_a_breath_ends_a_stretch(phrase: Phrase[Degree]) -> None:
    """Within a stretch no note but the last is followed by a breath."""
    inner = [note for stretch in breaths(phrase) for note in stretch[:-1]]

    assert [] == [note for note in inner if isinstance(note, Note) and note.breath]


def test_breaths() -> None:
    """A breath and a rest both part a phrase; both together part it once."""
    stretches = breaths(degrees("r 1 2* 3 r r 4* r 5 6"))

    assert [2, 1, 1, 2] == [len(stretch) for stretch in stretches]


def test_slurred() -> None:
    """One slur runs from the first note to the last, rests at the ends aside."""
    assert degrees("r 1( 2 3) r") == slurred(degrees("r 1 2 3 r"))


@pytest.mark.parametrize("sketch", ["", "r", "1", "r 1 r"])
def test_nothing_to_slur(sketch: str) -> None:
    """A phrase with fewer than two notes gets no slur."""
    assert degrees(sketch) == slurred(degrees(sketch))


@LAWS
@given(DEGREES)
def test_slurred_twice_is_slurred_once(phrase: Phrase[Degree]) -> None:
    """A second slur over the same notes adds nothing."""
    assert slurred(phrase) == slurred(slurred(phrase))


@pytest.mark.parametrize(("index", "sketch"), [(0, "r 1* 2 r 3"), (1, "r 1 2* r 3"), (2, "r 1 2 r 3*"), (-1, "r 1 2 r 3*")])
def test_on(index: int, sketch: str) -> None:
    """A mark goes on the note of that number; rests do not count, and negative numbers count from the end."""
    assert degrees(sketch) == on(degrees("r 1 2 r 3"), index, breath=True)


def test_on_a_note_that_is_not_there() -> None:
    """There is no fourth note to mark in a phrase of three."""
    with pytest.raises(IndexError):
        on(degrees("1 2 3"), 3, breath=True)


def test_line() -> None:
    """Pitches and lengths together make a bare line."""
    built = line((Degree(0), Degree(1)), (Fraction(1, 2), Fraction(1, 4)))

    assert degrees("1/2 2/4") == built


def test_a_line_needs_a_length_for_each_pitch() -> None:
    """Pitches and lengths that are not equally many are refused."""
    with pytest.raises(ValueError, match="shorter"):
        line((Degree(0), Degree(1)), (Fraction(1, 2),))


def test_spread() -> None:
    """New lengths are laid over the events in turn, and begin again when they run out."""
    assert degrees("1/4. 2/8 r/4. 3/8 4/4.") == spread(degrees("1 2 r 3 4"), (Fraction(3, 8), Fraction(1, 8)))


@LAWS
@given(DEGREES)
def test_spread_by_its_own_lengths_is_the_identity(phrase: Phrase[Degree]) -> None:
    """A phrase with its own lengths laid over it is the same phrase."""
    assert phrase == spread(phrase, [event.length for event in phrase])


def test_a_note_on_another_pitch_keeps_every_mark() -> None:
    """Whatever fields a note has, only its pitch changes."""
    marks = {field.name: f"<{field.name}>" for field in fields(Note) if field.name != "pitch"}
    note: Note[Any] = Note(Degree(0), **marks)  # type: ignore[arg-type]  # any values do to see them kept

    assert replace(note, pitch=Degree(4)) == with_pitch(note, Degree(4))


def test_a_slur_from_within_a_bar_ends_with_it() -> None:
    """What is slurred from the middle of a bar on goes to the bar line, where the next slur begins; others stay."""
    line = degrees("1/2 2/4( 3 | 4 3 2/2)*")

    assert degrees("1/2 2/4( 3) | 4( 3 2/2)*") == slurred_to_bars(line, Fraction(1))
    whole = degrees("1/4( 2 3 2 | 1/1)*")
    assert whole == slurred_to_bars(whole, Fraction(1))
