"""Loud and soft: every hairpin arrives at a printed dynamic, so that its goal can be read."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from generators.phrase.note import Event, Note, P, Phrase

# From soft to loud; what stands for a dynamic that is no step of its own; where nothing is printed yet.
LOUDNESS = ("ppp", "pp", "p", "mp", "mf", "f", "ff", "fff")
_LEFT_AT = {"fp": "p", "sf": "f", "sfz": "f"}
UNMARKED = "mf"


def arriving(phrases: Sequence[Phrase[P]]) -> tuple[Phrase[P], ...]:
    """Return phrases that follow one another with the dynamic at which each hairpin arrives, where none is printed.

    A growing one arrives a step louder than it began; a falling one where the growing one before it began, or a step softer.
    """
    notes = [event for phrase in phrases for event in phrase if isinstance(event, Note)]
    told = iter(_told(notes))
    return tuple(tuple(_next(event, told) for event in phrase) for phrase in phrases)


def _next(event: Event[P], told: Iterator[str]) -> Event[P]:
    if not isinstance(event, Note):
        return event
    dynamic = next(told)
    return event if dynamic == event.dynamic else replace(event, dynamic=dynamic)


def _told(notes: Sequence[Note[P]]) -> Iterator[str]:
    """Yield the dynamic of every note."""
    level, hairpin, began = UNMARKED, "", UNMARKED
    for place, note in enumerate(notes):
        last = place + 1 == len(notes)
        ends = bool(hairpin) and (bool(note.hairpin) or last)
        dynamic = note.dynamic or (_goal(hairpin, level, began) if ends else "")
        began = level if ends or note.dynamic else began
        level = _LEFT_AT.get(dynamic, dynamic) or level
        hairpin = note.hairpin.strip(".") or ("" if note.hairpin or note.dynamic else hairpin)
        yield dynamic


def _goal(hairpin: str, level: str, began: str) -> str:
    here, before = LOUDNESS.index(level), LOUDNESS.index(began)
    if hairpin.endswith("<"):
        return LOUDNESS[min(here + 1, len(LOUDNESS) - 1)]
    return began if before < here else LOUDNESS[max(here - 1, 0)]
