"""Two other readers of MusicXML: music21's parser and verovio, which engraves it and plays it."""

import base64
from fractions import Fraction
from functools import cache
from io import BytesIO

import mido
import pytest
import verovio
from music21 import clef, converter, pitch, stream

from generators.brass.horn import HORNS, horn
from generators.exchange.musicxml import musicxml
from generators.phrase.label import Label
from generators.phrase.note import Note
from generators.phrase.study import Strain
from generators.studies.catalogue import make
from generators.studies.flow.study import FlowRequest
from generators.theory.interval import transpose
from generators.theory.key import parse_key
from generators.theory.pitch import parse_pitch
from tests.exchange.samples import CODE, SAMPLES, heard_all, study, written

TRUMPET = horn("trumpet")


def _score(data: bytes) -> stream.Score:
    score: stream.Score = converter.parseData(data.decode(), format="musicxml")
    return score


@cache
def _read(name: str, on: str = "trumpet") -> stream.Part:
    """Return the part of a sample as music21 reads it, read once."""
    return _score(written(name, on)).parts[0]


def _name(read: pitch.Pitch) -> tuple[str, int, int]:
    return read.step, int(read.alter), read.octave or 0


@pytest.mark.parametrize("name", SAMPLES)
def test_music21_reads_the_same_notes(name: str) -> None:
    """Another parser finds each note's onset, length and spelled pitch, ties merged."""
    notes = _read(name).stripTies().flatten().notes
    found = [(Fraction(n.offset), Fraction(n.quarterLength), _name(n.pitch)) for n in notes]
    expected = [
        (n.start, n.length, (n.pitch.step, n.pitch.alter, n.pitch.octave)) for n in heard_all(SAMPLES[name], repeats=False)
    ]

    assert found == expected


@pytest.mark.parametrize("name", SAMPLES)
def test_music21_reads_the_same_keys_and_meters(name: str) -> None:
    """Key signatures and meters stand at the bars where their strains begin."""
    found: list[tuple[int, str]] = []
    for bar in _read(name)[stream.Measure]:
        signature = bar.keySignature.sharps if bar.keySignature else found[-1][0]
        found.append((signature, bar.timeSignature.ratioString if bar.timeSignature else found[-1][1]))
    expected = [(s.key.fifths, str(s.meter)) for s in SAMPLES[name].strains for _ in s.bars]

    assert found == expected


@pytest.mark.parametrize("name", HORNS)
def test_music21_hears_the_concert_pitch(name: str) -> None:
    """Turned to sounding pitch by the reader, the part is the horn's concert pitch, rightly spelled."""
    part = _read("marks", name).toSoundingPitch()
    found = [_name(n.pitch) for n in part.stripTies().flatten().notes]
    sounding = [transpose(n.pitch, horn(name).interval) for n in heard_all(SAMPLES["marks"], repeats=False)]

    assert found == [(p.step, p.alter, p.octave) for p in sounding]


# The first five notes of concert B flat, as beginners of a band read them: common practice, printed on scale pages of school
# bands ("concert B flat is C for B flat instruments, G for E flat ones"; addresses not kept). Octaves from memory.
FIVE = {
    "trumpet": ("C4 D4 E4 F4 G4", "Bb3 C4 D4 Eb4 F4", clef.TrebleClef),
    "cornet": ("C4 D4 E4 F4 G4", "Bb3 C4 D4 Eb4 F4", clef.TrebleClef),
    "tenor-horn": ("G4 A4 B4 C5 D5", "Bb3 C4 D4 Eb4 F4", clef.TrebleClef),
    "baritone": ("C4 D4 E4 F4 G4", "Bb2 C3 D3 Eb3 F3", clef.TrebleClef),
    "euphonium": ("C4 D4 E4 F4 G4", "Bb2 C3 D3 Eb3 F3", clef.TrebleClef),
    "trombone": ("Bb2 C3 D3 Eb3 F3", "Bb2 C3 D3 Eb3 F3", clef.BassClef),
    "euphonium-bass-clef": ("Bb2 C3 D3 Eb3 F3", "Bb2 C3 D3 Eb3 F3", clef.BassClef),
}


@pytest.mark.parametrize("on", FIVE)
def test_a_band_begins_together(on: str) -> None:
    """The first five notes that a beginner reads are read in the horn's clef and sound concert B flat."""
    reads, sounds, sign = FIVE[on]
    music = tuple(Note(parse_pitch(name), Fraction(1, 4)) for name in f"{reads} {reads.split()[0]}".split()[:4])
    last = Note(parse_pitch(reads.split()[4]), Fraction(1))
    key = parse_key(reads.split()[0][:-1])
    part = _score(musicxml(study(Strain(Label(key=key), key, (*music, last))), horn(on))).parts[0]
    concert = [note.pitch.nameWithOctave.replace("-", "b") for note in part.toSoundingPitch().flatten().notes]

    assert [sign] == [type(found) for found in part.flatten().getElementsByClass(clef.Clef)]
    assert reads.split() == [note.pitch.nameWithOctave.replace("-", "b") for note in part.flatten().notes]
    assert sounds.split() == concert


@pytest.mark.parametrize("on", [name for name, row in HORNS.items() if row.clef.name == "bass"])
def test_a_study_in_bass_clef_sounds_as_written(on: str) -> None:
    """A whole study for a horn in bass clef is read with its notes, which sound as they are written; verovio agrees."""
    whole = make(FlowRequest(horn=on, keys=("Eb", "D")))
    data = musicxml(whole, horn(on))
    expected = [n.pitch.midi for n in heard_all(whole, repeats=False)]
    part = _score(data).parts[0]

    assert expected == [n.pitch.midi for n in part.stripTies().flatten().notes]
    assert expected == [n.pitch.midi for n in part.toSoundingPitch().stripTies().flatten().notes]
    assert expected == _played(_engraver(data))
    assert 'shape="F" line="4"' in _engraver(data).getMEI()


def test_music21_finds_title_player_and_code() -> None:
    """Another parser finds what the music is called, for whom it is, and the code of the music."""
    found = _score(written("marks")).metadata

    assert SAMPLES["marks"].title == found.bestTitle
    assert ["second cornet"] == [contributor.name for contributor in found.contributors]
    assert (CODE,) == tuple(map(str, found.getCustom("music")))


def _engraver(data: bytes) -> verovio.toolkit:
    verovio.enableLog(verovio.LOG_WARNING)
    toolkit = verovio.toolkit()
    toolkit.loadData(data.decode())
    return toolkit


def _played(toolkit: verovio.toolkit) -> list[int]:
    """Return the pitches of the MIDI that verovio makes, in order."""
    played = mido.MidiFile(file=BytesIO(base64.b64decode(toolkit.renderToMIDI())))
    return [m.note for track in played.tracks for m in track if m.type == "note_on" and m.velocity]


@pytest.mark.parametrize("name", SAMPLES)
def test_verovio_engraves_it_without_a_word(name: str, capfd: pytest.CaptureFixture[str]) -> None:
    """An engraver draws every page of it and logs nothing."""
    toolkit = _engraver(written(name, fingerings=True))
    pages = [toolkit.renderToSVG(page) for page in range(1, toolkit.getPageCount() + 1)]
    log = capfd.readouterr()

    assert pages
    assert all("<svg" in page for page in pages)
    assert (log.out, log.err) == ("", "")


def test_verovio_would_complain(capfd: pytest.CaptureFixture[str]) -> None:
    """A slur that never ends is logged, so an empty log proves something."""
    _engraver(written("marks").replace(b'<slur type="stop" number="1" />', b""))

    assert "slur" in capfd.readouterr().err


@pytest.mark.parametrize("name", [name for name in SAMPLES if name != "repeats"])
def test_verovio_plays_the_concert_pitches(name: str) -> None:
    """The MIDI that the engraver makes of the file sounds the study's concert pitches in order."""
    found = _played(_engraver(written(name)))

    assert found == [transpose(n.pitch, TRUMPET.interval).midi for n in heard_all(SAMPLES[name], repeats=False)]
