"""Our keys, intervals, scales and chords are those of music21, an independent library, in every key."""

from collections.abc import Iterable
from typing import Any

import pytest
from music21 import harmony, scale
from music21.interval import Interval as OracleInterval
from music21.key import Key as OracleKey
from music21.key import KeySignature
from music21.pitch import Pitch as OraclePitch

from generators.theory.interval import between, parse_interval, transpose
from generators.theory.key import MODES, Key, all_keys, parse_key
from generators.theory.pitch import STEPS, Pitch
from generators.theory.scales import CHORDS, DESCENDING, SCALES, Row

KEYS = all_keys()
NAMES = [
    "P1",
    "A1",
    "m2",
    "M2",
    "A2",
    "d3",
    "m3",
    "M3",
    "d4",
    "P4",
    "A4",
    "d5",
    "P5",
    "A5",
    "m6",
    "M6",
    "A6",
    "d7",
    "m7",
    "M7",
    "d8",
    "P8",
    "m9",
    "M9",
    "m10",
    "M10",
    "P11",
    "P12",
    "m13",
    "M13",
    "m14",
    "M14",
    "P15",
]
PITCHES = [Pitch(step, alter, 4) for step in STEPS for alter in (-1, 0, 1)]
ORACLE_SCALES = {
    "major": scale.MajorScale,
    "natural-minor": scale.MinorScale,
    "harmonic-minor": scale.HarmonicMinorScale,
    "melodic-minor": scale.MelodicMinorScale,
    "dorian": scale.DorianScale,
    "phrygian": scale.PhrygianScale,
    "lydian": scale.LydianScale,
    "mixolydian": scale.MixolydianScale,
    "locrian": scale.LocrianScale,
}
BY_SOUND = {"whole-tone": scale.WholeToneScale, "chromatic": scale.ChromaticScale}
ORACLE_CHORDS = {name: "half-diminished-seventh" if name == "half-diminished" else name for name in CHORDS}


def oracle(pitch: Pitch) -> OraclePitch:
    """Return our pitch as a pitch of music21."""
    return OraclePitch(step=pitch.step, accidental=pitch.alter, octave=pitch.octave)


def ours(pitches: Iterable[Any]) -> list[Pitch]:
    """Return pitches of music21 as ours, spelling kept."""
    return [Pitch(p.step, int(p.alter), p.implicitOctave) for p in pitches]


def oracle_key(key: Key) -> OracleKey:
    """Return our key as a key of music21."""
    return OracleKey(key.tonic.replace("b", "-"), key.mode)


def built(row: Row, root: Pitch) -> list[Pitch]:
    """Return a row's notes upwards from a root, with the root above for a scale."""
    octave = [parse_interval("P8")] if row in SCALES.values() else []
    return [transpose(root, interval) for interval in (*row.intervals, *octave)]


def roots(row: Row) -> list[Any]:
    """Return the root of a row in each of the fifteen keys of its mode, as cases of a test."""
    return [pytest.param(row, key.degree(0), id=f"{row.name}-{key.tonic}") for key in all_keys(row.mode or "major")]


@pytest.mark.parametrize("key", all_keys(*MODES), ids=lambda key: key.name)
def test_signature(key: Key) -> None:
    """The signature of each key of each mode is the oracle's."""
    assert oracle_key(key).sharps == key.fifths


@pytest.mark.parametrize("key", KEYS, ids=lambda key: key.name)
def test_key_from_signature(key: Key) -> None:
    """The oracle names the same key for the signature."""
    named = KeySignature(key.fifths).asKey(key.mode).tonic.name.replace("-", "b")

    assert named == key.tonic


@pytest.mark.parametrize("key", KEYS, ids=lambda key: key.name)
def test_alterations(key: Key) -> None:
    """The signature alters the same steps as the oracle's, in the same way."""
    signature = KeySignature(key.fifths)
    signs = {step: signature.accidentalByStep(step) for step in STEPS}

    assert {step: int(sign.alter) if sign else 0 for step, sign in signs.items()} == {s: key.alteration(s) for s in STEPS}


@pytest.mark.parametrize("key", all_keys(*MODES), ids=lambda key: key.name)
def test_degrees(key: Key) -> None:
    """The degrees of each key of each mode, over one octave, are the oracle's."""
    low, high = oracle(key.degree(0)), oracle(key.degree(7))

    assert ours(oracle_key(key).getPitches(low, high)) == [key.degree(i) for i in range(8)]


@pytest.mark.parametrize("key", KEYS, ids=lambda key: key.name)
def test_names_are_read_alike(key: Key) -> None:
    """The oracle reads the same tonic and mode from the key's name."""
    tonic = key.step + key.tonic[1:].replace("b", "-")
    read = OracleKey(tonic.lower() if key.mode == "minor" else tonic)

    assert (read.tonic.name.replace("-", "b"), read.mode) == (parse_key(key.name).tonic, parse_key(key.name).mode)


@pytest.mark.parametrize("pitch", PITCHES, ids=str)
def test_midi_numbers(pitch: Pitch) -> None:
    """Every spelled pitch has the oracle's MIDI number, also across the octave line."""
    assert oracle(pitch).ps == pitch.midi


# The oracle has no unison downwards.
@pytest.mark.parametrize("name", [*NAMES, *(f"-{name}" for name in NAMES if name != "P1")])
def test_transposition(name: str) -> None:
    """Each pitch transposed by each interval is spelled as the oracle spells it."""
    interval, other = parse_interval(name), OracleInterval(name)
    expected = {pitch: other.transposePitch(oracle(pitch)) for pitch in PITCHES}
    spellable = [pitch for pitch in PITCHES if abs(expected[pitch].alter) <= 2]

    assert ours(expected[pitch] for pitch in spellable) == [transpose(pitch, interval) for pitch in spellable]


@pytest.mark.parametrize("low", PITCHES, ids=str)
def test_intervals_between(low: Pitch) -> None:
    """The interval between any two pitches has the oracle's steps and half-steps."""
    found = [OracleInterval(oracle(low), oracle(high)) for high in PITCHES]
    measured = [between(low, high) for high in PITCHES]

    assert [i.semitones for i in found] == [i.half_steps for i in measured]
    assert [i.generic.staffDistance for i in found] == [i.steps for i in measured]


@pytest.mark.parametrize(("row", "root"), [case for name in ORACLE_SCALES for case in roots(SCALES[name])])
def test_scale_up(row: Row, root: Pitch) -> None:
    """Each scale upwards in all its keys is the oracle's, note for note and spelled alike."""
    low, high = oracle(root), oracle(transpose(root, parse_interval("P8")))

    assert ours(ORACLE_SCALES[row.name](low).getPitches(low, high)) == built(row, root)


@pytest.mark.parametrize(("row", "root"), [case for name in ORACLE_SCALES for case in roots(SCALES[name])])
def test_scale_down(row: Row, root: Pitch) -> None:
    """Each scale downwards in all its keys is the oracle's: melodic minor alone comes down another way."""
    low, high = oracle(root), oracle(transpose(root, parse_interval("P8")))
    down = ORACLE_SCALES[row.name](low).getPitches(low, high, direction=scale.Direction.DESCENDING)

    assert ours(down) == built(DESCENDING.get(row.name, row), root)[::-1]


@pytest.mark.parametrize(("row", "root"), [case for name in BY_SOUND for case in roots(SCALES[name])])
def test_scale_by_sound(row: Row, root: Pitch) -> None:
    """Whole tone and chromatic, which have no spelling of their own, sound as the oracle's do."""
    low = oracle(root)
    steps = len(row.intervals)
    sounds = [BY_SOUND[row.name](low).pitchFromDegree(i + 1, minPitch=low).ps for i in range(steps)]

    assert sounds == [pitch.midi for pitch in built(row, root)[:steps]]


def test_every_scale_is_held_against_the_oracle() -> None:
    """No row of the table goes without its oracle."""
    assert set(SCALES) == {*ORACLE_SCALES, *BY_SOUND}


@pytest.mark.parametrize(("row", "root"), [case for name in CHORDS for case in roots(CHORDS[name])])
def test_chord(row: Row, root: Pitch) -> None:
    """Each chord in all its keys is the oracle's chord of that kind, spelled alike."""
    chord = harmony.ChordSymbol(root=root.name[:-1].replace("b", "-"), kind=ORACLE_CHORDS[row.name])
    names = [pitch.name.replace("-", "b") for pitch in chord.pitches]

    assert names == [pitch.name.rstrip("0123456789") for pitch in built(row, root)]
