"""Slide positions against a published list.

Wikibooks, "Trombone/Slide Positions", en.wikibooks.org/wiki/Trombone/Slide_Positions, read 2026-11-25: the notes that it
prints for each position, and alternates. Its octave marks are loose: the names are the source's, the octaves follow from the
harmonic series.
"""

from itertools import groupby

import pytest

from generators.brass.fingering import fingerings, usual
from generators.brass.horn import horn
from generators.brass.tube import partial_pitch
from generators.theory.pitch import parse_pitch

TROMBONE = horn("trombone")
CHART = {
    "1": "Bb2 F3 Bb3 D4 F4",
    "2": "A2 E3 A3 C#4 E4",
    "3": "Ab2 Eb3 Ab3 C4 Eb4",
    "4": "G2 D3 G3 B3",
    "5": "Gb2 Db3 Gb3",
    "6": "F2 C3",
    "7": "E2 B2",
}
# Printed for a position, yet usual on a nearer one: D4 in first.
ALTERNATES = {"4": "D4", "5": "Bb3 Db4", "6": "F3 A3 C4", "7": "E3 G#3 B3"}


@pytest.mark.parametrize("position", CHART)
def test_usual_positions(position: str) -> None:
    """Every note of the list is played in its position."""
    found = {note: usual(parse_pitch(note), TROMBONE) for note in CHART[position].split()}

    assert {position} == {way.valves for way in found.values() if way}
    assert all(found.values())


@pytest.mark.parametrize("position", ALTERNATES)
def test_alternate_positions(position: str) -> None:
    """Every alternate of the list is among the ways to its note after the usual one."""
    for note in ALTERNATES[position].split():
        assert position in {way.valves for way in fingerings(parse_pitch(note), TROMBONE)[1:]}


@pytest.mark.parametrize("position", CHART)
def test_the_list_is_the_harmonic_series(position: str) -> None:
    """The notes of a position are its partials 2, 3, 4, 5 and 6 in order, spelled as printed."""
    printed = [*CHART[position].split(), *ALTERNATES.get(position, "").split()]
    series = [partial_pitch(TROMBONE, position, partial).name for partial in range(2, 7)]

    assert sorted(printed, key=lambda name: parse_pitch(name).midi) == series[: len(printed)]


def test_every_note_of_the_chart_is_there() -> None:
    """From E2 to F4 the list names every half-step."""
    midi = sorted(parse_pitch(note).midi for notes in CHART.values() for note in notes.split())

    assert list(range(parse_pitch("E2").midi, parse_pitch("F4").midi + 1)) == [note for note, _ in groupby(midi)]


def test_the_seventh_partial_is_never_usual() -> None:
    """No usual position is on a seventh partial, which would need a shortened one."""
    compass = range(TROMBONE.pedal_floor.midi, TROMBONE.ceiling.midi + 1)

    assert 7 not in {way.partial for midi in compass if (way := usual(parse_pitch(_name(midi)), TROMBONE))}


def _name(midi: int) -> str:
    return (["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"][midi % 12]) + str(midi // 12 - 1)
