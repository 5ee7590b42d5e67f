"""What scales and arpeggios share: fitting a pattern to the range, and making one strain a key of it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generators.brass.speed import FINGER_SPEED, tongue_speed
from generators.errors import BadRequest, Refusal
from generators.phrase.algebra import mapped, then
from generators.phrase.articulation import SETS, Articulation, fits
from generators.phrase.bars import COMMON, bars
from generators.phrase.lines import BARS_A_LINE, NOTES_A_LINE, line_up
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.study import Limits, Strain
from generators.studies.kit.climb import RHYTHMS, Pattern, Rhythm, Rung, Shape, climbed, spare
from generators.studies.kit.fit import NoFit, leap, needed, out_of_breath
from generators.studies.kit.rungs import Ladder
from generators.studies.kit.setting import OffTempo, Setting
from generators.theory.pitch import Pitch

OCTAVES = ("wide", "1", "2", "3")


@dataclass(frozen=True, slots=True)
class Task:
    """What is to be done in every key."""

    kind: str
    pattern: Pattern
    rhythm: Rhythm
    row: Articulation
    octaves: str


def own_articulation(pattern: Pattern, rhythm: str, known: Sequence[str], fours: str) -> str:
    """Return the set a study takes where none is asked for: the first of a grade's, or one that goes into its groups."""
    if known:
        return known[0]
    return "slur-two-tongue-one" if rhythm == "triplets" or (not rhythm and len(pattern.cell) == 3) else fours


def task(kind: str, pattern: Pattern, rhythm: str, row: Articulation, octaves: str) -> Task:
    """Return the task, refusing an articulation or a rhythm whose groups do not go into the pattern's."""
    chosen = RHYTHMS[rhythm] if rhythm else _own_rhythm(pattern, row)
    slots = f'the rhythm "{chosen.name}" in {chosen.slots}'
    if not _suits(pattern, chosen):
        why = f"goes in groups of {len(pattern.cell)}, {slots}"
        raise BadRequest(Refusal("pattern", pattern.name, why, would_do=_other(pattern, row)))
    if not fits(row, chosen.slots):
        why = f"goes in groups of {len(row.slots)}, {slots}"
        raise BadRequest(Refusal("articulation", row.name, why, would_do=_other(pattern, row)))
    return Task(kind, pattern, chosen, row, octaves)


def _own_rhythm(pattern: Pattern, row: Articulation) -> Rhythm:
    return RHYTHMS["triplets" if len(pattern.cell) % 3 == 0 or len(row.slots) == 3 else "eighths"]


def _suits(pattern: Pattern, rhythm: Rhythm) -> bool:
    """Tell whether a pulse of the rhythm holds whole cells of the pattern."""
    return rhythm.slots % len(pattern.cell) == 0


def _other(pattern: Pattern, row: Articulation) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return the rhythms that suit both pattern and set; where there is none, those and the sets that suit the pattern."""
    rhythms = [rhythm for rhythm in RHYTHMS.values() if _suits(pattern, rhythm)]
    both = tuple(rhythm.name for rhythm in rhythms if fits(row, rhythm.slots))
    if both:
        return (("rhythm", both),)
    sets = tuple(other.name for other in SETS.values() if any(fits(other, rhythm.slots) for rhythm in rhythms))
    return ("rhythm", tuple(rhythm.name for rhythm in rhythms)), ("articulation", sets)


def strains(job: Task, ladders: Sequence[Ladder], setting: Setting) -> tuple[tuple[Strain, ...], int, tuple[str, ...]]:
    """Return one strain a ladder, the tempo, and the remarks; NoFit where one finds no room at all."""
    setting = _in_reach(job, setting)
    found: list[tuple[Phrase[Pitch], Shape]] = []
    try:
        found = [_widest(job, ladder, setting) for ladder in ladders]
    except OffTempo as short:
        out_of_breath(short.refusal.what, short.tempo, setting)
        return strains(job, ladders, replace(setting, tempo=short.tempo))
    music = tuple(_strain(ladder, line, setting) for ladder, (line, _) in zip(ladders, found, strict=True))
    remarks = (_narrowed(job, ladder, shape) for ladder, (_, shape) in zip(ladders, found, strict=True))
    return music, setting.tempo, tuple(remark for remark in remarks if remark)


def _in_reach(job: Task, setting: Setting) -> Setting:
    """Return the setting capped to what the tongue can do in the rhythm; refuse a rhythm the grade does not know."""
    names = tuple(
        rhythm.name
        for rhythm in RHYTHMS.values()
        if rhythm.shortest >= setting.limits.shortest and (setting.grade.triplets or rhythm.unit.denominator % 3)
    )
    if job.rhythm.name not in names:
        raise BadRequest(Refusal("rhythm", job.rhythm.name, "is too quick for the grade", allowed=names))
    quickest = job.rhythm.unit / 2 if job.rhythm.dotted else job.rhythm.unit
    speed = tongue_speed(job.row.syllables, setting.limits.speed) if job.row.slots else FINGER_SPEED
    return setting.capped(speed * 240 * quickest, f'"{job.row.name}" in {job.rhythm.name}')


def _strain(ladder: Ladder, music: Phrase[Pitch], setting: Setting) -> Strain:
    rested = then(music, (Rest(COMMON.bar),))
    named = setting.label(ladder.key).replace(f" {ladder.key.mode}", "", 1)
    tonic, _, concert = named.partition(" (")
    label = f"{tonic} {ladder.label}" + (f" ({concert}" if concert else "")
    return Strain(label, ladder.signature, rested, COMMON, _lines(rested))


def _lines(music: Phrase[Pitch]) -> tuple[int, ...]:
    """Return bars on each line: all on one where that is not crowded, else the way up and the way down on their own."""
    measures = bars(music, COMMON)
    if len(measures) <= BARS_A_LINE + 1 and sum(len(bar) for bar in measures) <= NOTES_A_LINE:
        return (len(measures),)
    turn = next(i for i, bar in enumerate(measures, 1) if any(isinstance(event, Note) and event.breath for event in bar))
    ways = (measures[:turn], measures[turn:]) if turn < len(measures) - 1 else (measures,)
    return tuple(width for way in ways for width in line_up(way))


def _widest(job: Task, ladder: Ladder, setting: Setting) -> tuple[Phrase[Pitch], Shape]:
    """Return the widest strain inside range, breath and leap, and its shape; the lowest root that allows it."""
    limits, short, wide = setting.limits, 0, 0
    for shape, octave in _shapes(job, ladder, limits):
        line = _on(ladder, octave, climbed(job.pattern, shape, job.rhythm, job.row))
        wide, quick = leap(line), needed([line], limits)
        if wide <= limits.leap and quick <= setting.tempo:
            return line, shape
        short = quick if wide <= limits.leap else short
    raise _why(job, ladder, setting, short, wide)


def _on(ladder: Ladder, octave: int, climb: Phrase[Rung]) -> Phrase[Pitch]:
    return mapped(climb, lambda rung: ladder.pitch(rung.index, rung.rises, octave))


def _why(job: Task, ladder: Ladder, setting: Setting, short: int, wide: int) -> BadRequest:
    """Return the refusal of a ladder that no shape of the climb suits."""
    name, limits = f"{ladder.key.tonic} {ladder.label}", setting.limits
    if short:
        return OffTempo(Refusal(name), short)
    if wide > limits.leap:
        why = f"leaps {wide} half-steps in {name}, past {limits.leap}"
        return NoFit(Refusal("pattern", job.pattern.name, why, would_do=(("pattern", ("straight",)),)))
    thing = "scale" if job.kind == "scales" else "chord"
    return NoFit(Refusal(f"{name} {thing}", why=f"does not fit between {limits.low} and {limits.high} in this pattern"))


def _shapes(job: Task, ladder: Ladder, limits: Limits) -> Iterator[tuple[Shape, int]]:
    """Yield shapes from the widest to the narrowest, each with the octave of its root, the lowest first."""
    found = [(shape, octave) for octave in range(1, 7) for shape in _in_octave(job, ladder, octave, limits)]
    most = max((shape.top for shape, _ in found), default=0) if job.octaves == "wide" else ladder.rungs * int(job.octaves)
    # A wide climb gives up a little of its compass for a line that needs fewer joining notes.
    ease = 0.5 if job.octaves == "wide" else 0.0
    yield from sorted(
        found,
        key=lambda item: (ease * spare(job.pattern, item[0], job.rhythm) - min(item[0].top, most), item[1], item[0].bottom),
    )


def _in_octave(job: Task, ladder: Ladder, octave: int, limits: Limits) -> Iterator[Shape]:
    low, high = ladder.reach(octave, limits)
    if low > 0:
        return
    most = high if job.octaves == "wide" else min(high, ladder.rungs * int(job.octaves))
    spare = max(job.pattern.cell) + 1
    for top in range(ladder.least, most + 1):
        if top % ladder.rungs in ladder.rests:
            yield Shape(top, _bottom(job, ladder, low), max(low, -1), min(high, top + spare))


def _bottom(job: Task, ladder: Ladder, low: int) -> int:
    """Return where the way down turns: the lowest resting rung of a wide run, the tonic, or the note below it."""
    if not job.pattern.run:
        return 0
    if job.octaves == "wide" and job.pattern.stops:
        return min(rung for rung in range(max(low, -ladder.rungs), 1) if rung % ladder.rungs in ladder.rests)
    return 0 if job.pattern.stops else max(low, -1)


def _narrowed(job: Task, ladder: Ladder, shape: Shape) -> str:
    if job.octaves == "wide" or shape.top >= ladder.rungs * int(job.octaves):
        return ""
    return f"{ladder.key.tonic} {ladder.label}: up to {ladder.pitch(shape.top).pretty[:-1]} only, for range and breath."
