"""Beams: where one is parted, and which way those of a lip slur turn."""

from fractions import Fraction

import pytest

from generators.brass.horn import horn
from generators.phrase.note import Note
from generators.phrase.pieces import Piece
from generators.press.beams import beams, parted, turned
from generators.theory.pitch import parse_pitch

TRUMPET, QUARTER = horn("trumpet"), Fraction(1, 4)


def bar(names: str, value: Fraction) -> list[Piece]:
    """Return a bar of notes of one value."""
    return [Piece(Note(parse_pitch(name), value), value) for name in names.split()]


def threes(face: Fraction, count: int) -> list[Piece]:
    """Return so many triplets of a printed value."""
    places = ("start", "middle", "stop") * count
    return [Piece(Note(parse_pitch("G4"), face * Fraction(2, 3)), face, triplet=place) for place in places]


@pytest.mark.parametrize(
    ("names", "way"),
    [
        ("F#4 B4 D#5 F#5 D#5 B4 F#4 B4", -1),
        ("C4 E4 G4 C5 D5 C5 B4 A4", 1),
        ("G4 A4 G4 A4 G4 A4 G4 A4", 0),
        ("A3 C4 E4 A4 C5 E5 A5 E5", 0),
    ],
    ids=["down", "up", "alike anyway", "too far both ways"],
)
def test_beams_of_a_bar_turn_one_way(names: str, way: int) -> None:
    """They go with the note farthest from the middle line, unless a note is too far on the other side."""
    pieces = bar(names, Fraction(1, 16))

    assert [way] * 8 == turned(list(beams(pieces, QUARTER)), pieces, TRUMPET)


def test_what_has_no_beam_is_left_alone() -> None:
    """A quarter among beams of both ways keeps its own stem."""
    pieces = [*bar("F#4 A4 F#4 A4", Fraction(1, 16)), *bar("A4", QUARTER), *bar("E5 F5 E5 F5", Fraction(1, 16))]

    assert [-1] * 4 + [0] + [-1] * 4 == turned(list(beams(pieces, QUARTER)), pieces, TRUMPET)


@pytest.mark.parametrize(
    ("face", "sides"), [(Fraction(1, 16), [(2, "Right"), (3, "Left")]), (Fraction(1, 8), [])], ids=["sixteenths", "eighths"]
)
def test_a_beam_is_parted_where_triplets_meet(face: Fraction, sides: list[tuple[int, str]]) -> None:
    """Two triplets of sixteenths are under one beam of a beat, parted between them; of eighths each has its own."""
    pieces = threes(face, 2)

    assert sides == [side for beam in beams(pieces, QUARTER) for side in parted(beam, pieces)]
