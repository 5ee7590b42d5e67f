"""A bar as it is written: every event as the note values that spell it, tied, and grouped in triplets."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from generators.phrase.bars import Bar, written
from generators.phrase.note import Event, Note, Rest
from generators.phrase.study import Strain
from generators.theory.pitch import Pitch

TRIPLET = Fraction(2, 3)


@dataclass(frozen=True, slots=True)
class Piece:
    """One printed note or rest: an event whose length is a single note value."""

    event: Event[Pitch]
    face: Fraction
    """The printed value in whole notes, before a triplet shortens it; 0 for a rest that fills its bar."""
    tied: bool = False
    """Tied to the piece before it."""
    triplet: str = ""
    """start, middle, stop or startStop within a triplet group."""


@dataclass(frozen=True, slots=True)
class _Value:
    """A note value before its event is known: its length and its place in a triplet group."""

    event: int
    length: Fraction
    triplet: str = ""


def cut(strain: Strain) -> tuple[tuple[Piece, ...], ...]:
    """Return the bars of a strain as printed pieces."""
    result, tied = [], False
    for bar in strain.bars:
        result.append(tuple(_pieces(bar, tied, strain.meter.bar)))
        tied = isinstance(bar[-1], Note) and bar[-1].tie
    return tuple(result)


def _pieces(bar: Bar[Pitch], tied: bool, full: Fraction) -> Iterator[Piece]:
    if len(bar) == 1 and bar[0] == Rest(full):
        yield Piece(bar[0], Fraction(0))
        return
    values = list(_grouped(_values(bar)))
    for place, value in enumerate(values):
        event = _share(bar[value.event], value.length, _first(values, place), _last(values, place))
        yield Piece(event, value.length / TRIPLET if value.triplet else value.length, tied, value.triplet)
        tied = isinstance(event, Note) and event.tie


def _first(values: list[_Value], place: int) -> bool:
    return place == 0 or values[place - 1].event != values[place].event


def _last(values: list[_Value], place: int) -> bool:
    return place + 1 == len(values) or values[place + 1].event != values[place].event


def _values(bar: Bar[Pitch]) -> Iterator[_Value]:
    """Spell every length; one that begins inside an open triplet group is spelled as part of it."""
    filled = Fraction(0)
    for number, event in enumerate(bar):
        scale = TRIPLET if _threes(filled) or _threes(event.length) else Fraction(1)
        yield from (_Value(number, part * scale, "middle" if scale != 1 else "") for part in written(event.length / scale))
        filled += event.length


def _threes(length: Fraction) -> bool:
    return length.denominator % 3 == 0


def _grouped(values: Iterable[_Value]) -> Iterator[_Value]:
    """Mark where triplet groups start and stop: a group ends as soon as it fills a plain value, or with its bar."""
    group: list[_Value] = []
    for value in values:
        if not value.triplet:
            yield value
            continue
        group.append(value)
        if not _threes(sum((v.length for v in group), Fraction(0))):
            yield from _ends(group)
            group = []
    yield from _ends(group)


def _ends(group: list[_Value]) -> Iterator[_Value]:
    for place, value in enumerate(group):
        name = ("start" if place == 0 else "") + ("Stop" if place + 1 == len(group) else "")
        yield replace(value, triplet={"Stop": "stop", "": "middle"}.get(name, name))


def _share(event: Event[Pitch], length: Fraction, first: bool, last: bool) -> Event[Pitch]:
    """Give a piece its share of the event's marks: the first takes those of the attack, the last those of the end."""
    if isinstance(event, Rest):
        return Rest(length)
    ending = Note(event.pitch, length, tie=event.tie, slur_close=event.slur_close, breath=event.breath, glide=event.glide)
    kept = event if first else ending
    ended = kept if last else replace(kept, tie=True, slur_close=False, breath=False, glide=False)
    marks = tuple(mark for mark in event.articulations if (last if mark == "fermata" else first))
    return replace(ended, length=length, articulations=marks)
