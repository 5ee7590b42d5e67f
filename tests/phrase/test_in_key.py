"""From degrees to pitches: the signature, the octave, and melodic minor."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.phrase.algebra import mapped, notes, shifted
from generators.phrase.in_key import in_key, placed, raised
from generators.phrase.notation import degrees
from generators.phrase.note import Degree, Phrase
from generators.theory.interval import between, parse_interval, transpose
from generators.theory.key import Key, all_keys, parse_key
from generators.theory.scales import DESCENDING, SCALES

LAWS = settings(max_examples=60)
LINES = st.lists(st.builds(Degree, st.integers(-7, 14)), max_size=12).map(
    lambda line: tuple(note for degree in line for note in mapped(degrees("1"), lambda _, degree=degree: degree))
)


def names(phrase: str, key: str, octave: int = 4) -> str:
    """Return the note names of a sketch in a key, as the reader of a page would say them."""
    return " ".join(note.pitch.name for note in notes(in_key(degrees(phrase), parse_key(key), octave)))


@pytest.mark.parametrize(
    ("sketch", "key", "expected"),
    [
        ("1 2 3 4 5 6 7 8", "C", "C4 D4 E4 F4 G4 A4 B4 C5"),
        ("1 7, 6, 5,", "Eb", "Eb4 D4 C4 Bb3"),
        ("1 #1 2 b3 #4 b7", "D", "D4 D#4 E4 F4 G#4 C5"),
        ("#3 b4", "Gb", "B4 Cbb5"),
        ("6 7 8 7 6", "F", "D5 E5 F5 E5 D5"),
    ],
)
def test_major(sketch: str, key: str, expected: str) -> None:
    """In major a degree has the signature's spelling, altered from there, and nothing is raised."""
    assert expected == names(sketch, key)


@pytest.mark.parametrize(
    ("sketch", "expected"),
    [
        ("1 2 3 4 5 6 7 8 7 6 5 4 3 2 1", "A4 B4 C5 D5 E5 F#5 G#5 A5 G5 F5 E5 D5 C5 B4 A4"),
        ("8 7 8", "A5 G#5 A5"),
        ("6 7 6 5", "F5 G5 F5 E5"),
        ("5 6 5", "E5 F5 E5"),
        ("7 8 6 5", "G#5 A5 F5 E5"),
        ("7 7 8", "G#5 G#5 A5"),
        ("6 6 7 8", "F#5 F#5 G#5 A5"),
        ("6 7 7 8", "F#5 G#5 G#5 A5"),
        ("6 6 5", "F5 F5 E5"),
        ("6 8", "F5 A5"),
        ("7 9", "G5 B5"),
        ("5 6 7", "E5 F5 G5"),
        ("7, 1 6, 7, 1", "G#4 A4 F#4 G#4 A4"),
        ("7 r 8", "G#5 A5"),
        ("#6 #7 8", "F#5 G#5 A5"),
        ("b7 8", "Gb5 A5"),
        ("7", "G5"),
    ],
)
def test_melodic_minor(sketch: str, expected: str) -> None:
    """In minor 7 is raised before 8, and 6 before a raised 7, also where they repeat; every other way is natural."""
    assert expected == names(sketch, "Am")


@pytest.mark.parametrize("key", all_keys("minor"), ids=lambda key: key.name)
def test_melodic_minor_is_the_scale_of_the_table(key: Key) -> None:
    """Up and down an octave a minor line is the melodic minor of the table, raised up and natural down."""
    line = in_key(degrees("1 2 3 4 5 6 7 8 7 6 5 4 3 2 1"), key, 4)
    sizes = [between(key.degree(0), note.pitch) for note in notes(line)]
    up, down = SCALES["melodic-minor"].intervals, DESCENDING["melodic-minor"].intervals

    assert [*up, parse_interval("P8"), *reversed(down)] == sizes


@LAWS
@given(LINES, st.sampled_from(all_keys()))
def test_an_octave_higher(line: Phrase[Degree], key: Key) -> None:
    """A line in the next octave is the line seven degrees higher, and the line transposed by an octave."""
    higher = in_key(line, key, 5)

    assert higher == in_key(shifted(line, 7), key, 4)
    assert higher == mapped(in_key(line, key, 4), lambda pitch: transpose(pitch, parse_interval("P8")))


@LAWS
@given(LINES)
def test_only_sixth_and_seventh_are_raised(line: Phrase[Degree]) -> None:
    """Raising touches no degree but the sixth and the seventh, and by one half-step."""
    changed = [(a.pitch, b.pitch) for a, b in zip(notes(line), notes(raised(line)), strict=True) if a != b]

    assert [Degree(old.index, 1) for old, _ in changed] == [new for _, new in changed]
    assert {old.index % 7 for old, _ in changed} <= {5, 6}


@LAWS
@given(LINES)
def test_raised_twice_is_raised_once(line: Phrase[Degree]) -> None:
    """A line that is raised already stays as it is."""
    assert raised(line) == raised(raised(line))


@LAWS
@given(LINES, st.sampled_from(all_keys("major", "dorian", "lydian")))
def test_other_modes_keep_to_their_signature(line: Phrase[Degree], key: Key) -> None:
    """Outside minor every plain degree has just what the signature gives it."""
    assert mapped(line, lambda degree: key.degree(degree.index, 4)) == in_key(line, key, 4)


def test_marks_and_rests_stay() -> None:
    """Key and octave change the pitches alone."""
    line = degrees("[p<]1/8( 7,:te) r/4 7,/2~ 7,:fe* 1?")
    back = mapped(in_key(line, parse_key("Cm"), 4), lambda pitch: pitch.step)

    assert mapped(line, lambda degree: "CDEFGAB"[degree.index % 7]) == back


def test_placed() -> None:
    """A single degree is altered from what the signature gives, and nothing is raised by itself."""
    key = parse_key("Cm")

    assert ["Bb4", "B4", "Bbb4"] == [placed(Degree(6, alter), key, 4).name for alter in (0, 1, -1)]


def test_a_degree_with_three_accidentals_is_refused() -> None:
    """A degree altered past two accidentals is refused."""
    with pytest.raises(BadRequest, match="allowed: up to two"):
        placed(Degree(6, -2), parse_key("Cm"), 4)
