"""From ladder rungs to written pitches: scales and chords on a root, spelled by key and by direction."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from generators.phrase.study import Limits
from generators.theory.interval import transpose
from generators.theory.key import Key, with_mode
from generators.theory.pitch import Pitch, simple
from generators.theory.scales import CHORDS, DESCENDING, SCALES, Row

# Scales that belong to no key: spelled plainly, never with a double sharp or flat.
KEYLESS = ("chromatic", "whole-tone")


@dataclass(frozen=True, slots=True)
class Ladder:
    """The notes a climb uses: index and direction to pitch, the rungs of an octave, and those a turn may rest on."""

    name: str
    label: str
    key: Key
    rungs: int
    rests: tuple[int, ...]
    least: int
    """The lowest rung that is worth climbing to."""
    at: Callable[[int, int, bool], Pitch]

    def pitch(self, index: int, rises: bool = True, octave: int = 4) -> Pitch:
        """Return the written pitch of a rung, 0 the root in the given octave."""
        return self.at(index, octave, rises)

    def reach(self, octave: int, limits: Limits) -> tuple[int, int]:
        """Return the lowest and highest rung inside the player's range, counted from the root in an octave."""
        inside = [i for i in range(-30, 60) if limits.low.midi <= self.pitch(i, True, octave).midi <= limits.high.midi]
        return (min(inside), max(inside)) if inside else (0, -1)


@cache
def scale(name: str, key: Key) -> Ladder:
    """Return the ladder of a scale on the tonic of a key."""
    row = SCALES[name]
    home = with_mode(key, row.mode)
    rests = {"chromatic": (0, 4, 7), "whole-tone": (0, 2, 3, 4)}.get(name, (0, 2, 4))
    least = {"chromatic": 7, "whole-tone": 3}.get(name, 4)
    return Ladder(name, row.label, home, len(row.intervals), rests, least, _scale_note(row, home))


@cache
def chord(name: str, key: Key) -> Ladder:
    """Return the ladder of a chord on the tonic of a key."""
    row = CHORDS[name]
    home = with_mode(key, row.mode)
    count = len(row.intervals)
    return Ladder(name, row.label, home, count, tuple(range(count)), 2, _row_note(row, home))


def _row_note(row: Row, key: Key) -> Callable[[int, int, bool], Pitch]:
    @cache
    def note(index: int, octave: int, rises: bool) -> Pitch:
        higher, rung = divmod(index, len(row.intervals))
        return transpose(Pitch(key.step, key.alter, octave + higher), row.intervals[rung])

    return note


def _scale_note(row: Row, key: Key) -> Callable[[int, int, bool], Pitch]:
    if row.name in KEYLESS:
        return _keyless_note(row, key)
    up, down = _row_note(row, key), _row_note(DESCENDING.get(row.name, row), key)
    return lambda index, octave, rises: (up if rises else down)(index, octave, rises)


def _keyless_note(row: Row, key: Key) -> Callable[[int, int, bool], Pitch]:
    @cache
    def note(index: int, octave: int, rises: bool) -> Pitch:
        higher, rung = divmod(index, len(row.intervals))
        return by_direction(Pitch(key.step, key.alter, octave + higher).midi + row.intervals[rung].half_steps, key, rises)

    return note


def by_direction(midi: int, key: Key, rises: bool) -> Pitch:
    """Return a chromatic note in a key: its own where it has one, a natural where that will do, else sharp going up, flat going down."""
    octaves = range(midi // 12 - 2, midi // 12 + 1)
    own = next((pitch for o in octaves for pitch in _octave(key, o) if pitch.midi == midi), None)
    return own or simple(midi, rises)


@cache
def _octave(key: Key, octave: int) -> tuple[Pitch, ...]:
    return tuple(key.degree(index, octave) for index in range(7))
