"""Intervals: leaps from one note, each wider than the last, first slurred, then tongued; the note itself never changes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generators.fields import option
from generators.phrase.algebra import length, on, slurred, then
from generators.phrase.bars import COMMON
from generators.phrase.lines import BARS_A_LINE
from generators.phrase.notation import degrees
from generators.phrase.note import Degree, Phrase, Rest
from generators.phrase.study import Strain, Study
from generators.studies.kit.fit import NoFit, all_seated, leap, span_words, with_air
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.theory.key import Key
from generators.theory.pitch import Pitch

OWN_KEYS = ("C", "F")
OWN_TEMPO = 72
# Name to scale steps.
WIDTHS = {
    name: steps
    for steps, name in enumerate(
        ("second", "third", "fourth", "fifth", "sixth", "seventh", "octave", "ninth", "tenth", "eleventh", "twelfth"), 1
    )
}
# Which way the leaps go; both goes up and down by turns, the same width each way.
DIRECTIONS = {"up": (1,), "down": (-1,), "both": (1, -1)}
ARTICULATIONS = ("both", "slurred", "tongued")
AIMS = {
    "up": "Listen for the fixed note to come back unchanged, in pitch and in colour, from however far above.",
    "down": "Listen for the low end of each leap to speak as early as the high one; only the air goes down.",
    "both": "Listen for the fixed note to stay in the middle of everything, the same from above as from below.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class IntervalsRequest(Request):
    """An interval study: which way the leaps go, how wide they grow, and how they are played."""

    direction: str = option("up", "From the fixed note up, down, or both ways.", allowed=tuple(DIRECTIONS))
    widest: str = option("octave", "The widest leap; less where range or grade ask.", allowed=tuple(WIDTHS))
    articulation: str = option("both", "Slurred, tongued, or first the one and then the other.", allowed=ARTICULATIONS)


def intervals(request: IntervalsRequest) -> Study:
    """Return the interval study of a request, one strain a key; refuses with NoFit where not even a second fits."""
    setting = resolve(request, OWN_KEYS, OWN_TEMPO, learner_keys=2)
    for widest in range(WIDTHS[request.widest], 0, -1):
        seats = all_seated(_leaps(request.direction, widest), setting.keys, setting.limits)
        if seats and max(leap(line) for line in seats) <= setting.limits.leap:
            return _study(request, setting, widest, seats)
    where = f"between {setting.limits.low} and {setting.limits.high}"
    raise NoFit(f"intervals: not even a second {request.direction.replace('both', 'each way')} fits {where} in every key")


def _leaps(direction: str, widest: int) -> Phrase[Degree]:
    """Return the leaps, one a bar: the fixed note, the leap, the fixed note held, where a breath may be taken; then home."""
    home = "1" if direction != "down" else "8"
    base = 0 if home == "1" else 7
    bar = degrees(f"{home}/4 {home} {home}/2?")
    steps = [base + side * width for width in range(1, widest + 1) for side in DIRECTIONS[direction]]
    return then(*(on(bar, 1, pitch=Degree(step)) for step in steps), degrees(f"{home}/1*"))


def _study(request: IntervalsRequest, setting: Setting, widest: int, seats: Sequence[Phrase[Pitch]]) -> Study:
    ways = [way for way in ("slurred", "tongued") if request.articulation in (way, "both")]
    takes = [_take(line, way) for line in seats for way in ways]
    music, pace = with_air(takes, setting)
    grouped = [music[i : i + len(ways)] for i in range(0, len(music), len(ways))]
    name = next(name for name, steps in WIDTHS.items() if steps == widest)
    narrowed = f"Narrowed from a {request.widest} to a {name} to stay within {span_words(setting.limits)} and {_leap(setting)}."
    return Study(
        "intervals",
        f"Intervals: {request.direction.replace('both', 'up and down')} to the {name}",
        AIMS[request.direction],
        setting.horn.id,
        pace,
        tuple(_strain(key, part, setting) for key, part in zip(setting.keys, grouped, strict=True)),
        setting.limits,
        remarks=(narrowed.replace("a octave", "an octave").replace("a eleventh", "an eleventh"),)
        if name != request.widest
        else (),
    )


def _leap(setting: Setting) -> str:
    return f"leaps of {setting.limits.leap} half-steps"


def _take(line: Phrase[Pitch], way: str) -> Phrase[Pitch]:
    """Return the leaps played one way: growing to the last of them, then home."""
    widest = len(line) - 3
    marked = on(on(line, 0, dynamic="mp" if way == "slurred" else "mf", hairpin="<"), widest, hairpin=">")
    return on(slurred(marked) if way == "slurred" else marked, -1, hairpin=".")


def _strain(key: Key, takes: Sequence[Phrase[Pitch]], setting: Setting) -> Strain:
    music = then(*takes, (Rest(COMMON.bar),))
    return Strain(setting.label(key), key, music, COMMON, tuple(_lines(takes)))


def _lines(takes: Sequence[Phrase[Pitch]]) -> Iterator[int]:
    """Yield the bars on each line: every take on lines of its own, the closing rest with the last."""
    for i, take in enumerate(takes):
        *lines, last = _fours(int(length(take) / COMMON.bar))
        yield from (*lines, last + (i + 1 == len(takes)))


def _fours(count: int) -> tuple[int, ...]:
    """Return so many bars by fours, a single bar left over on the last of them."""
    fours, more = divmod(count, BARS_A_LINE)
    if more == 1 and fours:
        return (*[BARS_A_LINE] * (fours - 1), BARS_A_LINE + 1)
    return (*[BARS_A_LINE] * fours, *((more,) if more else ()))
