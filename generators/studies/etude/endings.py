"""How the phrases of a tune may end: the bars that close them and that lead on, each with all that is asked of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from generators.phrase.bars import Meter
from generators.studies.etude.kinds import TuneKind
from generators.studies.etude.rhythm import (
    BarRhythm,
    asking_value,
    closes,
    closing_value,
    duration,
    final,
    known,
    shortened,
    strong,
)

_THREE = 3


@dataclass(frozen=True, slots=True)
class Close:
    """The last bar of a phrase."""

    strokes: BarRhythm
    rested: BarRhythm
    """With a rest, if what is left of its note still asks."""
    single: bool
    """Whether it is one note."""
    asks: bool
    """Whether its last note has half a bar or more, or all that the upbeat leaves."""


@dataclass(frozen=True, slots=True)
class Lead:
    """Notes that lead on into the next phrase, and the note before them, long or with a rest."""

    strokes: BarRhythm
    held: BarRhythm
    held_rested: BarRhythm


@dataclass(frozen=True, slots=True)
class Endings:
    """How the phrases of a tune may end; closes by their places."""

    closes: tuple[Close, ...]
    shortened: tuple[Close, ...]
    """The same, their long note shorter."""
    firm: tuple[int, ...]
    """Those whose long note is on a strong beat."""
    giving: tuple[int, ...]
    """Those of them whose long note can be shorter."""
    several: tuple[int, ...]
    """Those of them that have several notes."""
    weak: tuple[int, ...]
    """Those of several notes that may close a phrase that does not come home."""
    held: tuple[BarRhythm, ...]
    """Closes on half a bar or more."""
    leads: tuple[Lead, ...]
    """What may lead back to the first idea."""
    last: BarRhythm
    """The last bar of all."""
    last_rested: BarRhythm
    """The same with a rest, where its note has half a bar at the least; else nothing."""


def endings(kind: TuneKind, room: Fraction, shortest: Fraction) -> Endings:
    """Return how the phrases of a kind may end in what an upbeat leaves of their last bar."""
    meter, bars = kind.meter, closes(kind, room, shortest)
    places, asking = range(len(bars)), asking_value(meter)
    firm = tuple(place for place in places if strong(bars[place], meter)) or tuple(places)
    led = [one for one in known(kind.leads, shortest) if 2 * duration(one) <= room and room - duration(one) >= asking]
    whole = final(meter, room)
    rested = shortened(whole)
    return Endings(
        tuple(_close(bar, meter, room) for bar in bars),
        tuple(_close(shortened(bar), meter, room) for bar in bars),
        firm,
        tuple(place for place in firm if shortened(bars[place]) != bars[place]) or firm,
        tuple(place for place in firm if not _single(bars[place])),
        tuple(place for place in places if len(bars[place]) > 1 and (bars[place] in _of(bars, firm) or meter.beats == _THREE)),
        tuple(bar for bar in bars if closing_value(bar) >= asking),
        tuple(_lead(one, meter, room) for one in led),
        whole,
        rested if 2 * rested[0].value >= meter.bar else (),
    )


def _of(bars: Sequence[BarRhythm], places: Sequence[int]) -> list[BarRhythm]:
    return [bars[place] for place in places]


def _close(bar: BarRhythm, meter: Meter, room: Fraction) -> Close:
    return Close(bar, _rested(bar, meter), _single(bar), closing_value(bar) >= min(asking_value(meter), room))


def _lead(strokes: BarRhythm, meter: Meter, room: Fraction) -> Lead:
    held = final(meter, room - duration(strokes))
    return Lead(strokes, held, _rested(held, meter))


def _rested(close: BarRhythm, meter: Meter) -> BarRhythm:
    """Return a close with a rest, if what is left of its note still asks."""
    return shortened(close) if closing_value(shortened(close)) >= asking_value(meter) else close


def _single(close: BarRhythm) -> bool:
    """Tell whether a close is one note."""
    return sum(not stroke.rest for stroke in close) == 1
