"""What several tests read off a line: its stretches between breaths, and how each is slurred."""

from collections.abc import Sequence
from typing import Any

from hypothesis import settings

from generators.phrase.algebra import breaths
from generators.phrase.note import Note
from generators.phrase.study import Strain
from generators.theory.pitch import Pitch

# Much that is drawn is refused, as it should be; that is the great law's matter.
LAWS = settings(max_examples=8)
Stretch = Sequence[Note[Pitch]]


def stretches(strain: Strain) -> tuple[Any, ...]:
    """Return the phrases of a strain, cut at breaths and rests."""
    return breaths(strain.music)


def slurs(stretch: Stretch) -> list[tuple[int, int]]:
    """Return the slurs of a phrase as pairs of places."""
    opened = [i for i, note in enumerate(stretch) if note.slur_open]
    closed = [i for i, note in enumerate(stretch) if note.slur_close]
    return list(zip(opened, closed, strict=True))


def under_slur(notes: Stretch) -> list[bool]:
    """Return for each note whether a slur leads on from it."""
    found, under = list[bool](), False
    for note in notes:
        under = (under or note.slur_open) and not (note.slur_close and not (note.slur_open and under))
        found.append(under)
    return found


def whole(stretch: Stretch) -> list[tuple[int, int]]:
    """Return the slurs of a phrase that is tongued on its first note alone."""
    return [(0, len(stretch) - 1)] if len(stretch) > 1 else []


def heights(strain: Strain) -> list[int]:
    """Return the MIDI numbers of a strain counted from its last note."""
    line = [note.pitch.midi for note in strain.notes]
    return [midi - line[-1] for midi in line]
