"""What a line of an etude costs the ear: dissonance, leaps, spelling and resolution, judged three notes at a time."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

from generators.phrase.in_key import placed
from generators.phrase.note import Degree
from generators.studies.etude.plan import NUMERALS, RAISED
from generators.theory.key import Key
from generators.theory.pitch import Pitch

# Every cost in this file is our choice, without a source: set by ear against the tunes that came of it, and by the statistics
# that the tests hold them to. Only their order means anything; NEVER is past any sum of the others.
NEVER = 1000.0
# Melodic intervals that sing: steps of the staff with the half-steps they may have.
SINGING = {0: (0,), 1: (1, 2), 2: (3, 4), 3: (5,), 4: (7,), 5: (8, 9), 7: (12,)}
# What a move of so many steps costs; a seventh is never sung.
_WIDTH = {0: 1.4, 1: 0.0, 2: 0.8, 3: 1.8, 4: 2.4, 5: 4.5, 7: 5.0}
WEAK, ON_BEAT, STRONG = 0, 1, 2


class Spot(NamedTuple):
    """A place in a bar before it has a note: the chord that sounds there, the weight of the beat, and how long it lasts."""

    chord: str
    weight: int
    long: bool


class Heard(NamedTuple):
    """A scale degree on its spot."""

    step: int
    spot: Spot

    @property
    def chordal(self) -> bool:
        """Whether it belongs to the chord of its spot."""
        return self.step % 7 in NUMERALS[self.spot.chord]


@dataclass(frozen=True, slots=True)
class Ground:
    """Where a line may move: the key and octave its degrees count from, its lowest and highest degree, the widest leap."""

    key: Key
    octave: int
    low: int
    high: int
    top: int
    """The degree of the climax, above `high` or outside the line."""
    leap: int
    """Half-steps."""

    def pitch(self, here: Heard, after: Heard | None) -> Pitch:
        """Return the written pitch of a note, raised where its chord or the note after it asks for it."""
        return placed(Degree(here.step, sharpened(self.key.mode, here, after)), self.key, self.octave)


def sharpened(mode: str, here: Heard, after: Heard | None) -> int:
    """Return 1 for a degree that is raised: in its chord, or in minor on the way up to the tonic."""
    degree, chords = here.step % 7, RAISED[mode]
    if degree in chords.get(here.spot.chord, ()):
        return 1
    rising = mode == "minor" and after is not None and after.step == here.step + 1
    if rising and degree == 6:
        return int(here.spot.chord not in ("VII", "V/vi"))
    return int(rising and degree == 5 and after is not None and 6 in chords.get(after.spot.chord, ()))


Judge = Callable[[Heard | None, Heard, Heard | None], float]


def judge(ground: Ground) -> Judge:
    """Return the cost of a note between the one before it and the one after it."""
    plain = {index: ground.key.degree(index, ground.octave).midi for index in range(ground.low - 8, ground.top + 9)}
    mode = ground.key.mode

    def midi(here: Heard, after: Heard | None) -> int:
        return plain[here.step] + sharpened(mode, here, after)

    @cache
    def cost(before: Heard | None, here: Heard, after: Heard | None) -> float:
        total = _dissonance(before, here, after)
        if before is None:
            return total
        half_steps = midi(here, after) - midi(before, here)
        total += _width(before, here, abs(half_steps), ground.leap) + _tendency(before, here)
        return total + _answer(before, here, after) + (8.0 if _crossed(mode, before, half_steps) else 0.0)

    return cost


def _dissonance(before: Heard | None, here: Heard, after: Heard | None) -> float:
    """Return the cost of a note outside the chord: it comes and goes by step; on a strong beat it is rare, and falls."""
    if here.chordal:
        return 0.0
    comes = before is not None and abs(here.step - before.step) <= 1
    goes = after is not None and abs(after.step - here.step) == 1
    falls = after is not None and after.step == here.step - 1
    weight = (0.0, 1.2, 6.0 if falls else 11.0)[here.spot.weight] * (1.5 if here.spot.long else 1.0)
    return weight + (0.0 if comes else 9.0) + (0.0 if goes else 12.0)


def _width(before: Heard, here: Heard, half_steps: int, most: int) -> float:
    """Return the cost of the size of a move; one that does not sing, or is wider than allowed, is never made."""
    steps = abs(here.step - before.step)
    if half_steps > most or half_steps not in SINGING.get(steps, ()):
        return NEVER
    return _WIDTH[steps] + (1.0 if steps == 0 and here.spot.weight == STRONG else 0.0)


def _answer(before: Heard, here: Heard, after: Heard | None) -> float:
    """Return the cost of what follows a move: a leap turns back by step, past a fifth always; a chord may be climbed."""
    came = here.step - before.step
    if abs(came) <= 1:
        return 0.5 if after is not None and after.step == before.step and here.spot.long else 0.0
    went = after.step - here.step if after is not None else 0
    if came * went < 0:
        return 0.0 if abs(went) == 1 else 0.6 if abs(came) == 2 else 1.8
    if abs(came) > 4:
        return NEVER
    return _onward(abs(came), abs(went), here, after)


def _onward(came: int, went: int, here: Heard, after: Heard | None) -> float:
    """Return what it costs to stay, or to go on, after a leap in the same direction."""
    chord = after is not None and here.chordal and after.chordal and after.spot.chord == here.spot.chord
    if came == 2:
        return 0.3 if went <= 1 or (went == 2 and chord) else 3.0
    return 1.5 * (came - 2) if went <= 1 else 3.5 + (0.0 if chord and went == 2 else 3.0)


def _tendency(before: Heard, here: Heard) -> float:
    """Return the cost of a tendency ignored: as the dominant ends its leading note rises, its seventh falls."""
    if before.spot.chord != "V" or here.spot.chord == "V":
        return 0.0
    degree, move = before.step % 7, here.step - before.step
    return 3.0 if (degree == 6 and move != 1) or (degree == 3 and move != -1) else 0.0


def _crossed(mode: str, before: Heard, half_steps: int) -> bool:
    """Tell whether a minor line falls from its natural seventh to the raised sixth, two scales in one breath."""
    return mode == "minor" and before.step % 7 == 6 and half_steps == -1
