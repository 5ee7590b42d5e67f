"""From rungs to written pitches: scales and chords on a root, spelled by key and by direction."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from generators.phrase.study import Limits
from generators.theory.interval import transpose
from generators.theory.key import Key, with_mode
from generators.theory.pitch import Pitch, simple
from generators.theory.scales import CHORDS, DESCENDING, SCALES, Row

# Scales that belong to no key: spelled plainly, never with a double sharp or flat.
_KEYLESS = ("chromatic", "whole-tone")
# How far the tonic may lie to which a chord comes home, in half-steps.
_FIFTH = 7


@dataclass(frozen=True, slots=True)
class Rungs:
    """The notes a climb uses: a pitch for each rung and direction, and the rungs a turn may rest on."""

    name: str
    label: str
    key: Key
    signature: Key
    """The key it is written in: none for a scale that belongs to no key."""
    count: int
    """Rungs in an octave."""
    rests: tuple[int, ...]
    least: int
    """The lowest rung that is worth climbing to."""
    at: Callable[[int, int, bool], Pitch]
    root: Pitch | None = None
    """The root of a chord that does not stand on the tonic."""

    @property
    def falls(self) -> bool:
        """Whether its highest note is a seventh that falls to the third of the tonic chord."""
        return self.name == "dominant-seventh"

    def pitch(self, index: int, rises: bool = True, octave: int = 4) -> Pitch:
        """Return the written pitch of a rung, 0 the root in the given octave."""
        return self.at(index, octave, rises)

    def homes(self, octave: int, limits: Limits) -> list[Pitch]:
        """Return the tonics of the key inside the player's range within a fifth of the root in an octave, the nearest first."""
        places = (Pitch(self.key.step, self.key.alter, octave + higher) for higher in (-1, 0, 1))
        inside = [pitch for pitch in places if limits.low.midi <= pitch.midi <= limits.high.midi]
        far = {pitch: abs(pitch.midi - self.pitch(0, octave=octave).midi) for pitch in inside}
        return sorted((pitch for pitch in inside if far[pitch] <= _FIFTH), key=far.__getitem__)

    def reach(self, octave: int, limits: Limits) -> tuple[int, int]:
        """Return the lowest and highest rung inside the player's range up and down, counted from the root in an octave."""
        return _reach(self, octave, limits.low.midi, limits.high.midi)


@cache
def _reach(rungs: Rungs, octave: int, low: int, high: int) -> tuple[int, int]:
    inside = [i for i in range(-30, 60) if all(low <= rungs.pitch(i, rises, octave).midi <= high for rises in (True, False))]
    return (min(inside), max(inside)) if inside else (0, -1)


@cache
def scale(name: str, key: Key) -> Rungs:
    """Return the rungs of a scale on the tonic of a key."""
    row = SCALES[name]
    home = with_mode(key, row.mode)
    rests = {"chromatic": (0, 4, 7), "whole-tone": (0, 2, 3, 4)}.get(name, (0, 2, 4))
    least = {"chromatic": 7, "whole-tone": 3}.get(name, 4)
    signature = Key("C", 0) if name in _KEYLESS else home
    return Rungs(name, row.label, home, signature, len(row.intervals), rests, least, _scale_note(row, home))


@cache
def chord(name: str, key: Key) -> Rungs:
    """Return the rungs of a chord in a key, on the degree of it that the chord belongs to."""
    row = CHORDS[name]
    home = with_mode(key, row.mode or key.mode)
    count, tonic = len(row.intervals), Pitch(home.step, home.alter, 4)
    root = transpose(tonic, row.root)
    return Rungs(
        name, row.label, home, home, count, tuple(range(count)), 2, _plain_note(row, root), root if root != tonic else None
    )


def _row_note(row: Row, root: Pitch | Key) -> Callable[[int, int, bool], Pitch]:
    @cache
    def note(index: int, octave: int, _rises: bool) -> Pitch:
        higher, rung = divmod(index, len(row.intervals))
        return transpose(Pitch(root.step, root.alter, octave + higher), row.intervals[rung])

    return note


def _plain_note(row: Row, key: Pitch) -> Callable[[int, int, bool], Pitch]:
    """Return the notes of a chord; the double flats of a diminished seventh are written plainly, as parts have them."""
    note = _row_note(row, key)

    def plain(index: int, octave: int, rises: bool) -> Pitch:
        pitch = note(index, octave, rises)
        return simple(pitch.midi, sharp=False) if row.name == "diminished-seventh" and pitch.alter == -2 else pitch

    return plain


def _scale_note(row: Row, key: Key) -> Callable[[int, int, bool], Pitch]:
    if row.name in _KEYLESS:
        return _keyless_note(row, key)
    up, down = _row_note(row, key), _row_note(DESCENDING.get(row.name, row), key)
    return lambda index, octave, rises: (up if rises else down)(index, octave, rises)


def _keyless_note(row: Row, key: Key) -> Callable[[int, int, bool], Pitch]:
    @cache
    def note(index: int, octave: int, rises: bool) -> Pitch:
        higher, rung = divmod(index, len(row.intervals))
        return _by_direction(Pitch(key.step, key.alter, octave + higher).midi + row.intervals[rung].half_steps, key, rises)

    return note


def _by_direction(midi: int, key: Key, rises: bool) -> Pitch:
    """Return a note outside any key: the tonic as it is named, a natural where that will do, else sharp going up, flat down."""
    tonic = next((pitch for o in range(9) if (pitch := Pitch(key.step, key.alter, o)).midi == midi), None)
    return tonic or simple(midi, rises)
