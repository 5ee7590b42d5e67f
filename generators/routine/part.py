"""A part of a day: its study with how often it is played, and the rest after it; written, and softened for a light day."""

from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from math import ceil

from generators.brass.horn import horn
from generators.phrase.algebra import length, on
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.signs import NEW_SIGN, REMINDER, signs
from generators.phrase.study import Strain, Study
from generators.studies.kit.kind import DayPart
from generators.studies.kit.occasion import HIGH_SHARE, Occasion
from generators.studies.kit.request import Request
from generators.theory.pitch import Pitch

# A rest after a part lasts at least so many seconds, and at the most as long as the part was played, or half a minute ("rest as
# much as you play", a brass teacher's article; advice described as well known).
LEAST_REST, FREE_REST = 5, 30
# What is above the staff is rested after for so many seconds at the least: our choice.
HIGH_REST = 20
# None but the brief ones and the last is shorter than a minute with its rest; our choice.
LEAST_SECONDS = 60
# What a part above the staff is worth of rest beside others, and what an easy part is: our choice.
HIGH_EFFORT, EASY_EFFORT = 1.6, 0.75
# What a light day has instead of each dynamic, in parts that reach one of the louder ones and not the softest: our choice.
SOFTER = {"ff": "f", "f": "mf", "mf": "mp", "mp": "p", "p": "pp"}
LOUDER, QUIETEST = ("mf", "f", "ff"), "pp"
# What a part prints that goes from soft to loud and back.
SWELLS = ({"p", "f"}, {"<", ">"})
# What such a part is called beside its own name, and what to listen for in it, by turns.
LOUDNESS_AREA, _AND = "dynamics", " and "
_LOUDNESS_AIMS = (
    "Listen for one colour from p to f and back: the air grows and gives way, the lips do neither.",
    "Listen for every hairpin to be even: no note stands out of its growing or its fading.",
    "Listen for f to be as round as p, and for the end to keep the core of the loud sound.",
    "Listen for the loudness to arrive with its turning note, neither a bar before it nor after.",
)
# The notes and bars of a line, about; what it holds with the signs before notes, and what these take of it, in notes.
LINE_NOTES, LINE_BARS = 33, 7
SIGNED, SIGN_ROOM = 39, {"": 0.0, NEW_SIGN: 0.6, REMINDER: 1.3}


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
        """What playing it touches: what its row tells, and dynamics where its notes grow from soft to loud and back."""
        told = {note.dynamic for note in self.study.notes}, {note.hairpin for note in self.study.notes}
        grows = SWELLS[0] <= told[0] and SWELLS[1] <= told[1]
        return tuple(dict.fromkeys((*self.row.areas, *([LOUDNESS_AREA] if grows else []))))

    @property
    def swells(self) -> bool:
        """Whether loudness is its subject beside what its row tells."""
        return LOUDNESS_AREA in self.areas and LOUDNESS_AREA not in self.row.areas

    @property
    def effort(self) -> float:
        """How much rest it is worth, beside the others: most above the staff, least what is soft and in the middle."""
        return HIGH_EFFORT if "high" in self.row.areas else EASY_EFFORT if self.row.easy else 1.0

    @property
    def least_rest(self) -> int:
        """Seconds of rest that follow it at the least."""
        least = HIGH_REST if "high" in self.row.areas else LEAST_REST
        return LEAST_REST if self.row.brief else max(least, ceil(LEAST_SECONDS - self.seconds))

    @property
    def high(self) -> float:
        """Seconds of its strains that are high work, with the rests in their bars."""
        high = (strain for strain in self.study.strains if is_high(self.study, strain))
        return sum(self.study.seconds(length(strain.music)) * strain.repeats for strain in high) * self.times

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
    pitches = [[event.pitch for event in one if isinstance(event, Note)] for one in strain.bars]
    signed = sum(1 + SIGN_ROOM[sign] for one in signs(pitches, strain.key) for sign in one)
    return max(ceil(counted / bar / LINE_BARS), ceil(len(strain.notes) / LINE_NOTES), ceil(signed / SIGNED))


def seconds_above(study: Study, strain: Strain) -> float:
    """Return the seconds of a strain above the staff; on the mouthpiece alone there is none."""
    over = horn(study.horn).clef.over.midi
    if strain.free:
        return 0.0
    return study.seconds(sum((note.length for note in strain.notes if note.pitch.midi >= over), Fraction(0)) * strain.repeats)


def is_high(study: Study, strain: Strain) -> bool:
    """Tell whether enough of a strain lies above the staff for it to be high work."""
    return seconds_above(study, strain) >= HIGH_SHARE * study.seconds(length(strain.notes) * strain.repeats) > 0


def again(part: Part, times: int) -> Part:
    """Return a part that is to be played so many times; its study is written so when it is taken."""
    return replace(part, times=times, seconds=part.seconds * times, playing=part.playing * times)


def as_practised(part: Part, where: Occasion) -> Part:
    """Return a part with the repeats in its study, under the name that the day has for it."""
    strains = tuple(replace(strain, repeats=strain.repeats * part.times) for strain in part.study.strains)
    row, study = part.row, part.study
    name = f"{row.title or study.name}{_AND + LOUDNESS_AREA if part.swells else ''}"
    return replace(part, study=replace(study, strains=strains, name=name, aim=_aim(part, where)))


def _aim(part: Part, where: Occasion) -> str:
    """Return what to listen for: what the day has for the part, by turns, else what its study says."""
    aims = _LOUDNESS_AIMS if part.swells else part.row.aims
    return where.horn.said(where.turn(aims, "aim")) if aims else part.study.aim


def closing(study: Study) -> Study:
    """Return a study that ends a day: what is above the softest in its last line a step softer, and no rest after that."""
    *before, last = study.strains
    *music, rest = _softer(last.music)
    if not isinstance(rest, Rest):
        return study
    lines = (*last.lines[:-1], last.lines[-1] - int(rest.length / last.meter.bar))
    # Nothing is left to breathe for.
    return replace(study, strains=(*before, replace(last, music=on(tuple(music), -1, breath=False), lines=lines)))


def softened(part: Part) -> Part:
    """Return a part of a light day a step softer, where it goes as far as mezzo-forte and no softer than piano."""
    told = {note.dynamic for note in part.study.notes if note.dynamic}
    if not told & {*LOUDER} or QUIETEST in told:
        return part
    strains = tuple(replace(strain, music=_softer(strain.music)) for strain in part.study.strains)
    return replace(part, study=replace(part.study, strains=strains))


def _softer(music: Phrase[Pitch]) -> Phrase[Pitch]:
    """Return music a step softer; what a hairpin leads to the softest, or away from it, stays, or it would lead nowhere."""
    told = [(i, event.dynamic) for i, event in enumerate(music) if isinstance(event, Note) and event.dynamic]
    hairpins = {i for i, event in enumerate(music) if isinstance(event, Note) and event.hairpin in ("<", ">")}
    joined = [{a, b} for a, b in pairwise(told) if hairpins & {*range(a[0], b[0])}]
    kept = {place for pair in joined if len({SOFTER.get(name, name) for _, name in pair}) == 1 for place, _ in pair}
    return tuple(
        replace(event, dynamic=SOFTER.get(event.dynamic, event.dynamic)) if isinstance(event, Note) and i not in kept else event
        for i, event in enumerate(music)
    )
