"""Pitches: their names, their order, and what is refused."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.theory.pitch import STEPS, Pitch, at_place, parse_pitch, simple

LAWS = settings(max_examples=80)
PITCHES = st.builds(Pitch, st.sampled_from(STEPS), st.integers(-2, 2), st.integers(-1, 9))


@pytest.mark.parametrize(
    ("text", "midi"),
    [("C4", 60), ("A4", 69), ("F#3", 54), ("Bb4", 70), ("B#3", 60), ("Cb4", 59), ("Fx4", 67), ("Ebb4", 62), ("C-1", 0)],
)
def test_midi_numbers(text: str, midi: int) -> None:
    """Middle C is 60, and an accidental never changes the octave that is written."""
    pitch = parse_pitch(text)

    assert midi == pitch.midi


@pytest.mark.parametrize("text", ["E♭5", "eb5", "Eb5", "  Eb5 "])
def test_spellings_of_one_pitch(text: str) -> None:
    """Real and typed accidentals, small letters and spaces around it all read as the same pitch."""
    pitch = parse_pitch(text)

    assert Pitch("E", -1, 5) == pitch


@pytest.mark.parametrize(("text", "alter"), [("B♮4", 0), ("F♯♯4", 2), ("F##4", 2), ("B♭♭4", -2), ("bb4", -1), ("b4", 0)])
def test_accidentals(text: str, alter: int) -> None:
    """Every way to write an accidental is read."""
    pitch = parse_pitch(text)

    assert alter == pitch.alter


@LAWS
@given(PITCHES)
def test_name_reads_back(pitch: Pitch) -> None:
    """A pitch is read back from its name."""
    assert pitch == parse_pitch(pitch.name)


@LAWS
@given(PITCHES)
def test_pretty_reads_back(pitch: Pitch) -> None:
    """A pitch is read back from the name on the page."""
    assert pitch == parse_pitch(pitch.pretty)


@LAWS
@given(PITCHES)
def test_place_and_sound_make_the_pitch(pitch: Pitch) -> None:
    """Staff position and MIDI number together determine the spelling."""
    assert pitch == at_place(pitch.place, pitch.midi)


@LAWS
@given(PITCHES, PITCHES)
def test_order_is_by_sound(one: Pitch, other: Pitch) -> None:
    """Of two pitches the one that sounds lower is the smaller, whatever its spelling."""
    low, high = sorted((one, other))

    assert low.midi <= high.midi


def test_equal_sounds_are_ordered_by_place() -> None:
    """Pitches of one sound stand in the order of their staff positions."""
    same = sorted(parse_pitch(text) for text in ("Dbb4", "B#3", "C4"))

    assert ["B#3", "C4", "Dbb4"] == [str(pitch) for pitch in same]


@pytest.mark.parametrize("sharp", [True, False])
@pytest.mark.parametrize("midi", range(12, 109))
def test_simple_spelling(midi: int, sharp: bool) -> None:
    """The plain spelling sounds right and has no accidental but the one that was asked for."""
    pitch = simple(midi, sharp)

    assert (midi, True) == (pitch.midi, pitch.alter in (0, 1 if sharp else -1))


@pytest.mark.parametrize("text", ["", "H4", "C", "4", "C###4", "C#b4", "C4 D4", "C100", "Cis4", "c''"])
def test_a_wrong_pitch_is_refused(text: str) -> None:
    """The refusal of a pitch names it, tells what to write and gives an example."""
    with pytest.raises(BadRequest) as refusal:
        parse_pitch(text)

    assert [True] * 3 == [part in str(refusal.value) for part in (f'"{text}"', "A to G", "F#3")]


def test_a_third_accidental_is_refused() -> None:
    """A pitch that needs three accidentals is refused with its sound, the limit and a plain spelling."""
    with pytest.raises(BadRequest, match=r"MIDI note 63 spelled on C would need 3 .* up to two; write D#4"):
        at_place(parse_pitch("C4").place, 63)
