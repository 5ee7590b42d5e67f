"""What scales and arpeggios share: fitting a pattern to the range, and making one strain a key of it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generators.brass.speed import FINGER_SPEED, tongue_speed
from generators.errors import BadRequest, Refusal
from generators.phrase.algebra import mapped, then
from generators.phrase.articulation import SETS, Articulation, fits
from generators.phrase.bars import COMMON, bars
from generators.phrase.label import Label
from generators.phrase.lines import BARS_A_LINE, NOTES_A_LINE, line_up
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.remark import Remark, Shortened
from generators.phrase.study import Limits, Strain, Study
from generators.studies.kit.climb import RHYTHMS, Compass, Pattern, Rhythm, Rung, climbed, spare
from generators.studies.kit.fit import NoFit, leap, needed, out_of_breath
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.rungs import Rungs
from generators.studies.kit.setting import Setting
from generators.theory.pitch import Pitch

CLIMB_OCTAVES = ("wide", "1", "2", "3")
# The grades that tongue everything where no set is asked for, and on a day have the simplest patterns and sets.
YOUNG_GRADES = ("1", "2")
# Triplets come with grade 2 (brass-ensemble publisher's grading page); the band publisher's grade 1 has none.
_WITHOUT_TRIPLETS = ("1",)
# The sets of a day, which come round in turn; our choice.
_DAY_THREES = ("slur-two-tongue-one", "tongue-one-slur-two", "tongued", "slurred")
_DAY_FOURS = (
    *("slur-two-tongue-two", "tongued", "slurred-pairs"),
    *("slur-three-tongue-one", "tongue-one-slur-three", "slurred"),
)
_YOUNG_FOURS = ("tongued", "slurred-pairs", "slurred")


@dataclass(frozen=True, slots=True)
class Task:
    """What is to be done in every key."""

    kind: str
    pattern: Pattern
    rhythm: Rhythm
    row: Articulation
    octaves: str

    @property
    def wanted(self) -> int | None:
        """The octaves that were asked for; None for as wide as it goes."""
        return None if self.octaves == "wide" else int(self.octaves)


@dataclass(frozen=True, slots=True)
class _Seat:
    """A climb where it lies on the horn."""

    rungs: Rungs
    compass: Compass
    octave: int
    """The octave of its root."""
    music: Phrase[Pitch]


@dataclass(frozen=True, slots=True)
class _Short:
    """A climb that outlasts the breath at the tempo of the setting, and the tempo at which it may not."""

    name: str
    tempo: int


def young_day(where: Occasion) -> bool:
    """Tell whether the player of a day is in one of the young grades."""
    return where.grade is not None and where.grade.id in YOUNG_GRADES


def own_articulation(pattern: Pattern, rhythm: str, grade: str, fours: str) -> str:
    """Return the set a study takes where none is asked for: one that goes into its groups, the simplest for young grades."""
    if grade in YOUNG_GRADES:
        return "tongued"
    return "slur-two-tongue-one" if rhythm == "triplets" or (not rhythm and len(pattern.cell) == 3) else fours


def day_articulation(where: Occasion, pattern: Pattern) -> str:
    """Return the set of the day: one of the player's own, or the next in turn that goes into the pattern."""
    threes = len(pattern.cell) == 3
    names = _DAY_THREES if threes else _DAY_FOURS
    own = any(name in names for name in where.articulations)
    return where.set_of(_YOUNG_FOURS if young_day(where) and not (own or threes) else names)


def task(kind: str, pattern: Pattern, rhythm: str, row: Articulation, octaves: str) -> Task:
    """Return the task, refusing an articulation or a rhythm whose groups do not go into the pattern's."""
    chosen = RHYTHMS[rhythm] if rhythm else _own_rhythm(pattern, row)
    if not _suits(pattern, chosen):
        raise _apart("pattern", pattern.name, len(pattern.cell), chosen, _others(pattern, row))
    if not fits(row, chosen.slots):
        raise _apart("articulation", row.name, len(row.slots), chosen, _others(pattern, row))
    return Task(kind, pattern, chosen, row, octaves)


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


def climbing_study(job: Task, each: Sequence[Rungs], setting: Setting, name: str, chosen: str) -> Study:
    """Return the study of a task, one strain a scale or chord; `chosen` is the scale or chord that was asked for on all."""
    music, pace, remarks = strains(job, each, setting)
    what = ", ".join(filter(None, (chosen.replace("-", " "), job.pattern.name, job.row.words)))
    lesson = f"Listen too for {job.row.lesson}."
    aim, horn = job.pattern.aim, setting.horn.id
    return Study(job.kind, name, what, aim, horn, pace, music, setting.limits, remarks=remarks, also=lesson)


def strains(job: Task, each: Sequence[Rungs], setting: Setting) -> tuple[tuple[Strain, ...], int, tuple[Remark, ...]]:
    """Return one strain a scale or chord, the tempo, and the remarks; NoFit where one finds no room at all."""
    setting = _in_reach(job, setting)
    found = [_widest(job, rungs, setting) for rungs in each]
    short = next((climb for climb in found if isinstance(climb, _Short)), None)
    if short:
        out_of_breath(short.name, short.tempo, setting)
        return strains(job, each, replace(setting, tempo=short.tempo))
    seats = [climb for climb in found if isinstance(climb, _Seat)]
    remarks = tuple(remark for seat in seats for remark in _shortened(job, seat, setting))
    return tuple(_strain(seat, setting) for seat in seats), setting.tempo, remarks


def _in_reach(job: Task, setting: Setting) -> Setting:
    """Return the setting capped to what the tongue can do in the rhythm; refuse a rhythm the grade does not know."""
    beginner = setting.grade is not None and setting.grade.id in _WITHOUT_TRIPLETS
    known = tuple(rhythm.name for rhythm in RHYTHMS.values() if _known(rhythm, setting.limits, beginner))
    if job.rhythm.name not in known:
        raise BadRequest(Refusal("rhythm", job.rhythm.name, "is too quick for the grade", allowed=known))
    quickest = job.rhythm.unit / 2 if job.rhythm.dotted else job.rhythm.unit
    speed = tongue_speed(job.row.syllables, setting.limits.speed) if job.row.slots else FINGER_SPEED
    return setting.capped(speed * 240 * quickest, f'"{job.row.name}" in {job.rhythm.name}')


def _known(rhythm: Rhythm, limits: Limits, beginner: bool) -> bool:
    return rhythm.shortest >= limits.shortest and not (beginner and rhythm.unit.denominator % 3 == 0)


def _strain(seat: _Seat, setting: Setting) -> Strain:
    rested = then(seat.music, (Rest(COMMON.bar),))
    return Strain(_label(seat.rungs, setting), seat.rungs.signature, rested, COMMON, _lines(rested))


def _label(rungs: Rungs, setting: Setting) -> Label:
    return setting.label(rungs.key, scale=rungs.label)


def _lines(music: Phrase[Pitch]) -> tuple[int, ...]:
    """Return bars on each line: all on one where that is not crowded, else the way up and the way down on their own."""
    measures = bars(music, COMMON)
    if len(measures) <= BARS_A_LINE + 1 and sum(len(bar) for bar in measures) <= NOTES_A_LINE:
        return (len(measures),)
    turn = next(i for i, bar in enumerate(measures, 1) if any(isinstance(event, Note) and event.breath for event in bar))
    ways = (measures[:turn], measures[turn:]) if turn < len(measures) - 1 else (measures,)
    return tuple(width for way in ways for width in line_up(way))


def _widest(job: Task, rungs: Rungs, setting: Setting) -> _Seat | _Short:
    """Return the widest climb inside range, breath and leap, on the lowest root that allows it."""
    limits, short, wide = setting.limits, 0, 0
    for compass, octave in _compasses(job, rungs, limits):
        music = _on(rungs, octave, climbed(job.pattern, compass, job.rhythm, job.row))
        wide, quick = leap(music), needed([music], limits)
        if wide <= limits.leap and quick <= setting.tempo:
            return _Seat(rungs, compass, octave, music)
        short = quick if wide <= limits.leap else short
    if short:
        return _Short(_name(rungs), short)
    raise _no_room(job, rungs, limits, wide)


def _on(rungs: Rungs, octave: int, climb: Phrase[Rung]) -> Phrase[Pitch]:
    return mapped(climb, lambda rung: rungs.pitch(rung.index, rung.rises, octave))


def _name(rungs: Rungs) -> str:
    return f"{rungs.key.tonic} {rungs.label}"


def _no_room(job: Task, rungs: Rungs, limits: Limits, wide: int) -> NoFit:
    """Return the refusal of a scale or chord that no compass of the climb suits."""
    if wide > limits.leap:
        why = f"leaps {wide} half-steps in {_name(rungs)}, past {limits.leap}"
        return NoFit(Refusal("pattern", job.pattern.name, why, would_do=(("pattern", ("straight",)),)))
    thing = "scale" if job.kind == "scales" else "chord"
    return NoFit(Refusal(thing, _name(rungs), f"does not fit between {limits.low} and {limits.high} in this pattern"))


def _compasses(job: Task, rungs: Rungs, limits: Limits) -> Iterator[tuple[Compass, int]]:
    """Yield compasses from the widest to the narrowest, each with the octave of its root, the lowest first."""
    found = [(compass, octave) for octave in range(1, 7) for compass in _in_octave(job, rungs, octave, limits)]
    most = rungs.count * job.wanted if job.wanted else max((compass.top for compass, _ in found), default=0)
    # A wide climb gives up a little of its compass for a line that needs fewer joining notes.
    ease = 0.0 if job.wanted else 0.5
    yield from sorted(
        found,
        key=lambda item: (ease * spare(job.pattern, item[0], job.rhythm) - min(item[0].top, most), item[1], item[0].bottom),
    )


def _in_octave(job: Task, rungs: Rungs, octave: int, limits: Limits) -> Iterator[Compass]:
    low, high = rungs.reach(octave, limits)
    if low > 0:
        return
    most = min(high, rungs.count * job.wanted) if job.wanted else high
    above = max(job.pattern.cell) + 1
    for top in range(rungs.least, most + 1):
        if top % rungs.count in rungs.rests:
            yield Compass(top, _bottom(job, rungs, low), max(low, -1), min(high, top + above))


def _bottom(job: Task, rungs: Rungs, low: int) -> int:
    """Return where the way down turns: the lowest resting rung of a wide run, the tonic, or the note below it."""
    if not job.pattern.run:
        return 0
    if not job.wanted and job.pattern.stops:
        return min(rung for rung in range(max(low, -rungs.count), 1) if rung % rungs.count in rungs.rests)
    return 0 if job.pattern.stops else max(low, -1)


def _shortened(job: Task, seat: _Seat, setting: Setting) -> Iterator[Remark]:
    """Yield the remark on a climb that stops below the octaves asked for."""
    if job.wanted and seat.compass.top < seat.rungs.count * job.wanted:
        yield Shortened(_label(seat.rungs, setting), seat.rungs.pitch(seat.compass.top, octave=seat.octave))
