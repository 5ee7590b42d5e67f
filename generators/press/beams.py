"""Beams: which notes of a bar stand under one, where it is parted, and where all of them turn one way."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby, pairwise

from generators.brass.horn import Horn
from generators.phrase.note import Note
from generators.phrase.pieces import Piece
from generators.phrase.study import Strain
from generators.theory.pitch import Pitch

# What the engraver is told by the way that stems go.
STEM_WAYS = {1: "\\stemUp", -1: "\\stemDown", 0: "\\stemNeutral"}
# How far beyond the middle line a note may be whose beam turns the other way, in staff spaces: our choice.
_EITHER = 2.5
# How far over it one may be over syllables, under which beams would stand: our choice.
_SPOKEN = 2.0
# How many steps apart the notes of turns lie at the most.
_TURN = 5
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


def one_way(strain: Strain) -> bool:
    """Tell whether the beams of each bar of a strain turn one way, if they can: on a tube, round a note, over syllables."""
    places = [note.pitch.place for note in strain.notes]
    turns = max(places, default=0) - min(places, default=0) <= _TURN
    return bool(strain.tube) or turns or any(note.syllable for note in strain.notes)


def height_of(note: Note[Pitch], horn: Horn) -> float:
    """Return how far over the middle line a note is printed, in staff spaces."""
    middle = (horn.clef.bottom.place + horn.clef.top.place) / 2
    return (note.pitch.place + 7 * horn.bracketed(note.pitch) - middle) / 2


def turned(groups: Sequence[Sequence[int]], pieces: Sequence[Piece], horn: Horn) -> list[int]:
    """Return which way the stem of each piece of a bar is turned so that its beams turn one way, if little turns them round.

    1 is up, as over syllables, -1 down, 0 as the engraver turns it.
    """
    heard = {number: event for number, piece in enumerate(pieces) if isinstance(event := piece.event, Note)}
    heights = {number: height_of(note, horn) for number, note in heard.items()}
    beamed = [number for group in groups for number in group]
    spoken = any(note.syllable for note in heard.values()) and all(heights[number] <= _SPOKEN for number in beamed)
    way = 1 if spoken else _way([heights[number] for number in beamed])
    differ = any(_way([heights[number] for number in group]) != way for group in groups)
    little = all(way * heights[number] <= _EITHER for number in beamed)
    up = [number for number, height in heights.items() if spoken and (number in beamed or height <= 0)]
    return [1 if number in up else way if differ and little and number in beamed else 0 for number in range(len(pieces))]


def _way(heights: Sequence[float]) -> int:
    """Return the way of a beam over or under notes: away from the one that is farthest from the middle line."""
    return -1 if max(heights, default=0.0) >= -min(heights, default=0.0) else 1


def _short(piece: Piece) -> bool:
    return isinstance(piece.event, Note) and piece.face < _UNBEAMED
