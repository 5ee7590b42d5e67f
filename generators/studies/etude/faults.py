"""Faults of a tune, counted as it is written: a narrow theme, a note dwelt on, natural against flat, a bar misheard."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from generators.studies.etude.harmony import Tone
from generators.studies.etude.rhythm import stroke_values
from generators.studies.etude.tune import Setup, TunePhrase

# All of it is our choice, by ear. What a first phrase goes over, and the first eight bars, in steps: a fifth and a sixth, less
# where the player has fewer notes than an octave.
_IDEA, _WHOLE, _OCTAVE = 4, 5, 12
# No pitch takes more of the time of eight bars than this; each share more is a fault.
_DWELT, _SHARE = 0.3, 0.04
# Of eight notes in a row so many are different at the least.
_WINDOW, _DIFFERENT = 8, 4
# In so many bars no degree comes in two forms.
_BARS, _HALF_STEP = 2, 1
_HOME = (0, 2)
# How many faults a beginning is that everybody knows: the moves of a chord down and up to the octave, 5 3 1 3 5 8, and of one
# up, 1 3 5 8.
_KNOWN, _DOWN_AND_UP, _UP = 10, (-2, -2, 2, 2, 3), (2, 2, 3)
# How many faults a bar is that is misheard; the courses whose first bar is moved.
_MISHEARD, _MOVES = 10, ("coda", "crowns")


class Sounded(NamedTuple):
    """A note of a tune in time."""

    onset: float
    """In whole notes from the first bar line."""
    value: float
    tone: Tone


def sounded(phrases: Sequence[TunePhrase]) -> list[Sounded]:
    """Return the notes of some phrases in a row, the first of which begins with its upbeat."""
    return list(_sounding(phrases))


def _sounding(phrases: Sequence[TunePhrase]) -> Iterator[Sounded]:
    now = -sum(stroke_values(phrases[0].upbeat), 0.0)
    for phrase in phrases:
        line = iter(phrase.line)
        for stroke in phrase.strokes:
            if not stroke.rest:
                yield Sounded(now, stroke.size, next(line))
            now += stroke.size


def faults(phrase: TunePhrase, before: Sequence[TunePhrase], setup: Setup) -> float:
    """Return how many faults a phrase brings into a tune after those before it."""
    bar = float(setup.kind.meter.bar)
    both = sounded((*before[-1:], phrase))
    own = both[len(before[-1].line) if before else 0 :]
    found = _dwelling(both) + _circling(own) + _clashing(both, bar)
    found += 0 if setup.beginner else _MISHEARD * _misheard(phrase, before)
    if not before:
        return found + _KNOWN * _known(own) + _faint(own, bar) + _narrow(own, _IDEA, setup)
    return found + (_narrow(both, _WHOLE, setup) if len(before) == 1 else 0)


def _misheard(phrase: TunePhrase, before: Sequence[TunePhrase]) -> bool:
    """Tell whether a middle begins in a rhythm of the first idea, what moves stays, or a bar comes home bent."""
    if phrase.plan.theme and before:
        return phrase.told[0][0] in {values for values, _ in before[0].told[:2]}
    source = before[phrase.plan.like] if phrase.plan.like >= 0 else phrase
    if phrase.plan.course in _MOVES:
        return source.told[0] == phrase.told[0]
    return source.told[0] == phrase.told[0] and _first(source) != _first(phrase)


def _first(phrase: TunePhrase) -> list[int]:
    """Return the MIDI numbers of a first bar."""
    early = sum(not stroke.rest for stroke in phrase.upbeat)
    return [tone.midi for tone in phrase.line[early : early + sum(map(bool, phrase.barwise[1]))]]


def _known(notes: Sequence[Sounded]) -> bool:
    """Tell whether a tune begins as an anthem does that all know: down the chord and up it, or up it to the octave."""
    moves = tuple(b.tone.place - a.tone.place for a, b in pairwise(notes))
    begun = next((i for i, note in enumerate(notes) if note.onset >= 0), 0)
    from_tonic = notes[begun].tone.degree == 0 and moves[begun:][: len(_UP)] == _UP
    return from_tonic or any(moves[i:][: len(_DOWN_AND_UP)] == _DOWN_AND_UP for i in (0, begun))


def _narrow(notes: Sequence[Sounded], steps: int, setup: Setup) -> int:
    """Return by how many steps a theme is narrower than it should be."""
    places = [note.tone.place for note in notes]
    missing = max(0, _OCTAVE - setup.compass.high + setup.compass.low)
    return max(0, steps - (missing + 1) // 2 - (max(places) - min(places)))


def _faint(notes: Sequence[Sounded], bar: float) -> int:
    """Return what the first two bars lack: a skip, the tonic, the third."""
    idea = [note.tone for note in notes if note.onset < 2 * bar]
    skips = any(abs(b.place - a.place) > 1 for a, b in pairwise(idea))
    return (not skips) + sum(degree not in {tone.degree for tone in idea} for degree in _HOME)


def _dwelling(notes: Sequence[Sounded]) -> float:
    """Return how far a pitch takes more of the time than it should."""
    return max(0.0, dwelt(notes) - _DWELT) / _SHARE


def dwelt(notes: Sequence[Sounded]) -> float:
    """Return the share of the time that one pitch takes at the most."""
    times: dict[int, float] = {}
    for note in notes:
        times[note.tone.midi] = times.get(note.tone.midi, 0.0) + note.value
    return max(times.values()) / sum(times.values())


def _circling(notes: Sequence[Sounded]) -> int:
    """Return how often eight notes in a row circle few pitches."""
    places = [note.tone.place for note in notes]
    runs = (places[i : i + _WINDOW] for i in range(len(places) - _WINDOW + 1))
    return sum(len(set(run)) < _DIFFERENT for run in runs)


def _clashing(notes: Sequence[Sounded], bar: float) -> int:
    """Return how often a degree comes in another form than shortly before, but for a step through the half-steps."""
    last: dict[int, tuple[int, Sounded]] = {}
    found = 0
    for i, note in enumerate(notes):
        step = note.tone.place % 7
        at, heard = last.get(step, (-2, note))
        near = note.onset - heard.onset < _BARS * bar
        found += heard.tone.pitch.alter != note.tone.pitch.alter and near and at != i - _HALF_STEP
        last[step] = i, note
    return found
