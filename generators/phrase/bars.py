"""Meters and bars: where bar lines fall, and how a length is written with note values."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

from generators.phrase.note import Event, Note, P, Phrase

NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Meter:
    """A time signature, `Meter(3, 4)`."""

    beats: int
    unit: int

    @property
    def bar(self) -> Fraction:
        """The length of a bar in whole notes."""
        return _parts(self.beats, self.unit)

    @property
    def beat(self) -> Fraction:
        """The length of a felt beat: three units in compound time, else one."""
        return _parts(3 if self.unit == 8 and self.beats % 3 == 0 else 1, self.unit)

    @property
    def strong(self) -> Fraction:
        """The distance between strong beats: half a bar of 4/4, else the bar."""
        return self.bar / 2 if self.beats == 4 else self.bar

    def __str__(self) -> str:
        return f"{self.beats}/{self.unit}"


@cache
def _parts(count: int, unit: int) -> Fraction:
    """Return a length of some units; the few there are are asked for at every bar of every plan."""
    return Fraction(count, unit)


COMMON = Meter(4, 4)
WALTZ = Meter(3, 4)
Bar = tuple[Event[P], ...]


def bars(phrase: Phrase[P], meter: Meter, upbeat: Fraction = NONE) -> tuple[Bar[P], ...]:
    """Return the phrase cut into bars; a note over a bar line is tied across it. The last bar may be short.

    With an upbeat, in whole notes, the first bar is as short as that.
    """
    result: list[list[Event[P]]] = [[]]
    room = upbeat or meter.bar
    for event in phrase:
        for piece in _pieces(event, room, meter.bar):
            if room == 0:
                result.append([])
                room = meter.bar
            result[-1].append(piece)
            room -= piece.length
    return tuple(tuple(bar) for bar in result if bar)


def _pieces(event: Event[P], room: Fraction, bar: Fraction) -> Iterator[Event[P]]:
    rest, room = event.length, room or bar
    while rest > room:
        yield _head(event, room) if rest == event.length else _middle(event, room)
        rest, room = rest - room, bar
    yield event if rest == event.length else _tail(event, rest)


def _head(event: Event[P], length: Fraction) -> Event[P]:
    if not isinstance(event, Note):
        return replace(event, length=length)
    begun = tuple(mark for mark in event.articulations if mark != "fermata")
    return replace(
        event, length=length, tie=True, articulations=begun, slur_close=False, breath=False, may_breathe=False, glide=False
    )


def _middle(event: Event[P], length: Fraction) -> Event[P]:
    return Note(event.pitch, length, tie=True) if isinstance(event, Note) else replace(event, length=length)


def _tail(event: Event[P], length: Fraction) -> Event[P]:
    if not isinstance(event, Note):
        return replace(event, length=length)
    return Note(
        event.pitch,
        length,
        slur_close=event.slur_close,
        tie=event.tie,
        articulations=tuple(mark for mark in event.articulations if mark == "fermata"),
        breath=event.breath,
        may_breathe=event.may_breathe,
        glide=event.glide,
    )


def written(length: Fraction) -> tuple[Fraction, ...]:
    """Return the note values, tied together, that write a length: one where a plain or dotted value does."""
    scale = 3 if length.denominator % 3 == 0 else 1
    base = length * scale
    parts: list[Fraction] = []
    while base:
        part = next((v for v in _VALUES if v <= base), None)
        if part is None:
            raise ValueError(f"no note values down to a 64th write {length} of a whole note")
        parts.append(part / scale)
        base -= part
    return tuple(parts)


_VALUES = sorted((Fraction(2, 2**n) * dot for n in range(8) for dot in (1, Fraction(3, 2))), reverse=True)
