"""Notes on their places in a strain: the bar each begins in, its neighbours, and whether it is reached under a slur."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from generators.phrase.note import Event, Note
from generators.phrase.study import Strain
from generators.theory.pitch import Pitch


@dataclass(frozen=True, slots=True)
class Place:
    """A note on its place: the bar it begins in, what comes before and after it in the strain."""

    bar: int
    note: Note[Pitch]
    before: Event[Pitch] | None
    after: Event[Pitch] | None
    slurred: bool
    """Whether it is reached under a slur, without a tongue."""


def places(strain: Strain) -> Iterator[Place]:
    """Yield the notes of a strain with their places."""
    events, full = strain.music, strain.meter.bar
    # Counted in the smallest part of a whole note that all share: every rule of the proof walks here, and fractions are slow.
    unit = lcm(full.denominator, strain.upbeat.denominator, *(event.length.denominator for event in events))
    now, under, bar = -_counted(strain.upbeat, unit), False, _counted(full, unit)
    for i, event in enumerate(events):
        if isinstance(event, Note):
            before, after = events[i - 1] if i else None, events[i + 1] if i + 1 < len(events) else None
            yield Place(now // bar + 1, event, before, after, under)
            under = (under or event.slur_open) and not event.slur_close
        now += _counted(event.length, unit)


def _counted(length: Fraction, unit: int) -> int:
    return length.numerator * (unit // length.denominator)
