"""Free lines: the glides of a strain without a staff, each as long as it lasts, as LilyPond text."""

from fractions import Fraction

from generators.phrase.note import Event, Note
from generators.phrase.study import Strain
from generators.press.leaves import pitch_name
from generators.theory.pitch import Pitch


def free_text(strain: Strain) -> str:
    """Return a strain as invisible notes joined by glissandi; a rest is room without a line."""
    return " ".join(_drawn(event) for event in strain.music)


def _drawn(event: Event[Pitch]) -> str:
    head = pitch_name(event.pitch) if isinstance(event, Note) else "s"
    line = " \\glissando" if isinstance(event, Note) and event.glide else ""
    return f"{head}4*{_beats(event.length)}{line}"


def _beats(length: Fraction) -> Fraction:
    return length * 4
