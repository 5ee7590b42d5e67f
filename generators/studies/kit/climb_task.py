"""The task of scales and arpeggios: pattern, rhythm and articulation set that go into one another, asked for or chosen."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from generators.brass.grade import grade
from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.articulation import SETS, Articulation, fits
from generators.studies.kit.climb import RHYTHMS, TURNING, Pattern, Rhythm
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting
from generators.theory.pitch import Pitch, simple

CLIMB_OCTAVES = ("wide", "1", "2", "3")
# What turning rhythms are quicker than.
_SLOW = Fraction(1, 4)
_TWO = 2
# What a beginner plays before what is quicker, from the slowest on, and how many rhythms his keys after the first have.
_LONG_FIRST, _LATER = ("halves", "quarters"), 2
# Half-steps below a comfortable range to which a scale may go, and under a learner's top where it ends, if that is farther up
# than this note of the treble clef.
_NEAR, _UNDER_TOP, _FAR = 1, 2, Pitch("A", 0, 5)
# Between which tempi a climb goes by itself: our choice.
_SLOWEST, _QUICKEST = 60, 132
# The sets of a day, which come round in turn; our choice.
_DAY_PAIRS = ("slurred-pairs", "tongued", "slurred")
_DAY_THREES = ("slur-two-tongue-one", "tongue-one-slur-two", "tongued", "slurred")
_DAY_FOURS = (
    *("slur-two-tongue-two", "tongued", "slurred-pairs"),
    *("slur-three-tongue-one", "tongue-one-slur-three", "slurred"),
)


@dataclass(frozen=True, slots=True)
class Task:
    """What is to be done in every key."""

    kind: str
    pattern: Pattern
    rhythm: Rhythm
    row: Articulation
    octaves: str
    own: bool = False
    """Whether the set is the study's own, not asked for."""
    octaves_asked: bool = True
    """Whether the player named the octaves; what the grade has by itself is cut short without a word."""
    turning: tuple[Rhythm, ...] = ()
    """The rhythms that take turns from key to key, where they do."""
    gradual: bool = False
    """Whether the first key has all of them instead, one after another, and every other the last two."""

    @property
    def wanted(self) -> int | None:
        """The octaves that were asked for; None for as wide as it goes."""
        return None if self.octaves == "wide" else int(self.octaves)

    def turns(self, place: int) -> list[int]:
        """Return the places of the rhythms that the key at a place has."""
        return list(range(len(self.turning)))[-_LATER if place else 0 :] if self.gradual else [place]

    def at(self, place: int) -> "Task":
        """Return what is done in the key at a place."""
        return replace(self, rhythm=self.turning[place % len(self.turning)]) if self.turning else self


def rhythm_option() -> Any:
    """Return the field of a climb's rhythm."""
    text = "The rhythm, or another in every key (turning); without it the pattern's own."
    return option("", text, allowed=(*RHYTHMS, TURNING))


def octaves_option() -> Any:
    """Return the field of how far a climb goes."""
    text = "How far: wide is as many whole octaves as the range has; without it wide, in grades to 3 one, to 5 two."
    return option("", text, allowed=CLIMB_OCTAVES)


def slowed(rhythm: str, of: str, *, few: bool = False) -> str:
    """Return the rhythm that was asked for; without one quarters where a grade has nothing quicker, or few notes to climb."""
    return rhythm or ("quarters" if grade(of).slow or (few and grade(of).beginner) else "")


def own_articulation(pattern: Pattern, rhythm: str, known: Sequence[str], fours: str) -> str:
    """Return the set a study takes where none is asked for: the first of a grade's, or one that goes into its groups."""
    if known:
        return known[0]
    if rhythm == TURNING:
        return "tongued"
    return "slur-two-tongue-one" if rhythm == "triplets" or (not rhythm and len(pattern.cell) == 3) else fours


def day_articulation(where: Occasion, pattern: Pattern) -> str:
    """Return the set of the day: one of the player's own, or the next in turn that goes into the pattern."""
    threes = len(pattern.cell) == 3
    names = _DAY_THREES if threes else _DAY_FOURS
    own = any(name in names for name in where.articulations)
    return where.set_of(names if own or threes else where.grade.sets or names)


def chord_articulation(where: Occasion, pattern: Pattern) -> str:
    """Return the set of the day for a chord, of those that its few notes show whole."""
    names = _DAY_THREES if len(pattern.cell) == 3 else _DAY_PAIRS
    own = any(name in names for name in where.articulations)
    return where.set_of(names if own or not where.grade.sets else tuple(n for n in where.grade.sets if n in names) or names)


def day_rhythm(where: Occasion, pattern: Pattern) -> str:
    """Return the rhythm of a day's scales or chords: its own, uneven or quick by turns, where the grade and the pattern let it.

    Uneven pairs are for what stops at its top: a line that passes there in time has no note longer than its neighbours.
    """
    if len(pattern.cell) % 3 == 0 or where.grade.shortest > Fraction(1, 16):
        return ""
    uneven = ("dotted", "", "reversed") if pattern.run and pattern.stops else ()
    quick = ("sixteenths",) if where.grade.octaves != "1" else ()
    rhythms: tuple[str, ...] = ("", *quick, *uneven)
    return where.turn(rhythms, "rhythm")


def task(kind: str, pattern: Pattern, rhythm: str, row: Articulation, octaves: str, *, own: bool = False) -> Task:
    """Return the task, refusing an articulation or a rhythm whose groups do not go into the pattern's."""
    if rhythm == TURNING:
        return _turning(kind, pattern, row, octaves, own)
    chosen = RHYTHMS[rhythm] if rhythm else _own_rhythm(pattern, row)
    if not _suits(pattern, chosen):
        raise _apart("pattern", pattern.name, len(pattern.cell), chosen, _others(pattern, row))
    if not fits(row, chosen.slots):
        raise _apart("articulation", row.name, len(row.slots), chosen, _others(pattern, row))
    return Task(kind, pattern, chosen, row, octaves, own)


def knows(rhythm: Rhythm, setting: Setting) -> bool:
    """Tell whether a player's grade has a rhythm."""
    threes = rhythm.unit.denominator % 3 == 0
    return rhythm.shortest >= setting.limits.shortest and (setting.grade.triplets or not threes)


def suited(job: Task, setting: Setting) -> Task:
    """Return a task with the rhythms that the player knows and that his keys come to; one alone does not turn."""
    if not job.turning:
        return job
    known = tuple(rhythm for rhythm in job.turning if knows(rhythm, setting))[: len(setting.keys)]
    if len(known) < _TWO:
        return replace(job, turning=(), rhythm=(known or job.turning)[0])
    return replace(job, turning=known, rhythm=min(known, key=lambda rhythm: rhythm.unit))


def gradual(job: Task, setting: Setting, request: Request) -> Task:
    """Return a beginner's task, who names no rhythm for a bare climb: from halves on, each time twice as quick."""
    slower = tuple(rhythm for rhythm in map(RHYTHMS.get, _LONG_FIRST) if rhythm and rhythm.unit > job.rhythm.unit)
    named = getattr(request, "rhythm", "")
    if named or not setting.grade.beginner or not job.pattern.run or not slower:
        return job
    return replace(job, turning=(*slower, job.rhythm), gradual=True)


def _turning(kind: str, pattern: Pattern, row: Articulation, octaves: str, own: bool) -> Task:
    """Return a task in every rhythm quicker than quarters that suits, refused where none does; the quickest sets its tempo."""
    rhythms = [rhythm for rhythm in RHYTHMS.values() if rhythm.unit < _SLOW and _suits(pattern, rhythm)]
    turning = tuple(rhythm for rhythm in rhythms if fits(row, rhythm.slots))
    if not turning:
        raise _apart("articulation", row.name, len(row.slots), rhythms[0], _others(pattern, row))
    return Task(kind, pattern, min(turning, key=lambda rhythm: rhythm.unit), row, octaves, own, turning=turning)


def to_the_bottom(setting: Setting, request: Request) -> Setting:
    """Return the setting of a grown player who names no lowest note down to that of the horn, if it is a half-step away.

    A key has its lower octave so, which comfort alone would deny it: our choice.
    """
    limits, bottom = setting.limits, setting.horn.low
    if request.low or not setting.grade.comfort or not 0 < limits.low.midi - bottom.midi <= _NEAR:
        return setting
    return replace(setting, limits=replace(limits, low=bottom))


def below_the_top(setting: Setting, request: Request) -> Setting:
    """Return the setting of a learner who names no highest note without the last half-steps of a range far over the staff.

    A climb of two octaves comes to its top quickly and loud: our choice.
    """
    limits = setting.limits
    if request.high or not limits.keys or setting.grade.octaves == "1":
        return setting
    lower = max(limits.high.midi - _UNDER_TOP, min(limits.high.midi, setting.horn.at_home(_FAR).midi))
    return replace(setting, limits=replace(limits, high=simple(lower, sharp=False)))


def paced(setting: Setting, rhythm: Rhythm, share: float) -> Setting:
    """Return the setting at a tempo of the player's own where none was asked for: a share of what his tongue can do."""
    if setting.tempo_asked:
        return setting
    easy = int(share * setting.limits.speed * 240 * rhythm.unit) // 4 * 4
    return replace(setting, tempo=max(_SLOWEST, min(easy, _QUICKEST, setting.limits.tempo)))


def _apart(what: str, name: str, group: int, rhythm: Rhythm, others: tuple[tuple[str, tuple[str, ...]], ...]) -> BadRequest:
    why = f'goes in groups of {group}, rhythm "{rhythm.name}" in {rhythm.slots}'
    return BadRequest(Refusal(what, name, why, would_do=others))


def _own_rhythm(pattern: Pattern, row: Articulation) -> Rhythm:
    return RHYTHMS["triplets" if len(pattern.cell) % 3 == 0 or len(row.slots) == 3 else "eighths"]


def _suits(pattern: Pattern, rhythm: Rhythm) -> bool:
    """Tell whether a pulse of the rhythm holds whole cells of the pattern."""
    return rhythm.slots % len(pattern.cell) == 0


def _others(pattern: Pattern, row: Articulation) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return the rhythms that suit both pattern and set; where there is none, the sets too that suit the pattern."""
    rhythms = [rhythm for rhythm in RHYTHMS.values() if _suits(pattern, rhythm)]
    both = tuple(rhythm.name for rhythm in rhythms if fits(row, rhythm.slots))
    if both:
        return (("rhythm", both),)
    sets = tuple(other.name for other in SETS.values() if any(fits(other, rhythm.slots) for rhythm in rhythms))
    return ("rhythm", tuple(rhythm.name for rhythm in rhythms)), ("articulation", sets)
