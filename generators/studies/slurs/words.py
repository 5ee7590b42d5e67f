"""What a lip-slur study says of itself: which lines become quicker or higher, when to play them, how high they go and why."""

from collections.abc import Iterator
from itertools import combinations

from generators.brass.tube import RARE_PARTIALS, partial_midi, partial_pitch
from generators.phrase.remark import Advice, Remark
from generators.studies.kit.setting import Setting
from generators.studies.slurs.paths import SLUR_PATHS, SLUR_WIDTHS, Stage
from generators.studies.slurs.routes import SlurRoute, slurred_partials
from generators.studies.slurs.top import Played
from generators.theory.pitch import Pitch

# Halves to sixteenths; twelve of them in a whole note are eighths of triplets.
TRIPLET_VALUE = 12
SLUR_VALUES = {2: "halves", 4: "quarters", 8: "eighths", TRIPLET_VALUE: "triplets", 16: "sixteenths"}
# What a label says of a line that becomes quicker than those before it, and than these.
_QUICKER = ("", "quicker", "quickest")
# What a label says of a line that goes higher than those before it.
_HIGHER = "higher"
# So many half-steps under a top that was asked for are worth a word: our choice.
_WELL_BELOW = 3


_FLAT = "the next {width} has the seventh partial, which is flat"
_BEYOND, _OWN = "the next {width} goes beyond {high}", "no note of the path lies higher"


def slur_labels(played: Played, route: SlurRoute) -> list[str]:
    """Return what the label of each line says, of which the last may go higher."""
    below = len(played) - route.upwards
    return [*_quicker(played[:below]), *[_HIGHER] * route.upwards]


def again_remarks(played: Played, tubes: tuple[str, ...], route: SlurRoute, setting: Setting) -> Iterator[Remark]:
    """Yield what the lines are of the tubes that come again at the end, and when they are for."""
    if last := played[len(tubes) :]:
        slower = SLUR_VALUES[max(value for _, stage in played[: len(tubes)] for _, value in stage)]
        up = last[len(last) - route.upwards :]
        tops = " and ".join(_highest([line], setting).pretty for line in up)
        one = len(last) == 1
        quicker = [f"{'is' if one else 'are'} quicker"] if len(last) > len(up) else []
        higher = [f"{'goes' if one else 'go'} up to {tops}"] if up else []
        lines, them = ("line", "it") if one else ("lines", "them")
        what = ", then ".join([*quicker, *higher])
        yield Advice(f"The last {lines} {what}: play {them} only when the {slower} are easy, as softly as the others.")


def _quicker(played: Played) -> list[str]:
    """Return what is said of how quick each line becomes, or where it begins; nothing of the first ones."""
    quickest = [stage[-1][1] for _, stage in played]
    ranks = sorted(set(quickest))
    if len(ranks) > 1:
        return [_QUICKER[min(ranks.index(value), len(_QUICKER) - 1)] for value in quickest]
    ends = [low_first(stage) for _, stage in played]
    mirrored = len({tube for tube, _ in played}) == 1 and len(set(ends)) > 1
    return [("rising" if low else "falling") if mirrored else "" for low in ends]


def low_first(stage: Stage) -> bool:
    """Tell whether a stage begins on its lowest note."""
    return stage[0][0][0] == min(stage[0][0])


def height_remarks(played: Played, route: SlurRoute, width: str, setting: Setting) -> Iterator[Remark]:
    """Yield how high lines go that stay well below a highest note that was asked for, and why, where width or path tell."""
    top, high = _highest(played, setting), setting.limits.high
    if high.midi - top.midi >= _WELL_BELOW:
        why = _why_no_higher(width, top, setting) if width else "" if route.name in SLUR_PATHS else _OWN
        told = f": {why.format(width=width, high=high.pretty)}" if why else ""
        yield Advice(f"The slurs go no higher than {top.pretty} here{told}.")


def _why_no_higher(width: str, top: Pitch, setting: Setting) -> str:
    """Return why no pair of a width lies over a note: it would have a partial that is out of tune, or go too far."""
    tube = setting.horn.tubes[0]
    heights = {n: partial_midi(setting.horn, tube, n) for n in slurred_partials(rare=True)}
    over = [pair for pair in combinations(heights, 2) if heights[pair[1]] - heights[pair[0]] in SLUR_WIDTHS[width]]
    reached = [pair for pair in over if top.midi < heights[pair[1]] <= setting.limits.high.midi]
    return _FLAT if any(set(pair) & set(RARE_PARTIALS) for pair in reached) and not setting.limits.partials else _BEYOND


def _highest(played: Played, setting: Setting) -> Pitch:
    """Return the highest note that is played."""
    every = (partial_pitch(setting.horn, tube, n) for tube, stage in played for loop, _ in stage for n in loop)
    return max(every, key=lambda pitch: pitch.midi)
