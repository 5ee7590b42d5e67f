"""Lip slurs: a path of partials on one tube after another, quickening; only air and tongue level move."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice, pairwise
from typing import Any

from generators.brass.speed import LIP_SPEED
from generators.brass.tube import partial_midi
from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.algebra import length, then
from generators.phrase.bars import COMMON, WALTZ, Meter, bars
from generators.phrase.label import Label
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.remark import Fitting, Narrowed, Remark
from generators.phrase.study import Strain, Study
from generators.studies.kit.fit import NoFit, needed, with_air
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.studies.slurs.music import slur_music
from generators.studies.slurs.paths import SLUR_PATHS, SLUR_WIDTHS, Stage
from generators.studies.slurs.routes import SlurRoute, SlurValues, slur_routes
from generators.studies.slurs.top import Played, reaches, top_of, ways_up, widest_leap
from generators.studies.slurs.words import SLUR_VALUES, TRIPLET_VALUE, again_remarks, height_remarks, low_first, slur_labels
from generators.theory.key import Key
from generators.theory.pitch import Pitch, simple

_OWN_TEMPO = 76
_HALF = 2
# Half-steps: who has no more than these begins on his highest note too.
_FIFTH = 7
# What a beginner calls a path.
_CHILD_PATHS = {"neighbours": "to the next note"}
# How much slower than its goal a sheet of all tubes begins, not below a slow beat, in steps of a metronome: our choice.
_BEGINNING, _SLOW_BEAT, _STEP = 0.8, 60, 4
_VALUES = tuple(SLUR_VALUES)
# On so many tubes at the least a path is worth having, our choice.
_FEW_TUBES, _TWO_TUBES = 3, 2
# How many of the shortest end a study of two stages, as quick as it gets: our choice.
_AGAIN = 2
# The paths of a day, which come round in turn, and its note values where the grade has none of its own: our choice.
_DAY_PATHS = ("neighbours", "rocking", "quicken-and-widen", "there-and-back", "anchor", "falling", "over-and-back")
_DAY_VALUES, _QUICK_VALUES = (4, 8), (4, 8, 16)
# A path of a grown player's day that climbs by threes.
_OWN_PATH = "3-4-5-4-5-6-5-4"
# The most tubes of a day, and the seconds for which they sound at the least where a player is grown: our choice.
_MOST_TUBES, _LEAST_SOUND = 6, 40
# Paths that leap an octave never go in sixteenths on a day: our choice.
_WIDE_LEAPS = ("anchor",)
# The partial over which a day's high slurs go, the one that a fourth needs, and their ways, of which each comes once in seven
# days: begun from below, every second note above: our choice.
_UNDER_EIGHTH, _EIGHTH, _FOURTH = 5, 8, "fourth"
_HIGH_PATHS = (
    *("6-8-5-8", _FOURTH, "6-8-4-8", "6-8-6-8-5-8"),
    *("6-8-4-8-5-8", "6-8-6-8-5-8-5-8", "6-8-5-8-4-8"),
)
_HIGH_AIMS = (
    "Listen for each slur to click into place, with no smear on its way up or down.",
    "Listen for the upper note to come by quicker air alone; the corners of the mouth stay.",
    "Listen for the upper note to be the same whenever it comes back: one pitch, one colour.",
    "Listen for the lower notes to stay open while the upper one comes and goes.",
)
# What asks for the path itself on the first tube, in small; the quickest value there, and its widest leap: our choice.
_SAME, _UNHURRIED, _PLAIN_LEAP = "same", 8, 7
# Those that leap, fall or climb over four partials, which go up the tubes from the longest on: it lowers the open one by so
# many half-steps at the least, so that their first line lies in the middle of the staff. So many lie between two tubes of a
# day at the most. All our choice.
_UP_THE_TUBES, _LONG_TUBE, _FAR_APART = ("there-and-back", "anchor", "falling", "over-and-back", _OWN_PATH), 3, 4
# A grown player's paths leave the two neighbours out, and have one that climbs by threes.
_WIDE_PATHS = ("rocking", _OWN_PATH, "there-and-back", "anchor", "falling", "quicken-and-widen", "over-and-back")


@dataclass(frozen=True, slots=True, kw_only=True)
class SlursRequest(Request):
    """A lip-slur ladder: its path or width, the tubes, the note values and whether it quickens."""

    path: str = option(
        "",
        f"The path: {', '.join(SLUR_PATHS)}, or partials of your own such as 3-4-5-4; without it quicken-and-widen, "
        "for grade 1 neighbours.",
    )
    first: str = option(
        "",
        "A plainer path for the first tube alone, no quicker than eighths, where others follow; same for its own in small.",
        allowed=(*SLUR_PATHS, _SAME),
    )
    width: str = option("", "Two-note slurs of this width, instead of a path.", allowed=tuple(SLUR_WIDTHS))
    tubes: tuple[str, ...] = option(
        (),
        "Valve sets, or positions of the slide, in order, such as 0,2,1; without them all, for beginners those of their keys.",
    )
    values: tuple[int, ...] = option(
        (),
        "Note values from slow to quick, such as 2,4,8, and 12 for triplets; without it the path's own.",
        allowed=tuple(map(str, _VALUES)),
    )
    ladder: bool = option(True, "Quicken from value to value; without it the last value alone.")
    rare_partials: bool = option(False, "Allow partials 7, 11, 13 and 14, which are out of tune.")


def slurs(request: SlursRequest) -> Study:
    """Return the lip-slur study of a request; the top of the range is met by lower partials, never by leaving notes out."""
    setting = resolve(request, ("C",), _OWN_TEMPO, partials=request.rare_partials)
    values = _values(request, setting)
    tubes, path = _tubes(request, setting), request.path or setting.grade.slur_path
    routes = slur_routes(path, request.width, values, request.rare_partials, setting.horn)
    once_more = not request.tubes and tubes == setting.horn.tubes
    reach = [(route, *_reached(route, tubes, once_more, setting)) for route in routes]
    # A child's notes may lie on one tube alone.
    few = [min(_FEW_TUBES, len(tubes))] + ([1] if setting.grade.child else [])
    for enough in (len(tubes), *few):
        for route, played, last in reach:
            if len(played) >= enough and (last or not route.once_more):
                led = _led(request, played, setting)
                own = _eased(led, setting) if setting.grade.beginner and not request.tubes else led
                slow = setting.grade.slow and not request.values
                quick, up = _to_the_top(request, route, own, last, setting)
                shown, every = replace(route, upwards=len(up)), _in_halves(own) if slow else [*own, *quick, *up]
                return _study(request, setting, shown, tubes, _both_ways(every, setting))
    limits = setting.limits
    where = f"between {limits.low} and {limits.high}, in leaps of {limits.leap} half-steps"
    raise NoFit(Refusal("slurs", None, f"find their path on too few of the tubes {where}"))


def _values(request: SlursRequest, setting: Setting) -> SlurValues:
    """Return the asked values, or those of the grade, and what it allows; a value too quick for it is refused."""
    grade, shortest = setting.grade, setting.limits.shortest
    own = tuple(n for n in _VALUES if Fraction(1, n) >= shortest and (grade.triplets or n != TRIPLET_VALUE))
    for value in request.values:
        if value not in own:
            why = f"is too quick for grade {request.grade}"
            raise BadRequest(Refusal("value", value, why, allowed=tuple(map(str, own))))
    asked = tuple(sorted(set(request.values)))
    return SlurValues(asked, grade.slur_values or own, request.ladder, _last(request, asked, own, setting))


def _last(request: SlursRequest, asked: tuple[int, ...], own: tuple[int, ...], setting: Setting) -> int:
    """Return the value twice as quick as those asked for, if a player on all tubes can have it at the tempo; else 0."""
    quicker = 2 * max(asked, default=0)
    slow = not setting.tempo_asked or setting.tempo * quicker <= LIP_SPEED * 240
    return quicker if quicker in own and request.ladder and not request.tubes and slow else 0


def _tubes(request: SlursRequest, setting: Setting) -> tuple[str, ...]:
    asked = tuple(setting.horn.resonator.checked(tube) for tube in request.tubes)
    return asked or tuple(setting.horn.tubes[lowers] for lowers in setting.grade.tubes)


def _reached(route: SlurRoute, tubes: tuple[str, ...], once_more: bool, setting: Setting) -> tuple[Played, Played]:
    """Return the tubes on which the player reaches all that they have to play, each with its stage, and those played again.

    Where the path has stages the last of them is left to the shortest tubes, which speak most easily, once more at the end.
    """
    *before, quickest = route.stages
    again = tubes[: _AGAIN if len(before) == 1 else 1] if once_more and before else ()
    last = [(tube, _unplayed(quickest, before)) for tube in again if reaches(quickest, tube, setting)]
    easier = replace(route, stages=tuple(before)) if last else route
    stages = [(tube, easier.stage(i, len(tubes))) for i, tube in enumerate(tubes)]
    return [(tube, stage) for tube, stage in stages if reaches(stage, tube, setting)], last


def _to_the_top(
    request: SlursRequest, route: SlurRoute, played: Played, last: Played, setting: Setting
) -> tuple[Played, Played]:
    """Return what comes at the end, and what goes there to the top of the range, a grade's or one that is named.

    Nothing goes there where what comes at the end does. Who names tubes, a width or partials has those alone.
    """
    named = request.high or not setting.grade.comfort
    if request.tubes or request.width or route.name not in SLUR_PATHS or setting.grade.beginner or not named:
        return last, []
    slow = max(value for _, value in route.stages[0])
    again = last[0][1] if last else route.stages[-1][-1:]
    quick = tuple(level for level in again if level[1] > slow)
    over = top_of([*played, *last], setting)
    up = ways_up(route.stages[0], played, max(1, len(last)), over, setting)
    return [(tube, quick) for tube, _ in last if quick] if up else last, up


def _led(request: SlursRequest, played: Played, setting: Setting) -> Played:
    """Return what is played, the plainer path that was asked for on its first tube, if there is room for it."""
    (tube, stage), *others = played
    if not (request.first and others):
        return played
    values = tuple(value for _, value in stage if value <= _UNHURRIED) or tuple(value for _, value in stage[:1])
    stages = [route.stages[0] for route in _plain_routes(request, values, setting) if reaches(route.stages[0], tube, setting)]
    plain = [found for found in stages if widest_leap(found, tube, setting) <= _PLAIN_LEAP] or stages
    return [(tube, next(iter(plain), stage)), *others]


def _plain_routes(request: SlursRequest, values: tuple[int, ...], setting: Setting) -> Iterator[SlurRoute]:
    """Yield what the first tube may have: the plainer path, or the path itself in small, in such values."""
    own = request.first == _SAME
    path, width = (request.path or setting.grade.slur_path, request.width) if own else (request.first, "")
    plain = SlurValues(values, values, ladder=True)
    return slur_routes(path, width, plain, request.rare_partials, setting.horn, small=own)


def _eased(played: Played, setting: Setting) -> Played:
    """Return what a beginner plays with the lowest notes first."""
    return sorted(played, key=lambda each: partial_midi(setting.horn, each[0], min(each[1][0][0])))


def _in_halves(played: Played) -> Played:
    """Return what those play who have nothing quicker than quarters: what would be in quarters is in halves once more."""
    return [(tube, tuple((loop, _HALF) for loop, _ in stage)) for tube, stage in played]


def _unplayed(stage: Stage, before: Sequence[Stage]) -> Stage:
    """Return the levels of a stage that were not played before it, two at the least."""
    new = tuple(level for level in stage if not any(level in earlier for earlier in before))
    return new if len(new) > 1 else stage[-2:]


def _both_ways(played: Played, setting: Setting) -> Played:
    """Return what is played; a beginner who has one tube alone plays it from above, where it is easier, then from below.

    Of more than a fifth he does not begin on his highest note.
    """
    if not setting.grade.beginner or len(played) > 1:
        return played
    ways = [(tube, each) for tube, stage in played for each in sorted((stage, _turned(stage)), key=low_first)]
    low, high = (pitch.midi for pitch in setting.range)
    return [way for way in ways if high - low <= _FIFTH or partial_midi(setting.horn, way[0], way[1][0][0][0]) < high] or played


def _turned(stage: Stage) -> Stage:
    """Return a stage from its other end."""
    return tuple((loop[::-1], value) for loop, value in stage)


def _study(request: SlursRequest, setting: Setting, route: SlurRoute, asked: tuple[str, ...], played: Played) -> Study:
    quickest = max(value for _, stage in played for _, value in stage)
    setting = setting.capped(LIP_SPEED * 240 / quickest, "lip slurs in these values")
    stages = (*route.stages, *(stage for _, stage in played))
    meter = COMMON if all(_even(len(loop), value) for stage in stages for loop, value in stage) else WALTZ
    # A breath lasts at the tempo that they begin with, too.
    alone = setting.tempo_asked or request.tubes or setting.grade.beginner
    beats = (
        setting.limits.breath
        * (setting.tempo if alone else min(setting.tempo, max(int(_BEGINNING * setting.tempo), _SLOW_BEAT)))
        / 60
    )
    lines = [slur_music(stage, tube, meter, setting.horn, beats, level=route.level) for tube, stage in played]
    music, pace = with_air(lines, setting)
    each = zip(played, music, slur_labels(played, route), strict=True)
    strains = tuple(_strain(tube, line, meter, part, setting) for (tube, _), line, part in each)
    remarks = tuple(_remarks(request, route, asked, played, setting))
    # A beginner has one tempo.
    begun = pace if alone else _begun(pace, music, setting)
    named = _CHILD_PATHS.get(route.name, route.name) if setting.grade.beginner else route.name
    path = named.replace("-", " ") if route.name in SLUR_PATHS or request.width else route.name
    return Study(
        "slurs",
        "Lip slurs",
        path,
        route.aim,
        setting.horn.id,
        begun,
        strains,
        setting.limits,
        goal=pace if begun < pace else 0,
        remarks=remarks,
    )


def _even(notes: int, value: int) -> bool:
    """Whether a loop of so many notes ends with a bar of four quarters, or some in a row do."""
    bars = Fraction(notes, value) / COMMON.bar
    return 1 in (bars.numerator, bars.denominator)


def _begun(pace: int, music: Sequence[Phrase[Pitch]], setting: Setting) -> int:
    """Return the tempo at which a study begins that grows to a pace: slower, where the breath lasts for that."""
    slow = max(int(_BEGINNING * pace), _SLOW_BEAT, needed(music, setting.limits))
    return min(pace, -(-slow // _STEP) * _STEP)


def _remarks(
    request: SlursRequest, route: SlurRoute, asked: tuple[str, ...], played: Played, setting: Setting
) -> Iterator[Remark]:
    """Yield what the page says of its slurs; a beginner reads what he plays."""
    wanted, tubes = request.path or setting.grade.slur_path, tuple(dict.fromkeys(tube for tube, _ in played))
    if not setting.grade.beginner:
        yield from again_remarks(played, tubes, route, setting)
    if not request.width and not _same(wanted, route.name):
        yield Narrowed(wanted, route.name, setting.range)
    if tubes != asked and not setting.grade.child:
        yield Fitting(setting.horn.said("{tubes}"), setting.range, tubes)
    if request.high and not setting.grade.beginner:
        yield from height_remarks(played, route, request.width, setting)


def _same(wanted: str, name: str) -> bool:
    """Whether a path is the one that was asked for; one of a player's own may begin elsewhere on its partials."""
    asked = set(wanted.replace(",", "-").split("-"))
    return name == wanted or (wanted not in SLUR_PATHS and asked == set(name.split("-")))


def _strain(tube: str, music: Phrase[Pitch], meter: Meter, part: str, setting: Setting) -> Strain:
    """Return a line and as long a rest; a bar, which a beginner reads, stands for as long as he likes."""
    horn, whole = setting.horn, length(music)
    rested = then(music, (Rest(meter.bar if setting.grade.beginner else whole),))
    label = Label(tube=horn.resonator.label(tube), part=part, detail=horn.resonator.opened(tube))
    return Strain(label, Key("C", 0), rested, meter, _lines(rested, meter), tube=tube)


def _lines(music: Phrase[Pitch], meter: Meter) -> tuple[int, ...]:
    """Return the bars from breath to breath, the rest with the last of them."""
    heard = [bar for bar in bars(music, meter) if isinstance(bar[-1], Note)]
    ends = [i + 1 for i, bar in enumerate(heard) if isinstance(bar[-1], Note) and bar[-1].breath]
    return tuple(b - a for a, b in pairwise((0, *ends[:-1], len(bars(music, meter)))))


def _slurs_part(where: Occasion) -> Iterator[Request]:
    """Yield a path down two to seven tubes, up them where it goes high; no two of them lie far apart.

    What is wide, quick or goes high begins with its own figure in small, on the first tube.
    """
    wide = where.grade.octaves == "wide"
    path = "" if where.grade.slow else where.turn(_WIDE_PATHS if wide else _DAY_PATHS, "path")
    quick = where.turn((_DAY_VALUES, _QUICK_VALUES), "quick") if wide and path not in _WIDE_LEAPS else _DAY_VALUES
    known = where.grade.slur_values or quick
    values = known if wide else tuple(n for n in known if n <= max(_DAY_VALUES))[-len(_DAY_VALUES) :]
    rising = path in _UP_THE_TUBES and not where.grade.beginner
    first = _SAME if path in _UP_THE_TUBES or max(values) > _UNHURRIED else ""
    for count in (2, 3, 4, _MOST_TUBES):
        asked = SlursRequest(
            **where.common, path=path, first=first, tubes=_day_tubes(where, count, rising=rising), values=values
        )
        if not wide or count == _MOST_TUBES or _lasts(asked):
            yield asked


def _day_tubes(where: Occasion, count: int, *, rising: bool) -> tuple[str, ...]:
    """Return the open tube and so many from where the last day ended, the shorter first: all come round in a week.

    Up the tubes there is always a long one. None is far from the next.
    """
    lowers = where.grade.tubes
    # Every week one farther, so that a path does not come on the same tubes for ever.
    begun = 2 * (where.day + where.day // len(_DAY_PATHS))
    places = {0, *((begun + place) % len(lowers) for place in range(min(count, len(lowers))))}
    if rising and max(lowers[place] for place in places) < _LONG_TUBE:
        places.add(next((place for place, low in enumerate(lowers) if low >= _LONG_TUBE), 0))
    far = {(a + b) // 2 for a, b in pairwise(sorted(places)) if b - a > _FAR_APART}
    return tuple(where.horn.tubes[lowers[place]] for place in sorted(places | far, reverse=rising))


def _lasts(request: SlursRequest) -> bool:
    """Tell whether slurs sound long enough to be the only ones of a morning; those that are not to be had pass."""
    try:
        return slurs(request).playing >= _LEAST_SOUND
    except BadRequest:
        return True


def _high_part(where: Occasion) -> Iterator[Request]:
    """Yield slurs over the eighth partial on tubes where it lies above the staff, the lowest first; all come in turn."""
    over, top = where.horn.clef.over.midi, where.high.midi
    tubes = [tube for tube in where.horn.tubes if over <= partial_midi(where.horn, tube, _EIGHTH) <= top]
    turned = where.turn(range(len(_HIGH_PATHS)), "high path")
    paths = (*_HIGH_PATHS[turned:], *_HIGH_PATHS[:turned])
    for count in (2, 3, 4) if where.far_above else (2, 3):
        rungs = _by_half_steps(tubes, count)
        if rungs:
            # Who has few tubes up there has all of them every third day, or the same two would come too soon.
            every = (*rungs, tuple(reversed(tubes))) if count == _TWO_TUBES < len(tubes) <= _FEW_TUBES else rungs
            asked = (_over_the_eighth(path, where.turn(every, "high tubes"), where) for path in paths)
            yield from islice(filter(_goes, asked), 1)


def _by_half_steps(tubes: Sequence[str], count: int) -> tuple[tuple[str, ...], ...]:
    """Return every run of so many tubes, each a half-step shorter than the one before it."""
    longest_first = tuple(reversed(tubes))
    return tuple(longest_first[place : place + count] for place in range(len(tubes) - count + 1))


def _over_the_eighth(path: str, tubes: tuple[str, ...], where: Occasion) -> SlursRequest:
    """Return a day's high slurs on a path of partials, or in fourths, with no room for lower ones."""
    fourths = path == _FOURTH
    lowest = _UNDER_EIGHTH if fourths else min(map(int, path.split("-")))
    low = simple(min(partial_midi(where.horn, tube, lowest) for tube in tubes), sharp=False)
    shape = {"width": path} if fourths else {"path": path}
    common: dict[str, Any] = where.common | {"low": low.name} | shape
    return SlursRequest(**common, tubes=tubes, values=_DAY_VALUES)


def _goes(request: SlursRequest) -> bool:
    """Tell whether a player has a path as it was asked for, on all of its tubes."""
    try:
        made = slurs(request)
    except BadRequest:
        return False
    return not any(isinstance(told, Narrowed) for told in made.remarks) and len(made.strains) == len(request.tubes)


KIND = Kind(
    name="slurs",
    place=45,
    request=SlursRequest,
    make=slurs,
    summary="Lip slurs: one path of partials down the seven tubes, quickening.",
    example=SlursRequest(path="there-and-back", values=(4, 8), high="G5"),
    aim=SLUR_PATHS["quicken-and-widen"].aim,
    child_aim=("Listen: only your air moves.", "Does it sound like a whistle going up and down?"),
    lacking="no two notes on one {hold}",
    areas=("slurs", "intervals"),
    warms=True,
    parts=(
        DayPart("slurs", 45, _slurs_part, weight=6.5, rank=5, most_lines=7, areas=("slurs", "intervals")),
        DayPart(
            name="high-slurs",
            place=122,
            requests=_high_part,
            weight=8,
            rank=11,
            most_lines=6,
            areas=("slurs", "high"),
            days=("normal",),
            group="high",
            title="High slurs",
            aims=_HIGH_AIMS,
        ),
    ),
    packet=True,
)
