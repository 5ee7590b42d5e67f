"""Lip slurs: a path of partials on one tube after another, quickening; only air and tongue level move."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from generators.brass.horn import Horn
from generators.brass.speed import LIP_SPEED
from generators.brass.tube import SETS, TUBES, partial_midi
from generators.errors import BadRequest, Refusal, unknown
from generators.fields import option
from generators.phrase.algebra import then
from generators.phrase.bars import COMMON, WALTZ, Meter, bars
from generators.phrase.label import Label
from generators.phrase.lines import line_up
from generators.phrase.note import Phrase, Rest
from generators.phrase.remark import Advice, Fitting, Narrowed, Remark
from generators.phrase.study import Limits, Strain, Study
from generators.studies.kit.fit import NoFit, with_air
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.studies.slurs.music import slur_music
from generators.studies.slurs.paths import SLUR_PATHS, SLUR_WIDTHS
from generators.studies.slurs.routes import SlurRoute, slur_routes
from generators.theory.key import Key
from generators.theory.pitch import Pitch

_OWN_TEMPO = 76
# What a first-year player slurs where nothing is asked: common practice, no source.
_FIRST_GRADE, _FIRST_TUBES, _FIRST_VALUES = "1", 3, (2, 4)
_REST_ADVICE = Advice("After every tube rest as long as you have played.")
# The paths of a day, which come round in turn, and a first-year player's tubes, known from C and F major: our choice.
_DAY_PATHS = ("neighbours", "rocking", "quicken-and-widen", "there-and-back", "anchor", "falling", "over-and-back")
_EASY_TUBES = ("0", "1", "1-2")


@dataclass(frozen=True, slots=True, kw_only=True)
class SlursRequest(Request):
    """A lip-slur ladder: its path or width, the tubes, the note values and whether it quickens."""

    path: str = option("quicken-and-widen", f"The path: {', '.join(SLUR_PATHS)}, or partials of your own such as 3-4-5-4.")
    width: str = option("", "Two-note slurs of this width, instead of a path.", allowed=tuple(SLUR_WIDTHS))
    tubes: tuple[str, ...] = option(
        (), "Valve sets in order, such as 0,2,1; without them all seven, for grade 1 the first three."
    )
    values: tuple[int, ...] = option(
        (), "Note values from slow to quick, such as 2,4,8; without it the path's own.", allowed=("2", "4", "8", "16")
    )
    ladder: bool = option(True, "Quicken from value to value; without it the last value alone.")
    rare_partials: bool = option(False, "Allow partials 7, 11, 13 and 14, which are out of tune.")


def slurs(request: SlursRequest) -> Study:
    """Return the lip-slur study of a request; the top of the range is met by lower partials, never by leaving notes out."""
    setting = resolve(request, ("C",), _OWN_TEMPO, partials=request.rare_partials)
    values = _values(request, setting.limits)
    setting = setting.capped(LIP_SPEED * 240 / max(values, default=8), "lip slurs in these values")
    tubes = _tubes(request, setting.horn)
    routes = slur_routes(request.path, request.width, values, request.rare_partials)
    reach = [(route, tuple(tube for tube in tubes if _reach(route, tube, setting))) for route in routes]
    for enough in (len(tubes), min(3, len(tubes))):
        for route, reachable in reach:
            if len(reachable) >= enough:
                return _study(request, setting, route, tubes, reachable)
    limits = setting.limits
    where = f"between {limits.low} and {limits.high}, in leaps of {limits.leap} half-steps"
    raise NoFit(Refusal("slurs", None, f"find their path on too few of the tubes {where}"))


def _values(request: SlursRequest, limits: Limits) -> tuple[int, ...]:
    """Return the asked values from slow to quick, a first-year player's slow ones, or none: then the path has its own.

    A value too quick for the grade is refused.
    """
    allowed = tuple(str(value) for value in (2, 4, 8, 16) if Fraction(1, value) >= limits.shortest)
    for value in request.values:
        if str(value) not in allowed:
            raise BadRequest(Refusal("value", value, f"is too quick for grade {request.grade}", allowed=allowed))
    return tuple(sorted(set(request.values))) or (_FIRST_VALUES if request.grade == _FIRST_GRADE else ())


def _tubes(request: SlursRequest, horn: Horn) -> tuple[str, ...]:
    for tube in request.tubes:
        if tube not in SETS[horn.valves]:
            raise unknown("valve set", tube, SETS[horn.valves])
    return request.tubes or (TUBES[:_FIRST_TUBES] if request.grade == _FIRST_GRADE else TUBES)


def _reach(route: SlurRoute, tube: str, setting: Setting) -> bool:
    limits = setting.limits
    turns = ((a, b) for loop in route.loops for a, b in pairwise((*loop, loop[0])))
    if any(abs(partial_midi(tube, a) - partial_midi(tube, b)) > limits.leap for a, b in turns):
        return False
    return all(limits.low.midi <= partial_midi(tube, n) <= limits.high.midi for n in route.partials)


def _study(request: SlursRequest, setting: Setting, route: SlurRoute, asked: tuple[str, ...], tubes: tuple[str, ...]) -> Study:
    values = route.values if request.ladder else route.values[-1:]
    meter = COMMON if all(len(loop) in (2, 4, 8) for loop in route.loops) else WALTZ
    music, pace = with_air([slur_music(route, tube, values, meter) for tube in tubes], setting)
    strains = tuple(_strain(tube, line, meter) for tube, line in zip(tubes, music, strict=True))
    remarks = tuple(_remarks(request, route, asked, tubes, setting))
    path = route.name.replace("-", " ") if route.name in SLUR_PATHS or request.width else route.name
    return Study("slurs", "Lip slurs", path, route.aim, setting.horn.id, pace, strains, setting.limits, remarks=remarks)


def _remarks(
    request: SlursRequest, route: SlurRoute, asked: tuple[str, ...], tubes: tuple[str, ...], setting: Setting
) -> Iterator[Remark]:
    if not request.width and route.name != request.path:
        yield Narrowed(request.path, route.name, setting.range)
    if tubes != asked:
        yield Fitting("tubes", setting.range, tubes)
    yield _REST_ADVICE


def _strain(tube: str, music: Phrase[Pitch], meter: Meter) -> Strain:
    rested = then(music, (Rest(meter.bar),))
    label = Label(tube=tube, detail="open" if tube == "0" else "")
    return Strain(label, Key("C", 0), rested, meter, line_up(bars(rested, meter)), tube=tube)


def _slurs_part(where: Occasion) -> Iterator[Request]:
    """Yield a path down two to seven tubes."""
    path = where.turn(_DAY_PATHS, "path")
    first = where.grade is not None and where.grade.id == _FIRST_GRADE
    tubes, values = (_EASY_TUBES, _FIRST_VALUES) if first else (TUBES, (4, 8))
    for count in (2, 3, 4, 5, 7):
        yield SlursRequest(**where.common, path=path, tubes=tubes[:count], values=values)


KIND = Kind(
    name="slurs",
    place=45,
    request=SlursRequest,
    make=slurs,
    summary="Lip slurs: one path of partials down the seven tubes, quickening.",
    example="--path there-and-back --values 4,8 --high G5",
    aim=SLUR_PATHS["quicken-and-widen"].aim,
    child_aim=("Listen: only your air moves.", "Does it sound like a whistle going up and down?"),
    areas=("slurs", "intervals"),
    parts=(DayPart("slurs", 110, _slurs_part, weight=5, rank=5, most_lines=7, areas=("slurs", "intervals")),),
    packet=True,
)
