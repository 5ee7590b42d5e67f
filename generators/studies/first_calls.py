"""What a beginner comes in with after a rest: short calls of two bars, easiest first, at last those at the ends of his notes.

None begins on the home note, which he has just played, nor on the highest note of more than five.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generators.chance import pick
from generators.phrase.algebra import notes
from generators.phrase.in_key import in_key
from generators.phrase.notation import degrees
from generators.phrase.note import Phrase
from generators.phrase.study import Limits
from generators.studies.kit.fit import inside, leap
from generators.theory.key import Key
from generators.theory.pitch import Pitch

# The calls from the home note up to its fifth, each in some shapes: degree 3 is the third over the home note. Our choice.
_INNER = (
    ("3/2 2 | 1/1", "3/4 2 3 2 | 1/1"),
    ("5/2 4 | 3/1", "5/2. 4/4 | 3/1"),
    ("3/2 4 | 5/1", "3/4 4 5 4 | 3/1"),
    ("5/4 4 3 2 | 1/1", "5/2 3 | 1/1"),
)
# Those that go to the sixth, to the octave and under the home note; the second to the sixth where there is no octave.
_SIXTH = ("6/2 5 | 3/1", "3/4 4 5 6 | 5/1")
_SIXTH_AGAIN = ("5/4 6 5 3 | 1/1",)
_OCTAVE = ("6/2 7 | 1'/1", "5/2 6/4 7 | 1'/1")
_UNDER = ("6,/2 7, | 1/1", "5,/2 6,/4 7, | 1/1")
_FIFTH, _COLD, _OCTAVES = 7, 2, range(2, 6)


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a beginner's calls lie: the key, the octave of its home note, and his limits."""

    key: Key
    octave: int
    limits: Limits

    def fitting(self, shapes: Sequence[str]) -> list[Phrase[Pitch]]:
        """Return the shapes of a call that can be played here, none begun on the highest of more than five notes."""
        return [line for shape in shapes if self._fits(line := in_key(degrees(shape), self.key, self.octave))]

    def _fits(self, line: Phrase[Pitch]) -> bool:
        limits = self.limits
        cold = _COLD if limits.high.midi - limits.low.midi > _FIFTH else 0
        return inside(line, limits) and leap(line) <= limits.leap and notes(line)[0].pitch.midi <= limits.high.midi - cold


def first_calls(key: Key, limits: Limits, count: int, seed: int) -> list[Phrase[Pitch]]:
    """Return so many calls in a key; none where the notes have not as many.

    One at least is the first of the inner ones; as many as there is room for go beyond them. No two neighbours begin alike.
    """
    places = (_Place(key, octave, limits) for octave in _OCTAVES)
    here = next((place for place in places if place.fitting(_INNER[0])), None)
    return _drawn(here, count, seed) if here else []


def _drawn(here: _Place, count: int, seed: int) -> list[Phrase[Pitch]]:
    outer = list(_outer(here))[-max(0, min(count - 1, len(_INNER) // 2)) :] if count > 1 else []
    calls: list[Phrase[Pitch]] = []
    for i, shapes in enumerate((*_INNER[: count - len(outer)], *outer)):
        before = notes(calls[-1])[0].pitch if calls else None
        found = [line for line in here.fitting(shapes) if notes(line)[0].pitch != before]
        calls += [pick(found, seed, "call", i)] if found else []
    return calls if len(calls) == count else []


def _outer(here: _Place) -> Iterator[Sequence[str]]:
    """Yield the calls that go over the fifth and under the home note, as far as there are notes."""
    wide = bool(here.fitting(_OCTAVE))
    for shapes in (_SIXTH, _OCTAVE if wide else _SIXTH_AGAIN, _UNDER):
        if here.fitting(shapes):
            yield shapes
