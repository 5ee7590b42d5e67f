"""Two other readers of MusicXML: music21's parser and verovio, which engraves it and plays it."""

import base64
from fractions import Fraction
from io import BytesIO

import mido
import pytest
import verovio
from music21 import converter, pitch, stream

from generators.brass.horn import HORNS, Horn, horn
from generators.exchange.musicxml import musicxml
from generators.phrase.study import Study
from generators.theory.interval import transpose
from tests.exchange.samples import SAMPLES, heard_all

TRUMPET = horn("trumpet")


def _read(whole: Study, on: Horn = TRUMPET) -> stream.Part:
    return converter.parseData(musicxml(whole, on).decode(), format="musicxml").parts[0]


def _name(read: pitch.Pitch) -> tuple[str, int, int]:
    return read.step, int(read.alter), read.octave or 0


@pytest.mark.parametrize("name", SAMPLES)
def test_music21_reads_the_same_notes(name: str) -> None:
    """Another parser finds each note's onset, length and spelled pitch, ties merged."""
    notes = _read(SAMPLES[name]).stripTies().flatten().notes
    found = [(Fraction(n.offset), Fraction(n.quarterLength), _name(n.pitch)) for n in notes]
    expected = [
        (n.start, n.length, (n.pitch.step, n.pitch.alter, n.pitch.octave)) for n in heard_all(SAMPLES[name], repeats=False)
    ]

    assert found == expected


@pytest.mark.parametrize("name", SAMPLES)
def test_music21_reads_the_same_keys_and_meters(name: str) -> None:
    """Key signatures and meters stand at the bars where their strains begin."""
    found: list[tuple[int, str]] = []
    for bar in _read(SAMPLES[name])[stream.Measure]:
        signature = bar.keySignature.sharps if bar.keySignature else found[-1][0]
        found.append((signature, bar.timeSignature.ratioString if bar.timeSignature else found[-1][1]))
    expected = [(s.key.fifths, str(s.meter)) for s in SAMPLES[name].strains for _ in s.bars]

    assert found == expected


@pytest.mark.parametrize("name", HORNS)
def test_music21_hears_the_concert_pitch(name: str) -> None:
    """Turned to sounding pitch by the reader, the part is the horn's concert pitch, rightly spelled."""
    part = _read(SAMPLES["marks"], horn(name)).toSoundingPitch()
    found = [_name(n.pitch) for n in part.stripTies().flatten().notes]
    sounding = [transpose(n.pitch, horn(name).interval) for n in heard_all(SAMPLES["marks"], repeats=False)]

    assert found == [(p.step, p.alter, p.octave) for p in sounding]


def _engraver(data: bytes) -> verovio.toolkit:
    verovio.enableLog(verovio.LOG_WARNING)
    toolkit = verovio.toolkit()
    toolkit.loadData(data.decode())
    return toolkit


@pytest.mark.parametrize("name", SAMPLES)
def test_verovio_engraves_it_without_a_word(name: str, capfd: pytest.CaptureFixture[str]) -> None:
    """An engraver draws every page of it and logs nothing."""
    toolkit = _engraver(musicxml(SAMPLES[name], TRUMPET, fingerings=True))
    pages = [toolkit.renderToSVG(page) for page in range(1, toolkit.getPageCount() + 1)]
    log = capfd.readouterr()

    assert pages
    assert all("<svg" in page for page in pages)
    assert (log.out, log.err) == ("", "")


def test_verovio_would_complain(capfd: pytest.CaptureFixture[str]) -> None:
    """A slur that never ends is logged, so an empty log proves something."""
    _engraver(musicxml(SAMPLES["marks"], TRUMPET).replace(b'<slur type="stop" number="1" />', b""))

    assert "slur" in capfd.readouterr().err


@pytest.mark.parametrize("name", [name for name in SAMPLES if name != "repeats"])
def test_verovio_plays_the_concert_pitches(name: str) -> None:
    """The MIDI that the engraver makes of the file sounds the study's concert pitches in order."""
    toolkit = _engraver(musicxml(SAMPLES[name], TRUMPET))
    played = mido.MidiFile(file=BytesIO(base64.b64decode(toolkit.renderToMIDI())))
    found = [m.note for track in played.tracks for m in track if m.type == "note_on" and m.velocity]

    assert found == [transpose(n.pitch, TRUMPET.interval).midi for n in heard_all(SAMPLES[name], repeats=False)]
