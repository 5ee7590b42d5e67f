"""The loops of partials that a lip-slur study may play: a path or a width on its best partials first, then narrower ones."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from generators.brass.horn import Horn
from generators.brass.tube import RARE_PARTIALS, partial_midi
from generators.errors import BadRequest, Refusal, unknown
from generators.studies.slurs.paths import SLUR_PATHS, SLUR_WIDTHS, Loop, SlurPath, Stage

# Where a slur may come to rest, best first: neither the flat fifth partial nor, if it can be helped, the lowest.
_RESTING = (4, 8, 6, 3, 2, 10, 12, 9, 5, 7, 14, 13, 11)
# Nothing ends on these: the fifth stands out flat in a held note, the others are of no scale.
RESTLESS = (5, *RARE_PARTIALS)
_TOP_PARTIAL = 14
# A longer number is no partial; it is not even read.
_DIGITS = 4
# The values of two-note slurs, and of those that come again at the end; and of a path of the player's own.
_PAIR_VALUES, _AGAIN_VALUE, _OWN_VALUES = (2, 4, 8), 12, (4, 8)
# Eighths of triplets come between eighths and these.
_TRIPLETS, _SIXTEENTHS = 12, 16
_OWN_AIM = "Listen for every partial to be there before the next is wanted."


@dataclass(frozen=True, slots=True)
class SlurRoute:
    """Loops of partials to be played, the stages from the first tubes to the last."""

    name: str
    stages: tuple[Stage, ...]
    aim: str
    once_more: bool = False
    """Whether its last stage is for nothing but the shortest tubes, once more at the end."""
    level: bool = False
    """Whether it stays in one loudness."""
    upwards: int = 0
    """How many lines at the end go up to the top of the range."""

    def stage(self, place: int, count: int) -> Stage:
        """Return what the tube at a place plays, of so many: from the easiest to the hardest; one alone the last."""
        return self.stages[min(place * len(self.stages) // count, len(self.stages) - 1) if count > 1 else -1]


@dataclass(frozen=True, slots=True)
class SlurValues:
    """The note values of a study: those asked for, or those of every path that the player may be given."""

    asked: tuple[int, ...]
    allowed: tuple[int, ...]
    ladder: bool
    """Whether a tube quickens from value to value; it plays the last alone otherwise."""
    last: int = 0
    """The value that the shortest tubes go on to at the end, past those asked for; 0 for none."""

    def laid(self, stages: tuple[Stage, ...]) -> tuple[Stage, ...]:
        """Return stages in these values; without values asked for, what is too quick is left out with the stages it makes.

        Values that were asked for are those of every tube, on the loops of the first stage; a last one makes a second stage.
        """
        if self.asked:
            loops = tuple(loop for loop, _ in stages[0])
            each = (self.asked, self._to_the_last(loops)) if self.last else (self.asked,)
            laid: tuple[Stage, ...] = tuple(self._over(loops, values) for values in each)
        else:
            kept = [tuple(level for level in stage if level[1] in self.allowed) for stage in stages]
            # A stage that loses its quickest level is no longer harder than the first.
            whole = [stage for stage, all_of_it in zip(kept[1:], stages[1:], strict=True) if stage == all_of_it]
            full = tuple(stage for stage in (kept[0], *whole) if len(stage) > 1) or tuple(filter(None, kept))[:1]
            laid = full or (self._over(tuple(loop for loop, _ in stages[0]), self.allowed[-1:]),)
        return laid if self.ladder else tuple(stage[-1:] for stage in laid)

    def _to_the_last(self, loops: tuple[Loop, ...]) -> tuple[int, ...]:
        """Return the values that go on to the last: by way of triplets, not eighths, where these go into all loops."""
        by_threes = self.last == _SIXTEENTHS and _TRIPLETS in self.allowed and not any(len(loop) % 3 for loop in loops)
        slow = self.asked[:-1] if by_threes and len(self.asked) > 1 else self.asked
        return (*slow, _TRIPLETS, self.last) if by_threes else (*slow, self.last)

    @staticmethod
    def _over(loops: tuple[Loop, ...], values: tuple[int, ...]) -> Stage:
        return tuple((loops[min(i, len(loops) - 1)], value) for i, value in enumerate(values))


def slur_routes(
    path: str, width: str, values: SlurValues, rare: bool, horn: Horn, *, small: bool = False
) -> Iterator[SlurRoute]:
    """Yield what may be played, the asked path on its best partials first, then narrower paths; or its figure in small.

    A width is taken before a path; without values each path has its own.
    """
    series = slurred_partials(rare=rare)
    if width:
        yield from _pairs(width, series, values, horn)
    elif path in SLUR_PATHS:
        yield from _named(SLUR_PATHS[path].plain if small else SLUR_PATHS[path], series, values)
    else:
        yield from _own(path, series, values)


def slurred_partials(*, rare: bool) -> list[int]:
    """Return the partials that a slur may have, with the rare ones or without."""
    return [n for n in range(2, _TOP_PARTIAL + 1) if rare or n not in RARE_PARTIALS]


def _named(path: SlurPath, series: list[int], values: SlurValues) -> Iterator[SlurRoute]:
    """Yield a path on each of its bases with all its stages, then with fewer, then a narrower path."""
    stages = values.laid(path.stages)
    for count in range(len(stages), 0, -1):
        for base in _bases(stages[:count], series):
            placed = tuple(_placed(stage, series, base) for stage in stages[:count])
            if not any(stage[-1][0][0] in RESTLESS for stage in placed):
                yield SlurRoute(path.name, placed, path.aim, bool(values.asked) and count > 1, path.level)
    if path.narrower:
        yield from _named(SLUR_PATHS[path.narrower], series, values)


def _bases(stages: tuple[Stage, ...], series: list[int]) -> list[int]:
    """Return where in the series the lowest rung may stand, the first stage as near the middle of the staff as can be."""
    first, every = _rungs(stages[:1]), _rungs(stages)
    return sorted(range(len(series) - every + 1), key=lambda base: _distance(series[base : base + first]))


def _rungs(stages: tuple[Stage, ...]) -> int:
    """Return how many neighbouring partials the stages touch."""
    return max(max(loop) for stage in stages for loop, _ in stage)


def _placed(stage: Stage, series: list[int], base: int) -> Stage:
    return tuple((tuple(series[base + rung - 1] for rung in loop), value) for loop, value in stage)


def _distance(partials: list[int]) -> float:
    """Order bases by how near the middle of the path is to the fourth partial, the middle of the staff."""
    return abs(sum(partials) / len(partials) - (3.7 if len(partials) == 2 else 4.1))


def _rested(loop: Loop) -> Loop:
    """Turn a two-note loop so that it begins and ends on the better resting note."""
    return tuple(sorted(loop, key=_RESTING.index)) if len(loop) == 2 else loop


def _turned(loop: Loop) -> Loop:
    """Return a loop of the player's own, begun elsewhere where it would begin and end on a restless partial."""
    best = min(range(len(loop)), key=lambda i: _RESTING.index(loop[i])) if loop[0] in RESTLESS else 0
    return loop[best:] + loop[:best]


def _pairs(width: str, series: list[int], values: SlurValues, horn: Horn) -> Iterator[SlurRoute]:
    """Yield the pairs of a width, each with the next one over it in its last stage, then without."""
    height = {n: partial_midi(horn, horn.tubes[0], n) for n in series}
    size = {(a, b): height[b] - height[a] for a in series for b in series if a < b}
    pairs = sorted((pair for pair, wide in size.items() if wide in SLUR_WIDTHS[width]), key=lambda pair: _distance(list(pair)))
    aim = f"Listen for the {width} to be one gesture of air; the second note is there before you reach for it."
    for pair in pairs:
        next_one = sorted(other for other in pairs if other[0] > pair[0])[:1]
        for upper in (*next_one, pair):
            yield SlurRoute(f"{width}s", values.laid(_pair_stages(pair, upper)), aim, once_more=upper != pair)


def _pair_stages(pair: Loop, upper: Loop) -> tuple[Stage, ...]:
    """Return two notes from halves on, the upper two in between; in the last stage all of them quicker."""
    here, over = (loop if loop[0] not in RESTLESS else _rested(loop) for loop in (pair, upper))
    slow, middle, quick = _PAIR_VALUES
    return ((here, slow), (over, middle), (here, quick)), ((over, quick), (here, _AGAIN_VALUE))


def _own(text: str, series: list[int], values: SlurValues) -> Iterator[SlurRoute]:
    """Yield a path of the player's own partials, then the same path on lower rungs."""
    rungs = [series.index(partial) for partial in _partials(text, series)]
    loop = rungs[:-1] if rungs[0] == rungs[-1] and len(rungs) > 2 else rungs
    for lower in range(min(loop) + 1):
        path = _turned(tuple(series[rung - lower] for rung in loop))
        stages = values.laid((tuple((path, value) for value in _own_values(values)),))
        for count in range(len(stages), 0, -1):
            yield SlurRoute("-".join(map(str, path)), stages[:count], _OWN_AIM, once_more=count > 1)


def _own_values(values: SlurValues) -> tuple[int, ...]:
    """Return the values of a player's own path; who has none so quick begins as much slower."""
    return _OWN_VALUES if _OWN_VALUES[-1] in values.allowed else values.allowed[-len(_OWN_VALUES) :]


def _partials(text: str, series: list[int]) -> list[int]:
    """Read a path such as 3-4-5-4; refuse one that stays on a partial, or leaves those that may be played."""
    parts = text.replace(",", "-").split("-")
    if not all(part.isascii() and part.isdigit() and len(part) <= _DIGITS for part in parts) or len(set(parts)) < 2:
        raise unknown("path", text, (*SLUR_PATHS, "partials such as 3-4-5-4"))
    partials = [int(part) for part in parts]
    still = next((a for a, b in pairwise(partials) if a == b), None)
    if still is not None:
        cure = "write each partial different from the one before it"
        raise BadRequest(Refusal("path", text, f"stays on {still}", do=cure))
    off = next((partial for partial in partials if partial not in series), None)
    if off is not None:
        cure = "the rare partials 7, 11, 13 and 14 must be asked for" if off in RARE_PARTIALS else ""
        raise BadRequest(Refusal("partial", off, "is not to be played", allowed=tuple(map(str, series)), do=cure))
    return partials
