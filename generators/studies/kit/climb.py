"""Climbing the rungs of a scale or a chord by a pattern, which is itself from its first note to its last.

Rung 0 is the root; which pitch a rung has is left to `rungs`. A pattern says how they are climbed. Up and down each end on a
long note on a strong beat; what the beat asks for is given by a longer first note of a run, or a rest, never by other notes;
cells are whole and even. What is no bare run comes to it without sounding it before, so that all keys end alike, and none
plays it twice.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from generators.phrase.algebra import line, on, onsets, slurred, then
from generators.phrase.articulation import Articulation, articulated
from generators.phrase.bars import COMMON
from generators.phrase.note import Note, Phrase, Rest


@dataclass(frozen=True, slots=True)
class Pattern:
    """A cell of rungs, moved up step by step and mirrored on the way down; a run is a cell of one note."""

    name: str
    cell: tuple[int, ...]
    stops: bool = True
    """Whether the way up ends on a long note before the way down begins."""
    full: int = 0
    """How many cells make it whole, one on each note of a chord: all are there where the range has room for them."""
    aim: str = ""

    @property
    def run(self) -> bool:
        """Whether the pattern is the bare rungs one after another."""
        return self.cell == (0,)

    @property
    def reach(self) -> int:
        """How many rungs its cell goes beyond its first note."""
        return max(self.cell)

    def turns_at(self, top: int) -> bool:
        """Tell whether a climb may turn at a rung: a run, cells that go past it, or as many as make it whole below it."""
        whole = top - self.reach >= max(_FEWEST, self.full) or self.ends_at(top)
        return self.run or self.cell[-1] < self.reach or whole

    def whole_at(self, top: int) -> bool:
        """Tell whether cells of a whole octave are all there if it turns where the next one would begin, an octave up."""
        return self.full == self.reach == top

    def ends_at(self, top: int) -> bool:
        """Tell whether cells of a whole octave are all there if the last one ends on its goal, which is then struck again."""
        return bool(self.full) and self.full == self.reach == top + 1 - self.reach

    @property
    def least(self) -> int:
        """The lowest rung that it comes to as the next over its cells; 0 where it needs none."""
        return 0 if self.run or self.cell[-1] < self.reach else self.reach + _FEWEST


@dataclass(frozen=True, slots=True)
class Rhythm:
    """A note value and the pulse at which groups start."""

    name: str
    unit: Fraction
    pulse: Fraction
    lean: int = 0
    """Pairs are uneven: 1 long and short, -1 short and long."""

    @property
    def shortest(self) -> Fraction:
        """The shortest value it prints; a triplet counts as the plain value it is written with."""
        plain = self.unit * Fraction(3, 2) if self.unit.denominator % 3 == 0 else self.unit
        return plain / 2 if self.lean else plain

    @property
    def slots(self) -> int:
        """How many notes a pulse holds."""
        return int(self.pulse / self.unit)


RHYTHMS = {
    rhythm.name: rhythm
    for rhythm in (
        Rhythm("halves", Fraction(1, 2), Fraction(2)),
        Rhythm("quarters", Fraction(1, 4), Fraction(1)),
        Rhythm("eighths", Fraction(1, 8), Fraction(1, 2)),
        Rhythm("dotted", Fraction(1, 8), Fraction(1, 2), lean=1),
        Rhythm("reversed", Fraction(1, 8), Fraction(1, 2), lean=-1),
        Rhythm("triplets", Fraction(1, 12), Fraction(1, 4)),
        Rhythm("sixteenths", Fraction(1, 16), Fraction(1, 4)),
    )
}
# What a child calls a pattern whose name says nothing to him.
_CHILD_PATTERNS = {"returning": "up and back"}
# What needs no name: straight on is how a scale goes.
_PLAIN = "straight"
# What a longer first note may last: a single value that anyone reads; of dotted pairs and triplets, whole pulses.
_FIRST = {Fraction(1, 16) * count for count in (1, 2, 3, 4, 6, 8)}
_EVEN_FIRST = {Fraction(1, 4), Fraction(1, 2)}
# Notes before the goal of a run that are played as quarters: there is nothing to be quick about.
_FEW = 2
# Cells that are moved at the least.
_FEWEST = 2
# From key to key another rhythm, of those into which pattern and articulation go.
TURNING = "turning"
_BEAT, _HALF = Fraction(1, 4), Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class Compass:
    """How far a climb goes: from the root to the top, down to the bottom and home; the outermost rungs it may touch."""

    top: int
    bottom: int
    floor: int
    roof: int


@dataclass(frozen=True, slots=True)
class Rung:
    """A rung, and whether the line rises there (which spells chromatic and melodic minor notes)."""

    index: int
    rises: bool


@dataclass(frozen=True, slots=True)
class _Way:
    """A way to a goal on a strong beat: its rungs, the last of them the goal, and the lengths of all others."""

    rungs: tuple[int, ...]
    lengths: tuple[Fraction, ...]

    @property
    def lead(self) -> Fraction:
        """How long after a strong beat it begins."""
        return -sum(self.lengths, Fraction(0)) % COMMON.strong

    @property
    def after(self) -> Fraction:
        """How far from the beginning of a bar its goal falls, where it begins in the first half of one."""
        return (self.lead + sum(self.lengths, Fraction(0))) % COMMON.bar


def pattern_words(name: str, *, child: bool) -> str:
    """Return what a page calls a pattern; nothing of a straight one."""
    return "" if name == _PLAIN else _CHILD_PATTERNS.get(name, name) if child else name


@lru_cache(maxsize=2048)
def climbed(
    pattern: Pattern, compass: Compass, rhythm: Rhythm, row: Articulation, *, whole: bool = False
) -> Phrase[Rung] | None:
    """Return the strain: up, a breath, down and home; None where the pattern does not go between floor and roof.

    Where rests are whole, the way down begins with a bar. The last ones are kept: other keys climb as far.
    """
    if not pattern.stops:
        there = _run([*range(compass.top), *_down(compass), 0], rhythm)
        music = then(_rest(there.lead), _played(there, there.lead, _Sound(rhythm, row), COMMON.bar - there.after))
        return on(on(on(music, 0, dynamic="mf", hairpin="<"), compass.top, hairpin=">"), -1, hairpin=".")
    up, down = _ways(pattern, compass, rhythm)
    if up is None or down is None:
        return None
    sound, again = _Sound(rhythm, row, None if pattern.run else True), down.rungs[0] == compass.top
    hold, pause = _turn(up.after, down.lead, again, whole)
    rising = then(_rest(up.lead), _played(up, up.lead, sound, hold), _rest(pause))
    begin = up.after + hold + pause
    falling = _played(down, begin, replace(sound, rises=None if pattern.run else False), _left(begin, down), again)
    return then(on(on(rising, 0, dynamic="mf", hairpin="<"), -1, hairpin="."), on(on(falling, 0, hairpin=">"), -1, hairpin="."))


def _left(begin: Fraction, way: _Way) -> Fraction:
    """Return what is left of the bar in which a way that begins there comes home."""
    return COMMON.bar - (begin + sum(way.lengths)) % COMMON.bar


def _turn(falls: Fraction, lead: Fraction, again: bool, whole: bool) -> tuple[Fraction, Fraction]:
    """Return how long the top is held and what is rested after it, by where in its bar it falls and how the way down begins.

    There is always time to breathe in, and more where the way down begins with the same note once more: a bar if rests are
    whole, else half a bar.
    """
    if falls == 0:
        return _HALF + _BEAT, _BEAT + lead
    if whole and not lead:
        return _HALF, COMMON.bar
    if lead:
        return _HALF, lead
    return (_HALF, _HALF) if again else (_HALF - _BEAT / 2, _BEAT / 2)


def _ways(pattern: Pattern, compass: Compass, rhythm: Rhythm) -> tuple[_Way | None, _Way | None]:
    if pattern.run:
        return _run([*range(compass.top), compass.top], rhythm), _run([*_down(compass), 0], rhythm)
    down = _cells(pattern, compass.top, compass.top - compass.floor, compass.top - compass.roof, rhythm)
    mirrored = down and replace(down, rungs=tuple(compass.top - rung for rung in down.rungs))
    return _cells(pattern, compass.top, compass.roof, compass.floor, rhythm), mirrored


def _down(compass: Compass) -> list[int]:
    """Return the bare way from the top to the bottom and up again, without the last note at home."""
    return [*range(compass.top, compass.bottom, -1), *range(compass.bottom, 0)] or [compass.top]


def _run(rungs: Sequence[int], rhythm: Rhythm) -> _Way:
    """Return a run, its first note longer where that alone brings the goal on its beat, or the next note after a rest.

    Two eighths before the goal are played as quarters, as simple as it gets.
    """
    count = len(rungs) - 1
    if count == _FEW and rhythm == RHYTHMS["eighths"]:
        return _Way(tuple(rungs), (_BEAT,) * count)
    missing = -count * rhythm.unit % COMMON.strong
    even = bool(rhythm.lean) or rhythm.unit.denominator % 3 == 0
    firsts = [rhythm.unit + missing - rest for rest in (0, _BEAT) if rest <= missing]
    first = next((value for value in firsts if value in (_EVEN_FIRST if even else _FIRST)), rhythm.unit)
    return _Way(tuple(rungs), (first, *[rhythm.unit] * (count - 1)))


def _cells(pattern: Pattern, goal: int, roof: int, floor: int, rhythm: Rhythm) -> _Way | None:
    """Return the cell moved up step by step until it has come to the goal: every cell is whole and lies on its pulse.

    The last one may end on its goal, which is struck again. None where nothing goes, or nothing would be moved.
    """
    cells = _to_the_goal(pattern, goal, roof, floor)
    if not cells:
        return None
    rungs = [step + rung for step in range(cells + pattern.ends_at(goal)) for rung in pattern.cell]
    return _Way((*rungs, goal), (rhythm.unit,) * len(rungs))


def _to_the_goal(pattern: Pattern, goal: int, roof: int, floor: int) -> int:
    """Return how many cells come to the goal: the last one ends a step before it, or the next one would begin there.

    The latter too for cells that show positions, where all of them would not end below it, or not two. 0 where none do.
    """
    if min(pattern.cell) < floor or goal > roof:
        return 0
    onward = goal if 1 < goal <= roof - pattern.reach + 1 else 0
    if pattern.cell[-1] < pattern.reach or (pattern.whole_at(goal) and onward):
        return onward
    if goal >= pattern.least:
        return goal - pattern.reach
    return onward if pattern.full and goal <= _FEWEST else 0


@dataclass(frozen=True, slots=True)
class _Sound:
    """How a way is played: its rhythm and set, and whether its cells rise or fall as a whole; None for a run."""

    rhythm: Rhythm
    row: Articulation
    rises: bool | None = None


def _rest(value: Fraction) -> Phrase[Rung]:
    return (Rest(value),) if value else ()


def _played(way: _Way, begin: Fraction, sound: _Sound, hold: Fraction, again: bool = False) -> Phrase[Rung]:
    """Return a way that begins so far from a bar line: its run under the set, then the long note with a breath."""
    timed = line(_rungs(way.rungs, sound.rises, again), way.lengths)
    run = _leaning(timed, begin, sound.rhythm) if sound.rhythm.lean else timed
    last: Phrase[Rung] = (_landing(Note(Rung(way.rungs[-1], True), hold, breath=True), sound.row),)
    if sound.row.slots:
        return then(_grouped(run, begin, sound), last)
    # No slur goes from a note to the same note.
    return then(slurred(run), last) if way.rungs[-2:-1] == way.rungs[-1:] else slurred(then(run, last))


def _grouped(run: Phrase[Rung], begin: Fraction, sound: _Sound) -> Phrase[Rung]:
    """Return a run under its set: groups begin with its first note, or after a longer one, where that is on a beat.

    So a set is heard as it is called from the start; elsewhere it begins anew at every pulse of the bar.
    """
    rhythm, row = sound.rhythm, sound.row
    alone = 1 if run[0].length > rhythm.unit and not rhythm.lean else 0
    start = begin + sum(event.length for event in run[:alone])
    if start % _BEAT:
        return articulated(run, row, rhythm.unit, rhythm.pulse, begin)
    first = articulated(run[:alone], replace(row, slots="-"), rhythm.unit, rhythm.pulse)
    return then(first, articulated(run[alone:], row, rhythm.unit, rhythm.pulse))


def _landing(last: Note[Rung], row: Articulation) -> Note[Rung]:
    """Return the long note, on which a set with syllables lands with a plain t."""
    return replace(last, syllable="t", role="landing") if row.syllables else last


def _rungs(indices: Sequence[int], rises: bool | None, again: bool) -> list[Rung]:
    """Return all rungs but the last with their direction: a run's own (None); a pattern's, up or down as a whole.

    On a pattern's way down the last steps up to the goal rise, and so does the lower neighbour of a tonic (8 7 8). A way
    down that begins again on the note that the way up has ended on spells it alike.
    """
    steps = list(pairwise(indices))
    last = next((n for n, (a, b) in enumerate(reversed(steps)) if b != a + 1), len(steps))
    turns = [i > 0 and b == indices[i - 1] == a + 1 and b % 7 == 0 for i, (a, b) in enumerate(steps)]
    up = [b > a if rises is None else rises or turn for (a, b), turn in zip(steps, turns, strict=True)]
    rising = {*range(len(steps) - last, len(steps)), *([0] if again else [])}
    return [Rung(a, up[i] or i in rising) for i, (a, _) in enumerate(steps)]


def _leaning(phrase: Phrase[Rung], begin: Fraction, rhythm: Rhythm) -> Phrase[Rung]:
    """Return a run in uneven pairs, which lie on the beats of a bar."""
    starts = [begin + start for start in onsets(phrase)]
    return tuple(replace(e, length=_leant(e.length, start, rhythm)) for e, start in zip(phrase, starts, strict=True))


def _leant(value: Fraction, start: Fraction, rhythm: Rhythm) -> Fraction:
    """Return a value in uneven pairs: what ends within a pair takes half a unit from what begins there, or gives it."""
    pair = 2 * rhythm.unit
    begins, ends = start % pair != 0, (start + value) % pair != 0
    return value + rhythm.lean * (int(ends) - int(begins)) * rhythm.unit / 2
