"""A bar as it is written: every event as the note values that spell it, tied, and grouped in triplets."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate, groupby

from generators.phrase.bars import Bar, Meter, written
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
    """Return the bars of a strain as printed pieces: rests and, where beats are dotted, notes show where the beats are."""
    result, tied, meter = [], False, strain.meter
    for number, bar in enumerate(strain.bars):
        begin = meter.bar - strain.upbeat if strain.upbeat and not number else Fraction(0)
        result.append(tuple(_pieces(tuple(_rested(bar, begin, meter)), begin, tied, meter)))
        tied = isinstance(bar[-1], Note) and bar[-1].tie
    return tuple(result)


def _rested(bar: Bar[Pitch], begin: Fraction, meter: Meter) -> Iterator[Event[Pitch]]:
    """Yield a bar whose rests in a row are one, and that parted at the beats; those of triplets stay as they are."""
    ends = accumulate((event.length for event in bar), initial=begin)
    timed = list(zip(ends, bar, strict=False))
    for plain, run in groupby(timed, key=lambda item: isinstance(item[1], Rest) and not _threes(item[0] + item[1].length)):
        group = list(run)
        if plain and not _threes(group[0][0]):
            yield from map(Rest, _silences(group[0][0], sum((rest.length for _, rest in group), Fraction(0)), meter))
        else:
            yield from (event for _, event in group)


def _silences(begin: Fraction, length: Fraction, meter: Meter) -> Iterator[Fraction]:
    """Yield the lengths that a silence is written with: what is left of a beat, then whole bars, halves of 4/4 and beats."""
    while length:
        left = meter.beat - begin % meter.beat
        wholes = (whole for whole in (meter.bar, meter.strong) if not begin % whole and whole <= length)
        part = next(wholes, min(left, length))
        yield part
        begin, length = begin + part, length - part


def _pieces(bar: Bar[Pitch], begin: Fraction, tied: bool, meter: Meter) -> Iterator[Piece]:
    if len(bar) == 1 and bar[0] == Rest(meter.bar):
        yield Piece(bar[0], Fraction(0))
        return
    values = list(_grouped(_values(bar, begin, meter)))
    for place, value in enumerate(values):
        event = _share(bar[value.event], value.length, _first(values, place), _last(values, place))
        yield Piece(event, value.length / TRIPLET if value.triplet else value.length, tied, value.triplet)
        tied = isinstance(event, Note) and event.tie


def _first(values: list[_Value], place: int) -> bool:
    return place == 0 or values[place - 1].event != values[place].event


def _last(values: list[_Value], place: int) -> bool:
    return place + 1 == len(values) or values[place + 1].event != values[place].event


def _values(bar: Bar[Pitch], begin: Fraction, meter: Meter) -> Iterator[_Value]:
    """Spell every length; one that begins inside an open triplet group is spelled as part of it."""
    for number, event in enumerate(bar):
        scale = TRIPLET if _threes(begin) or _threes(event.length) else Fraction(1)
        for length in _over_beats(begin, event.length, meter):
            yield from (_Value(number, part * scale, "middle" if scale != 1 else "") for part in written(length / scale))
        begin += event.length


def _over_beats(begin: Fraction, length: Fraction, meter: Meter) -> Iterator[Fraction]:
    """Yield the parts of a length that are tied so that beats show: what goes over a dotted beat is cut there.

    Where beats are plain what begins off the beat is cut at the middle of its bar, if that is on a beat.
    """
    middle = meter.strong - begin % meter.bar
    if meter.beat.numerator == 1 and 0 < middle < length and begin % meter.beat and not (_threes(begin) or _threes(length)):
        yield from (middle, length - middle)
        return
    dotted = meter.beat.numerator > 1
    while dotted and (begin % meter.beat or length % meter.beat) and begin % meter.beat + length > meter.beat:
        part = meter.beat - begin % meter.beat if begin % meter.beat else length - length % meter.beat
        yield part
        begin, length = begin + part, length - part
    yield length


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
