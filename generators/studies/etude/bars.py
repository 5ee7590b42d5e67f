"""From the plan to the notes: each sentence's bars become slots to be filled, and the best of several motives is kept."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate

from generators.chance import pick
from generators.phrase.bars import Meter
from generators.phrase.note import Note, Phrase, Rest
from generators.studies.etude import motive as motif
from generators.studies.etude.line import Path, Slot, found, leaps
from generators.studies.etude.motive import Cell, Motive, Values
from generators.studies.etude.plan import Sentence
from generators.studies.etude.voice import BEAT, NEVER, STRONG, WEAK, Ground, Heard, Spot
from generators.theory.pitch import Pitch

QUARTER = Fraction(1, 4)
# Where the second chord of a bar begins: the middle of four, the last beat of three.
TURN = 2 * QUARTER
MOTIVES_TRIED, MOTIVES_MET = 4, 16


@dataclass(frozen=True, slots=True)
class Manner:
    """What all sentences of an etude have in common: meter, motive, shortest note, manner of the runs, and the seed."""

    meter: Meter
    motive: Motive
    shortest: Fraction
    runs: str
    seed: int


@dataclass(frozen=True, slots=True)
class Written:
    """A sentence with its notes: the plan, the ground it stands on, its line and values, and the notes of each bar."""

    plan: Sentence
    ground: Ground
    line: tuple[Heard, ...]
    values: Values
    counts: tuple[int, ...]
    cost: float

    def cell(self, number: int) -> Cell:
        """Return a bar as it is: its values and its degrees."""
        bar = slice(sum(self.counts[:number]), sum(self.counts[: number + 1]))
        return Cell(self.values[bar], (tuple(heard.step for heard in self.line[bar]),))

    @property
    def pitches(self) -> tuple[Pitch, ...]:
        """The written notes of the line."""
        return tuple(self.ground.pitch(here, after) for here, after in zip(self.line, (*self.line[1:], None), strict=True))

    def music(self, meter: Meter) -> Phrase[Pitch]:
        """Return the bare line, with the rest that fills its last bar."""
        notes = tuple(Note(pitch, value) for pitch, value in zip(self.pitches, self.values, strict=True))
        left = -sum(self.values, Fraction(0)) % meter.bar
        return (*notes, Rest(left)) if left else notes


def composed(
    plans: Sequence[Sentence], grounds: Sequence[Ground], ideas: Sequence[Motive], manner: Manner
) -> tuple[Written, ...]:
    """Return all sentences on the best of the first motives that give a sound one; empty where none does."""
    openings: list[tuple[Manner, Written]] = []
    for idea in ideas[:MOTIVES_MET]:
        way = Manner(manner.meter, idea, manner.shortest, manner.runs, manner.seed)
        opening = _written(plans[0], grounds[0], way, ())
        openings += [(way, opening)] if opening.cost < NEVER else []
        if len(openings) == MOTIVES_TRIED:
            break
    ranked = sorted(openings, key=lambda pair: pair[1].cost)
    return next((whole for way, opening in ranked if (whole := _whole(plans, grounds, way, opening))), ())


def _whole(plans: Sequence[Sentence], grounds: Sequence[Ground], way: Manner, opening: Written) -> tuple[Written, ...]:
    parts = [opening]
    for plan, ground in zip(plans[1:], grounds[1:], strict=True):
        parts.append(_written(plan, ground, way, parts))
    return tuple(parts) if all(part.cost < NEVER for part in parts) else ()


def _written(plan: Sentence, ground: Ground, way: Manner, before: Sequence[Written]) -> Written:
    bars = [list(_slots(plan, number, way, before)) for number in range(8)]
    path = found([slot for bar in bars for slot, _ in bar], ground, way.seed, plan.part, *way.motive.shape)
    values = tuple(v for bar in bars for _, cell in bar for v in cell.values)
    counts = tuple(sum(len(cell.values) for _, cell in bar) for bar in bars)
    return Written(plan, ground, path.line, values, counts, _surprised(path))


def _surprised(path: Path) -> float:
    return path.cost + 12.0 * max(0, leaps(path.line) - 1)


def _slots(plan: Sentence, number: int, way: Manner, before: Sequence[Written]) -> Iterator[tuple[Slot, Cell]]:
    """Yield the slots of a bar with their cells; a bar that repeats the opening has its very notes."""
    role = plan.roles[number]
    start = Fraction(0)
    if role.islower():
        cell = before[0].cell(ord(role) - ord("a"))
        yield Slot(_spots(plan, number, start, cell, way.meter), cell.shapes, 0.0, fixed=True), cell
        return
    cells = _cells(plan, number, role, way)
    said = frozenset(part.cell(i).shapes[0] for part in before if part.plan.key == plan.key for i in range(8))
    for i, cell in enumerate(cells):
        ends = plan.goals if number == 7 and i == len(cells) - 1 else ()
        spots = _spots(plan, number, start, cell, way.meter)
        yield Slot(spots, cell.shapes, plan.heights[number], ends, said, number == plan.climax), cell
        start += cell.length


def _spots(plan: Sentence, number: int, start: Fraction, cell: Cell, meter: Meter) -> tuple[Spot, ...]:
    onsets = list(accumulate(cell.values, initial=start))[:-1]
    return tuple(_spot(plan, number, onset, value, meter) for onset, value in zip(onsets, cell.values, strict=True))


def _spot(plan: Sentence, number: int, onset: Fraction, value: Fraction, meter: Meter) -> Spot:
    chords = plan.chords[number + int(onset // meter.bar)]
    within = onset % meter.bar
    chord = chords[-1 if within >= TURN else 0]
    weight = STRONG if within % meter.strong == 0 else BEAT if within % QUARTER == 0 else WEAK
    return Spot(chord, weight, value >= QUARTER)


def _cells(plan: Sentence, number: int, role: str, way: Manner) -> list[Cell]:
    beats, seed, other = way.meter.beats, way.seed, "contrast" in plan.part
    if number == plan.climax:
        return motif.heightened(way.motive)
    if role == "T":
        return motif.free(motif.drawn(motif.TAILS[beats], way.shortest, seed, "tail", other))
    if role == "R":
        return motif.free(motif.drawn(motif.runs(beats, way.runs, way.shortest), way.shortest, seed, "run", plan.part))
    if role == "G":
        return motif.headed(way.motive, pick(motif.ENDINGS[beats], seed, "ending", plan.part))
    if role == "C":
        return motif.free(pick((motif.CLOSES if plan.goals == (0,) else motif.HALF_CLOSES)[beats], seed, "close", plan.part))
    return _developed(role, way.motive)


def _developed(role: str, motive: Motive) -> list[Cell]:
    changes = {"M": motif.stated, "S": motif.stated, "I": motif.inverted, "A": motif.augmented, "F": motif.fragment}
    return changes[role](motive) if role in changes else []
