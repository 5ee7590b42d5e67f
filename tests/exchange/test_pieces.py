"""Pieces: bars as printed note values, with triplets grouped and marks shared out over ties."""

from fractions import Fraction

import pytest
from hypothesis import given, settings

from generators.phrase.bars import COMMON, WALTZ, Meter
from generators.phrase.label import Label
from generators.phrase.note import Note, Rest
from generators.phrase.pieces import Piece, cut
from generators.phrase.study import Strain
from generators.theory.pitch import Pitch
from tests.exchange.samples import STRAINS, C, strain

LAWS = settings(max_examples=30)


def _flat(music: Strain) -> list[Piece]:
    return [piece for bar in cut(music) for piece in bar]


@LAWS
@given(STRAINS)
def test_the_pieces_of_a_bar_fill_it(music: Strain) -> None:
    """The pieces of every bar add up to its meter."""
    lengths = [sum(piece.event.length for piece in bar) for bar in cut(music)]

    assert lengths == [music.meter.bar] * len(lengths)


@LAWS
@given(STRAINS)
def test_every_face_is_one_note_value(music: Strain) -> None:
    """A piece prints a plain or dotted value: its face is 1 or 3 over a power of two, or a rest's whole bar."""
    faces = [piece.face for piece in _flat(music)]

    assert all(face == 2 or face.numerator in (0, 1, 3) for face in faces)


@LAWS
@given(STRAINS)
def test_triplets_open_and_close_in_turn(music: Strain) -> None:
    """In each bar a triplet group starts, may go on, and stops before another starts."""
    names = [[piece.triplet for piece in bar if piece.triplet] for bar in cut(music)]
    words = ["".join({"start": "(", "middle": "-", "stop": ")", "startStop": "()"}[n] for n in bar) for bar in names]

    assert all(word.replace("-", "").replace("()", "") == "" for word in words)


@pytest.mark.parametrize(
    ("meter", "sketch", "faces"),
    [
        (COMMON, "1/4 -3/4", ["1/4", "1/2"]),
        (COMMON, "3/4 -1/4", ["1/4"]),
        (COMMON, "1/4 -1/2 1/4", ["1/4", "1/4"]),
        (COMMON, "-3/4 1/4", ["1/2", "1/4"]),
        (WALTZ, "1/4 -1/2", ["1/4", "1/4"]),
        (Meter(2, 4), "1/8 -1/8 -1/8 -1/8", ["1/8", "1/4"]),
        (Meter(6, 8), "1/8 -5/8", ["1/4", "3/8"]),
    ],
)
def test_rests_show_the_beats(meter: Meter, sketch: str, faces: list[str]) -> None:
    """A silence is what is left of a beat, then halves of 4/4 and beats, however it came about."""
    lengths = [Fraction(word.lstrip("-")) for word in sketch.split()]
    music = tuple(
        Rest(length) if word[0] == "-" else Note(Pitch("C", 0, 5), length)
        for word, length in zip(sketch.split(), lengths, strict=True)
    )
    pieces = _flat(Strain(Label(), C, music, meter))

    assert faces == [str(piece.face) for piece in pieces if isinstance(piece.event, Rest)]


def test_notes_show_the_beats_where_these_are_dotted() -> None:
    """In 6/8 a half note is a dotted quarter tied to an eighth, a dotted half one note."""
    half, dotted = (Note(Pitch("C", 0, 5), Fraction(length, 8)) for length in (4, 6))
    pieces = _flat(Strain(Label(), C, (half, Rest(Fraction(1, 4)), dotted), Meter(6, 8)))

    assert ["3/8", "1/8", "1/4", "3/4"] == [str(piece.face) for piece in pieces]


def test_a_length_of_five_eighths_is_tied() -> None:
    """Five eighths are printed as a half tied to an eighth, and the second piece is tied from the first."""
    pieces = _flat(Strain(Label(), C, (Note(Pitch("C", 0, 5), Fraction(5, 8)), Rest(Fraction(3, 8)))))

    assert [(p.face, p.tied) for p in pieces[:2]] == [(Fraction(1, 2), False), (Fraction(1, 8), True)]


def test_the_end_of_a_note_goes_to_its_last_piece() -> None:
    """Breath, slur end, glide and fermata stand at the last tied piece, the attack at the first."""
    note = Note(
        Pitch("C", 0, 5),
        Fraction(5, 8),
        slur_close=True,
        breath=True,
        glide=True,
        syllable="t",
        articulations=("accent", "fermata"),
    )
    first, last = (p.event for p in _flat(Strain(Label(), C, (note,))))

    assert first == Note(note.pitch, Fraction(1, 2), tie=True, syllable="t", articulations=("accent",))
    assert last == Note(note.pitch, Fraction(1, 8), slur_close=True, breath=True, glide=True, articulations=("fermata",))


def test_a_dotted_eighth_inside_a_triplet_keeps_its_face() -> None:
    """In dotted-eighth, sixteenth, eighth of a triplet the first is printed in the group when the group is open."""
    faces = [(p.face, p.triplet) for p in _flat(strain("1/16t 2/8. 3/8t 1/4 1/2"))[:3]]

    assert faces[0] == (Fraction(1, 16), "start")
    assert [name for _, name in faces].count("start") == 1


def test_a_bar_of_rest_has_no_face() -> None:
    """A rest that fills its bar is a bar's rest, whatever its length."""
    pieces = _flat(Strain(Label(), C, (Rest(Fraction(2)),)))

    assert [p.face for p in pieces] == [0, 0]
