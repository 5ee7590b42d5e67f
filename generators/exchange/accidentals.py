"""Which notes of a bar print an accidental: those that differ from the signature or from the same line earlier in the bar."""

from collections.abc import Callable, Iterable, Iterator

from generators.phrase.note import Note
from generators.phrase.pieces import Piece
from generators.theory.key import Key
from generators.theory.pitch import Pitch


def accidentals(bar: Iterable[Piece], key: Key, bracketed: Callable[[Pitch], bool]) -> Iterator[bool]:
    """Tell for each piece of a bar whether it prints its accidental; a note tied from before never does.

    `bracketed` tells which notes are printed an octave higher.
    """
    seen: dict[int, int] = {}
    for piece in bar:
        yield isinstance(piece.event, Note) and not piece.tied and _changes(piece.event, key, seen, bracketed)


def _changes(note: Note[Pitch], key: Key, seen: dict[int, int], bracketed: Callable[[Pitch], bool]) -> bool:
    line = note.pitch.place + (7 if bracketed(note.pitch) else 0)
    before = seen.get(line, key.alteration(note.pitch.step))
    seen[line] = note.pitch.alter
    return note.pitch.alter != before
