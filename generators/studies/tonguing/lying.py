"""Where a line of tonguing lies: how high, and whether it ends where it began."""

from generators.phrase.algebra import notes
from generators.phrase.note import Phrase
from generators.theory.pitch import Pitch


def comes_home(line: Phrase[Pitch]) -> bool:
    """Tell whether a line ends on the note it began with; on a raised leading note of minor it would not."""
    first, *_, last = notes(line)
    return first.pitch == last.pitch


def line_middle(line: Phrase[Pitch]) -> float:
    """Return the middle of a line, half-way from its lowest note to its highest, as a MIDI number."""
    pitches = [note.pitch.midi for note in notes(line)]
    return (min(pitches) + max(pitches)) / 2
