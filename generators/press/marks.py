"""The marks of a note in LilyPond's words, each for the site before or after its note."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generators.brass.fingering import Fingering, usual
from generators.brass.horn import Horn
from generators.brass.tube import tube_cents
from generators.phrase.note import Note
from generators.phrase.pieces import Piece
from generators.phrase.spans import spans
from generators.theory.pitch import Pitch

ARTICULATIONS = {"staccato": "-.", "tenuto": "--", "accent": "->", "marcato": "-^", "fermata": "\\fermata"}
# Fewer cents than this nobody adjusts: our choice.
AUDIBLE_CENTS = 10


@dataclass(frozen=True, slots=True)
class Extras:
    """What is printed above notes if wanted: fingerings and intonation, for a horn."""

    horn: Horn
    fingerings: bool = False
    intonation: bool = False
    tube: str = ""
    """The tube all notes of a strain lie on; its label tells it, so the notes do not."""


def after(note: Note[Pitch], tied: bool, extras: Extras) -> Iterator[str]:
    """Yield what follows a note: tie, slurs, articulations, dynamics, fingerings, words, breath."""
    if note.tie:
        yield "~"
    if note.slur_close:
        yield ")"
    if note.slur_open:
        yield "("
    yield from (ARTICULATIONS[name] for name in note.articulations)
    if note.dynamic:
        yield f"\\{note.dynamic}"
    if note.hairpin:
        yield "\\!" if note.hairpin == "." else f"\\{note.hairpin}"
    if note.glide:
        yield "\\glissando"
    if not tied:
        yield from above(note, extras)
    elif note.text:
        yield _word(note)
    if note.breath:
        yield "\\breathe"


def above(note: Note[Pitch], extras: Extras) -> Iterator[str]:
    """Yield the small texts over a note: the tube that belongs to it, or the usual one where all are wanted."""
    way = usual(note.pitch, extras.horn)
    wanted = extras.fingerings and not extras.tube and not note.glide
    valves = note.valves or (way.valves if way and wanted else "")
    if valves:
        yield f'^\\markup \\valves "{valves}"'
    if note.text:
        yield _word(note)
    bent = note.glide and not note.valves
    cents = tube_cents(extras.horn, extras.tube, note.pitch.midi) if extras.tube else _cents(way)
    if extras.intonation and not bent and abs(cents) >= AUDIBLE_CENTS:
        yield f'^\\markup \\cents "{cents:+.0f}"'


def _word(note: Note[Pitch]) -> str:
    """Return the word of a note, over it; under it where it counts a hairpin."""
    return f'{"_" if note.hairpin else "^"}\\markup \\remark "{note.text}"'


def _cents(way: Fingering | None) -> float:
    return way.cents if way and not way.kind else 0.0


def octave_signs(pieces: Sequence[Piece], horn: Horn) -> dict[int, list[str]]:
    """Return where 8va-bassa brackets begin and end, as literals before the pieces they stand at."""
    signs: dict[int, list[str]] = {}
    for span in spans(pieces, horn.bracketed):
        if span.kind == "8vb":
            signs.setdefault(span.first, []).append("\\ottava #-1")
            signs.setdefault(span.last + 1, []).append("\\ottava #0")
    return signs
