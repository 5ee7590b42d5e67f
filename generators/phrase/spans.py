"""Lines over several notes, as index pairs into the pieces of a strain: slurs, hairpins, glides, octave brackets."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

from generators.phrase.note import Note
from generators.phrase.pieces import Piece
from generators.theory.pitch import Pitch


@dataclass(frozen=True, slots=True)
class Span:
    """A line of some kind from one piece to another, both included."""

    kind: str
    first: int
    last: int


def spans(pieces: Sequence[Piece], bracketed: Callable[[Pitch], bool]) -> tuple[Span, ...]:
    """Return every line over the pieces of one strain; `bracketed` tells which notes are printed an octave higher."""
    notes = [(place, piece.event) for place, piece in enumerate(pieces) if isinstance(piece.event, Note)]
    return (*_slurs(notes), *_hairpins(notes), *_glides(pieces), *_low(notes, bracketed))


def _slurs(notes: list[tuple[int, Note[Pitch]]]) -> Iterator[Span]:
    opened: list[int] = []
    for place, note in notes:
        if note.slur_close and opened:
            yield Span("slur", opened.pop(), place)
        if note.slur_open:
            opened.append(place)


def _hairpins(notes: list[tuple[int, Note[Pitch]]]) -> Iterator[Span]:
    """Find the hairpins: each ends before the next note that has a hairpin sign or a dynamic, or with the strain."""
    kind, first, before = "", 0, 0
    for place, note in notes:
        if note.hairpin or note.dynamic:
            if kind:
                yield Span(kind, first, before)
            kind, first = note.hairpin.strip("."), place
        before = place
    if kind:
        yield Span(kind, first, before)


def _glides(pieces: Sequence[Piece]) -> Iterator[Span]:
    for place, (piece, following) in enumerate(pairwise(pieces)):
        if isinstance(piece.event, Note) and piece.event.glide and isinstance(following.event, Note):
            yield Span("glide", place, place + 1)


def _low(notes: list[tuple[int, Note[Pitch]]], bracketed: Callable[[Pitch], bool]) -> Iterator[Span]:
    for low, run in groupby(notes, key=lambda pair: bracketed(pair[1].pitch)):
        if low:
            places = [place for place, _ in run]
            yield Span("8vb", places[0], places[-1])
