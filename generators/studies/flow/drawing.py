"""A flow line drawn along its course: note by note the cheapest ways go on, a little chance in every cost, the best is kept."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import islice, pairwise
from typing import NamedTuple

from generators.chance import number
from generators.phrase.notation import value
from generators.phrase.note import Degree, Note, Phrase
from generators.studies.flow.closes import LONG
from generators.studies.flow.courses import AWAY_DEGREES, LEANS, Course, Wanted, course

# Every number here is our choice, set by ear against the lines that came of it; only their order means anything.
# What a move of so many degrees costs; a seventh is never sung, and no note is struck again under a slur.
_MOVES = {1: 0.0, 2: 0.9, 3: 2.0, 4: 2.4, 5: 3.6}
# What a leap costs in a line by step, of which all drafts are compared: a slur ends at a leap.
_LEAPT = 30.0
# What it costs to reach the end by no step; from so many degrees on a move is a leap that asks for an answer.
_ENDS, _LEAP, _NO_LEAP = 20.0, 3, (0.0, 0.0)
# Lines that are compared; courses drawn until there are so many; ways that are followed from note to note.
_DRAFTS, _DRAWN, _FOLLOWED = 3, 16, 14
_CHANCE = 1.4
# Fourths and fifths that are no singing ones in major or minor: from the first degree to the second, modulo the octave.
_TRITONES = {(3, 6, True), (6, 3, True), (1, 5, True), (5, 1, True)}
_LONG = Fraction(1, 2)
# What it costs that a bar rests on the seventh degree, or all of it on a note outside the tonic chord.
_UNREST = 6.0
# How many turning points swell each; of more the last does.
_SWELLING = 2
# What it costs to come back to a note, and again to the one left for it; a scale of so many notes goes on long enough; what two
# sevenths at odds cost in minor.
_BACK, _TO_AND_FRO, _SCALE, _AT_ODDS = 1.2, 4.0, 5, 9.0
# What it costs to skip onward after so many steps the same way.
_SKIPPED, _STEPS = 4.0, 3
# The seventh degree, natural and raised within a few notes of each other in minor.
_SEVENTH = 6
# A breath begins softly, grows to a turning point, and less to the highest note of one that does not turn.
_SOFT, _LOUDER, LOUD_TURN = "p", "mp", "mf"
# The share of a breath before which a highest note is too early to grow to, and after which too late to come back from.
_EARLY, _LATE = Fraction(1, 4), Fraction(2, 3)
# How many lines are kept, and ways to go on; so many last notes bear on where a line goes.
_LINES_KEPT, _WAYS_KEPT, _NEAR = 1024, 1 << 14, 5


@dataclass(frozen=True, slots=True)
class Station:
    """A place for a note."""

    bar: int
    length: Fraction
    long: bool
    """Whether it is a half or more."""
    first: bool
    """Whether it begins its bar."""
    last: bool
    """Whether it ends its bar."""
    low: int
    high: int
    must: int | None
    """The one degree that it may have, if so."""
    aim: float
    """The degree near which the course goes by."""
    leaning: bool
    twin: int | None
    """The note that it answers, in an earlier bar of the same letter."""


class Past(NamedTuple):
    """What of a way bears on where it goes."""

    move: int
    """The last move; 0 where there is none."""
    scale: int
    """The move that a scale goes on by, if it has been one for long."""
    steps: int
    """The direction of some steps on end; 0 where there are none."""
    back: float
    """What it costs to go back."""
    seventh: bool
    """Whether a seventh degree is near."""


Path = tuple[int, ...]
Onward = tuple[float, Path, int]
"""What it costs to go on from a way to a degree."""
Shapes = dict[int, tuple[str, str]]
"""Dynamic and hairpin by the place of the note."""


@lru_cache(_LINES_KEPT)
def drawn_line(wanted: Wanted, way: int) -> Phrase[Degree]:
    """Return the best line of a few drafts with its marks; nothing where none gets from turn to turn in so few notes."""
    drafts = ((draft, course(wanted, way, draft)) for draft in range(_DRAWN))
    found = ((*_line(along, wanted, (way, draft)), along) for draft, along in drafts)
    compared = _DRAWN if wanted.stepwise else _DRAFTS
    had = list(islice(((cost / len(path), path, along) for cost, path, along in found if path), compared))
    return _marked(*min(had, key=lambda one: one[:2])[1:]) if had else ()


def stations(along: Course) -> list[Station]:
    """Return the places of a course, in order."""
    result: list[Station] = []
    begun: dict[int, int] = {}
    for bar, rhythm in enumerate(along.rhythms):
        begun[bar] = len(result)
        twin = next((b for b in range(bar) if _alike(along, b, bar)), None)
        values = rhythm.split()
        for i, text in enumerate(values):
            low, high = _bounds(along, bar, i)
            must = _must(along, bar, i)
            at = bar + i / len(values)
            answers = None if twin is None else begun[twin] + i
            leans = along.leaning and i == 0 and bar % 2 == 0
            result.append(
                Station(
                    bar,
                    value(text),
                    value(text) >= _LONG,
                    i == 0,
                    i + 1 == len(values),
                    low,
                    high,
                    must,
                    _aim(along, at),
                    leans,
                    answers,
                )
            )
    return result


def _alike(along: Course, one: int, other: int) -> bool:
    return along.letters[one] == along.letters[other] and along.rhythms[one] == along.rhythms[other]


def _must(along: Course, bar: int, i: int) -> int | None:
    """Return the degree of a turning point, of the way to the dominant, or of the end."""
    if i == 0 and bar in dict(along.turns):
        return dict(along.turns)[bar]
    if along.away and bar == along.resting:
        return AWAY_DEGREES[i]
    return 0 if bar == along.bars - 1 else None


def _bounds(along: Course, bar: int, i: int) -> tuple[int, int]:
    """Return how far a note may go: turning points are reached once, and nothing beside one goes as far; home comes by step."""
    if bar == along.bars - 2 and i + 1 == len(along.rhythms[bar].split()):
        return max(along.low, -1), 1
    degrees = [degree for _, degree in along.turns]
    here = sum(1 for at, _ in along.turns if (at, 0) <= (bar, i))
    # Of many turning points each is to be heard as one: the rest of its own bar stays within it.
    alone = len(degrees) > _SWELLING and bar in dict(along.turns)
    beside = (*degrees[max(here - 1, 0) : here + (not alone)], 0)
    lowest, highest = min(0, *degrees), max(0, *degrees)
    low = (min(beside) or lowest) + 1 if lowest else along.low
    high = (max(beside) or highest) - 1 if highest else along.high
    return low, high


def _aim(along: Course, at: float) -> float:
    """Return the height of the course at a moment: from turn to turn and home, by way of the tonic between many."""
    points = [(0.0, 0.0)]
    for bar, degree in along.turns:
        if len(along.turns) > 2 and points[-1][1]:
            points.append(((points[-1][0] + bar) / 2, 0.0))
        points.append((float(bar), float(degree)))
    points.append((along.bars - 1.0, 0.0))
    for (start, low), (end, high) in pairwise(points):
        if at < end:
            return low + (high - low) * (at - start) / (end - start)
    return 0.0


def _line(along: Course, wanted: Wanted, place: tuple[int, int]) -> tuple[float, Path]:
    """Return the cheapest way along a course with its cost."""
    every = stations(along)
    ways: list[tuple[float, Path]] = [(abs(degree - every[0].aim), (degree,)) for degree in _starts(every[0], wanted)]
    leapt = _LEAPT if wanted.stepwise else 0.0
    for i, (before, station) in enumerate(pairwise(every), 1):
        degrees = range(station.low, station.high + 1) if station.must is None else (station.must,)
        alone = {degree: _alone(degree, station) + _luck(wanted.seed, *place, i, degree) for degree in degrees}
        ways = _kept(_gone_on(ways, before, station, alone, (_ENDS if i == len(every) - 1 else 0.0, leapt)))
    return ways[0] if ways else (float("inf"), ())


def _gone_on(
    ways: list[tuple[float, Path]], before: Station, station: Station, alone: dict[int, float], leapt: tuple[float, float]
) -> Iterator[Onward]:
    """Yield what goes on from each way; `leapt` is what a leap costs besides, to the end and in such a line."""
    low, high, must, leaning = station.low, station.high, station.must, before.leaning
    for cost, path in ways:
        here, twin = path[-1], 0 if station.first else station.twin
        for degree, joined in _onward(path[-_NEAR:], low, high, must, leaning):
            ends, besides = leapt if abs(degree - here) > 1 else _NO_LEAP
            joined += ends
            if twin:
                joined += _likeness(path, degree - here, twin)
            yield cost + alone[degree] + joined + besides, path, degree


def _starts(station: Station, wanted: Wanted) -> tuple[int, ...]:
    """Return the degrees that a line may begin on: the tonic, or the leaning note above it."""
    if station.must is not None:
        return (station.must,)
    if station.leaning:
        return tuple(degree for degree in (3, 5, 1) if station.low <= degree <= station.high)
    tops = {"six-notes": (4, 2), "five-notes": (4, 2), "three-notes": (2,)}.get(wanted.compass, ())
    return tops if wanted.shape == "dip" and tops else (0,)


@lru_cache(_WAYS_KEPT)
def _onward(near: Path, low: int, high: int, must: int | None, leaning: bool) -> tuple[tuple[int, float], ...]:
    """Return the degrees that may follow the last notes, and what it costs to join them; a leap past a third turns back."""
    here = near[-1]
    came = here - near[-2] if len(near) > 1 else 0
    past = _past(near)
    return tuple(
        (degree, _MOVES[abs(degree - here)] + _turning(past, degree, degree - here))
        for degree in _reachable(here, low, high, must, leaning)
        if abs(came) < _LEAP or (came * (degree - here) < 0 and abs(degree - here) < _LEAP)
    )


@lru_cache(_LINES_KEPT)
def _reachable(here: int, low: int, high: int, must: int | None, leaning: bool) -> tuple[int, ...]:
    """Return the degrees that a note may go to, wherever it came from: by no more than a sixth, to no tritone."""
    degrees = range(max(low, here - 5), min(high, here + 5) + 1) if must is None else (must,)
    moves = ((degree, degree - here) for degree in degrees)
    able = (
        degree for degree, move in moves if 1 <= abs(move) <= 5 and (here % 7, degree % 7, abs(move) in (3, 4)) not in _TRITONES
    )
    return tuple(degree for degree in able if not leaning or degree == here - 1)


def _alone(degree: int, station: Station) -> float:
    """Return what a degree costs, wherever the line comes from."""
    return 0.45 * abs(degree - station.aim) + _resting(degree, station)


def _likeness(path: Path, move: int, twin: int) -> float:
    """Return the cost of answering an earlier bar: its own moves from another degree are best."""
    if path[twin] - path[twin - 1] != move:
        return 0.4
    return 0.2 if path[-1] == path[twin - 1] else -1.1


def _resting(degree: int, station: Station) -> float:
    """Return the cost of a long or a strong note outside the tonic and dominant chords; a leaning one wants to be outside."""
    if station.leaning:
        return 0.0 if degree % 7 in LEANS else 1.5
    chordal = degree % 7 in (0, 2, 4)
    rests = station.last and station.long
    if rests and (degree % 7 == _SEVENTH or (station.first and not chordal)):
        return _UNREST
    return 0.0 if chordal else 1.6 if station.long else 0.4 if station.first else 0.0


def _past(near: Path) -> Past:
    """Return what of the last notes bears on where a way goes."""
    moves = [b - a for a, b in pairwise(near[-_SCALE:])]
    last = moves[-1] if moves else 0
    goes_on = len(moves) == _SCALE - 1 and moves.count(last) == len(moves)
    steps = moves[-_STEPS:]
    climbs = len(steps) == _STEPS and abs(last) == 1 and steps.count(last) == _STEPS
    to_and_fro = _TO_AND_FRO if len(near) > 2 and near[-1] == near[-3] else 0.0
    sevenths = _SEVENTH in [note % 7 for note in near[:-1]]
    return Past(last, last if goes_on else 0, last if climbs else 0, _BACK + to_and_fro, sevenths)


def _turning(past: Past, degree: int, move: int) -> float:
    """Return the cost of going to and fro, of a scale that goes on or skips a note, and of two sevenths at odds in minor."""
    total = 0.0
    if move == -past.move:
        total += past.back
    elif move == past.scale:
        total += 1.0
    if past.steps and abs(move) > 1 and move * past.steps > 0:
        total += _SKIPPED
    if past.seventh and move == 1 and degree % 7 == 0:
        total += _AT_ODDS
    return total


@lru_cache(1 << 13)
def _luck(seed: int, *place: int) -> float:
    """Return a little chance; every way that comes by asks for the same."""
    return _CHANCE * (number(seed, "line", *place) % 1000) / 1000


def _kept(reached: Iterator[Onward]) -> list[tuple[float, Path]]:
    """Return the cheapest ways, one for each pair of last notes."""
    best: dict[tuple[int, int], Onward] = {}
    for way in reached:
        ends = way[1][-1], way[2]
        if ends not in best or way < best[ends]:
            best[ends] = way
    return [(cost, (*path, degree)) for cost, path, degree in sorted(best.values())[:_FOLLOWED]]


def _marked(path: Path, along: Course) -> Phrase[Degree]:
    """Return a way as a phrase, slurred from breath to breath, with its dynamics."""
    every = stations(along)
    shaped = _swells(path, every, along)
    return tuple(_note(path[i], i, every, along, shaped.get(i, ("", ""))) for i in range(len(path)))


def _note(degree: int, i: int, every: list[Station], along: Course, shape: tuple[str, str]) -> Note[Degree]:
    station = every[i]
    leading = along.away and station.bar == along.resting and station.must == AWAY_DEGREES[1]
    return Note(
        Degree(degree, int(leading)),
        station.length,
        slur_open=i == 0 or _ends(every[i - 1], along),
        slur_close=_ends(station, along),
        articulations=(LONG,) if station.leaning and station.bar < along.bars - 1 else (),
        dynamic=shape[0],
        hairpin=shape[1],
        breath=_ends(station, along),
        may_breathe=station.last and along.letters[station.bar] == "r" and station.long,
    )


def _ends(station: Station, along: Course) -> bool:
    """Whether a breath follows."""
    return station.last and along.letters[station.bar] in "RH"


def _swells(path: Path, every: list[Station], along: Course) -> Shapes:
    """Return dynamic and hairpin by note, breath by breath."""
    if along.leaning:
        return _leans(path, every, along)
    begins = [0, *(i + 1 for i, station in enumerate(every) if _ends(station, along))]
    bars = dict(along.turns[-1:] if len(along.turns) > _SWELLING else along.turns)
    turning = [i for i, station in enumerate(every) if station.first and station.bar in bars]
    loud = _crests(path, begins, turning) or turning
    result: Shapes = {}
    level = _SOFT
    for first, end in pairwise(begins):
        turns = [i for i in loud if first <= i < end]
        here = _swell(first, turns, end - 1, LOUD_TURN, level) if turns else _lesser(path, every, first, end - 1, level)
        here = _homeward(here, first, end - 1) if end == len(path) else here
        said = {first: ("", here[first][1])} if first and here.get(first, ("", ""))[0] == level else {}
        level = here[max(here)][0]
        result |= here | said
    return result


def _crests(path: Path, begins: list[int], turning: list[int]) -> list[int]:
    """Return the turning points that do not lie under both ends of their breath: one that does is no goal to grow to."""
    breaths = [(first, end) for first, end in pairwise(begins) for _ in range(first, end)]
    return [i for i in turning if path[i] >= min(path[breaths[i][0]], path[breaths[i][1] - 1])]


def _swell(first: int, turns: list[int], last: int, loud: str, soft: str) -> Shapes:
    """Return a swell that grows to the turning points of a breath, from where the last one ended, and gives way after them."""
    grows = {first: (soft, "<")} if turns[0] > first else {}
    return grows | {turns[0]: (loud, ""), turns[-1]: (loud, ">"), last: (_SOFT, ".")}


def _lesser(path: Path, every: list[Station], first: int, last: int, soft: str) -> Shapes:
    """Return the smaller swell of a breath that does not turn: to its highest note, and back if there is time for that.

    Where there is not, the next breath begins as loud as that; one that begins so gives way to its end.
    """
    if soft == _LOUDER:
        return {first: (soft, ">"), last: (_SOFT, ".")}
    top = max(range(first, last), key=lambda i: (path[i], i))
    before, whole = (sum(station.length for station in every[first:end]) for end in (top, last))
    if before < _EARLY * whole:
        return {first: (_SOFT, "")}
    if before > _LATE * whole:
        return {first: (_SOFT, "<"), top: (_LOUDER, ".")}
    return _swell(first, [top], last, _LOUDER, soft)


def _homeward(shapes: Shapes, first: int, last: int) -> Shapes:
    """Return the shapes of the last breath: where it would but grow, it begins as loud as that and gives way to its end."""
    grows = [hairpin for _, hairpin in shapes.values() if hairpin != "."] == ["<"]
    return {first: (_LOUDER, ">"), last: (_SOFT, ".")} if grows else shapes


def _leans(path: Path, every: list[Station], along: Course) -> Shapes:
    """Return a growing hairpin to every leaning note in a breath and a falling one to its answer.

    The turning point of a breath is the loudest, or the highest of its leaning notes; one that lies lower than the one before
    it is soft, and only falls. A bar that leans has two notes: what grows begins on another one than what falls ends on.
    """
    result = Shapes()
    begins = {station.bar: i for i, station in enumerate(every) if station.first}
    goals, before = set(_goals(path, every, along)), 0
    for i, station in enumerate(every[:-1]):
        if station.first and station.bar % 2 == 0:
            goes_on, level = i > 0 and not _ends(every[i - 1], along), LOUD_TURN if station.bar in goals else _LOUDER
            if goes_on and path[i] < path[before]:
                result |= {i: (_SOFT, ">"), i + 1: ("", ".")}
            else:
                grows = {begins[station.bar - 1]: ("", "<")} if goes_on else {}
                result |= grows | {i: (level, ">"), i + 1: (_SOFT, ".")}
            before = i
    return result


def _goals(path: Path, every: list[Station], along: Course) -> Iterator[int]:
    """Yield the bar to which each breath grows: that of a turning point, or of the highest leaning note that it comes to."""
    ends = sorted({station.bar for station in every if _ends(station, along)})
    height = {station.bar: path[i] for i, station in enumerate(every) if station.first}
    for first, last in pairwise((-1, *ends)):
        bars = [bar for bar in range(first + 1, last) if bar % 2 == 0]
        turns = [bar for bar, _ in along.turns if bar in bars]
        grown = [bar for one, bar in pairwise(bars) if height[bar] >= height[one]]
        yield from turns or sorted(grown, key=height.__getitem__)[-1:]
