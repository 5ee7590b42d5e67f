"""A line of tonguing as it is said: its groups in their rhythm, a syllable to every note, landings between, the end held."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from generators.phrase.algebra import augmented, length, notes, then
from generators.phrase.bars import COMMON
from generators.phrase.notation import value
from generators.phrase.note import Note, Phrase, Rest
from generators.studies.tonguing.tongues import EVEN, TONGUE_GROUPS, TONGUE_STYLES, Tongue
from generators.theory.pitch import Pitch

_BEAT = Fraction(1, 4)
# A breath has time after a landing of a beat.
_BREATH_AFTER = _BEAT
_HALF, _TWO = Fraction(1, 2), 2
# So many notes at the most are tongued as quickly as the lines after them before these: our choice.
_FEW = 8
LATE, RUNNING_ON = "late", "running"


class _Way(NamedTuple):
    """How a line goes: values and syllables of a group, the rest before a group, how long a landing and the end last.

    Where there is no landing, its note is struck as often as a group has notes.
    """

    group: tuple[Fraction, ...]
    said: str
    before: Fraction
    landing: Fraction
    end: Fraction


def spoken(line: Phrase[Pitch], tongue: Tongue, size: int, groups: str, style: str, *, quick: bool = False) -> Phrase[Pitch]:
    """Return a line of eight beats of a sketch and its end as it is said: a group and a landing twice, four groups, the end.

    Groups of two beats are four beats of the second half of the run alone; `quick` is all but the end in half the time.
    """
    bare, mark = list(notes(line)), TONGUE_STYLES.get(style, "")
    way = _way(tongue, groups, size)
    size = len(way.group)
    marked = [replace(note, articulations=(mark,) if mark else ()) for note in bare]
    cuts = [0, size, size + 1, 2 * size + 1, 2 * size + 2]
    first, landing, second, other = (marked[a:b] for a, b in pairwise(cuts))
    run = marked[cuts[-1] : -1]
    said = (
        *_opening(first, landing[0], way),
        *_opening(second, other[0], way),
        *_rest(way.before),
        *_group(run[len(run) // 2 :] if _broad(way) else run, way),
    )
    end = replace(bare[-1], length=way.end, syllable="t", role="landing", breath=True)
    return then(augmented(said, _HALF) if quick else said, (end, Rest(_BEAT)))


def k_first(pitch: Pitch, tongue: Tongue, size: int, style: str, slow: Fraction, *, quick: bool) -> Phrase[Pitch]:
    """Return three bars on one pitch: k alone in a slow value, the tongue half as quick, then few groups as it is."""
    way = _way(tongue, EVEN, size)
    values = [each * _HALF if quick else each for each in way.group]
    mark = tuple(filter(None, (TONGUE_STYLES.get(style, ""),)))
    alone = [Note(pitch, slow, articulations=mark, syllable="k")] * int(3 * _BEAT / slow)
    rested = Note(pitch, _BEAT, articulations=mark, syllable="k", role="landing", may_breathe=True)
    group = [Note(pitch, value, articulations=mark, syllable=said) for value, said in zip(values, way.said, strict=True)]
    slower = [replace(note, length=_TWO * note.length) for note in group]
    held = Note(pitch, _TWO * _BEAT, articulations=mark, syllable="t", role="landing", may_breathe=True)
    count = max(1, int(held.length / sum(values)))
    quickest = tuple(group * min(count, max(1, _FEW // size)))
    home = replace(held, length=COMMON.bar - length(quickest), articulations=(), breath=True)
    return (*alone, rested, *slower * max(1, count // _TWO), held, *quickest, home)


def _broad(way: _Way) -> bool:
    """Tell whether a group of sixteenths lasts two beats: a run of four would crowd its line."""
    return len(way.group) > _TWO and sum(way.group) > _BEAT


def _way(tongue: Tongue, groups: str, size: int) -> _Way:
    """Return the times of a line; groups of two beats land on two, and late ones end as much earlier as they began later."""
    values = tuple(value(text) for text in TONGUE_GROUPS[groups][size].split())
    said = "".join(tongue.syllables[place % len(tongue.syllables)] for place in range(len(values)))
    if groups == LATE:
        return _Way(values, said, _BEAT / 2, _BEAT / 2, 2 * _BEAT + _BEAT / 2)
    landing = Fraction(0) if groups == RUNNING_ON else sum(values, Fraction(0))
    return _Way(values, said, Fraction(0), landing, 3 * _BEAT)


def _opening(group: list[Note[Pitch]], landing: Note[Pitch], way: _Way) -> Iterator[Note[Pitch] | Rest]:
    """Yield a group and the note that it lands on, or goes on with."""
    yield from _rest(way.before)
    yield from _group(group, way)
    if way.landing:
        breathes = way.landing >= _BREATH_AFTER
        yield replace(landing, length=way.landing, syllable=way.said[0], role="landing", may_breathe=breathes)
    else:
        yield from _group([landing] * len(group), way)


def _group(group: list[Note[Pitch]], way: _Way) -> Iterator[Note[Pitch]]:
    """Yield groups in their values; every group begins its syllables anew."""
    size = len(way.group)
    for i, note in enumerate(group):
        place = i % size
        yield replace(note, length=way.group[place], syllable=way.said[place])


def _rest(length: Fraction) -> Phrase[Pitch]:
    return (Rest(length),) if length else ()
