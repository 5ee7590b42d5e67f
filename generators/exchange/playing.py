"""A study as it sounds: onsets and lengths in whole notes, ties merged, repeats played."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from generators.phrase.algebra import length
from generators.phrase.note import Note, Phrase
from generators.phrase.study import Strain, Study
from generators.theory.pitch import Pitch


@dataclass(frozen=True, slots=True)
class Sound:
    """One sounding note, still at written pitch, with the dynamic in force."""

    start: Fraction
    length: Fraction
    pitch: Pitch
    dynamic: str = ""


def playing(study: Study) -> Iterator[tuple[Fraction, Strain]]:
    """Return each strain with its start, as often as it is played."""
    start = Fraction(0)
    for strain in study.strains:
        for _ in range(strain.repeats):
            yield start, strain
            start += length(strain.music)


def sounds(study: Study) -> Iterator[Sound]:
    """Return the notes that sound, in order."""
    for start, strain in playing(study):
        yield from _sounds(strain.music, start)


def _sounds(music: Phrase[Pitch], start: Fraction) -> Iterator[Sound]:
    held, dynamic = Fraction(0), ""
    for event in music:
        if isinstance(event, Note):
            dynamic = event.dynamic or dynamic
            held += event.length
            if not event.tie:
                yield Sound(start + event.length - held, held, event.pitch, dynamic)
                held = Fraction(0)
        start += event.length
