"""Stems: the beams of one bar turn the same way where they would turn round by little, so that its notes stand evenly."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby

from generators.brass.horn import Horn
from generators.phrase.note import Note
from generators.phrase.pieces import Piece
from generators.theory.pitch import Pitch

# A note as long as this, in whole notes, has no beam.
_UNBEAMED = Fraction(1, 4)
# How far beyond the middle line a note may be whose beam turns the other way, in staff spaces: our choice.
_EITHER = 2.5
# What the engraver is told by the way that stems go.
STEM_WAYS = {1: "\\stemUp", -1: "\\stemDown", 0: "\\stemNeutral"}


def stems(pieces: Sequence[Piece], beat: Fraction, horn: Horn) -> list[int]:
    """Return of each piece of a bar which way its stem is turned: 1 up, -1 down, 0 as the engraver turns it."""
    groups = list(beams(pieces, beat))
    places = [
        [height_of(event, horn) for number in group if isinstance(event := pieces[number].event, Note)] for group in groups
    ]
    way = _way([place for group in places for place in group])
    beamed = {number for group in groups for number in group} if len({_way(group) for group in places}) > 1 else set()
    turned = all(way * place <= _EITHER for group in places for place in group)
    return [way if turned and number in beamed else 0 for number in range(len(pieces))]


def height_of(note: Note[Pitch], horn: Horn) -> float:
    """Return how far over the middle line a note is printed, in staff spaces."""
    middle = (horn.clef.bottom.place + horn.clef.top.place) / 2
    return (note.pitch.place + 7 * horn.bracketed(note.pitch) - middle) / 2


def _way(places: Sequence[float]) -> int:
    """Return the way of a beam over or under notes: away from the one that is farthest from the middle line."""
    return -1 if max(places, default=0.0) >= -min(places, default=0.0) else 1


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


def _short(piece: Piece) -> bool:
    return isinstance(piece.event, Note) and piece.face < _UNBEAMED
