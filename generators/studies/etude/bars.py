"""From the plan to the notes: each sentence's bars become slots to be filled, and the best of several motives is kept."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate

from generators.chance import pick
from generators.phrase.bars import Meter
from generators.phrase.note import Note, Phrase, Rest
from generators.studies.etude import motive as motif
from generators.studies.etude.line import FoundLine, LineSlot, best_line, surprises
from generators.studies.etude.motive import BarCell, Motive, Values
from generators.studies.etude.plan import Sentence
from generators.studies.etude.voice import NEVER, ON_BEAT, STRONG, WEAK, Ground, Heard, Spot
from generators.theory.pitch import Pitch

_QUARTER = Fraction(1, 4)
# Where the second chord of a bar begins: the middle of four, the last beat of three.
TURN = 2 * _QUARTER
# How many motives are worked out, and how many are met at the most before as many sing; our choice.
_MOTIVES_TRIED, _MOTIVES_MET = 4, 16


@dataclass(frozen=True, slots=True)
class Manner:
    """What all sentences of an etude have in common: meter, motive, shortest note, manner of the runs, and the seed."""

    meter: Meter
    motive: Motive
    shortest: Fraction
    runs: str
    seed: int


@dataclass(frozen=True, slots=True)
class WrittenSentence:
    """A sentence with its notes: the plan, the ground it stands on, its line and values, and the notes of each bar."""

    plan: Sentence
    ground: Ground
    line: tuple[Heard, ...]
    values: Values
    counts: tuple[int, ...]
    cost: float

    def cell(self, number: int) -> BarCell:
        """Return a bar as it is: its values and its degrees."""
        bar = slice(sum(self.counts[:number]), sum(self.counts[: number + 1]))
        return BarCell(self.values[bar], (tuple(heard.step for heard in self.line[bar]),))

    @property
    def pitches(self) -> tuple[Pitch, ...]:
        """The written notes of the line."""
        return tuple(self.ground.pitch(here, after) for here, after in zip(self.line, (*self.line[1:], None), strict=True))

    def music(self, meter: Meter) -> Phrase[Pitch]:
        """Return the bare line, with the rest that fills its last bar."""
        notes = tuple(Note(pitch, value) for pitch, value in zip(self.pitches, self.values, strict=True))
        left = -sum(self.values, Fraction(0)) % meter.bar
        return (*notes, Rest(left)) if left else notes


def composed(plans: Sequence[Sentence], grounds: Sequence[Ground], manners: Sequence[Manner]) -> tuple[WrittenSentence, ...]:
    """Return all sentences in the best of the first manners that give a sound one; empty where none does."""
    openings: list[tuple[Manner, WrittenSentence]] = []
    for way in manners[:_MOTIVES_MET]:
        opening = _written(plans[0], grounds[0], way, ())
        openings += [(way, opening)] if opening.cost < NEVER else []
        if len(openings) == _MOTIVES_TRIED:
            break
    ranked = sorted(openings, key=lambda pair: pair[1].cost)
    return next((whole for way, opening in ranked if (whole := _whole(plans, grounds, way, opening))), ())


def _whole(
    plans: Sequence[Sentence], grounds: Sequence[Ground], way: Manner, opening: WrittenSentence
) -> tuple[WrittenSentence, ...]:
    parts = [opening]
    for plan, ground in zip(plans[1:], grounds[1:], strict=True):
        parts.append(_written(plan, ground, way, parts))
    return tuple(parts) if all(part.cost < NEVER for part in parts) else ()


def _written(plan: Sentence, ground: Ground, way: Manner, before: Sequence[WrittenSentence]) -> WrittenSentence:
    bars = [list(_slots(plan, number, way, before)) for number in range(8)]
    path = best_line([slot for bar in bars for slot, _ in bar], ground, way.seed, plan.part, *way.motive.shape)
    values = tuple(v for bar in bars for _, cell in bar for v in cell.values)
    counts = tuple(sum(len(cell.values) for _, cell in bar) for bar in bars)
    return WrittenSentence(plan, ground, path.line, values, counts, _surprised(path))


def _surprised(path: FoundLine) -> float:
    return path.cost + 12.0 * max(0, surprises(path.line) - 1)


def _slots(plan: Sentence, number: int, way: Manner, before: Sequence[WrittenSentence]) -> Iterator[tuple[LineSlot, BarCell]]:
    """Yield the slots of a bar with their cells; a bar that repeats the opening has its very notes."""
    role = plan.roles[number]
    start = Fraction(0)
    if role.islower():
        cell = before[0].cell(ord(role) - ord("a"))
        yield LineSlot(_spots(plan, number, start, cell, way.meter), cell.shapes, 0.0, fixed=True), cell
        return
    cells = _cells(plan, number, role, way)
    said = frozenset(part.cell(i).shapes[0] for part in before if part.plan.key == plan.key for i in range(8))
    for i, cell in enumerate(cells):
        ends = plan.goals if number == 7 and i == len(cells) - 1 else ()
        spots = _spots(plan, number, start, cell, way.meter)
        yield LineSlot(spots, cell.shapes, plan.heights[number], ends, said, number == plan.climax), cell
        start += cell.length


def _spots(plan: Sentence, number: int, start: Fraction, cell: BarCell, meter: Meter) -> tuple[Spot, ...]:
    onsets = list(accumulate(cell.values, initial=start))[:-1]
    return tuple(_spot(plan, number, onset, value, meter) for onset, value in zip(onsets, cell.values, strict=True))


def _spot(plan: Sentence, number: int, onset: Fraction, value: Fraction, meter: Meter) -> Spot:
    chords = plan.chords[number + int(onset // meter.bar)]
    within = onset % meter.bar
    chord = chords[-1 if within >= TURN else 0]
    weight = STRONG if within % meter.strong == 0 else ON_BEAT if within % _QUARTER == 0 else WEAK
    return Spot(chord, weight, value >= _QUARTER)


def _cells(plan: Sentence, number: int, role: str, way: Manner) -> list[BarCell]:
    beats, seed, other = way.meter.beats, way.seed, "contrast" in plan.part
    if number == plan.climax:
        return motif.heightened(way.motive)
    if role == "T":
        return motif.free(motif.drawn(motif.TAILS[beats], way.shortest, seed, "tail", other))
    if role == "R":
        return motif.free(motif.drawn(motif.runs(beats, way.runs, way.shortest), way.shortest, seed, "run", plan.part))
    if role == "G":
        return motif.with_ending(way.motive, pick(motif.ENDINGS[beats], seed, "ending", plan.part))
    if role == "C":
        return motif.free(pick((motif.CLOSES if plan.goals == (0,) else motif.HALF_CLOSES)[beats], seed, "close", plan.part))
    return _developed(role, way.motive)


def _developed(role: str, motive: Motive) -> list[BarCell]:
    changes = {"M": motif.stated, "S": motif.stated, "I": motif.in_inversion, "A": motif.in_augmentation, "F": motif.fragment}
    return changes[role](motive) if role in changes else []
