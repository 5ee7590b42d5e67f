"""Scales, thirds, chords and their resolutions, worked out again by music21 from the MusicXML that is saved."""

from itertools import pairwise

import pytest
from music21 import converter, interval, key, note, roman, scale

from generators.brass.horn import horn
from generators.exchange.musicxml import musicxml
from generators.studies.arpeggios import ArpeggiosRequest
from generators.studies.catalogue import make
from generators.studies.kit.request import Request
from generators.studies.scales import ScalesRequest
from generators.theory.key import all_keys

MAJORS = [found.name for found in all_keys("major")]
MINORS = [found.name for found in all_keys("minor")]
# The degree of the key on which each seventh stands, by music21's numerals.
SEVENTHS = [("dominant-seventh", "V7", MAJORS), ("diminished-seventh", "viio7", MINORS), ("half-diminished", "iiø7", MINORS)]


def _notes(request: Request) -> tuple[key.Key, list[note.Note]]:
    """Return the key and the written notes of a study of one strain, as music21 reads them."""
    score = converter.parseData(musicxml(make(request), horn("trumpet")).decode(), format="musicxml")
    part = score.parts[0].toWrittenPitch()
    return part[key.KeySignature].first().asKey(), list(part[note.Note])


@pytest.mark.parametrize("rhythm", ["quarters", "eighths", "dotted", "triplets", "sixteenths"])
@pytest.mark.parametrize("name", MAJORS[::3])
def test_an_octave_is_eight_notes_up_and_eight_down(name: str, rhythm: str) -> None:
    """A straight scale of an octave is the scale up, and the same notes down; its top may be played once more."""
    _, line = _notes(ScalesRequest(keys=(name,), octaves="1", rhythm=rhythm, articulation="tongued", high="C6"))
    up = [pitch.name for pitch in scale.MajorScale(line[0].pitch.name).getPitches(line[0].pitch, line[0].pitch.transpose("P8"))]
    names = [one.pitch.name for one in line]

    assert names in ([*up, *up[::-1]], [*up, *up[-2::-1]])


@pytest.mark.parametrize("name", [*MAJORS[1::3], *MINORS[::3]])
def test_thirds_are_thirds(name: str) -> None:
    """In thirds every note but the long ones is half of a third, and the next third begins a step on."""
    _, line = _notes(ScalesRequest(keys=(name,), pattern="thirds", octaves="1", articulation="tongued", high="C6"))
    top = next(i for i, (a, b) in enumerate(pairwise(line)) if a.pitch == b.pitch)
    for way, turned in ((line[:top], 1), (line[top + 1 : -1], -1)):
        pairs = [(way[i], way[i + 1]) for i in range(0, len(way) - 1, 2)]

        assert {3 * turned} == {interval.Interval(a, b).generic.directed for a, b in pairs}
        assert {2 * turned} == {interval.Interval(a, b).generic.directed for (a, _), (b, _) in pairwise(pairs)}


@pytest.mark.parametrize(
    ("kind", "numeral", "name"), [(kind, numeral, name) for kind, numeral, keys in SEVENTHS for name in keys]
)
def test_sevenths_belong_to_their_key_and_come_home(kind: str, numeral: str, name: str) -> None:
    """A seventh holds the notes of its degree in the key of its signature, and comes home, a dominant's by way of the third."""
    signature, line = _notes(ArpeggiosRequest(keys=(name,), kind=kind, octaves="1", pattern="straight", high="C6"))
    home = signature if numeral == "V7" else signature.relative
    chord = roman.RomanNumeral(numeral, home)

    last = max(i for i, one in enumerate(line) if one.pitch.pitchClass == chord.root().pitchClass)

    assert {one.pitch.pitchClass for one in line[: last + 1]} == {pitch.pitchClass for pitch in chord.pitches}
    assert chord.root().pitchClass == line[0].pitch.pitchClass
    assert home.tonic.pitchClass == line[-1].pitch.pitchClass
    if last < len(line) - 2:
        seventh, third = line[-3:-1]
        assert (chord.seventh.pitchClass, home.pitchFromDegree(3).pitchClass) == (
            seventh.pitch.pitchClass,
            third.pitch.pitchClass,
        )
        assert -2 <= third.pitch.midi - seventh.pitch.midi <= -1
