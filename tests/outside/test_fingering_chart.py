"""Fingerings against published charts.

F#3 to C#6, alternates and the four-valve column: chart "trumpet overtone series", image description, Wikimedia Commons, read
in a mirror copy, address not kept. The chart's alternate for E♭5 repeats the regular 2, a slip, and is left out. D6 to G6: from
memory. The gap and the pedals: two teaching articles, "Some ideas about pedal tones" (26 June 2018) and "The fingerings I use
on pedals" (22 October 2018). What asks for the slide: Wikipedia, "Brass instrument", en.wikipedia.org/wiki/Brass_instrument,
read 2026-11-25.
"""

import pytest

from generators.brass.fingering import fingerings, usual
from generators.brass.horn import HORNS, Horn
from generators.theory.pitch import parse_pitch

REGULAR = {
    "F#3": "1-2-3",
    "G3": "1-3",
    "Ab3": "2-3",
    "A3": "1-2",
    "Bb3": "1",
    "B3": "2",
    "C4": "0",
    "C#4": "1-2-3",
    "D4": "1-3",
    "Eb4": "2-3",
    "E4": "1-2",
    "F4": "1",
    "F#4": "2",
    "G4": "0",
    "Ab4": "2-3",
    "A4": "1-2",
    "Bb4": "1",
    "B4": "2",
    "C5": "0",
    "C#5": "1-2",
    "D5": "1",
    "Eb5": "2",
    "E5": "0",
    "F5": "1",
    "F#5": "2",
    "G5": "0",
    "Ab5": "2-3",
    "A5": "1-2",
    "Bb5": "1",
    "B5": "2",
    "C6": "0",
    "C#6": "1-2",
    "D6": "1",
    "Eb6": "2",
    "E6": "0",
    "F6": "1",
    "F#6": "2",
    "G6": "0",
}
ALTERNATES = {
    "A3": "3",
    "E4": "3",
    "F#4": "1-2-3",
    "G4": "1-3",
    "A4": "3",
    "Bb4": "1-2-3",
    "B4": "1-3",
    "C5": "2-3",
    "C#5": "3",
    "D5": "1-3",
    "E5": "1-2",
    "F#5": "1-2-3",
    "G5": "1-3",
    "Ab5": "1",
    "A5": "3",
    "Bb5": "1-2-3 0",
    "B5": "1-3 1-2",
    "C6": "1",
    "C#6": "2",
}
GAP = {"F3": "1", "E3": "1-2", "Eb3": "2-3", "D3": "1-3", "C#3": "1-2-3"}
PEDALS = {"C3": "0", "B2": "2", "Bb2": "1", "A2": "1-2", "Ab2": "2-3", "G2": "1-3", "F#2": "1-2-3"}
# The chart sets the piccolo's column against the trumpet's sounding notes: its written notes lie an octave lower.
FOUR_VALVES = {"F3": "1-4", "E3": "3-4", "Eb3": "2-3-4", "D3": "1-3-4", "C#3": "1-2-3-4"}
FOUR_VALVE_ALTERNATES = {"G3": "4", "F#3": "2-4"}
# On the four-valve flugelhorn these stand in for the three-valve sets, in tune: common practice, no source. The chart, of a
# piccolo, has them as alternates.
FOURTH = {"1-3": "4", "1-2-3": "2-4"}
PLAYED_WITH_SLIDE = ("D4", "C#4", "G3", "F#3")

TREBLE = [horn for horn in HORNS.values() if horn.clef.name == "treble"]
EVERY_HORN = pytest.mark.parametrize("horn", TREBLE, ids=lambda horn: horn.id)
THREE = [horn for horn in TREBLE if horn.valves == 3]
FOUR = [horn for horn in TREBLE if horn.valves == 4]


def _charted(notes: dict[str, str], horn: Horn) -> dict[str, str]:
    """Return what a chart says, with the fourth valve where a horn has it for the low sharp sets."""
    return {note: FOURTH.get(way, way) for note, way in notes.items()} if horn.id == "flugelhorn-4" else notes


def _usual(notes: dict[str, str], horn: Horn) -> dict[str, str]:
    found = {note: usual(parse_pitch(note), horn) for note in notes}
    return {note: way.valves for note, way in found.items() if way}


@EVERY_HORN
def test_regular(horn: Horn) -> None:
    """The usual fingering of every note from F#3 to G6 is the chart's, on every horn in treble clef."""
    assert _usual(REGULAR, horn) == _charted(REGULAR, horn)


@EVERY_HORN
@pytest.mark.parametrize("note", ALTERNATES)
def test_alternates(horn: Horn, note: str) -> None:
    """Every published alternate is among the fingerings after the usual one."""
    others = {way.valves for way in fingerings(parse_pitch(note), horn)[1:]}

    assert set(ALTERNATES[note].split()) <= others


@pytest.mark.parametrize("horn", THREE, ids=lambda horn: horn.id)
def test_gap(horn: Horn) -> None:
    """With three valves the notes of the gap take the fingering of the octave above."""
    assert _usual(GAP, horn) == GAP


@EVERY_HORN
def test_pedals(horn: Horn) -> None:
    """Pedals are fingered as first partials."""
    assert _usual(PEDALS, horn) == _charted(PEDALS, horn)


@pytest.mark.parametrize("horn", FOUR, ids=lambda horn: horn.id)
def test_four_valves(horn: Horn) -> None:
    """With four valves the gap is fingered as the chart's piccolo column has it, and either set of the low notes is there."""
    ways = {note: {way.valves for way in fingerings(parse_pitch(note), horn)[:2]} for note in FOUR_VALVE_ALTERNATES}

    assert _usual(FOUR_VALVES, horn) == FOUR_VALVES
    assert ways == {note: {way, REGULAR[note]} for note, way in FOUR_VALVE_ALTERNATES.items()}


def test_slide_notes() -> None:
    """The slide is asked for on the usual fingerings of D4, C#4, G3 and F#3 alone."""
    told = {note: usual(parse_pitch(note), HORNS["trumpet"]) for note in REGULAR}

    assert {note for note, way in told.items() if way and "slide" in way.advice} == set(PLAYED_WITH_SLIDE)
