"""Keys: signatures, degrees, names, and respelling where a signature would pass seven accidentals."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.theory.interval import Interval, parse_interval, transpose
from generators.theory.key import FIFTHS, MODES, SHARP_ORDER, Key, all_keys, moved, parse_key, respelled, way, with_mode
from generators.theory.pitch import STEPS, parse_pitch

LAWS = settings(max_examples=80)
KEYS = st.sampled_from(all_keys())
# The circle of fifths from seven flats to seven sharps, as printed in every method.
MAJORS = ["Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#"]
MINORS = ["Abm", "Ebm", "Bbm", "Fm", "Cm", "Gm", "Dm", "Am", "Em", "Bm", "F#m", "C#m", "G#m", "D#m", "A#m"]
CIRCLE = [(name, i - 7) for names in (MAJORS, MINORS) for i, name in enumerate(names)]


def test_thirty_keys() -> None:
    """There are fifteen major and fifteen minor keys, each once."""
    keys = all_keys()

    assert set(MAJORS + MINORS) == {key.name for key in keys}
    assert 30 == len(keys)


@pytest.mark.parametrize("mode", MODES)
def test_fifteen_keys_of_each_mode(mode: str) -> None:
    """Each mode has one key for every signature from seven flats to seven sharps."""
    keys = all_keys(mode)

    assert list(range(-7, 8)) == sorted(key.fifths for key in keys)


@pytest.mark.parametrize(("name", "fifths"), CIRCLE)
def test_signatures(name: str, fifths: int) -> None:
    """The signature of every key is the one on the circle of fifths."""
    key = parse_key(name)

    assert fifths == key.fifths


@pytest.mark.parametrize(("name", "fifths"), CIRCLE)
def test_accidentals_stand_in_order(name: str, fifths: int) -> None:
    """Sharps come in the order F C G D A E B, flats in the opposite order."""
    key = parse_key(name)
    altered = {step: key.alteration(step) for step in STEPS if key.alteration(step)}

    assert (dict.fromkeys("FCGDAEB"[:fifths], 1) if fifths > 0 else dict.fromkeys("BEADGCF"[:-fifths], -1)) == altered


def test_tables_hold_every_step_once() -> None:
    """The tables of fifths and of sharps are complete, in one order and without doubles."""
    assert sorted(STEPS) == sorted(SHARP_ORDER)
    assert list(SHARP_ORDER) == sorted(FIFTHS, key=FIFTHS.__getitem__)
    assert len(MODES) == len(set(MODES.values()))


@pytest.mark.parametrize("key", all_keys(), ids=lambda key: key.name)
def test_name_reads_back(key: Key) -> None:
    """Each of the thirty keys is read back from its name."""
    assert key == parse_key(key.name)


@pytest.mark.parametrize("key", all_keys(), ids=lambda key: key.name)
def test_pretty_reads_back(key: Key) -> None:
    """Each of the thirty keys is read back from its name on the page."""
    assert key == parse_key(key.pretty)


@pytest.mark.parametrize("text", ["Ebm", "ebm", "E♭m", "Eb minor", "Eb min", "Ebmin", " Ebm "])
def test_spellings_of_one_key(text: str) -> None:
    """All usual ways to type a minor key give the same key."""
    assert Key("E", -1, "minor") == parse_key(text)


@pytest.mark.parametrize("text", ["", "H", "C##", "Ebb", "C dorian", "mC", "C4", "C#mm"])
def test_an_unknown_key_is_refused(text: str) -> None:
    """The refusal of an unknown key names it, tells what to write and gives an example."""
    with pytest.raises(BadRequest) as refusal:
        parse_key(text)

    assert [True] * 3 == [part in str(refusal.value) for part in (f'"{text}"', "A to G", "F#m")]


@pytest.mark.parametrize(
    ("text", "count", "neighbour"),
    [
        ("D#", 9, "Eb"),
        ("G#", 8, "Ab"),
        ("A#", 10, "Bb"),
        ("E#", 11, "F"),
        ("B#", 12, "C"),
        ("Fb", 8, "E"),
        ("Dbm", 8, "C#m"),
        ("Gbm", 9, "F#m"),
        ("Cbm", 10, "Bm"),
        ("Fbm", 11, "Em"),
        ("E#m", 8, "Fm"),
        ("B#m", 9, "Cm"),
    ],
)
def test_too_many_accidentals_are_refused(text: str, count: int, neighbour: str) -> None:
    """A key with more than seven accidentals is refused with their number, the limit and its neighbour."""
    with pytest.raises(BadRequest) as refusal:
        parse_key(text)

    parts = (f'"{text}"', f"{count} accidentals", "up to seven", f"write {neighbour}.")
    assert [True] * 4 == [part in str(refusal.value) for part in parts]


@pytest.mark.parametrize("key", all_keys(*MODES), ids=lambda key: key.name)
def test_a_written_key_is_not_respelled(key: Key) -> None:
    """A key with at most seven accidentals stays as it is."""
    assert key == respelled(key)


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("key", all_keys(), ids=lambda key: key.name)
def test_parallel_keys_sound_on_one_tonic(key: Key, mode: str) -> None:
    """Another mode on the same tonic has that tonic by sound, its own mode, and a signature that can be printed."""
    other = with_mode(key, mode)

    assert (key.degree(0).midi % 12, mode, True) == (other.degree(0).midi % 12, other.mode, abs(other.fifths) <= 7)


@pytest.mark.parametrize(("name", "mode", "other"), [("Db", "minor", "C#m"), ("G#m", "major", "Ab"), ("C", "minor", "Cm")])
def test_parallel_keys(name: str, mode: str, other: str) -> None:
    """The parallel key is respelled only where its signature would pass seven accidentals."""
    key = with_mode(parse_key(name), mode)

    assert other == key.name


@pytest.mark.parametrize(
    ("concert", "written"), [("Bb", "C"), ("Eb", "F"), ("E", "F#"), ("F#", "G#"), ("Cm", "Dm"), ("C#", "D#"), ("Gm", "Am")]
)
def test_written_key_of_a_b_flat_trumpet(concert: str, written: str) -> None:
    """A B flat trumpet reads a major second above the concert key, in a key that can be printed."""
    key = moved(parse_key(concert), parse_interval("M2"))

    assert {"G#": "Ab", "D#": "Eb"}.get(written, written) == key.name


@LAWS
@given(KEYS, st.sampled_from([parse_interval(name) for name in ("m2", "M2", "m3", "M3", "P4", "P5", "M6", "P8", "M9")]))
def test_moved_up_then_down_sounds_the_same(key: Key, interval: Interval) -> None:
    """A key moved by an interval and back has the same mode, the same tonic by sound, and at most seven accidentals."""
    back = moved(moved(key, interval), -interval)

    assert (key.mode, key.degree(0).midi % 12) == (back.mode, back.degree(0).midi % 12)
    assert abs(back.fifths) <= 7


@LAWS
@given(st.sampled_from(all_keys(*MODES)), st.integers(-21, 21), st.integers(2, 5))
def test_seven_degrees_higher_is_an_octave(key: Key, index: int, octave: int) -> None:
    """The degree seven steps higher is the same note an octave higher."""
    low, high = key.degree(index, octave), key.degree(index + 7, octave)

    assert (low.step, low.alter, low.octave + 1) == (high.step, high.alter, high.octave)


@LAWS
@given(st.sampled_from(all_keys(*MODES)), st.integers(-21, 21))
def test_degrees_rise_by_steps(key: Key, index: int) -> None:
    """From one degree to the next it is always a minor or a major second."""
    low, high = key.degree(index), key.degree(index + 1)

    assert 1 == high.place - low.place
    assert high.midi - low.midi in (1, 2)


@pytest.mark.parametrize(
    ("name", "notes"),
    [
        ("C", "C4 D4 E4 F4 G4 A4 B4 C5"),
        ("Eb", "Eb4 F4 G4 Ab4 Bb4 C5 D5 Eb5"),
        ("B", "B4 C#5 D#5 E5 F#5 G#5 A#5 B5"),
        ("Cb", "Cb4 Db4 Eb4 Fb4 Gb4 Ab4 Bb4 Cb5"),
        ("F#m", "F#4 G#4 A4 B4 C#5 D5 E5 F#5"),
        ("Cm", "C4 D4 Eb4 F4 G4 Ab4 Bb4 C5"),
    ],
)
def test_degrees(name: str, notes: str) -> None:
    """The degrees of a key are the scale of its signature, as the textbooks have it."""
    key = parse_key(name)

    assert [parse_pitch(note) for note in notes.split()] == [key.degree(i) for i in range(8)]


def test_pretty() -> None:
    """The page shows real accidentals and the mode in words."""
    shown = [parse_key(name).pretty for name in ("Eb", "F#m", "C")]

    assert ["E♭ major", "F♯ minor", "C major"] == shown


def test_tonic_and_name_of_a_mode() -> None:
    """A church mode is named in words after its tonic."""
    key = Key("B", -1, "dorian")

    assert ("Bb", "Bb dorian") == (key.tonic, key.name)


@given(st.sampled_from(all_keys("major")), st.sampled_from(all_keys("major")), st.integers(-3, 3))
def test_a_way_leads_from_tonic_to_tonic(key: Key, there: Key, octaves: int) -> None:
    """The way between two keys, however many octaves, turns the scale of the one into that of the other."""
    half_steps = (there.degree(0).midi - key.degree(0).midi) % 12 + 12 * octaves
    moved_scale = [transpose(key.degree(index), way(key, there, half_steps)) for index in range(7)]

    assert [there.degree(index).midi % 12 for index in range(7)] == [pitch.midi % 12 for pitch in moved_scale]
    assert [there.degree(index).step for index in range(7)] == [pitch.step for pitch in moved_scale]
