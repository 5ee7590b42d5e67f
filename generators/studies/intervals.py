"""Intervals: leaps from one note, each wider than the last, first slurred, then tongued; the note itself never changes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate, product
from math import ceil

from generators.errors import Refusal
from generators.fields import option
from generators.phrase.algebra import length, on, slurred, then
from generators.phrase.bars import COMMON
from generators.phrase.notation import degrees, value
from generators.phrase.note import Degree, Note, Phrase, Rest
from generators.phrase.remark import Advice, Narrowed, Remark
from generators.phrase.study import Strain, Study
from generators.phrase.wording import full_label
from generators.studies.kit.fit import NoFit, all_seated, leap, with_air
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.theory.key import Key, parse_key
from generators.theory.pitch import Pitch

_OWN_KEYS = ("F", "C")
# Keys in which leaps both ways have more room, where the first have too little.
_ROOMY_KEYS = (("G", "C"), ("G", "Bb"))
_OWN_TEMPO = 72
_OWN_WIDEST = "octave"
# A line has no more leaps, and a way is followed by so many bars of rest at the least, or half as many as it has: our choice.
_BARS_A_LINE, _PAUSE = 6, 4
# The values of the fixed note and its leap: on the first of several lines, where the fixed note is to settle, and where leaps
# are wide and need time: our choice.
_NARROW, _WIDE = ("4.", "8"), ("4", "4")
_EIGHTH = Fraction(1, 8)
# The fixed note, the leap, the fixed note again.
LEAP_NOTES = 3
# Name to scale steps.
INTERVAL_WIDTHS = {
    name: steps
    for steps, name in enumerate(
        ("second", "third", "fourth", "fifth", "sixth", "seventh", "octave", "ninth", "tenth", "eleventh", "twelfth"), 1
    )
}
# Which way the leaps go; both goes up and down by turns, the same width each way.
_DIRECTIONS = {"up": (1,), "down": (-1,), "both": (1, -1)}
_ARTICULATIONS = ("both", "slurred", "tongued")
_DRONE = "A drone on the fixed note, or a tuner, shows whether it stays."
_AIMS = {
    "up": "Listen for the fixed note to come back unchanged in pitch and colour, however far the leap.",
    "down": "Listen for the low end of each leap to speak as early as the high one; only the air goes down.",
    "both": "Listen for the fixed note to be the same whether it comes from above or from below.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class IntervalsRequest(Request):
    """An interval study: which way the leaps go, how wide they grow, and how they are played."""

    direction: str = option("up", "From the fixed note up, down, or both ways.", allowed=tuple(_DIRECTIONS))
    widest: str = option(_OWN_WIDEST, "The widest leap; less where range or grade ask.", allowed=tuple(INTERVAL_WIDTHS))
    articulation: str = option("both", "Slurred, tongued, or first the one and then the other.", allowed=_ARTICULATIONS)


@dataclass(frozen=True, slots=True)
class _Way:
    """The leaps in a key, and how many scale steps the widest has."""

    key: Key
    width: int
    line: Phrase[Pitch]

    @property
    def name(self) -> str:
        """What the widest leap is called."""
        return next(name for name, steps in INTERVAL_WIDTHS.items() if steps == self.width)


def intervals(request: IntervalsRequest) -> Study:
    """Return the interval study of a request, one strain a key; refuses with NoFit where not even a second fits."""
    setting = _roomy(request, resolve(request, _OWN_KEYS, _OWN_TEMPO, learner_keys=2))
    if request.articulation != "slurred":
        setting = setting.capped(setting.limits.speed * 60, "tongued quarters")
    return _study(request, setting, _widest(request, setting, setting.keys) or _each(request, setting))


def _roomy(request: IntervalsRequest, setting: Setting) -> Setting:
    """Return the setting in the first keys in which all leaps are to be had, where none were asked for; else in its own."""
    own = () if request.keys or setting.limits.keys else _ROOMY_KEYS
    others = (replace(setting, keys=tuple(map(parse_key, keys))) for keys in own)
    asked = INTERVAL_WIDTHS[request.widest]
    whole = (each for each in (setting, *others) if any(way.width == asked for way in _widest(request, each, each.keys)))
    return next(whole, setting)


def _widest(request: IntervalsRequest, setting: Setting, keys: Sequence[Key]) -> list[_Way]:
    """Return the leaps in keys that all leap as far: to what was asked, a learner's as far as the range has it; else none."""
    asked = INTERVAL_WIDTHS[request.widest]
    for width in range(asked, 0 if setting.limits.keys or len(keys) == 1 else asked - 1, -1):
        seats = all_seated(_leaps(request.direction, width), keys, setting.limits)
        if seats and max(leap(line) for line in seats) <= setting.limits.leap:
            return [_Way(key, width, line) for key, line in zip(keys, seats, strict=True)]
    return []


def _each(request: IntervalsRequest, setting: Setting) -> list[_Way]:
    """Return the leaps in every key as far as the range has them there; refuses with NoFit where there is not even a second."""
    found = [way for key in setting.keys for way in _widest(request, setting, (key,))]
    if len(found) < len(setting.keys):
        where = f"between {setting.limits.low} and {setting.limits.high} in every key"
        second = f"a second {request.direction.replace('both', 'each way')}"
        raise NoFit(Refusal("intervals", None, f"finds no room for {second} {where}"))
    return found


def _leaps(direction: str, widest: int) -> Phrase[Degree]:
    """Return the leaps, one a bar: the fixed note, the leap, the fixed note held, where a breath may be taken.

    Leaps both ways breathe after each width; a breath ends every line.
    """
    home = "1" if direction != "down" else "8"
    base = 0 if home == "1" else 7
    sides = _DIRECTIONS[direction]
    may, must = degrees(f"{home}/4 {home} {home}/2?"), degrees(f"{home}/4 {home} {home}/2*")
    steps = [base + side * width for width in range(1, widest + 1) for side in sides]
    ends = {bar for bar in range(1, len(steps) + 1) if len(sides) > 1 and bar % len(sides) == 0}
    ends |= set(accumulate(_lines(len(steps), len(sides))))
    return then(*(on(must if bar in ends else may, 1, pitch=Degree(step)) for bar, step in enumerate(steps, 1)))


def _study(request: IntervalsRequest, setting: Setting, found: Sequence[_Way]) -> Study:
    played = list(product(found, (way for way in ("slurred", "tongued") if request.articulation in (way, "both"))))
    together = len(_DIRECTIONS[request.direction])
    takes = [_take(way.line, so, together, setting) for way, so in played]
    music, pace = with_air(takes, setting)
    name = max(found, key=lambda way: way.width).name
    return Study(
        "intervals",
        "Intervals",
        f"{request.direction.replace('both', 'up and down')} to the {name}",
        _AIMS[request.direction],
        setting.horn.id,
        pace,
        tuple(_strain(request.direction, way.key, so, take, setting) for (way, so), take in zip(played, music, strict=True)),
        setting.limits,
        remarks=tuple(_remarks(request, name, found, setting)),
        also=_DRONE,
    )


def _remarks(request: IntervalsRequest, widest: str, found: Sequence[_Way], setting: Setting) -> Iterator[Remark]:
    """Yield what is said of narrower leaps than were asked for, in all keys or in some; a child's usual ones need no word."""
    asked = request.widest
    if setting.grade.child and asked == _OWN_WIDEST:
        return
    if len({way.width for way in found}) == 1 and asked != widest:
        yield Narrowed(_one(asked), _one(widest), setting.range, leap=setting.limits.leap, every=len(setting.keys) > 1)
        return
    for way in found:
        if way.name != asked:
            wider = all_seated(_leaps(request.direction, way.width + 1), (way.key,), setting.limits)
            told = (
                "to suit your widest leap" if wider else f"between {setting.limits.low.pretty} and {setting.limits.high.pretty}"
            )
            yield Advice(f"{full_label(setting.label(way.key))} goes as far as the {way.name} here, {told}.")


def _one(name: str) -> str:
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def _take(line: Phrase[Pitch], way: str, together: int, setting: Setting) -> Phrase[Pitch]:
    """Return the leaps played one way: tongued ones are long."""
    timed = _timed(line, together, setting)
    if way == "tongued":
        return on(tuple(map(_long, timed)), 0, dynamic="mf")
    return _paired(on(timed, 0, dynamic="mp"))


def _leapt(line: Phrase[Pitch]) -> list[Phrase[Pitch]]:
    """Return each leap with its fixed notes."""
    return [line[i : i + LEAP_NOTES] for i in range(0, len(line), LEAP_NOTES)]


def _timed(line: Phrase[Pitch], together: int, setting: Setting) -> Phrase[Pitch]:
    """Return the leaps with one rhythm a line, in which a wide leap has time to arrive; the held note stays as it is."""
    widths = _lines(len(line) // LEAP_NOTES, together)
    values = [own for own, leaps in zip(_rhythms(len(widths), setting), widths, strict=True) for _ in range(leaps)]
    return then(*(_in_values(leaping, *own) for leaping, own in zip(_leapt(line), values, strict=True)))


def _rhythms(lines: int, setting: Setting) -> list[tuple[str, str]]:
    """Return the rhythm of each line: even but for the first of some; of all lines for who has no quick notes."""
    quick = setting.limits.shortest <= _EIGHTH and setting.limits.speed * 30 >= setting.tempo
    return [_NARROW if quick and lines > 1 else _WIDE, *[_WIDE] * (lines - 1)]


def _in_values(leaping: Phrase[Pitch], fixed: str, far: str) -> Phrase[Pitch]:
    home, leapt, held = leaping
    return replace(home, length=value(fixed)), replace(leapt, length=value(far)), held


def _long(event: Note[Pitch] | Rest) -> Note[Pitch] | Rest:
    """Return a note with its mark; one that is held needs none."""
    return replace(event, articulations=("tenuto",)) if isinstance(event, Note) and event.length < COMMON.strong else event


def _paired(line: Phrase[Pitch]) -> Phrase[Pitch]:
    """Return the leaps under a slur each, begun anew where the fixed note returns: a slur over one note twice is a tie."""
    return then(*map(slurred, _leapt(line)))


def _strain(direction: str, key: Key, way: str, take: Phrase[Pitch], setting: Setting) -> Strain:
    *lines, last = _lines(int(length(take) / COMMON.bar), len(_DIRECTIONS[direction]))
    label = setting.label(key, detail=way)
    pause = max(_PAUSE, ceil(length(take) / COMMON.bar / 2))
    return Strain(label, key, then(take, (Rest(pause * COMMON.bar),)), COMMON, (*lines, last + pause))


def _lines(count: int, together: int) -> tuple[int, ...]:
    """Return so many bars on lines of much the same length; as many as belong together stand on one."""
    groups, lines = count // together, -(-count // _BARS_A_LINE)
    least, more = divmod(groups, lines)
    return tuple(together * (least + (line < more)) for line in range(lines))


def _intervals_part(where: Occasion) -> Iterator[Request]:
    """Yield leaps from a fixed note, slurred or tongued, in one key."""
    keys = where.keys.majors[2:3] or where.keys.majors[:1]
    direction = where.turn(("up", "down") if where.grade.slow else ("up", "down", "both"), "direction")
    way = where.turn(("slurred", "tongued"), "leaps")
    for widest in ("third", "fifth", "octave"):
        yield IntervalsRequest(**where.common, keys=keys, direction=direction, widest=widest, articulation=way)


KIND = Kind(
    name="intervals",
    place=100,
    request=IntervalsRequest,
    make=intervals,
    summary="Leaps from one note, wider and wider, slurred, then tongued.",
    example=IntervalsRequest(keys=("Bb", "Gm"), direction="both", widest="fifth"),
    aim=_AIMS["up"],
    child_aim=("Listen: you jump away and come home. Does home sound the same every time?", ""),
    lacking="no notes to leap to",
    areas=("intervals",),
    parts=(DayPart("intervals", 100, _intervals_part, weight=3, rank=13, most_lines=3, areas=("intervals",)),),
)
