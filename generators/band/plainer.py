"""The plainer line of a beginner among players who are farther on: the same bars, in halves and quarters on first notes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import starmap

from generators.band.request import Member
from generators.band.simpler import chord_notes, playable_by
from generators.brass.grade import FIRST_GRADES, grade, grade_on
from generators.phrase.algebra import length, onsets
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.study import Strain, Study
from generators.theory.pitch import Pitch

# What the first grade reads: one value a note, no dot but that of three quarters.
_PLAIN = tuple(Fraction(quarters, 4) for quarters in (1, 2, 3, 4))
_QUARTER, _HALF = _PLAIN[:2]
_FIRST = FIRST_GRADES[0]


@dataclass(frozen=True, slots=True)
class _Way:
    """How a line is made plainer: what a note that begins in a quick bar becomes."""

    snapped: bool = False
    """Whether quick bars are chord notes, though they go by step."""
    held: bool = False
    """Whether all is one chord note."""


def plainer_study(study: Study, member: Member) -> Study:
    """Return a study as first notes hold it; itself where it has nothing else, or where nothing plainer can be played."""
    first = _first_notes(member)
    if not all(_can_be(strain, first) for strain in study.strains):
        return study
    for way in (_Way(), _Way(snapped=True), _Way(held=True)):
        strains = [_plainer(strain, first, way, piece=study.piece) for strain in study.strains]
        opened = replace(strains[0], music=_once_loud(strains[0].music))
        plainer = replace(study, strains=(opened, *strains[1:]))
        if playable_by(plainer):
            return plainer
    return study


def heard_otherwise(study: Study, other: Study) -> bool:
    """Tell whether two studies of the same bars have other notes or values."""
    pairs = zip(study.strains, other.strains, strict=True)
    return any(_heard(one.music) != _heard(another.music) for one, another in pairs)


def _first_notes(member: Member) -> Member:
    """Return a player with no more notes than the first grade has on his horn, where he has any of them."""
    first, own = grade_on(_FIRST, member.horn), member.limits
    low, high = max(own.low, first.low), min(own.high, first.high)
    return replace(member, limits=replace(own, low=low, high=high)) if low < high else member


def _can_be(strain: Strain, member: Member) -> bool:
    """Tell whether a strain can be made plainer: it has quarters to count, no note over a bar line, and a chord note."""
    return not strain.free and strain.meter.unit == 4 and not _tied(strain) and bool(chord_notes(strain, member))


def _tied(strain: Strain) -> bool:
    return any(note.tie for bar in strain.bars for note in bar if isinstance(note, Note))


def _plainer(strain: Strain, member: Member, way: _Way, *, piece: bool) -> Strain:
    chord = chord_notes(strain, member)
    window = _QUARTER if piece else _HALF
    music = list[Note[Pitch] | Rest]()
    for bar in strain.bars:
        plain = tuple(_slowed(bar, window))
        quick = plain != bar and not piece and way.snapped
        music += (_bare(event, chord, member, quick=quick, held=way.held) for event in plain)
    before = [event for bar in strain.bars for event in bar]
    if _heard(music) == _heard(before):
        bare = (_bare(event, chord, member, quick=False, held=way.held) for event in strain.music)
        return replace(strain, music=tuple(starmap(_slurred_as, zip(bare, strain.music, strict=True))))
    return replace(strain, music=tuple(music), label=replace(strain.label, detail=""))


def _heard(music: Sequence[Note[Pitch] | Rest]) -> list[tuple[Fraction, Pitch | None]]:
    """Return how long everything lasts, and the pitches."""
    return [(event.length, event.pitch if isinstance(event, Note) else None) for event in music]


def _slowed(bar: Phrase[Pitch], window: Fraction) -> Iterator[Note[Pitch] | Rest]:
    """Yield a bar in plain values: what begins first in each window of it lasts until something begins in a later one."""
    if all(event.length in _PLAIN for event in bar):
        yield from bar
        return
    held: Note[Pitch] | Rest | None = None
    for inside, size in _windows(bar, window):
        if inside and held:
            yield held
        breath = any(isinstance(event, Note) and event.breath for event in inside)
        if inside:
            held = replace(inside[0], length=size)
            held = replace(held, breath=breath) if isinstance(held, Note) else held
        elif held:
            held = replace(held, length=held.length + size)
    if held:
        yield held


def _windows(bar: Phrase[Pitch], window: Fraction) -> Iterator[tuple[list[Note[Pitch] | Rest], Fraction]]:
    """Yield what begins in each window of a bar, and how long that is; where there is a rest windows are quarters."""
    begun, whole, at = list(zip(onsets(bar), bar, strict=True)), length(bar), Fraction(0)
    while at < whole:
        inside = [event for start, event in begun if at <= start < at + window]
        size = min(_QUARTER if any(isinstance(event, Rest) for event in inside) else window, whole - at)
        yield [event for start, event in begun if at <= start < at + size], size
        at += size


def _bare(event: Note[Pitch] | Rest, chord: list[Pitch], member: Member, *, quick: bool, held: bool) -> Note[Pitch] | Rest:
    """Return a note without marks, on a first note; of a quick bar the chord note next to it."""
    if isinstance(event, Rest):
        return event
    reached = member.limits.low.midi <= event.pitch.midi <= member.limits.high.midi
    near = min(chord, key=lambda one: (abs(one.midi - event.pitch.midi), one.midi))
    pitch = chord[0] if held else event.pitch if reached and not quick else near
    ends = tuple(mark for mark in event.articulations if mark == "fermata")
    return Note(pitch, event.length, articulations=ends, breath=event.breath, may_breathe=event.may_breathe)


def _slurred_as(event: Note[Pitch] | Rest, before: Note[Pitch] | Rest) -> Note[Pitch] | Rest:
    """Return a note under the slurs of the same one before, with the tube that was written over it."""
    if isinstance(event, Rest) or isinstance(before, Rest):
        return event
    return replace(event, slur_open=before.slur_open, slur_close=before.slur_close, valves=before.valves)


def _once_loud(music: Phrase[Pitch]) -> Phrase[Pitch]:
    """Return a line with the one loudness of the first grade on its first note."""
    first = next((place for place, event in enumerate(music) if isinstance(event, Note)), None)
    loud = grade(_FIRST).loud
    return tuple(replace(e, dynamic=loud) if isinstance(e, Note) and i == first else e for i, e in enumerate(music))
