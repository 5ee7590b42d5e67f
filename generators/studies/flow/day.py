"""The flow of a day: narrow lines, high ones and the warm-down; and the row of the kind."""

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import combinations, islice, permutations, product
from typing import Any

from generators.phrase.algebra import length
from generators.phrase.note import Note
from generators.phrase.remark import Narrowed
from generators.phrase.study import Strain
from generators.studies.flow.closes import FLOW_AIMS
from generators.studies.flow.courses import FLOW_METERS
from generators.studies.flow.study import FIRST_FLOW_SHAPES, MANY_SIGNS, FlowRequest, flow, flow_shapes
from generators.studies.kit.had import study_had
from generators.studies.kit.kind import WORKING_DAYS, DayPart, Kind
from generators.studies.kit.occasion import HIGH_SHARE, Occasion
from generators.studies.kit.request import Request
from generators.theory.key import all_keys, parse_key
from generators.theory.pitch import Pitch, extremes, simple

# How far under the top of a day its wide flow may go, in half-steps, and that of a grown player: our choice.
_WIDE_ROOM, _HIGH_ROOM = 22, 17
# As high as the first slurs of a day may go, which its first flow has reached before, and so many half-steps higher at the
# most; where that begins at the most; and the note over which it is set where it would lie lower, in treble clef: our choice.
_SLURRED, _HIGHER, _BEGUN, _FLOOR = Pitch("E", 0, 5), 2, Pitch("C", 0, 5), Pitch("C", 0, 4)
# What spans fewer half-steps is no wide line: our choice.
_NARROW = 9
# How high a warm-down goes, in treble clef, where there is an octave below that: our choice.
_WARM_DOWN = Pitch("A", 0, 4)
# How high one goes that sinks, its shapes and widths by turns, all of which end near their lowest note, and how many half-steps
# lower the second line lies: our choice.
_SINKING, _LOWER = Pitch("B", 0, 4), range(2, 6)
_SINKING_WIDTHS = {
    "arch": ("fifth", "six-notes", "third"),
    "wave": ("five-notes", "six-notes"),
    "widening": ("third", "fifth", "six-notes"),
}
_OCTAVE = 12
# The shapes of a grown player's first lines on twelve days on end: never that of the warm-down, whose three take turns, nor
# that of the day before, and none more than twice in seven days, found by trying. A dip of them leans where the top is far.
_ROUND = (
    *("dip", "arch", "wave", "widening", "dip", "arch"),
    *("wave", "widening", "arch", "dip", "widening", "wave"),
)
_LEANS_AT = 4
# The majors of a day come back together in so many days.
_MAJORS_BACK = 3
# The half of the keys that high lines are in on each day of a round of the high parts, another whenever they come again.
_HALVES = (0, 0, 1, 1)
# What leans is for a day's high lines where the top is near, else for its first ones: never for both, so that it stays rare.
_LEANING = "lean"
# How many sets of keys are tried for lines of one tune above the staff.
_TRIED = 6
# How often narrow lines are drawn for one that goes farther than a fourth in two bars: our choice.
_SET_OUT, _FOURTH = 20, 5
# How often lines are drawn anew in the keys of a day: our choice.
_DRAWN = 3
# Of one line alone there would be too little for who is at home up there.
_TWO = 2
# What to listen for in a day's high lines and in its warm-down, by turns.
_HIGH_AIMS = (
    "Listen for the high notes to be no thinner than those that the line came from.",
    "Listen for the line to climb on quicker air, the lips no tighter at the top than below.",
    "Listen for the top to belong to its line: no accent into it, no hurry out of it.",
    "Listen for the air to move before the line climbs, so that the top is there when it comes.",
)
_WARM_DOWN_AIMS = (
    "Listen for the sound to stay warm as it sinks and fades; loose lips, nothing held back.",
    "Listen for the lowest note to be the easiest of the day: soft, wide, unforced.",
    "Listen for the air to slow down while the tone stays whole; let the jaw sink with the line.",
    "Listen for the end to fade and not to go flat: the air goes on to the last moment.",
)


def _narrow_shape(where: Occasion) -> str:
    # A light day, which goes less high, has the shape that it would have had.
    whole = where.far_above or where.kind == "light"
    if where.grade.child:
        shapes = FIRST_FLOW_SHAPES if where.grade.slow else flow_shapes(where.grade)
        return where.turn(shapes if whole else tuple(name for name in shapes if name != _LEANING), "shape")
    place = where.turn(range(len(_ROUND)), "warm-down")
    return _LEANING if whole and place == _LEANS_AT else _ROUND[place]


def _sinking_shape(where: Occasion) -> str:
    """Return the shape of the warm-down, by turns from day to day, which no other line of the day has; none of a child's."""
    return "" if where.grade.child else where.turn(tuple(_SINKING_WIDTHS), "warm-down")


def _narrow_part(where: Occasion) -> Iterator[Request]:
    """Yield narrow flow lines in the day's majors, weak keys in front, no higher than the first note over the staff.

    A learner has short ones in up to four keys; who is grown has fewer keys and longer lines.
    """
    over = where.horn.clef.over
    common = where.common | ({"high": over.name} if where.low.midi + _OCTAVE <= over.midi < where.high.midi else {})
    child = where.grade.child
    # His own is no wider where he has no leap of an octave, and what does not fit needs no word.
    compass = "" if child and where.grade.leap < _OCTAVE else "fifth"
    works = where.grade.octaves == "wide" and where.kind in WORKING_DAYS
    peak = "f" if works and where.swells else "mf"
    short = (("4", 1), ("4", 2))
    for bars, count in (*short, *((("4", 3), ("4", 4)) if child else (("8", 1), ("8", 2)))):
        keys = where.keys.all_majors[:count]
        asked = FlowRequest(**common, keys=keys, shape=_narrow_shape(where), compass=compass, length=bars, peak=peak)
        reaching = asked if child else _reaching(asked, where)
        yield _setting_out(reaching, where) if where.grade.octaves == "wide" else reaching


def _reaching(asked: FlowRequest, where: Occasion) -> FlowRequest:
    """Return lines of which one goes as high as the first slurs after them, in others of the day's keys or a higher octave.

    Where none does they go as high as they can. Weak keys stay in front.
    """
    weak = [key for key in asked.keys if key not in where.keys.majors]
    some = [keys for keys in permutations(where.keys.all_majors, len(asked.keys)) if [*keys[: len(weak)]] == weak]
    floor = where.horn.at_home(_FLOOR)
    lows = (asked.low, *((floor.name,) if floor.midi >= where.low.midi else ()))
    ways = [replace(asked, keys=keys, low=low) for low, keys in product(lows, some)]
    wanted = min(where.horn.at_home(_SLURRED).midi, where.high.midi)
    high = next((way for way in ways if _reach(way, where) >= wanted), None)
    return high or max(ways, key=lambda way: _reach(way, where))


def _reach(asked: FlowRequest, where: Occasion) -> int:
    """Return how high lines go, up to where first slurs may go; 0 where they are narrower, or lie too high."""
    made = study_had(flow, asked)
    if made is None or any(isinstance(told, Narrowed) for told in made.remarks):
        return 0
    begun, top = made.notes[0].pitch.midi, max(note.pitch.midi for note in made.notes)
    slurred = where.horn.at_home(_SLURRED).midi
    return min(top, slurred) if begun <= where.horn.at_home(_BEGUN).midi and top <= slurred + _HIGHER else 0


def _setting_out(asked: FlowRequest, where: Occasion) -> FlowRequest:
    """Return the lines of the first draw whose first bars go farther than a fourth, as high as those asked for; else these."""
    high = _reach(asked, where)
    draws = (replace(asked, seed=asked.seed + later) for later in range(_SET_OUT))
    return next((one for one in draws if _sets_out(one) and _reach(one, where) >= high), asked)


def _sets_out(asked: FlowRequest) -> bool:
    made = study_had(flow, asked)
    return made is not None and all(_opening(strain) > _FOURTH for strain in made.strains)


def _opening(strain: Strain) -> int:
    """Return how many half-steps the first two bars of a line span."""
    lowest, highest = extremes(note.pitch for bar in strain.bars[:_TWO] for note in bar if isinstance(note, Note))
    return highest.midi - lowest.midi


def _wide_shapes(where: Occasion) -> tuple[str, ...]:
    """Return the shapes of a day's wide lines, the one in turn first, none of them that of the narrow ones."""
    shapes = tuple(name for name in FLOW_METERS if not (where.far_above and name == _LEANING))
    begun = where.turn(range(len(shapes)), "shape") + 2
    others = (_narrow_shape(where), _sinking_shape(where))
    return tuple(name for name in _next(shapes, begun % len(shapes)) if name not in others)


@lru_cache(maxsize=8)
def _wide_ways(where: Occasion) -> tuple[FlowRequest, ...]:
    """Return wide lines up to the top of the day, one a key that has a good part of them above the staff, the highest last.

    They are of one shape, the first in turn that has such keys, of the day if it can be, and two for who is grown.
    Lines of a player who is not grown yet are of the shape whose turn it is, lower where there is no room.
    """
    grown = where.grade.octaves == "wide"
    floor = simple(max(where.low.midi, where.high.midi - (_HIGH_ROOM if grown else _WIDE_ROOM)), sharp=False)
    lows, shapes = (floor.name, where.low.name), _wide_shapes(where)
    fewest = (_TWO,) if where.far_above else (_TWO, 1) if grown else (1,)
    rows = _rows(floor.name, shapes, where) if grown else tuple(product((where.keys.all,), lows, (0,), shapes[:1]))
    for enough, (keys, low, later, shape) in product(fewest, rows):
        seed = where.common["seed"] + later
        common: dict[str, Any] = where.common | {"low": low, "shape": shape, "compass": "octave", "seed": seed}
        asked = [FlowRequest(**common, keys=(key,)) for key in keys]
        shares = {request: _high_share(request, where) for request in asked}
        found = [request for request in shares if shares[request] >= (HIGH_SHARE if grown else 0)]
        lines = tuple(sorted(found, key=lambda request: shares[request]))
        if len(lines) >= enough and (enough < _TWO or _high_share(_together(lines, enough, "8", where), where) >= HIGH_SHARE):
            return lines
    return ()


def _rows(low: str, shapes: tuple[str, ...], where: Occasion) -> tuple[tuple[tuple[str, ...], str, int, str], ...]:
    """Return the keys, the lowest note, the draw and the shape of a grown player's wide lines, those that are best first."""
    own, half = where.keys.all, where.turn(_HALVES, "high")
    others = tuple(key.name for key in all_keys("major") if abs(key.fifths) < MANY_SIGNS and key.name not in own)
    near, far = (tuple(name for name in names if _half(name) == half) for names in (own, (*own, *others)))
    return tuple(product((near, far, (*own, *others)), (low,), range(_DRAWN), shapes))


def _half(name: str) -> int:
    """Return which half of the keys one is in: of a day's majors, a minor third apart, every second."""
    return parse_key(name).fifths % _TWO


def _high_share(request: FlowRequest, where: Occasion) -> float:
    """Return how much of each line lies above the staff, as a share; less than nothing where one is narrow or not to be had."""
    made = study_had(flow, request)
    if made is None:
        return -1
    return min(_share_above(strain.notes, where) for strain in made.strains)


def _share_above(line: tuple[Note[Pitch], ...], where: Occasion) -> float:
    lowest, highest = extremes(note.pitch for note in line)
    over = where.horn.clef.over.midi
    # It is entered from below, never by a cold attack.
    cold = line[0].pitch.midi >= over and where.grade.octaves == "wide"
    if cold or highest.midi - lowest.midi < _NARROW:
        return -1
    return float(length(tuple(note for note in line if note.pitch.midi >= over)) / length(line))


def _wide_part(where: Occasion) -> Iterator[Request]:
    """Yield wide flow lines up to the top of the day, in the keys that have most above the staff."""
    ways = _wide_ways(where)
    doses = (("8", 2), ("8", 3)) if where.far_above else (("4", 1), ("8", 1), ("8", 2))
    for bars, count in doses if ways else ():
        yield _together(ways, count, bars, where)


def _together(ways: tuple[FlowRequest, ...], count: int, bars: str, where: Occasion) -> FlowRequest:
    """Return one request for lines of so many keys, the highest that all stay above the staff where they share one tune."""
    some = list(islice(combinations(reversed(ways), count), _TRIED)) or [tuple(reversed(ways))]
    every = [replace(ways[-1], keys=tuple(way.keys[0] for way in reversed(each)), length=bars) for each in some]
    return next((one for one in every if _high_share(one, where) >= HIGH_SHARE), every[0])


def _warm_down_part(where: Occasion) -> Iterator[Request]:
    """Yield a slow, soft line low on the horn and the same lower, of a shape that the day has not had.

    Where the keys of the day or the range have no room for that, one or two narrow lines, longest after hard work.
    """
    sinking = () if where.grade.child else _sinking(where)
    if sinking:
        # The majors of a day come back twice in a week: then other keys are in turn.
        yield sinking[min(where.turn(range(_MAJORS_BACK), "warm-down keys", _MAJORS_BACK), len(sinking) - 1)]
        return
    bottom = where.horn.at_home(_WARM_DOWN)
    low = {"high": bottom.name} if where.low.midi + _OCTAVE <= bottom.midi else {}
    soft = {} if where.grade.beginner else {"peak": "mp"}
    slow: dict[str, Any] = {"tempo": where.grade.warm_down or None} | where.calm | low | soft
    turned = (where.turn(_next(FIRST_FLOW_SHAPES, later), "warm-down") for later in range(3))
    shape = next(shape for shape in turned if shape not in _had(where))
    hard = where.grade.octaves == "wide" and where.kind in WORKING_DAYS
    for compass, bars in (("third", "8"), ("fifth", "8")) if hard else (("third", "4"), ("fifth", "4"), ("fifth", "8")):
        for count in (1, 2):
            yield FlowRequest(**slow, keys=where.keys.majors[-count:], shape=shape, compass=compass, length=bars)
    # Where that has no room so low.
    for bars in ("8", "4"):
        yield FlowRequest(**(slow | where.calm), keys=where.keys.majors[-1:], shape=shape, compass="third", length=bars)


def _sinking(where: Occasion) -> tuple[FlowRequest, ...]:
    """Return three short lines that end near their lowest note, each in two keys of a day, the second a little lower.

    They are in easy keys, of majors alone in front, if any are, and of the shape in turn, or the next that the day has not had.
    """
    top = where.horn.at_home(_SINKING)
    common: dict[str, Any] = where.calm | {"tempo": where.grade.warm_down or None, "peak": "mp", "length": "4"}
    common |= {"high": top.name} if where.low.midi + _OCTAVE <= top.midi else {}
    names = (*sorted(where.keys.majors), *sorted(where.keys.minors))
    pairs = sorted(permutations(names, _TWO), key=lambda pair: any(name.endswith("m") for name in pair))
    easy = [pair for pair in pairs if max(map(_signs, pair)) <= where.few_signs]
    shapes = tuple(_SINKING_WIDTHS)
    turned = _next(shapes, shapes.index(_sinking_shape(where)))
    for some, shape in product((easy, pairs), (name for name in turned if name not in _had(where))):
        lines = (_first_sinking(common | {"keys": pair, "shape": shape}, where) for pair in some if _fall(pair) in _LOWER)
        if found := tuple(islice((line for line in lines if line), _MAJORS_BACK)):
            return found
    return ()


def _first_sinking(common: dict[str, Any], where: Occasion) -> FlowRequest | None:
    """Return lines in the first of the widths of their shape, from the one in turn on, in which they sink; None in none."""
    widths = _SINKING_WIDTHS[common["shape"]]
    asked = (
        FlowRequest(**common, compass=compass) for compass in _next(widths, where.turn(range(len(widths)), "warm-down width"))
    )
    return next(filter(_sinks, asked), None)


def _fall(pair: tuple[str, ...]) -> int:
    """Return how many half-steps the tonic of a second key lies under that of the first."""
    first, second = (parse_key(name).degree(0).midi for name in pair)
    return (first - second) % _OCTAVE


def _signs(name: str) -> int:
    return abs(parse_key(name).fifths)


def _had(where: Occasion) -> tuple[str, ...]:
    """Return the shapes of the other lines of a day."""
    return (_narrow_shape(where), *(request.shape for request in _wide_ways(where)[:1]))


def _sinks(asked: FlowRequest) -> bool:
    """Tell whether the second line goes a little lower than the first, both as wide as was asked for."""
    made = study_had(flow, asked)
    if made is None:
        return False
    first, second = (strain.notes[-1].pitch.midi for strain in made.strains)
    return first - second in _LOWER and not any(isinstance(told, Narrowed) for told in made.remarks)


def _next(shapes: tuple[str, ...], later: int) -> tuple[str, ...]:
    return shapes[later:] + shapes[:later]


KIND = Kind(
    name="flow",
    place=40,
    request=FlowRequest,
    make=flow,
    summary="Long legato lines out to a turning point and home, key after key.",
    example=FlowRequest(keys=("Eb", "D", "Db", "C"), shape="wave", compass="octave"),
    aim=FLOW_AIMS["arch"],
    child_aim=("Listen: is each slur one long ribbon? If you hear {bump}, play it once more without it.{doo}", ""),
    lacking="no line of three notes in one key",
    areas=("flow",),
    warms=True,
    parts=(
        DayPart("flow", 40, _narrow_part, weight=5, rank=1, most_lines=5, areas=("flow",), easy=True),
        DayPart(
            name="wide-flow",
            place=120,
            requests=_wide_part,
            weight=8,
            rank=11,
            most_lines=6,
            areas=("flow", "high"),
            days=WORKING_DAYS,
            group="high",
            bars_off=4,
            title="High flow",
            aims=_HIGH_AIMS,
        ),
        DayPart(
            name="warm-down",
            place=170,
            requests=_warm_down_part,
            weight=2.5,
            rank=0,
            most_lines=2,
            areas=("flow",),
            repeatable=False,
            brief=True,
            title="Warm-down",
            closes=True,
            aims=_WARM_DOWN_AIMS,
        ),
    ),
    packet=True,
)
