"""The rhythm of a tune: bars of its kind read from their text, ideas of two bars, and closes that leave room for an upbeat."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cache, lru_cache
from itertools import pairwise

from generators.chance import Dice
from generators.phrase.bars import Meter, written
from generators.phrase.notation import value
from generators.studies.etude.kinds import TuneKind

_TOKEN = re.compile(r"(?P<value>\d+\.?)(?P<marks>[()>]*)")
_MARKS = {">": "accent"}
_QUARTER, _EIGHTH, _DOTTED, _THREE_BEATS = Fraction(1, 4), Fraction(1, 8), Fraction(3, 8), 3


@dataclass(frozen=True, slots=True)
class RhythmNote:
    """A note of a rhythm: how long it lasts, whether a slur opens or closes on it, how it is tongued."""

    value: Fraction = field(compare=False)
    opens: bool = False
    closes: bool = False
    marks: tuple[str, ...] = ()
    rest: bool = False
    size: float = field(init=False, repr=False)
    """Its value, compared and added quicker: every value is a sum of halves, quarters, eighths ..., exact in floating point."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "size", float(self.value))


BarRhythm = tuple[RhythmNote, ...]


@cache
def rhythm(text: str) -> BarRhythm:
    """Read a rhythm such as "4.( 8) 4 4>"; nothing is an empty one."""
    found = [_TOKEN.fullmatch(token) for token in text.split()]
    return tuple(_stroke(one) for one in found if one)


def _stroke(found: re.Match[str]) -> RhythmNote:
    marks = found["marks"]
    return RhythmNote(value(found["value"]), "(" in marks, ")" in marks, tuple(_MARKS[m] for m in marks if m in _MARKS))


def duration(strokes: Sequence[RhythmNote]) -> Fraction:
    """Return how long strokes last."""
    return sum((stroke.value for stroke in strokes), Fraction(0))


def stroke_values(strokes: Sequence[RhythmNote]) -> tuple[float, ...]:
    """Return how long each stroke lasts."""
    return tuple([stroke.size for stroke in strokes])


def leans(strokes: BarRhythm) -> bool:
    """Tell whether a rhythm has an eighth and then a longer note, as short notes before long ones are off the beat."""
    return any(a.value == _EIGHTH < b.value == _QUARTER for a, b in pairwise(strokes[:2]))


@lru_cache(maxsize=512)
def known(texts: tuple[str, ...], shortest: Fraction, *, syncopes: bool = True) -> tuple[BarRhythm, ...]:
    """Return the rhythms without notes that are too short, or that lean over a beat; the calmest one if all do."""
    read = [one for one in map(rhythm, texts) if syncopes or not leans(one)]
    slow = tuple(one for one in read if all(stroke.value >= shortest for stroke in one))
    return slow or (min(read, key=len),)


def closes(kind: TuneKind, room: Fraction, shortest: Fraction) -> tuple[BarRhythm, ...]:
    """Return the ends of a phrase in what an upbeat leaves of its last bar: a few notes, then a long one, perhaps a rest."""
    before = [one for one in known(kind.closes, shortest) if 2 * duration(one) <= room or _closing(one, kind.meter, room)]
    return tuple((*one, *_held(room - duration(one), _three(kind.meter))) for one in before) or (final(kind.meter, room),)


def _closing(before: BarRhythm, meter: Meter, room: Fraction) -> bool:
    """Tell whether a quarter in the middle of a bar closes a phrase."""
    return 2 * duration(before) == meter.bar and room - duration(before) == _QUARTER


def _three(meter: Meter) -> bool:
    return meter.beat == _DOTTED


def _held(room: Fraction, compound: bool) -> BarRhythm:
    """Return one note for so long, and a rest for what no single note has."""
    first, *rest = (_DOTTED, *written(room - _DOTTED)) if compound and _DOTTED < room < 2 * _DOTTED else written(room)
    return (RhythmNote(first), *(RhythmNote(part, rest=True) for part in rest))


@cache
def final(meter: Meter, room: Fraction) -> BarRhythm:
    """Return the last bar of all: one note."""
    return _held(room, _three(meter))


@cache
def asking_value(meter: Meter) -> Fraction:
    """Return how long a note is at the least on which a tune asks: half a bar, and a half where a bar has three quarters."""
    return Fraction(1, 2) if meter.beats == _THREE_BEATS and meter.beat == _QUARTER else meter.bar / 2


@cache
def turn(meter: Meter) -> Fraction:
    """Return where in a bar its second chord begins."""
    return meter.bar / 2 if meter.beats != _THREE_BEATS else meter.bar * Fraction(2, 3)


def closing_value(close: BarRhythm) -> Fraction:
    """Return how long the last note of a close is."""
    return next(stroke.value for stroke in reversed(close) if not stroke.rest)


@cache
def shortened(close: BarRhythm) -> BarRhythm:
    """Return a close whose long note gives half of itself, or its last third, to a rest."""
    place = max(i for i, stroke in enumerate(close) if not stroke.rest)
    long = close[place].value
    kept = long * Fraction(2, 3) if long.numerator == 3 else long / 2
    if kept < _QUARTER:
        return close
    return (*close[:place], replace(close[place], value=kept), RhythmNote(long - kept, rest=True), *close[place + 1 :])


def evens(strokes: Sequence[RhythmNote], many: int) -> int:
    """Return how many times so many notes in a row are of one value, rests left out."""
    values = [stroke.size for stroke in strokes if not stroke.rest]
    return sum(len(set(values[i : i + many])) == 1 for i in range(len(values) - many + 1))


@cache
def strong(close: BarRhythm, meter: Meter) -> bool:
    """Tell whether the long note of a close begins on the bar line or in the middle of the bar."""
    before = duration([stroke for stroke in close if not stroke.rest][:-1])
    return before == 0 or (2 * before == meter.bar and meter.beats % 3 != 0) or (before == meter.beat == _DOTTED)


def ornamented(bar: BarRhythm, shortest: Fraction, slurred: bool = True) -> tuple[BarRhythm, tuple[int, ...]]:
    """Return a bar with its quarters and longer notes divided, and for each note the place of the one it comes from.

    A note that is new comes from none, -1; every second long note keeps its length; of a dotted one a third is divided off.
    """
    strokes: list[RhythmNote] = []
    sources: list[int] = []
    for place, stroke in enumerate(bar):
        last = stroke.value / (3 if stroke.value.numerator == 3 else 2)
        if stroke.rest or last < max(shortest, _EIGHTH) or place % 2:
            strokes.append(stroke)
            sources.append(place)
        else:
            strokes += [RhythmNote(stroke.value - last, opens=slurred), RhythmNote(last, closes=slurred)]
            sources += [place, -1]
    return tuple(strokes), tuple(sources)


def varied(bar: BarRhythm, shortest: Fraction, dice: Dice) -> tuple[BarRhythm, tuple[int, ...]]:
    """Return a bar with one of its values changed, and for each note the place of the one it comes from, -1 for a new one."""
    ways = [made for place in _free(bar) for made in (*_divided(bar, place, shortest), *_dotted(bar, place, shortest))]
    return dice.pick(ways) if ways else (bar, tuple(range(len(bar))))


def _free(bar: BarRhythm) -> list[int]:
    """Return the places of the notes under no slur."""
    found, under = [], False
    for place, stroke in enumerate(bar):
        under = under or stroke.opens
        found += [] if under or stroke.rest else [place]
        under = under and not stroke.closes
    return found


_Varied = tuple[BarRhythm, tuple[int, ...]]


def _divided(bar: BarRhythm, place: int, shortest: Fraction) -> Iterator[_Varied]:
    """Yield the bar with a note made two."""
    half = bar[place].value / 2
    if half.numerator == 1 and half >= max(shortest, _EIGHTH):
        two = RhythmNote(half, opens=True), RhythmNote(half, closes=True)
        yield (*bar[:place], *two, *bar[place + 1 :]), (*range(place + 1), -1, *range(place + 1, len(bar)))


def _dotted(bar: BarRhythm, place: int, shortest: Fraction) -> Iterator[_Varied]:
    """Yield the bar with a note on the beat and the next one, as long, made a dotted one and a short one, or the other way."""
    if place + 1 not in _free(bar):
        return
    first, second = bar[place].value, bar[place + 1].value
    on = (duration(bar[:place]) / (first + second)).denominator == 1
    half = second / 2 if first == second else (first + second) / 2 if first == 3 * second else Fraction(0)
    if on and half >= shortest and half.numerator == 1:
        one, other = (first + half, half) if first == second else (half, half)
        pair = replace(bar[place], value=one, marks=()), replace(bar[place + 1], value=other)
        yield (*bar[:place], *pair, *bar[place + 2 :]), tuple(range(len(bar)))
