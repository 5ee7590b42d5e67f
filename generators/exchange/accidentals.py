"""Which notes of a bar print an accidental: those that differ from the signature or from the same line earlier in the bar."""

from collections.abc import Iterable, Iterator

from generators.phrase.note import Note
from generators.phrase.pieces import Piece
from generators.phrase.spans import is_low
from generators.theory.key import Key
from generators.theory.pitch import Pitch


def accidentals(bar: Iterable[Piece], key: Key) -> Iterator[bool]:
    """Tell for each piece of a bar whether it prints its accidental; a note tied from before never does."""
    seen: dict[int, int] = {}
    for piece in bar:
        yield isinstance(piece.event, Note) and not piece.tied and _changes(piece.event, key, seen)


def _changes(note: Note[Pitch], key: Key, seen: dict[int, int]) -> bool:
    line = note.pitch.place + (7 if is_low(note) else 0)
    before = seen.get(line, key.alteration(note.pitch.step))
    seen[line] = note.pitch.alter
    return note.pitch.alter != before
