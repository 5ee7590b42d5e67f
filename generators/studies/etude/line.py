"""The search for a line: figures placed one after another on the chords of a sentence, the cheapest for the ear kept."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf
from typing import NamedTuple

from generators.chance import number
from generators.studies.etude.motive import Contour
from generators.studies.etude.voice import NEVER, ON_BEAT, STRONG, Ground, Heard, Judge, Spot, judge

# How many figures a slot offers, and how many lines are followed at once; how strongly a line is drawn to its height, and how
# much chance has to say. These and the costs below are our choice, tuned by ear, without a source.
_OFFERS, _FOLLOWED = 28, 14
_PULL, _CHANCE = 0.14, 1.6


@dataclass(frozen=True, slots=True)
class LineSlot:
    """A stretch of a sentence to be filled: its spots, the shapes it may take, and where the line should be."""

    spots: tuple[Spot, ...]
    shapes: tuple[Contour, ...]
    goal: float
    """The height, 0 the lowest note and 1 the highest."""
    ends: tuple[int, ...] = ()
    """The degrees its last note may have; empty for any."""
    said: frozenset[Contour] = frozenset()
    """Bars of earlier sentences, which only a return repeats."""
    climax: bool = False
    fixed: bool = False
    """Whether the shapes are degrees and not steps from a first note."""


class Offer(NamedTuple):
    """A way to fill a slot: what it costs within itself, its degrees and its notes."""

    cost: float
    steps: tuple[int, ...]
    notes: tuple[Heard, ...]


@dataclass(frozen=True, slots=True)
class FoundLine:
    """A line as far as it is found, and its cost."""

    cost: float
    line: tuple[Heard, ...]
    last: tuple[int, ...] = ()
    """The degrees of the last slot."""


def best_line(slots: Sequence[LineSlot], ground: Ground, seed: int, *place: object) -> FoundLine:
    """Return the best line through the slots; its cost is past NEVER where there is none that can be sung."""
    cost = judge(ground)
    paths = [FoundLine(0.0, ())]
    for number_, slot in enumerate(slots):
        paths = _kept(paths, _offers(slot, ground, cost, (seed, *place, number_)), slot, cost)
        if not paths:
            return FoundLine(2 * NEVER, ())
    return min((_closed(path, cost) for path in paths), key=lambda path: path.cost)


def _kept(paths: Sequence[FoundLine], offers: Sequence[Offer], slot: LineSlot, cost: Judge) -> list[FoundLine]:
    """Return the cheapest ways to go on, one for each pair of last notes; a line is written out only once it is kept."""
    best: dict[tuple[int, ...], tuple[float, FoundLine, Offer]] = {}
    for path in paths:
        for offer in offers:
            ends = (*path.last, *offer.steps)[-2:]
            least = best[ends][0] if ends in best else inf
            # What a seam costs is never less than nothing, and takes long to tell.
            total = _joined(path, offer, slot, cost) if path.cost + offer.cost < least else inf
            if total < least:
                best[ends] = total, path, offer
    kept = sorted(best.values(), key=lambda way: way[0])[:_FOLLOWED]
    return [FoundLine(total, path.line + offer.notes, offer.steps) for total, path, offer in kept]


def _joined(path: FoundLine, offer: Offer, slot: LineSlot, cost: Judge) -> float:
    """Return the cost of a path with one more figure; the notes at the seam are judged now."""
    before, after = path.line[-2:], offer.notes[:2]
    seam = before + after
    total = path.cost + offer.cost + _stale(path.last, offer.steps, slot)
    for i in range(max(0, len(before) - 1), len(seam) - 1):
        total += cost(seam[i - 1] if i else None, seam[i], seam[i + 1])
    return total


def _steps(notes: Sequence[Heard]) -> tuple[int, ...]:
    return tuple(note.step for note in notes)


def _stale(last: Contour, here: Contour, slot: LineSlot) -> float:
    """Return what it costs to say the same again: the same figure on the same degrees, or from the same note."""
    if not last or slot.fixed:
        return 0.0
    return (6.0 if last == here else 0.0) + (1.0 if last[0] == here[0] else 0.0)


def _closed(path: FoundLine, cost: Judge) -> FoundLine:
    before, last = path.line[-2:]
    step = 0.0 if abs(last.step - before.step) == 1 else 2.5
    return FoundLine(path.cost + cost(before, last, None) + step, path.line)


def _offers(slot: LineSlot, ground: Ground, cost: Judge, place: tuple[object, ...]) -> list[Offer]:
    """Return the cheapest ways to fill a slot."""
    ways = (Offer(_alone(heard, slot, ground, cost, place), _steps(heard), heard) for heard in _ways(slot, ground))
    return sorted(ways, key=lambda way: way[:2])[:_OFFERS]


def _ways(slot: LineSlot, ground: Ground) -> Iterator[tuple[Heard, ...]]:
    for shape in slot.shapes:
        for start in (0,) if slot.fixed else range(ground.low - min(shape), ground.top - max(shape) + 1):
            heard = tuple(Heard(start + step, spot) for step, spot in zip(shape, slot.spots, strict=True))
            if slot.fixed or _allowed(heard, slot, ground):
                yield heard


def _allowed(heard: tuple[Heard, ...], slot: LineSlot, ground: Ground) -> bool:
    """Tell whether a figure keeps below the climax, or reaches it once where it belongs, and closes on one of its ends."""
    heights = _steps(heard)
    high = heights.count(ground.top) == 1 if slot.climax else max(heights) <= ground.high
    return high and (not slot.ends or heights[-1] % 7 in slot.ends)


def _alone(heard: tuple[Heard, ...], slot: LineSlot, ground: Ground, cost: Judge, place: tuple[object, ...]) -> float:
    """Return what a figure costs by itself: within, by its height, by chance, and if it was said before."""
    line = _steps(heard)
    again = 4.0 if len(line) > 2 and line in slot.said else 0.0
    inner = sum(cost(heard[i - 1], heard[i], heard[i + 1]) for i in range(1, len(heard) - 1))
    first = 4.0 if heard[0].spot.weight == STRONG and not heard[0].chordal else 0.0
    goal = ground.low + slot.goal * (ground.high - ground.low)
    pull = _PULL * sum((note.step - goal) ** 2 for note in heard) / len(heard)
    chance = _CHANCE * (number(0, *place, *line) % 1000) / 1000
    return inner + first + again + pull + chance + (_peak(heard, ground) if slot.climax else 0.0)


def _peak(heard: tuple[Heard, ...], ground: Ground) -> float:
    """Return what a weak climax costs: it is a note of the chord, on a beat, and not a short one."""
    top = next(note for note in heard if note.step == ground.top)
    return (0.0 if top.chordal else 6.0) + (0.0 if top.spot.weight >= ON_BEAT else 3.0) + (0.0 if top.spot.long else 4.0)


def surprises(line: Sequence[Heard]) -> int:
    """Return how many leaps wider than a fifth a line has: its surprises."""
    return sum(abs(b.step - a.step) > 4 for a, b in pairwise(line))
