"""A part of a day: its study with how often it is played, and the rest after it; written, and softened for a light day."""

from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from generators.phrase.note import Note, Rest
from generators.phrase.study import Strain, Study
from generators.studies.kit.kind import DayPart
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.theory.pitch import Pitch

# A rest after a part lasts at least so many seconds, and at the most as long as the part was played, or half a minute ("rest as
# much as you play", a brass teacher's article; advice described as well known).
LEAST_REST, FREE_REST = 5, 30
# None but the brief ones and the last is shorter than a minute with its rest; our choice.
LEAST_SECONDS = 60
# What a part above the staff is worth of rest beside others, and what an easy part is: our choice.
HIGH_EFFORT, EASY_EFFORT = 1.6, 0.75
# What a light day has instead of each dynamic, in parts that reach one of the louder ones and not the softest: our choice.
SOFTER = {"ff": "f", "f": "mf", "mf": "mp", "mp": "p", "p": "pp"}
LOUDER, QUIETEST = ("mf", "f", "ff"), "pp"
# The notes and bars of a line, about.
LINE_NOTES, LINE_BARS = 32, 7


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a day: its row, its request and study, and the seconds of rest after it."""

    row: DayPart
    request: Request
    study: Study
    seconds: float
    """Seconds of notes and written rests, repeats counted, without the rest after it."""
    playing: float
    """Seconds of sound."""
    lines: int
    """Lines of music on paper, about."""
    times: int = 1
    """How often every strain is played."""
    rest: int = 0
    ease: float = 1.0
    """How long it may be rested after, beside how long it was played: longer on a light day, shorter after easy parts."""

    @property
    def name(self) -> str:
        """Its name, as in a profile."""
        return self.row.name

    @property
    def areas(self) -> tuple[str, ...]:
        """What playing it touches."""
        return self.row.areas

    @property
    def effort(self) -> float:
        """How much rest it is worth, beside the others: most above the staff, least what is soft and in the middle."""
        return HIGH_EFFORT if "high" in self.areas else EASY_EFFORT if self.row.easy else 1.0

    @property
    def least_rest(self) -> int:
        """Seconds of rest that follow it at the least."""
        return LEAST_REST if self.row.brief else max(LEAST_REST, ceil(LEAST_SECONDS - self.seconds))

    @property
    def most_rest(self) -> int:
        """Seconds of rest that may follow it."""
        return max(round(max(FREE_REST * min(1.0, self.ease), self.playing * self.ease)), self.least_rest)


def part_of(row: DayPart, request: Request, study: Study) -> Part:
    """Return a part, measured once for the many comparisons of a plan."""
    playing = study.playing
    return Part(row, request, study, playing + study.resting, playing, sum(map(_lines, study.strains)))


def _lines(strain: Strain) -> int:
    """Return about how many lines a strain takes; a rest of several bars takes the room of one."""
    bar = strain.meter.bar
    counted = sum((min(event.length, bar) if isinstance(event, Rest) else event.length for event in strain.music), Fraction(0))
    return max(ceil(counted / bar / LINE_BARS), ceil(len(strain.notes) / LINE_NOTES))


def again(part: Part, times: int) -> Part:
    """Return a part that is to be played so many times; its study is written so when it is taken."""
    return replace(part, times=times, seconds=part.seconds * times, playing=part.playing * times)


def as_practised(part: Part, where: Occasion) -> Part:
    """Return a part with the repeats in its study, under the name that the day has for it."""
    strains = tuple(replace(strain, repeats=strain.repeats * part.times) for strain in part.study.strains)
    row, study = part.row, part.study
    aim = where.horn.said(where.turn(row.aims, "aim")) if row.aims else study.aim
    return replace(part, study=replace(study, strains=strains, name=row.title or study.name, aim=aim))


def softened(part: Part) -> Part:
    """Return a part of a light day a step softer, where it goes as far as mezzo-forte and no softer than piano."""
    told = {note.dynamic for note in part.study.notes if note.dynamic}
    if not told & {*LOUDER} or QUIETEST in told:
        return part
    strains = tuple(replace(strain, music=tuple(map(_softer, strain.music))) for strain in part.study.strains)
    return replace(part, study=replace(part.study, strains=strains))


def _softer(event: Note[Pitch] | Rest) -> Note[Pitch] | Rest:
    return replace(event, dynamic=SOFTER.get(event.dynamic, event.dynamic)) if isinstance(event, Note) else event
