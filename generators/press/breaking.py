"""Which strains stand on which page, chosen over all pages at once by what each break costs; no strain is split."""

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise
from statistics import median

from generators.errors import FailedRun, Refusal
from generators.press.extent import Extent

# What is paid for a page; for one that is not the last and emptier than this, and by how much, squared; for going on with a
# section over the page, the more over a turn, the more of a piece, and more yet of one over a turn; for a staff on a page
# without another of its section; for a page of many headings with little under them; for one of a staff or two; for one
# without room to set staves apart, squared, which begins where it is so full: our choice.
_PAGE, FULL, _EMPTY, _EMPTIER = 100.0, 0.81, 10.0, 6000.0
_SPLIT, _TURN, _PIECE, _TURNED, _ORPHAN, _SCATTERED, _LONELY = 10.0, 12.0, 40.0, 60.0, 40.0, 60.0, 90.0
_CROWDED, CLOSE = 45.0, 0.88
# What it costs to part two strains that take turns with others: our choice.
_PAIR = 25.0
# How full the first of two pages is at the least that strains are shared out over, and any whose staves stand clear of one
# another for it; a beginner's before they are set apart: our choice.
_SHARED, _WELL_FULL = 0.75, 0.55
# What it costs to go on with a section over the page where all are to stand whole, if they can: more than anything else.
_WHOLE = 2000.0
# How much farther apart than the least staves stand where there is room, to about 22 mm, and at the most, to about 25 mm, on a
# page that would be too empty; how full such a page is to become, and how far apart its middle two lines.
WELL_LOOSE, FILLED, WIDEST = 2.0, 0.84, 11.9
# How full a page may become by our measures, at first and each time that it has proved too full so; at last it is set tight.
ROOMY = (1.05, 1.0, 0.96, 0.93, 0.0)
# How far apart the middle two lines of a page are too far apart, in staff spaces: about 27 mm in plain print.
TOO_FAR = 13.8
_STEPS = (0.0, 0.4, 0.8, 1.2, 1.6, 2.0, 2.4, 2.8, 3.2, 3.6, 4.0, 4.4, 4.8, 5.2, 5.6, 6.0, 6.4, 6.8)
MOST_LOOSE = _STEPS[-1]
# What may stand over a heading beyond the least, well and at the most, and what is kept for it before staves are set apart.
_AIRS, WELL_AIRED, AIR = (0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0, 7.0), 2.0, 1.0
# How much clearer of one another than the least staves stand, the first for which there is room: what stands over a staff is
# not to be read with what stands under the one above it; a beginner's, for whom more pages may be taken. Our choice.
CLEARS = (0.9, 0.7, 0.5, 0.35, 0.2)
YOUNG_CLEARS = (1.8, 1.4, 1.0, 0.6, 0.3)
# How many of these are given up each time that a page proves too full.
_LESS = 2
# How far apart the middle two lines of a page are set for it at the most by our measures, in staff spaces.
CLEAREST = 12.9
# How full a page may be by our measures, which rather err on the high side; what proves overfull is laid anew.
FITS = 0.996
# A page after the first has so many staves at the least, if it can.
FEWEST_STAVES = 3
# What an odd number of pages costs where a blank one must follow.
_BLANK = 70.0


class TooTallError(FailedRun):
    """A strain is too tall for any page of the paper."""


@dataclass(frozen=True, slots=True)
class Block:
    """A strain as the page breaker sees it, in staff spaces."""

    section: int
    """The section that it belongs to."""
    heading: float
    """What stands over it where it begins its section; 0 where it does not."""
    lines: tuple[Extent, ...]
    """How far each of its lines reaches from its middle."""
    staves: int = 1
    """How many staves it has; free lines are none."""
    joined: bool = False
    """Whether it stands in one score with the strain before it: parting a piece costs more than parting a study."""
    paired: bool = False
    """Whether it is the second of two that take turns."""


@dataclass(frozen=True, slots=True)
class Gaps:
    """The least distances of the house style, in staff spaces."""

    system: float
    """Between the staves of one score."""
    score: float
    """Between those of two."""
    padding: float
    """Between the ink of two staves of one score."""
    apart: float
    """Between the ink of two staves of two scores."""
    over: float
    """Between the ink of a staff and a text under it."""
    under: float
    """Between a text and the ink of a staff under it."""
    inside: float = 0.4
    """What of more room between two scores comes between the staves of one."""

    def looser(self, spaces: float) -> "Gaps":
        """Return the distances with so much more between two scores, and some of it between the staves of one."""
        own = self.inside * spaces
        system, score = self.system + own, self.score + spaces
        padding, apart = self.padding + own, self.apart + 1.25 * spaces
        return Gaps(system, score, padding, apart, self.over, self.under, self.inside)

    def clearer(self, spaces: float) -> "Gaps":
        """Return the distances with so much more between the ink of any two staves."""
        padding, apart = self.padding + spaces, self.apart + spaces
        return Gaps(self.system, self.score, padding, apart, self.over, self.under, self.inside)

    def airier(self, spaces: float) -> "Gaps":
        """Return the distances with so much more over a heading."""
        return Gaps(self.system, self.score, self.padding, self.apart, self.over + spaces, self.under, self.inside)


def distances(blocks: Sequence[Block], head: float, gaps: Gaps) -> list[float]:
    """Return the way from the edge to the middle of the first line, and from the middle of each line to that of the next."""
    found, down = list[float](), 0.0
    for place, block in enumerate(blocks):
        for number, line in enumerate(block.lines):
            one = number > 0 or block.joined
            least, padding = (gaps.system, gaps.padding) if one else (gaps.score, gaps.apart)
            if not number and (block.heading or not place):
                above = down + gaps.over if place else head
                found.append(above + block.heading + line.up + gaps.under)
            else:
                found.append(max(least, down + line.up + padding))
            down = line.down
    return found


def height(blocks: Sequence[Block], head: float, gaps: Gaps) -> float:
    """Return what strains take of a page under a head of its own."""
    return sum(distances(blocks, head, gaps)) + blocks[-1].lines[-1].down


Spans = frozenset[tuple[int, int]]
"""Strains of a flow, from one up to another."""


@dataclass(frozen=True, slots=True)
class Proved:
    """Which strains have proved too much for a page."""

    loose: tuple[tuple[int, int], ...] = ()
    """Set apart as far as a page was to be full, as often as that was too far."""
    refused: Spans = frozenset()
    """However close."""

    def overfull(self, strains: tuple[int, int]) -> "Proved":
        """Return what is known once strains on one page have proved too much: they stand closer, in the end they are parted."""
        if self.loose.count(strains) < len(ROOMY) - 1:
            return replace(self, loose=(*self.loose, strains))
        return replace(self, refused=self.refused | {strains})


NOTHING_PROVED = Proved()


@dataclass(frozen=True, slots=True)
class Layout:
    """Strains to be laid on pages: the room of a page, what its head takes, and how the pages are to lie."""

    blocks: tuple[Block, ...]
    room: float
    gaps: Gaps
    first: float
    """What the head of the first page takes."""
    later: float
    """What that of every other takes."""
    page: int = 1
    """The number of the first page."""
    even: bool = False
    """Whether a blank page follows an odd number of them."""
    last: bool = True
    """Whether the document ends with them: its last page may be empty."""
    widest: float = WIDEST
    """How far apart the middle two lines of a page are set at the most."""
    proved: Proved = NOTHING_PROVED
    """Which strains have proved too much for a page."""
    whole: bool = False
    """Whether a section begins the next page rather than to go on there, where that takes no more pages."""
    clearest: float = CLEAREST
    """How far apart they are set at the most to stand clear of one another."""
    clears: tuple[float, ...] = CLEARS
    """How much clearer than the least any two staves may stand, the most first."""
    full: float = 1.0
    """How full a page may be beside others."""


def cleared(task: Layout, spaces: float) -> Layout:
    """Return strains to be laid with so much more between the ink of any two staves, and thereby farther apart."""
    widest = max(task.widest, min(task.widest + spaces, task.clearest))
    return replace(task, gaps=task.gaps.clearer(spaces), widest=widest)


Way = tuple[float, tuple[int, ...]]
"""What it costs, and how many strains stand on each page."""
Ways = dict[int, Way]
"""The cheapest way by the number of pages."""


def paginate(task: Layout) -> tuple[int, ...]:
    """Return how many strains stand on each page; raises TooTallError where one has none that holds it."""
    best: list[Ways] = [{0: (0.0, ())}]
    for end in range(1, len(task.blocks) + 1):
        best.append(_cheapest(_ways(task, end, best)))
    if not best[-1]:
        raise _too_tall(task)
    most = len(paginate(replace(task, whole=False))) if task.whole else max(best[-1])
    every = ((cost + _BLANK * (task.even and pages % 2), counts) for pages, (cost, counts) in best[-1].items() if pages <= most)
    return min(every)[1]


def shared(task: Layout, counts: tuple[int, ...]) -> tuple[int, ...]:
    """Return how many strains stand on each of two pages: more alike where one is crowded and the other emptier by half.

    Only strains of one section are shared out so, and the first page stays well filled.
    """
    if len(counts) != 2 or len({block.section for block in task.blocks}) > 1:
        return counts
    if _taken(task, 0, counts[0]) <= CLOSE or 2 * counts[1] > counts[0]:
        return counts
    halves = range(-(-len(task.blocks) // 2), counts[0])
    well = (half for half in halves if _fits(task, half, len(task.blocks)) and _loosened(task, 0, half) >= _SHARED)
    first = next(well, counts[0])
    return first, len(task.blocks) - first


def well_filled(task: Layout, counts: Sequence[int]) -> bool:
    """Tell whether every page but the last is full enough: a beginner's with its staves as near as they stand clear."""
    ends = list(accumulate(counts, initial=0))[:-1]
    taken, least = (_taken, _WELL_FULL) if task.whole else (_loosened, _SHARED)
    return all(taken(task, start, end) >= least for start, end in pairwise(ends))


def _cheapest(found: Iterable[tuple[int, Way]]) -> Ways:
    """Return the cheapest way for each number of pages."""
    best: Ways = {}
    for pages, way in found:
        best[pages] = min(way, best.get(pages, way))
    return best


def _too_tall(task: Layout) -> TooTallError:
    tallest = max(height([block], task.first, task.gaps) for block in task.blocks) / task.room
    why = f"is {tallest:.0%} of a page high" if tallest > 1 else "does not fit on a page"
    return TooTallError(Refusal("strain", None, why, do="choose larger paper or no large print"))


def _taken(task: Layout, start: int, end: int) -> float:
    """Return how much of a page strains take at the least."""
    return height(task.blocks[start:end], task.later if start else task.first, task.gaps) / task.room


def _fits(task: Layout, start: int, end: int) -> bool:
    """Tell whether strains fit on a page, as far as that is known."""
    refused = any(start <= first and last <= end for first, last in task.proved.refused)
    return _taken(task, start, end) <= FITS * task.full and not refused


def _ways(task: Layout, end: int, best: Sequence[Ways]) -> Iterator[tuple[int, Way]]:
    """Yield the ways to end a page after so many strains: how many pages, what they cost, the strains on each."""
    for start in reversed(range(end)):
        if not _fits(task, start, end):
            return
        taken = _taken(task, start, end)
        page = _PAGE + _emptiness(task, start, end, taken) + _orphans(task, start, end)
        page += (
            _CROWDED * _crowded(taken) ** 2 + _SCATTERED * _scattered(task, start, end) + _LONELY * _lonely(task, start, end)
        )
        for pages, (cost, counts) in best[start].items():
            turn = (task.page + pages) % 2 == 1
            yield pages + 1, (cost + page + _broken(task, end, turn), (*counts, end - start))


def clearance(task: Layout, start: int, end: int) -> float:
    """Return how much more may stand between the ink of any two staves of a page, in staff spaces."""
    head, blocks, full = task.later if start else task.first, task.blocks[start:end], _roomy(task, start, end)
    left = task.clears[_LESS * task.proved.loose.count((start, end)) :]
    fits = (each for each in left if height(blocks, head, task.gaps.airier(AIR).clearer(each)) <= full * task.room)
    return next((each for each in fits if _middle(blocks, task.gaps.clearer(each), task) <= task.clearest), 0.0)


def looseness(task: Layout, start: int, end: int) -> float:
    """Return how much farther apart than the least the staves of a page stand, in staff spaces.

    As far as they stand well where the page has room for it; farther, but not far, where it would be too empty otherwise.
    """
    blocks, full = task.blocks[start:end], _roomy(task, start, end)
    even = _while(_STEPS, lambda step: _middle(blocks, task.gaps.looser(step), task) <= task.widest)
    takes = _takes(task, start, end, task.gaps.airier(AIR).looser)
    return _stepped(task, end, even, _while(even, lambda step: step <= WELL_LOOSE and takes(step) <= full)[-1], takes)


def heading_air(task: Layout, start: int, end: int) -> float:
    """Return how much more than the least stands over the headings of a page where there is room, in staff spaces.

    As much as is well; more, but not much, where the page would be too empty otherwise.
    """
    return _air(task, start, end, task.gaps.looser(looseness(task, start, end)))


def _air(task: Layout, start: int, end: int, loose: Gaps) -> float:
    """Return what more stands over the headings of a page with its staves set apart."""
    blocks, full = task.blocks[start:end], _roomy(task, start, end)
    takes = _takes(task, start, end, loose.airier)
    even = _while(_AIRS, lambda step: takes(step) <= full and _middle(blocks, loose.airier(step), task) <= task.widest)
    return _stepped(task, end, even, _while(even, lambda step: step <= WELL_AIRED)[-1], takes)


def _takes(task: Layout, start: int, end: int, gaps: Callable[[float], Gaps]) -> Callable[[float], float]:
    """Return what tells how much of a page strains take with the distances of a step."""
    head, blocks = task.later if start else task.first, task.blocks[start:end]
    return lambda step: height(blocks, head, gaps(step)) / task.room


def _while(steps: Sequence[float], holds: Callable[[float], bool]) -> Sequence[float]:
    """Return growing steps up to the last for which something holds that holds for all smaller ones; at least the first."""
    return steps[: max(1, bisect_left(steps, True, key=lambda step: not holds(step)))]


def _stepped(task: Layout, end: int, even: Sequence[float], well: float, takes: Callable[[float], float]) -> float:
    """Return the step that is well, or, where the page would be too empty with it, the first that fills it, if not the last."""
    if takes(well) >= FILLED or (task.last and end == len(task.blocks)):
        return well
    return even[min(len(even) - 1, bisect_left(even, FILLED, key=takes))]


def _roomy(task: Layout, start: int, end: int) -> float:
    """Return how full a page may be made by setting its staves apart."""
    return ROOMY[task.proved.loose.count((start, end))]


def _middle(blocks: Sequence[Block], gaps: Gaps, task: Layout) -> float:
    """Return the middle one of the distances between the staves of a page; lines without a staff stand between them.

    Where sections stand whole, of a few lines each, those over a heading are not counted.
    """
    lines = [(block.staves > 0, block.heading > 0 and not number) for block in blocks for number, _ in enumerate(block.lines)]
    staves = [(at, headed) for at, (staff, headed) in zip(accumulate(distances(blocks, 0, gaps)), lines, strict=True) if staff]
    ways = [(after - before, headed) for (before, _), (after, headed) in pairwise(staves)]
    plain = [way for way, headed in ways if not (task.whole and headed)]
    return median(plain or [way for way, _ in ways] or [0.0])


def _scattered(task: Layout, start: int, end: int) -> bool:
    """Tell whether the middle two lines of a page stand far apart, for most of its staves have a heading of their own."""
    return _middle(task.blocks[start:end], task.gaps, task) > TOO_FAR


def _crowded(taken: float) -> float:
    """Return how near a page is to where its staves cannot stand farther apart than the least."""
    return min(1.0, max(0.0, (taken - CLOSE) / (1 - CLOSE)))


def _lonely(task: Layout, start: int, end: int) -> bool:
    """Tell whether a page after the first has but a staff or two."""
    return start > 0 and sum(block.staves for block in task.blocks[start:end]) < FEWEST_STAVES


def _emptiness(task: Layout, start: int, end: int, taken: float) -> float:
    """Return what it costs that a page is not full, when its staves stand as far apart as they may."""
    if task.last and end == len(task.blocks):
        return 0.0
    fullness = taken if taken >= FULL else _loosened(task, start, end)
    return 10 * (1 - fullness) ** 2 + (_EMPTY + _EMPTIER * (FULL - fullness) ** 2 if fullness < FULL else 0.0)


def _loosened(task: Layout, start: int, end: int) -> float:
    """Return how much of a page strains take in the end."""
    loose = task.gaps.looser(looseness(task, start, end))
    return _takes(task, start, end, loose.airier)(_air(task, start, end, loose))


def _broken(task: Layout, end: int, turn: bool) -> float:
    """Return what it costs to end a page after so many strains: something where a section goes on, more before a turn."""
    if end == len(task.blocks) or task.blocks[end - 1].section != task.blocks[end].section:
        return 0.0
    after = task.blocks[end]
    return _WHOLE * task.whole + _SPLIT + (_TURN + _TURNED * after.joined) * turn + _PIECE * after.joined + _PAIR * after.paired


def _orphans(task: Layout, start: int, end: int) -> float:
    """Return what it costs that a staff stands at the head or the foot of a page without another of its section."""
    blocks = task.blocks[start:end]
    above = start > 0 and task.blocks[start - 1].section == blocks[0].section
    below = end < len(task.blocks) and task.blocks[end].section == blocks[-1].section
    return _ORPHAN * (above * _alone(blocks, blocks[0].section) + below * _alone(blocks, blocks[-1].section))


def _alone(blocks: Sequence[Block], section: int) -> bool:
    """Tell whether a page has no more of a section than one staff."""
    return sum(block.staves for block in blocks if block.section == section) < 2
