"""What is written over a tune: slurs that belong to its rhythms, and breaths where phrases end."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import zip_longest

from generators.phrase.algebra import length, onsets
from generators.phrase.articulation import Articulation
from generators.phrase.bars import Meter
from generators.phrase.notation import value
from generators.phrase.note import Event, Note, Phrase, Rest
from generators.studies.etude.kinds import TuneKind
from generators.studies.etude.rhythm import RhythmNote
from generators.studies.etude.tune import Tune
from generators.theory.pitch import Pitch

_OCTAVE = 12
_EIGHTH, _QUARTER, _THREE = Fraction(1, 8), Fraction(1, 4), Fraction(3, 8)
# By how much the long one of a dotted pair is longer, and in meters of three eighths a beat.
_DOTTED, _SKIPS = 3, 2
# How far two notes are apart at the most that are slurred because nothing near them is, in steps: our choice.
_FAR = 3


@dataclass(frozen=True, slots=True)
class TuneEvent:
    """A note or rest of a tune: when it begins, counted from the first bar line, and its phrase."""

    onset: Fraction
    event: Event[Pitch]
    phrase: int


def tune_events(tune: Tune) -> list[TuneEvent]:
    """Return the notes and rests of a tune as its rhythms slur and tongue them, with a breath after each phrase."""
    found: list[TuneEvent] = []
    onset = -tune.upbeat
    for number, phrase in enumerate(tune.phrases):
        tones = iter(phrase.line)
        for stroke in phrase.strokes:
            event = Rest(stroke.value) if stroke.rest else _note(stroke, next(tones).pitch)
            found.append(TuneEvent(onset, event, number))
            onset += stroke.value
    return _breathing(list(_carried(found, tune)) if tune.kind.carries else found, tune)


def _carried(found: Sequence[TuneEvent], tune: Tune) -> Iterator[TuneEvent]:
    """Yield the notes of a tune that sings, in its middle those before each second bar line slurred over it."""
    taken, meter, begun = False, tune.kind.meter, Fraction(0)
    for one, after, later in zip_longest(found, found[1:], found[2:]):
        # It goes into a slur of its own, and that one goes on.
        event = replace(one.event, slur_open=False) if taken and isinstance(one.event, Note) else one.event
        begun = one.onset if isinstance(event, Note) and event.slur_open else begun
        whole = begun % meter.bar < meter.bar - meter.beat
        taken = whole and bool(later) and _over(one, after, later, tune)
        if taken and isinstance(event, Note):
            event = replace(event, slur_open=event.slur_open or not event.slur_close, slur_close=False)
        yield replace(one, event=event)


def _over(one: TuneEvent, after: TuneEvent, later: TuneEvent, tune: Tune) -> bool:
    """Tell whether a slur goes from a note over the bar line in the middle of an idea of a middle, and on from there."""
    bar = tune.kind.meter.bar
    inside = one.phrase == after.phrase and tune.phrases[one.phrase].plan.theme > 0 and after.onset % (2 * bar) == bar
    plain = isinstance(one.event, Note) and not one.event.articulations and one.event.length <= _QUARTER
    onward = isinstance(after.event, Note) and after.event.slur_open and _joins(after.event, later.event)
    return inside and plain and onward and _closing(one.event) and _joins(one.event, after.event)


def _closing(event: Event[Pitch]) -> bool:
    """Tell whether a slur comes to an event and no other begins there: it may go on, for none begins before a bar line."""
    return isinstance(event, Note) and event.slur_close and not event.slur_open


def sung(music: Phrase[Pitch], phrases: Sequence[int], meter: Meter, begin: Fraction, upbeat: Fraction) -> Phrase[Pitch]:
    """Return a line in which every two bars of a phrase that can have one have a slur: two notes that lie nearest.

    It begins so far after a bar line; its events belong to phrases by number.
    """
    starts = [start + begin for start in onsets(music)]
    halves = [(phrase, (start + upbeat) // (2 * meter.bar)) for phrase, start in zip(phrases, starts, strict=True)]
    slurred = {halves[place] for place, _ in _under(music)}
    result = list(music)
    for half in dict.fromkeys(halves):
        pairs = [i for i in range(len(music) - 1) if halves[i] == halves[i + 1] == half and _paired(music, starts, i, meter)]
        if half not in slurred and pairs:
            first = min(pairs, key=lambda i: (_wide(music, i), starts[i] % meter.bar == 0, i))
            _open(result, first)
    return tuple(result)


def _paired(music: Phrase[Pitch], starts: Sequence[Fraction], place: int, meter: Meter) -> bool:
    """Tell whether two notes in a bar may be slurred: the first one on a beat, neither longer than a half."""
    one, other = music[place], music[place + 1]
    within = starts[place] // meter.bar == starts[place + 1] // meter.bar and starts[place] % meter.beat == 0
    return within and _joins(one, other) and max(one.length, other.length) <= 2 * _QUARTER and _wide(music, place) <= _FAR


def _wide(music: Phrase[Pitch], place: int) -> int:
    one, other = music[place], music[place + 1]
    return abs(other.pitch.place - one.pitch.place) if isinstance(one, Note) and isinstance(other, Note) else 0


def _open(events: list[Event[Pitch]], first: int) -> None:
    """Slur two events."""
    one, other = events[first], events[first + 1]
    if isinstance(one, Note) and isinstance(other, Note):
        events[first], events[first + 1] = replace(one, slur_open=True, articulations=()), replace(other, slur_close=True)


def _note(stroke: RhythmNote, pitch: Pitch) -> Note[Pitch]:
    return Note(pitch, stroke.value, stroke.opens, stroke.closes, articulations=stroke.marks)


def _breathing(found: Sequence[TuneEvent], tune: Tune) -> list[TuneEvent]:
    """Return the notes with a breath after each phrase, or each half of it, and a possible one in its middle."""
    bar, upbeat = tune.kind.meter.bar, tune.upbeat
    result = list(found)
    closes = set(_closes(found, tune))
    for place, one in enumerate(result[:-1]):
        if not isinstance(one.event, Note):
            continue
        half = (one.onset + one.event.length + upbeat) % (2 * bar) == 0 and result[place + 1].phrase == one.phrase
        if place in closes or (half and tune.phrases[one.phrase].halved):
            resting = isinstance(result[place + 1].event, Rest)
            result[place] = replace(one, event=replace(one.event, breath=not resting))
        elif half and one.event.length >= _QUARTER:
            result[place] = replace(one, event=replace(one.event, may_breathe=True))
    return result


def _closes(found: Sequence[TuneEvent], tune: Tune) -> Iterator[int]:
    """Yield where phrases close: on their last note, or before those that lead on."""
    for number, phrase in enumerate(tune.phrases):
        notes = [place for place, one in enumerate(found) if one.phrase == number and isinstance(one.event, Note)]
        yield notes[-1 - phrase.leads]


def whole_slurs(music: Phrase[Pitch]) -> Phrase[Pitch]:
    """Return a line whose slurs are whole: none over a breath or rest, an octave, a note struck again, or one note alone."""
    result: list[Event[Pitch]] = []
    first = -1
    for place, event in enumerate(music):
        opens = isinstance(event, Note) and event.slur_open
        if first >= 0 and not _joins(result[-1], event):
            _close(result, first)
            first = -1
        result.append(replace(event, slur_open=False, slur_close=False) if isinstance(event, Note) else event)
        if isinstance(event, Note) and event.slur_close and first >= 0:
            _close(result, first)
            first = -1
        first = place if opens and first < 0 else first
    return tuple(result)


def tongued_end(music: Phrase[Pitch], meter: Meter) -> Phrase[Pitch]:
    """Return a line whose last two bars are tongued, as a call ends."""
    begins = length(music) - 2 * meter.bar
    first = sum(start < begins for start in onsets(music))
    ends = [replace(event, slur_open=False, slur_close=False) if isinstance(event, Note) else event for event in music[first:]]
    return (*whole_slurs(music[:first]), *ends)


def touched(music: Phrase[Pitch], kind: TuneKind, begin: Fraction) -> Phrase[Pitch]:
    """Return a line whose notes are struck short by the rule of its kind: those of its short values that no slur has.

    The short one of a long and a short is not, nor the last before a breath, nor, where first beats swing, one on a bar line.
    It begins so far after a bar line.
    """
    shorts = {value(text) for text in kind.short}
    starts = [start + begin for start in onsets(music)]
    plain = {place for place, _ in _under(music)}
    result = list(music)
    for i, (event, start) in enumerate(zip(music, starts, strict=True)):
        if not isinstance(event, Note) or event.length not in shorts or i in plain or event.articulations:
            continue
        swung = kind.swings and start % kind.meter.bar == 0
        if not (swung or event.breath or _ends(music, i) or _short_half(music, starts, i, kind.meter)):
            result[i] = replace(event, articulations=("staccato",))
    return tuple(result)


def _under(music: Phrase[Pitch]) -> Iterator[tuple[int, Note[Pitch]]]:
    """Yield the notes under a slur and their places."""
    under = False
    for place, event in enumerate(music):
        if isinstance(event, Note):
            under = under or event.slur_open
            if under:
                yield place, event
            under = under and not (event.slur_close and not event.slur_open)


def _ends(music: Phrase[Pitch], place: int) -> bool:
    """Tell whether a rest or nothing follows."""
    return place + 1 == len(music) or isinstance(music[place + 1], Rest)


def _short_half(music: Phrase[Pitch], starts: Sequence[Fraction], place: int, meter: Meter) -> bool:
    """Tell whether a note is the short one of a long and a short: dotted, or in three eighths a beat."""
    before = music[place - 1] if place else None
    if not isinstance(before, Note) or before.breath:
        return False
    times = before.length / music[place].length
    if meter.beat != _THREE:
        return times == _DOTTED
    return times == _SKIPS and starts[place] // meter.beat == starts[place - 1] // meter.beat


def _joins(one: Event[Pitch], other: Event[Pitch]) -> bool:
    """Tell whether a slur may go on from one to the next."""
    if not isinstance(one, Note) or not isinstance(other, Note) or one.breath:
        return False
    return 0 < abs(other.pitch.midi - one.pitch.midi) < _OCTAVE


def _close(events: list[Event[Pitch]], first: int) -> None:
    """Slur the events from a place to the last; one alone is none."""
    one, last = events[first], events[-1]
    if first < len(events) - 1 and isinstance(one, Note) and isinstance(last, Note):
        events[first], events[-1] = replace(one, slur_open=True, articulations=()), replace(last, slur_close=True)


def barwise(music: Phrase[Pitch], row: Articulation, meter: Meter, begin: Fraction) -> Phrase[Pitch]:
    """Return the line under a set begun anew in every bar; it begins so far after a bar line."""
    groups = list(_groups(music, row, meter, begin))
    marked = [_marked(event, row, group) for event, group in zip(music, groups, strict=True)]
    opened = [
        replace(event, slur_open=groups[i - 1 : i] != [groups[i]], slur_close=groups[i + 1 : i + 2] != [groups[i]])
        if isinstance(event, Note) and str(groups[i][-1]).isalpha()
        else event
        for i, event in enumerate(marked)
    ]
    return whole_slurs(tuple(opened))


_Group = tuple[object, ...]


def _groups(music: Phrase[Pitch], row: Articulation, meter: Meter, begin: Fraction) -> Iterator[_Group]:
    """Yield for each event the slur it belongs to, ending with the letter of its slot."""
    now = begin
    for event in music:
        within = now % meter.bar
        letter = row.slots[int(within / _EIGHTH) % len(row.slots)] if row.slots else "a"
        place = int(within / _EIGHTH) // len(row.slots) if row.slots else 0
        yield (now // meter.bar, place, letter)
        now += event.length


def _marked(event: Event[Pitch], row: Articulation, group: _Group) -> Event[Pitch]:
    if isinstance(event, Rest):
        return event
    if group[-1] == "." and event.length <= _EIGHTH:
        return replace(event, articulations=("staccato",), slur_open=False, slur_close=False)
    mark = (row.mark,) if row.mark and event.length <= _QUARTER else ()
    return replace(event, articulations=mark, slur_open=False, slur_close=False)
