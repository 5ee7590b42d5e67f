"""The way of a lip slur to the top of the range: its figure on higher partials, on the tubes that have them there."""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import partial
from itertools import pairwise

from generators.brass.tube import partial_midi
from generators.studies.kit.setting import Setting
from generators.studies.slurs.paths import Loop, Stage
from generators.studies.slurs.routes import RESTLESS, slurred_partials

# So many steps of the series lead up to the top, its own with them; the partial to which slurs go on every tube: our choice.
_STEPS, _EIGHTH = 2, 8
# A figure that lasts longer than this in its slow notes, in whole notes, goes up in quick ones alone: our choice.
_SLOWEST = Fraction(3, 2)

Played = list[tuple[str, Stage]]
"""What is played: tubes, each with its stage."""


def reaches(stage: Stage, tube: str, setting: Setting) -> bool:
    """Tell whether a player has all notes of a stage on a tube, and all its leaps."""
    limits, height = setting.limits, partial(partial_midi, setting.horn, tube)
    inside = all(limits.low.midi <= height(n) <= limits.high.midi for loop, _ in stage for n in loop)
    return inside and widest_leap(stage, tube, setting) <= limits.leap


def widest_leap(stage: Stage, tube: str, setting: Setting) -> int:
    """Return the widest leap of a stage on a tube, in half-steps."""
    loops = [[partial_midi(setting.horn, tube, n) for n in (*loop, loop[0])] for loop, _ in stage]
    return max(abs(a - b) for loop in loops for a, b in pairwise(loop))


def top_of(played: Iterable[tuple[str, Stage]], setting: Setting) -> int:
    """Return the MIDI number of the highest note that is played."""
    return max(partial_midi(setting.horn, tube, n) for tube, stage in played for loop, _ in stage for n in loop)


def ways_up(first: Stage, played: Played, count: int, over: int, setting: Setting) -> Played:
    """Return so many tubes at the most that come highest over a note, each with its way up there."""
    series = _up_to_the_top(setting)
    ways = [(tube, _way_up(first, series, tube, setting)) for tube, _ in played]
    there = [way for way in ways if way[1] and top_of([way], setting) > over]
    found = [(tube, stage) for tube, stage in there if reaches(stage, tube, setting)]
    highest = sorted(found, key=lambda way: -top_of([way], setting))[:count]
    return [way for way in found if way in highest]


def _up_to_the_top(setting: Setting) -> list[int]:
    """Return the partials as far as the eighth, or as far as the shortest tube needs for the top of the range."""
    heights = {n: partial_midi(setting.horn, setting.horn.tubes[0], n) for n in slurred_partials(rare=setting.limits.partials)}
    return [n for n, height in heights.items() if n <= _EIGHTH or height <= setting.limits.high.midi]


def _way_up(first: Stage, series: Sequence[int], tube: str, setting: Setting) -> Stage:
    """Return the last figure of a stage higher and higher in the series, as far as a tube goes; slow, then quick at the top."""
    loop, value = first[-1]
    places = [series.index(each) for each in loop if each in series]
    higher = [tuple(series[place + up] for place in places) for up in range(1, len(series) - max(places, default=0))]
    begun = first[0][1] if Fraction(len(loop), first[0][1]) <= _SLOWEST else value
    stages = [((_held_low(each), begun),) for each in higher if len(each) == len(loop)]
    slow = tuple(level for stage in stages if reaches(stage, tube, setting) for level in stage)[-_STEPS:]
    return (*slow, *((each, value) for each, _ in slow[-1:] if begun != value))


def _held_low(loop: Loop) -> Loop:
    """Return a loop, from its lowest partial that may be held where it would begin and end on a restless one."""
    best = min(range(len(loop)), key=lambda i: (loop[i] in RESTLESS, loop[i])) if loop[0] in RESTLESS else 0
    return loop[best:] + loop[:best]
