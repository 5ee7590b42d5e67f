"""Another reader of MIDI: mido, which finds the notes, times, tempo, program and keys of the study."""

from fractions import Fraction
from io import BytesIO
from itertools import accumulate

import mido
import pytest
from hypothesis import given, settings

from generators.brass.horn import HORNS, Horn, horn
from generators.exchange.midi import midi
from generators.phrase.study import Study
from tests.exchange.samples import CODE, EB, SAMPLES, STUDIES, heard_all, strain, study

TRUMPET = horn("trumpet")
Sounding = tuple[Fraction, Fraction, int]


def _read(whole: Study, on: Horn = TRUMPET) -> tuple[list[tuple[Fraction, mido.Message]], mido.MidiFile]:
    file = mido.MidiFile(file=BytesIO(midi(whole, on)))
    times = accumulate(message.time for message in file.tracks[0])
    return [(Fraction(at, file.ticks_per_beat), m) for at, m in zip(times, file.tracks[0], strict=True)], file


def _notes(whole: Study, on: Horn = TRUMPET) -> list[Sounding]:
    begun: dict[int, Fraction] = {}
    result: list[Sounding] = []
    for at, message in _read(whole, on)[0]:
        if message.type == "note_on":
            begun[message.note] = at
        elif message.type == "note_off":
            start = begun.pop(message.note)
            result.append((start, at - start, message.note))
    assert not begun
    return result


def _expected(whole: Study, on: Horn = TRUMPET) -> list[Sounding]:
    return [(n.start, n.length, n.pitch.midi + on.interval.half_steps) for n in heard_all(whole, repeats=True)]


@pytest.mark.parametrize("name", SAMPLES)
def test_mido_finds_every_note(name: str) -> None:
    """Onsets, lengths and concert pitches are exact, repeats played and ties merged."""
    found = _notes(SAMPLES[name])

    assert found == _expected(SAMPLES[name])


@settings(max_examples=25)
@given(STUDIES)
def test_mido_finds_every_note_of_any_study(whole: Study) -> None:
    """The same holds for generated studies."""
    found = _notes(whole)

    assert found == _expected(whole)


@pytest.mark.parametrize("name", HORNS)
def test_mido_finds_the_horn(name: str) -> None:
    """Program and concert pitches are those of the horn."""
    messages, _ = _read(SAMPLES["marks"], horn(name))

    assert [m.program for _, m in messages if m.type == "program_change"] == [horn(name).program]
    assert _notes(SAMPLES["marks"], horn(name)) == _expected(SAMPLES["marks"], horn(name))


def test_mido_finds_tempo_meter_and_the_sounding_keys() -> None:
    """The keys are those that sound on the horn, each where its strain begins, minor named as minor."""
    messages, _ = _read(study(strain("1/1", EB), strain("1/1")))
    found = [(at, m.key) for at, m in messages if m.type == "key_signature"]

    assert found == [(0, "Db"), (4, "Bb")]
    assert [round(mido.tempo2bpm(m.tempo)) for _, m in messages if m.type == "set_tempo"] == [72]


@pytest.mark.parametrize("code", ["", CODE])
def test_mido_finds_the_code(code: str) -> None:
    """The code of the music is the one text of the track; without a code there is none."""
    (track,) = mido.MidiFile(file=BytesIO(midi(SAMPLES["marks"], TRUMPET, code))).tracks

    assert [code] * bool(code) == [m.text for m in track if m.type == "text"]


@pytest.mark.parametrize("name", SAMPLES)
def test_mido_finds_the_length_of_the_study(name: str) -> None:
    """The file lasts as long as the study does at its tempo, rests at the end included."""
    whole = SAMPLES[name]
    _, file = _read(whole)

    assert file.length == pytest.approx(whole.playing + whole.resting, rel=1e-4)
