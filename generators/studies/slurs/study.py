"""Lip slurs: a path of partials on one tube after another, quickening; only air and tongue level move."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from itertools import accumulate, pairwise
from math import lcm

from generators.brass.horn import Horn
from generators.brass.speed import LIP_SPEED
from generators.brass.tube import RARE_PARTIALS, partial_midi, partial_pitch
from generators.errors import BadRequest, unknown
from generators.fields import option
from generators.phrase.algebra import line, mapped, on, slurred, then
from generators.phrase.bars import COMMON, WALTZ, Meter, bars
from generators.phrase.lines import line_up
from generators.phrase.note import Phrase, Rest
from generators.phrase.study import Strain, Study
from generators.studies.kit.fit import NoFit, span_words, with_air
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.studies.slurs.paths import PATHS, WIDTHS, Path
from generators.theory.key import Key
from generators.theory.pitch import Pitch

OWN_TEMPO = 76
REST_REMARK = "After every {tube} rest as long as you have played."
# Where a slur may come to rest, best first: neither the flat fifth partial nor, if it can be helped, the lowest.
RESTING = (4, 8, 6, 3, 2, 10, 12, 9, 5, 7, 14, 13, 11)
# Nothing ends on these: the fifth stands out flat in a held note, the others are of no scale.
RESTLESS = (5, *RARE_PARTIALS)
TOP_PARTIAL = 14


@dataclass(frozen=True, slots=True, kw_only=True)
class SlursRequest(Request):
    """A lip-slur ladder: its path or width, the tubes, the note values and whether it quickens."""

    path: str = option("quicken-and-widen", f"The path: {', '.join(PATHS)}, or partials of your own such as 3-4-5-4.")
    width: str = option("", "Two-note slurs of this width, instead of a path.", allowed=tuple(WIDTHS))
    tubes: tuple[str, ...] = option(
        (),
        "Valve sets, or positions of the slide, in order, such as 0,2,1; without them all seven, for grade 1 the first three.",
    )
    values: tuple[int, ...] = option(
        (), "Note values from slow to quick, such as 2,4,8; without it the path's own.", allowed=("2", "4", "8", "16")
    )
    ladder: bool = option(True, "Quicken from value to value; without it the last value alone.")
    rare_partials: bool = option(False, "Allow partials 7, 11, 13 and 14, which are out of tune.")


@dataclass(frozen=True, slots=True)
class _Climb:
    """Loops of partials to be played on every tube."""

    name: str
    loops: tuple[tuple[int, ...], ...]
    values: tuple[int, ...]
    aim: str
    swell: bool = True

    @property
    def partials(self) -> tuple[int, ...]:
        return tuple(sorted({partial for loop in self.loops for partial in loop}))


def slurs(request: SlursRequest) -> Study:
    """Return the lip-slur study of a request; the top of the range is met by lower partials, never by leaving notes out."""
    setting = resolve(request, ("C",), OWN_TEMPO, partials=request.rare_partials)
    setting = setting.capped(LIP_SPEED * 240 / (max(_values(request, setting), default=8)), "lip slurs in these values")
    tubes = _tubes(request, setting)
    reach = [(climb, tuple(tube for tube in tubes if _reach(climb, tube, setting))) for climb in _climbs(request, setting)]
    for enough in (len(tubes), min(3, len(tubes))):
        for climb, reachable in reach:
            if len(reachable) >= enough:
                return _study(request, setting, climb, tubes, reachable)
    raise NoFit(
        f"slurs: the path does not lie on enough of the tubes between {setting.limits.low} and {setting.limits.high}, "
        f"in leaps of {setting.limits.leap} half-steps"
    )


def _values(request: SlursRequest, setting: Setting) -> tuple[int, ...]:
    """Return the asked values from slow to quick; one too quick for the grade is refused; a first-year player's are slow."""
    values = tuple(sorted({int(value) for value in request.values}))
    if not values:
        return setting.grade.slur_values
    allowed = [value for value in (2, 4, 8, 16) if Fraction(1, value) >= setting.limits.shortest]
    for value in values:
        if value not in allowed:
            raise BadRequest(f"value {value} is too quick for grade {request.grade}; allowed: {', '.join(map(str, allowed))}.")
    return values


def _tubes(request: SlursRequest, setting: Setting) -> tuple[str, ...]:
    asked = tuple(setting.horn.resonator.checked(tube) for tube in request.tubes)
    return asked or setting.horn.tubes[: setting.grade.tubes]


def _climbs(request: SlursRequest, setting: Setting) -> Iterator[_Climb]:
    """Yield what may be played, the asked path on its best partials first, then narrower paths."""
    values = _values(request, setting)
    ladder = [n for n in range(2, TOP_PARTIAL + 1) if request.rare_partials or n not in RARE_PARTIALS]
    if request.width:
        yield from _pairs(request.width, ladder, values, setting.horn)
    elif request.path in PATHS:
        yield from _named(PATHS[request.path], ladder, values)
    else:
        yield from _own(request.path, ladder, values)


def _named(path: Path, ladder: list[int], values: tuple[int, ...]) -> Iterator[_Climb]:
    for base in sorted(range(len(ladder) - path.rungs + 1), key=lambda b: _distance(ladder[b : b + path.rungs])):
        loops = tuple(tuple(ladder[base + rung - 1] for rung in loop) for loop in path.loops)
        loops = tuple(map(_rested, loops)) if len(loops) == 1 else loops
        if loops[-1][0] not in RESTLESS:
            yield _Climb(path.name, loops, values or path.values, path.aim, path.swell)
    if path.narrower:
        yield from _named(PATHS[path.narrower], ladder, values)


def _distance(partials: list[int]) -> float:
    """Order bases by how near the middle of the path is to the fourth partial, the middle of the staff."""
    return abs(sum(partials) / len(partials) - (3.7 if len(partials) == 2 else 4.1))


def _rested(loop: tuple[int, ...]) -> tuple[int, ...]:
    """Turn a two-note loop so that it begins and ends on the better resting note."""
    return tuple(sorted(loop, key=RESTING.index)) if len(loop) == 2 else loop


def _turned(loop: tuple[int, ...]) -> tuple[int, ...]:
    """Return a loop of the player's own, begun elsewhere where it would begin and end on a restless partial."""
    best = min(range(len(loop)), key=lambda i: RESTING.index(loop[i])) if loop[0] in RESTLESS else 0
    return loop[best:] + loop[:best]


def _pairs(width: str, ladder: list[int], values: tuple[int, ...], horn: Horn) -> Iterator[_Climb]:
    height = {n: partial_midi(horn, horn.tubes[0], n) for n in ladder}
    size = {(a, b): height[b] - height[a] for a in ladder for b in ladder if a < b}
    pairs = sorted((pair for pair, wide in size.items() if wide in WIDTHS[width]), key=lambda pair: _distance(list(pair)))
    aim = f"Listen for the {width} to be one gesture of air; the second note is there before you reach for it."
    for pair in pairs:
        yield _Climb(f"{width}s", (pair,) if pair[0] not in RESTLESS else (_rested(pair),), values or (2, 4, 8), aim)


def _own(text: str, ladder: list[int], values: tuple[int, ...]) -> Iterator[_Climb]:
    """Yield a path of the player's own partials, then the same path on lower rungs."""
    parts = text.replace(",", "-").split("-")
    if not all(part.isascii() and part.isdigit() for part in parts) or len(set(parts)) < 2:
        raise unknown("path", text, (*PATHS, "partials such as 3-4-5-4"))
    partials = [int(part) for part in parts]
    for number, following in pairwise(partials):
        if number == following:
            raise BadRequest(f'path "{text}" stays on {number}; write each partial different from the one before it.')
    for number in partials:
        if number not in ladder:
            raise BadRequest(
                f"partial {number} is not on the ladder; allowed: {', '.join(map(str, ladder))} "
                "(7, 11, 13, 14 with --rare-partials)."
            )
    rungs = [ladder.index(partial) for partial in partials]
    loop = rungs[:-1] if rungs[0] == rungs[-1] and len(rungs) > 2 else rungs
    for lower in range(min(loop) + 1):
        path = _turned(tuple(ladder[rung - lower] for rung in loop))
        yield _Climb(
            "-".join(map(str, path)),
            (path,),
            values or (4, 8),
            "Listen for every partial to be there before the next is wanted.",
        )


def _reach(climb: _Climb, tube: str, setting: Setting) -> bool:
    limits, height = setting.limits, partial(partial_midi, setting.horn, tube)
    turns = ((a, b) for loop in climb.loops for a, b in pairwise((*loop, loop[0])))
    if any(abs(height(a) - height(b)) > limits.leap for a, b in turns):
        return False
    return all(limits.low.midi <= height(n) <= limits.high.midi for n in climb.partials)


def _study(request: SlursRequest, setting: Setting, climb: _Climb, asked: tuple[str, ...], tubes: tuple[str, ...]) -> Study:
    values = climb.values if request.ladder else climb.values[-1:]
    meter = COMMON if all(len(loop) in (2, 4, 8) for loop in climb.loops) else WALTZ
    music, pace = with_air([_on_tube(climb, tube, values, meter, setting.horn) for tube in tubes], setting)
    strains = tuple(_strain(tube, line, meter, setting.horn) for tube, line in zip(tubes, music, strict=True))
    remarks = tuple(_remarks(request, climb, asked, tubes, setting))
    title = f"Lip slurs: {climb.name.replace('-', ' ') if climb.name in PATHS or request.width else climb.name}"
    return Study("slurs", title, climb.aim, setting.horn.id, pace, strains, setting.limits, remarks=remarks)


def _remarks(
    request: SlursRequest, climb: _Climb, asked: tuple[str, ...], tubes: tuple[str, ...], setting: Setting
) -> Iterator[str]:
    if not request.width and climb.name != request.path:
        yield f"Narrowed from {request.path} to {climb.name} to stay within {span_words(setting.limits)}."
    if tubes != asked:
        yield setting.horn.said(f"Only the {{tubes}} that stay within {span_words(setting.limits)}: {', '.join(tubes)}.")
    yield setting.horn.said(REST_REMARK)


def _on_tube(climb: _Climb, tube: str, values: tuple[int, ...], meter: Meter, horn: Horn) -> Phrase[Pitch]:
    parts = _parts(climb, values, meter)
    phrase = then(*parts, line([climb.loops[-1][0]], [meter.bar]))
    return mapped(_marked(phrase, [len(part) for part in parts], climb.swell), partial(partial_pitch, horn, tube))


def _strain(tube: str, music: Phrase[Pitch], meter: Meter, horn: Horn) -> Strain:
    rested = then(music, (Rest(meter.bar),))
    return Strain(horn.resonator.label(tube), Key("C", 0), rested, meter, line_up(bars(rested, meter)), tube=tube)


def _parts(climb: _Climb, values: tuple[int, ...], meter: Meter) -> list[Phrase[int]]:
    """Return the loops of a strain, one phrase of partials for each value."""
    loops = [climb.loops[min(i, len(climb.loops) - 1)] for i in range(len(values))]
    parts = [_level(loop, value, meter) for loop, value in zip(loops, values, strict=True)]
    if len(parts) > 1 and len(loops[0]) > 2:
        # A loop that leads away comes home to a long note before the breath.
        parts[0] = then(parts[0], line([loops[0][0]], [meter.bar]))
    return parts


def _level(loop: tuple[int, ...], value: int, meter: Meter) -> Phrase[int]:
    """Return the loop in one note value, as often as it takes to end with a bar."""
    length = Fraction(3, 4) if value == 2 and meter == WALTZ else Fraction(1, value)
    count = lcm(len(loop), int(meter.bar / length))
    if value == 2 and count * length == meter.bar:
        count *= 2
    return line([loop[i % len(loop)] for i in range(count)], [length] * count)


def _marked(phrase: Phrase[int], sizes: list[int], swell: bool) -> Phrase[int]:
    """Return the strain slurred: the slowest level for itself with a breath, the quicker ones on to the long note."""
    first = sizes[0] if len(sizes) > 1 else 0
    slow, quick = phrase[:first], slurred(phrase[first:])
    for end in accumulate(sizes[1:-1]):
        # Between two levels there is time for a breath only after a quarter.
        quick = on(quick, end - 1, may_breathe=quick[end - 1].length >= Fraction(1, 4))
    quick = on(
        on(quick, 0, dynamic="mp" if first else "mf", hairpin="<" if swell else ""),
        -1,
        hairpin="." if swell else "",
        breath=True,
    )
    return then(on(on(slurred(slow), 0, dynamic="p"), -1, breath=True), quick) if slow else quick
