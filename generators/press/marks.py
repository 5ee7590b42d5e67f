"""The small texts at notes: rows over the staff for names, valves and cents; words at single notes; the octave signs."""

from collections.abc import Sequence
from dataclasses import dataclass

from generators.brass.fingering import Fingering, usual
from generators.brass.horn import Horn
from generators.brass.tube import tube_cents
from generators.phrase.note import Note
from generators.phrase.pieces import Piece
from generators.phrase.wording import note_words
from generators.theory.pitch import Pitch

# Fewer cents than this nobody adjusts: our choice.
AUDIBLE_CENTS = 10
# What the rows over the notes are called.
NAMES, VALVES, ALTERNATES, CENTS = "names", "valves", "alternates", "cents"


@dataclass(frozen=True, slots=True)
class Extras:
    """What is printed over notes if wanted, for a horn."""

    horn: Horn
    fingerings: bool = False
    intonation: bool = False
    note_names: bool = False
    tube: str = ""
    """The tube all notes of a strain lie on; its label tells it, so the notes do not."""
    told: bool = False
    """Whether the label tells how all of it is fingered."""
    low: bool = False
    """Whether all of the study lies low."""


@dataclass(frozen=True, slots=True)
class TextRow:
    """A row of small texts over a staff: what it tells, and the text of each note head."""

    name: str
    texts: tuple[str, ...]
    own: tuple[bool, ...] = ()
    """Which of its texts belong to their note, however often it was told."""


def rows(heads: Sequence[Piece], extras: Extras) -> tuple[TextRow, ...]:
    """Return the rows that stand over the notes, from the top downwards; a row without a text is none."""
    notes = [(piece.event, piece.tied) for piece in heads if isinstance(piece.event, Note)]
    names = tuple(_name(note) if extras.note_names and not tied else "" for note, tied in notes)
    valves = tuple(note.valves if tied else _valves(note, extras) for note, tied in notes)
    cents = tuple("" if tied else _intonation(note, extras) for note, tied in notes)
    own = tuple(bool(note.valves) for note, _ in notes)
    found = (TextRow(CENTS, cents), TextRow(NAMES, names), TextRow(VALVES if extras.fingerings else ALTERNATES, valves, own))
    return tuple(row for row in found if any(row.texts))


def word(note: Note[Pitch]) -> str:
    """Return the word at a note as LilyPond markup."""
    words = note_words(note)
    return f'\\markup \\remark "{words}"' if words else ""


def _name(note: Note[Pitch]) -> str:
    return note.pitch.pretty[:-1]


def _valves(note: Note[Pitch], extras: Extras) -> str:
    if extras.told:
        return ""
    wanted = extras.fingerings and not extras.tube and not note.glide
    way = usual(note.pitch, extras.horn) if wanted else None
    return note.valves or (way.valves if way else "")


def _intonation(note: Note[Pitch], extras: Extras) -> str:
    bent = note.glide and not note.valves
    if bent or not extras.intonation:
        return ""
    cents = tube_cents(extras.horn, extras.tube, note.pitch.midi) if extras.tube else _cents(usual(note.pitch, extras.horn))
    return f"{cents:+.0f}".replace("-", "−") if abs(cents) >= AUDIBLE_CENTS else ""


def _cents(way: Fingering | None) -> float:
    return way.cents if way and not way.kind else 0.0
