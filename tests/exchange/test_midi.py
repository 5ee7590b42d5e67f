"""MIDI: the same bytes for the same study, and the time that a study takes."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings

from generators.brass.horn import horn
from generators.exchange.midi import midi
from generators.exchange.playing import playing, sounds
from generators.phrase.study import Study
from tests.exchange.samples import SAMPLES, STUDIES, heard_all, strain, study

TRUMPET = horn("trumpet")


@pytest.mark.parametrize("name", SAMPLES)
def test_the_same_study_gives_the_same_bytes(name: str) -> None:
    """Writing a study twice gives identical files."""
    first, second = midi(SAMPLES[name], TRUMPET), midi(SAMPLES[name], TRUMPET)

    assert first == second


@settings(max_examples=30)
@given(STUDIES)
def test_what_sounds_is_what_is_written_with_ties_merged(whole: Study) -> None:
    """Onsets, lengths and pitches are the study's, a tied note being one sound."""
    found = [(s.start * 4, s.length * 4, s.pitch) for s in sounds(whole)]

    assert found == [tuple(note) for note in heard_all(whole, repeats=True)]


def test_a_repeated_strain_is_played_again_after_itself() -> None:
    """Two playings of a bar start a bar apart, and the next strain after both."""
    starts = [start for start, _ in playing(study(strain("1/1", repeats=2), strain("1/1")))]

    assert starts == [Fraction(0), Fraction(1), Fraction(2)]


def test_a_dynamic_holds_until_the_next() -> None:
    """Every note sounds at the last dynamic written before it."""
    found = [s.dynamic for s in sounds(study(strain("1/4 [p]2 3 [ff]4")))]

    assert found == ["", "p", "p", "ff"]


def test_a_whole_file_byte_by_byte() -> None:
    """One written C5 for a whole note at 60, on the Bb trumpet: header, name, tempo, program, meter, key, note, end."""
    expected = (
        "4d546864 00000006 0000 0001 03c0"  # MThd, format 0, one track, 960 ticks
        "4d54726b 00000036"  # MTrk
        "00 ff03 0d 5472756d70657420696e204262"  # Trumpet in Bb
        "00 ff51 03 0f4240"  # a million microseconds a quarter
        "00 c0 38"  # program 56
        "00 ff58 04 04021808 00 ff59 02 fe00"  # 4/4; two flats, major
        "00 90 46 4e 9e00 80 46 00"  # B flat 4 on, 3840 ticks later off
        "00 ff2f 00"
    )
    found = midi(replace(study(strain("8/1")), tempo=60), TRUMPET).hex()

    assert found == expected.replace(" ", "")
