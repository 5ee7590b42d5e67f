"""The small texts at a note as LilyPond markups, and the octave signs of a bar."""

from collections.abc import Sequence
from dataclasses import dataclass

from generators.brass.fingering import Fingering, usual
from generators.brass.horn import Horn
from generators.brass.tube import tube_cents
from generators.phrase.note import Note
from generators.phrase.pieces import Piece
from generators.phrase.spans import spans
from generators.phrase.wording import note_words
from generators.theory.pitch import Pitch

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


def over(note: Note[Pitch], tied: bool, extras: Extras) -> tuple[str, ...]:
    """Return the markups over a note: the valve set that belongs to it, or the usual one where wanted, its word, its cents.

    A note tied to the one before it has its word alone; a word that counts a hairpin stands under the note.
    """
    word = () if note.hairpin else _word(note)
    return word if tied else (*_valves(note, extras), *word, *_intonation(note, extras))


def under(note: Note[Pitch]) -> tuple[str, ...]:
    """Return the markups under a note: the word that counts its hairpin."""
    return _word(note) if note.hairpin else ()


def _word(note: Note[Pitch]) -> tuple[str, ...]:
    words = note_words(note)
    return (f'\\markup \\remark "{words}"',) if words else ()


def _valves(note: Note[Pitch], extras: Extras) -> tuple[str, ...]:
    wanted = extras.fingerings and not extras.tube and not note.glide
    way = usual(note.pitch, extras.horn) if wanted else None
    valves = note.valves or (way.valves if way else "")
    return (f'\\markup \\valves "{valves}"',) if valves else ()


def _intonation(note: Note[Pitch], extras: Extras) -> tuple[str, ...]:
    bent = note.glide and not note.valves
    if bent or not extras.intonation:
        return ()
    cents = tube_cents(extras.horn, extras.tube, note.pitch.midi) if extras.tube else _cents(usual(note.pitch, extras.horn))
    return (f'\\markup \\cents "{cents:+.0f}"',) if abs(cents) >= AUDIBLE_CENTS else ()


def _cents(way: Fingering | None) -> float:
    return way.cents if way and not way.kind else 0.0


def octave_signs(pieces: Sequence[Piece], horn: Horn) -> dict[int, list[str]]:
    """Return where 8va-bassa brackets begin and end, by the piece before which they stand."""
    signs: dict[int, list[str]] = {}
    for span in spans(pieces, horn.bracketed):
        if span.kind == "8vb":
            signs.setdefault(span.first, []).append("\\ottava #-1")
            signs.setdefault(span.last + 1, []).append("\\ottava #0")
    return signs
