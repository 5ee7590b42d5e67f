"""Beams: which notes of a bar stand under one, where the engraver would not find it by himself."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby, pairwise

from generators.phrase.note import Note
from generators.phrase.pieces import Piece

# A note as long as this, in whole notes, has no beam; one as short as this has two lines or more.
_UNBEAMED, _SIXTEENTH = Fraction(1, 4), Fraction(1, 16)


def beams(pieces: Sequence[Piece], beat: Fraction) -> Iterator[list[int]]:
    """Yield the places of the notes under one beam: two or more short ones in a beat."""
    begun, at = list[Fraction](), Fraction(0)
    for piece in pieces:
        begun.append(at)
        at += piece.event.length
    numbered = list(enumerate(pieces))
    for _, group in groupby(numbered, key=lambda item: (begun[item[0]] // beat, _short(item[1]))):
        short = [number for number, piece in group if _short(piece)]
        if len(short) > 1:
            yield short


def parted(beam: Sequence[int], pieces: Sequence[Piece]) -> Iterator[tuple[int, str]]:
    """Yield the places of the notes under a beam that has one line between them, and on which side: where triplets meet."""
    for one, other in pairwise(beam):
        if pieces[one].triplet == "stop" and pieces[other].triplet == "start" and pieces[one].face <= _SIXTEENTH:
            yield one, "Right"
            yield other, "Left"


def _short(piece: Piece) -> bool:
    return isinstance(piece.event, Note) and piece.face < _UNBEAMED
