"""Climbing a ladder of notes (a scale or a chord) by a pattern, so that every group starts on its pulse and every bar is full.

A ladder is a function from index to pitch; index 0 is the root. A pattern says how the ladder is climbed; the ways up and down
end on a long note on a strong beat, reached by a few joining notes where the pattern alone would miss the beat.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from generators.phrase.algebra import length, line, on, onsets, slurred, then
from generators.phrase.articulation import Articulation, articulated
from generators.phrase.bars import COMMON
from generators.phrase.note import Note, Phrase, Rest


@dataclass(frozen=True, slots=True)
class Pattern:
    """A cell of ladder steps, moved up step by step and mirrored on the way down; a run is a cell of one note."""

    name: str
    cell: tuple[int, ...]
    wall: tuple[int, ...] = ()
    """The cell to use where the range ends just below the first one."""
    stops: bool = True
    """Whether the way up ends on a long note before the way down begins."""
    aim: str = ""

    @property
    def run(self) -> bool:
        """Whether the pattern is the bare ladder."""
        return self.cell == (0,)


@dataclass(frozen=True, slots=True)
class Rhythm:
    """A note value and the pulse at which groups start."""

    name: str
    unit: Fraction
    pulse: Fraction
    dotted: bool = False

    @property
    def strong(self) -> int:
        """How many notes lie between strong beats."""
        return int(COMMON.strong / self.unit)

    @property
    def shortest(self) -> Fraction:
        """The shortest value it prints; a triplet counts as the plain value it is written with."""
        plain = self.unit * Fraction(3, 2) if self.unit.denominator % 3 == 0 else self.unit
        return plain / 2 if self.dotted else plain

    @property
    def slots(self) -> int:
        """How many notes a pulse holds."""
        return int(self.pulse / self.unit)


# How many notes of a way may be played in another order for a smoother end.
BACK = 2

RHYTHMS = {
    rhythm.name: rhythm
    for rhythm in (
        Rhythm("quarters", Fraction(1, 4), Fraction(1)),
        Rhythm("eighths", Fraction(1, 8), Fraction(1, 2)),
        Rhythm("dotted", Fraction(1, 8), Fraction(1, 2), dotted=True),
        Rhythm("triplets", Fraction(1, 12), Fraction(1, 4)),
        Rhythm("sixteenths", Fraction(1, 16), Fraction(1, 4)),
    )
}


@dataclass(frozen=True, slots=True)
class Shape:
    """How far a climb goes: from the root to the top, down to the bottom and home; the outermost rungs it may touch."""

    top: int
    bottom: int
    floor: int
    roof: int


@dataclass(frozen=True, slots=True)
class Rung:
    """A step of the ladder, and whether the line rises there (which spells chromatic and melodic minor notes)."""

    index: int
    rises: bool


def climbed(pattern: Pattern, shape: Shape, rhythm: Rhythm, row: Articulation) -> Phrase[Rung]:
    """Return the strain: up, a breath, down and home; every way starts on a pulse and ends on a long note on a strong beat."""
    if not pattern.stops:
        way = _landed([*range(shape.top), *_down(shape)[:-1]], 0, shape, rhythm)
        return on(on(on(_way(way, rhythm, row), 0, dynamic="mf", hairpin="<"), shape.top, hairpin=">"), -1, hairpin=".")
    up, down = _run(shape, rhythm) if pattern.run else _cells(pattern, shape, rhythm)
    rises, falls = (None, None) if pattern.run else (True, False)
    rising = on(on(_way(up, rhythm, row, rises, rest=True), 0, dynamic="mf", hairpin="<"), -1, hairpin=".")
    return then(rising, on(on(_way(down, rhythm, row, falls), 0, hairpin=">"), -1, hairpin="."))


def _run(shape: Shape, rhythm: Rhythm) -> tuple[tuple[int, ...], tuple[int, ...]]:
    return _landed(list(range(shape.top)), shape.top, shape, rhythm), _landed(_down(shape)[:-1], 0, shape, rhythm)


def _down(shape: Shape) -> list[int]:
    """Return the bare way from the top to the bottom and home."""
    return [*range(shape.top, shape.bottom, -1), *range(shape.bottom, 1)]


def spare(pattern: Pattern, shape: Shape, rhythm: Rhythm) -> int:
    """Return how many joining notes a bare run needs, up or all the way."""
    count = shape.top if pattern.stops else len(_down(shape)) - 1 + shape.top
    return -count % rhythm.strong if pattern.run else 0


def _cells(pattern: Pattern, shape: Shape, rhythm: Rhythm) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return the ways of a cell: up to the top, and the same mirrored from the top home."""
    up = _sequence(pattern, shape.top, shape.roof, shape.floor)
    mirrored = _sequence(pattern, shape.top, shape.top - shape.floor, shape.top - shape.roof)
    return _landed(up, shape.top, shape, rhythm), _landed([shape.top - i for i in mirrored], 0, shape, rhythm)


def _sequence(pattern: Pattern, goal: int, roof: int, floor: int) -> list[int]:
    """Return the cell moved up step by step, as long as it stays under the roof and does not yet sound the goal last."""
    result: list[int] = []
    for step in range(goal):
        cell = pattern.cell if step + min(pattern.cell) >= floor else pattern.wall
        moved = [step + i for i in cell]
        if max(moved) > roof or moved[-1] == goal:
            break
        result += moved
    return result


def _landed(way: list[int], goal: int, shape: Shape, rhythm: Rhythm) -> tuple[int, ...]:
    """Return the way with joining notes that put the goal on a strong beat, and the goal: the smoothest that skips no rung."""
    way = way or [0 if goal else shape.top]
    ends = [_ended(way[: len(way) - back], goal, shape, rhythm) for back in range(min(BACK, len(way) - 1) + 1)]
    whole = [end for end in ends if set(way) <= set(end[1])]
    return min(whole, key=lambda end: (len(end[1]) + end[0], end[0]))[1]


def _ended(way: list[int], goal: int, shape: Shape, rhythm: Rhythm) -> tuple[float, tuple[int, ...]]:
    """Return the way led to its goal by as few notes as put it on a strong beat, and how rough that is."""
    count = -len(way) % rhythm.strong
    while True:
        joint = joined(way[-1], goal, count, shape.floor, shape.roof)
        if joint is not None:
            return joint[0], (*way, *joint[1], goal)
        count += rhythm.strong


def joined(start: int, goal: int, count: int, floor: int, roof: int) -> tuple[float, tuple[int, ...]] | None:
    """Return so many notes that lead from one rung to another by steps, turns and at most a few thirds, and how rough they are.

    None where the goal is too far for so few.
    """
    paths: dict[int, tuple[float, tuple[int, ...]]] = {start: (0.0, ())}
    for _ in range(count):
        longer: dict[int, tuple[float, tuple[int, ...]]] = {}
        for here, (cost, path) in paths.items():
            for step in (1, -1, 2, -2):
                there, price = here + step, cost + _price(here, step, path, start)
                if floor <= there <= roof and price < longer.get(there, (99.0, ()))[0]:
                    longer[there] = (price, (*path, there))
        paths = longer
    ends = [(cost + 3 * (abs(goal - here) - 1), path) for here, (cost, path) in paths.items() if 1 <= abs(goal - here) <= 2]
    return min(ends) if ends else None


def _price(here: int, step: int, path: tuple[int, ...], start: int) -> float:
    """Return what a step costs: thirds are dear, turning back a little, so that the line keeps its direction."""
    before = (start, *path)[-2] if path else here
    turns = (here - before) * step < 0
    return (2.0 if abs(step) == 2 else 0.0) + (0.5 if turns else 0.0)


def _way(
    indices: Sequence[int], rhythm: Rhythm, row: Articulation, rises: bool | None = None, rest: bool = False
) -> Phrase[Rung]:
    """Return one way as a phrase: the run under its articulation, then the long note with a breath (and a rest if wanted)."""
    run, goal = _timed(_rungs(indices, rises), rhythm), Rung(indices[-1], True)
    landing = length(run) % COMMON.bar
    hold = COMMON.bar - landing if landing or not rest else Fraction(3, 4)
    last: Phrase[Rung] = (
        Note(goal, hold, breath=True, syllable="t" if row.syllables else "", role="landing" if row.syllables else ""),
    )
    pause: Phrase[Rung] = (Rest(Fraction(1, 4)),) if hold == Fraction(3, 4) else ()
    if not row.slots:
        return then(slurred(then(run, last)), pause)
    return then(articulated(run, row, rhythm.unit, rhythm.pulse), last, pause)


def _rungs(indices: Sequence[int], rises: bool | None) -> list[Rung]:
    """Return all rungs but the last with their direction: a run's own (None); a pattern's, up or down as a whole.

    On a pattern's way down the last steps up to the goal rise, and so does the lower neighbour of a tonic (8 7 8). A way
    down begins on the note the way up has ended on, and spells it alike.
    """
    steps = list(pairwise(indices))
    last = next((n for n, (a, b) in enumerate(reversed(steps)) if b != a + 1), len(steps))
    turns = [i > 0 and b == indices[i - 1] == a + 1 and b % 7 == 0 for i, (a, b) in enumerate(steps)]
    up = [b > a if rises is None else rises or turn for (a, b), turn in zip(steps, turns, strict=True)]
    return [Rung(a, up[i] or i in (0, *range(len(steps) - last, len(steps)))) for i, (a, _) in enumerate(steps)]


def _timed(rungs: Sequence[Rung], rhythm: Rhythm) -> Phrase[Rung]:
    """Return the rungs in the rhythm, dotted in pairs where it is."""
    phrase = line(rungs, [rhythm.unit] * len(rungs))
    if not rhythm.dotted:
        return phrase
    starts = onsets(phrase)
    return tuple(replace(e, length=_dotted(e.length, start, rhythm.unit)) for e, start in zip(phrase, starts, strict=True))


def _dotted(value: Fraction, start: Fraction, unit: Fraction) -> Fraction:
    """Return a value in dotted pairs: what ends within a pair is longer by half a unit, what begins there shorter."""
    begins, ends = start % (2 * unit) != 0, (start + value) % (2 * unit) != 0
    return value + (int(ends) - int(begins)) * unit / 2
