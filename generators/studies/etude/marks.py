"""What is written over a tune: slurs that belong to its rhythms, breaths where phrases end, loudness that follows the line."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import zip_longest

from generators.phrase.algebra import length, onsets
from generators.phrase.articulation import Articulation
from generators.phrase.bars import Meter
from generators.phrase.dynamics import LOUDNESS
from generators.phrase.note import Event, Note, Phrase, Rest
from generators.studies.etude.rhythm import RhythmNote
from generators.studies.etude.tune import Tune
from generators.theory.pitch import Pitch

_OCTAVE = 12
_EIGHTH, _QUARTER = Fraction(1, 8), Fraction(1, 4)
# A hairpin goes up to a note so many staff places above where it begins, down to one so far below, over so many degrees of
# loudness at the most: our choice.
_GROWS, _FALLS, _DEGREES = 2, 1, 2
# It lasts so many bars at the most.
_LONGEST = 3


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
    bar, taken = tune.kind.meter.bar, False
    for one, after in zip_longest(found, found[1:]):
        event = replace(one.event, slur_open=False) if taken and isinstance(one.event, Note) else one.event
        # Where it went into a slur of its own, that one goes on; else it ends on the bar.
        alone = taken and isinstance(one.event, Note) and not one.event.slur_open
        event = replace(event, slur_close=True) if alone and isinstance(event, Note) else event
        taken = bool(after) and _over(one, after, bar, tune)
        if taken and isinstance(event, Note):
            event = replace(event, slur_open=event.slur_open or not event.slur_close, slur_close=False)
        yield replace(one, event=event)


def _over(one: TuneEvent, after: TuneEvent, bar: Fraction, tune: Tune) -> bool:
    """Tell whether a slur goes from a note over the bar line in the middle of an idea of a middle section."""
    inside = one.phrase == after.phrase and tune.phrases[one.phrase].plan.theme > 0 and after.onset % (2 * bar) == bar
    plain = isinstance(one.event, Note) and not one.event.articulations
    ends = isinstance(one.event, Note) and one.event.length <= _QUARTER
    return inside and plain and ends and _joins(one.event, after.event)


def _note(stroke: RhythmNote, pitch: Pitch) -> Note[Pitch]:
    return Note(pitch, stroke.value, stroke.opens, stroke.closes, articulations=stroke.marks)


def _breathing(found: Sequence[TuneEvent], tune: Tune) -> list[TuneEvent]:
    """Return the notes with a breath after each phrase, or each half of it, and a possible one in its middle."""
    bar, upbeat = tune.kind.meter.bar, tune.upbeat
    result = list(found)
    for place, one in enumerate(result[:-1]):
        if not isinstance(one.event, Note):
            continue
        after = result[place + 1]
        ends = one.onset + one.event.length
        half = (ends + upbeat) % (2 * bar) == 0
        if after.phrase != one.phrase or (half and tune.phrases[one.phrase].halved):
            result[place] = replace(one, event=replace(one.event, breath=not isinstance(after.event, Rest)))
        elif half and one.event.length >= _QUARTER:
            result[place] = replace(one, event=replace(one.event, may_breathe=True))
    return result


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


def shaded(
    music: Phrase[Pitch],
    start: str,
    height: str,
    meter: Meter,
    begin: Fraction,
    *,
    least: str,
    last: bool = True,
    bold: bool = False,
) -> Phrase[Pitch]:
    """Return a section with its loudness: it grows where the line rises to its highest note, and falls with its end.

    It begins so far after a bar line. A hairpin goes over one degree, in the last section over two; a bold end does not
    fall, no other one grows in its last bars, and nothing is softer than the least.
    """
    notes = [(place, event) for place, event in enumerate(music) if isinstance(event, Note)]
    starts = [start + begin for start in onsets(music)]
    begun = [starts[place] for place, _ in notes]
    top = _goal(notes, meter, begun)
    loud = LOUDNESS[min(LOUDNESS.index(height), LOUDNESS.index(start) + _DEGREES - (not last))]
    late = last and not bold and starts[notes[top][0]] - begin >= length(music) - _LONGEST * meter.bar
    grow = None if late else _rise(notes, top, meter, begun)
    fall = None if bold else _fall(notes, top, meter, begun)
    marks: dict[int, tuple[str, str]] = {notes[0][0]: (start, "")}
    grows = grow is not None and loud != start
    if grow is not None and grows:
        marks |= {grow: (marks.get(grow, ("", ""))[0], "<"), notes[top][0]: (loud, "")}
    softer = start
    if fall is not None:
        softer = start if grows else LOUDNESS[max(LOUDNESS.index(start) - 1, LOUDNESS.index(least))]
    if fall is not None and softer != (loud if grows else start):
        marks |= {notes[fall][0]: (marks.get(notes[fall][0], ("", ""))[0], ">"), notes[-1][0]: (softer, "")}
    return tuple(_loud(event, *marks.get(place, ("", ""))) for place, event in enumerate(music))


def _loud(event: Event[Pitch], dynamic: str, hairpin: str) -> Event[Pitch]:
    return replace(event, dynamic=dynamic, hairpin=hairpin) if isinstance(event, Note) else event


_Placed = Sequence[tuple[int, Note[Pitch]]]


def _goal(notes: _Placed, meter: Meter, starts: Sequence[Fraction]) -> int:
    """Return the note to grow to: the highest, or where the line does not rise to it the highest of a half that it rises to."""
    middle = len(notes) // 2
    tops = [_summit(notes, meter, starts, part) for part in (range(len(notes)), range(middle), range(middle, len(notes)))]
    return next((top for top in tops if _rise(notes, top, meter, starts) is not None), tops[0])


def _summit(notes: _Placed, meter: Meter, starts: Sequence[Fraction], part: range) -> int:
    """Return the last of the highest notes of a part that begin on a beat."""
    struck = [i for i in part if starts[i] % meter.beat == 0] or list(part)
    top = max(notes[i][1].pitch.place for i in struck)
    return max(i for i in struck if notes[i][1].pitch.place == top)


def _rise(notes: _Placed, top: int, meter: Meter, starts: Sequence[Fraction]) -> int | None:
    """Return the place of the lowest note shortly before the highest, if the line rises enough; none grows from an upbeat."""
    found, lasted = None, Fraction(0)
    for i in range(top - 1, 0, -1):
        lasted += notes[i][1].length
        if lasted > _LONGEST * meter.bar or _parted(notes, starts, i):
            break
        if starts[i] % meter.bar >= meter.bar - meter.beat:
            continue
        lower = found is None or notes[i][1].pitch.place < notes[found][1].pitch.place
        found = i if lower and notes[top][1].pitch.place - notes[i][1].pitch.place >= _GROWS else found
    return None if found is None or top - found < 2 else notes[found][0]


def _parted(notes: _Placed, starts: Sequence[Fraction], place: int) -> bool:
    """Tell whether a breath or a rest follows a note."""
    note = notes[place][1]
    return note.breath or starts[place] + note.length < starts[place + 1]


def _fall(notes: _Placed, top: int, meter: Meter, starts: Sequence[Fraction]) -> int | None:
    """Return the note from which the line falls to its last one; None where it does not."""
    found, lasted = None, notes[-1][1].length
    for i in range(len(notes) - 2, top, -1):
        lasted += notes[i][1].length
        if lasted > _LONGEST * meter.bar or _parted(notes, starts, i):
            break
        higher = notes[i][1].pitch.place - notes[-1][1].pitch.place >= _FALLS
        found = i if higher and (found is None or notes[i][1].pitch.place >= notes[found][1].pitch.place) else found
    return None if found is None or len(notes) - 1 - found < 2 else found
