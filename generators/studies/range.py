"""Range: rungs by half-steps up to the limit, soft, each approached from below and left again, with as long a rest after it."""

from collections.abc import Iterator
from dataclasses import dataclass

from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.algebra import length, mapped
from generators.phrase.bars import COMMON
from generators.phrase.label import Label
from generators.phrase.notation import degrees
from generators.phrase.note import Degree, Phrase, Rest
from generators.phrase.remark import Advice
from generators.phrase.study import Strain, Study
from generators.studies.kit.fit import NoFit, with_air
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.theory.key import Key, all_keys
from generators.theory.pitch import Pitch, parse_pitch, simple

_OWN_TEMPO = 60
# How many rungs a sheet has at the most, and without a first one; from how many degrees under it a rung is reached: our choice.
MOST_RUNGS, _OWN_RUNGS = 13, 6
_FROM = -3
# How many rungs a day has, and that of a player whose top lies far above the staff: our choice.
_DAY_RUNGS, _MANY_RUNGS = (5, 6, 7), (8, 9)
# How many half-steps under the top of so high a day its ladder ends, in turn: our choice.
_DAY_TOPS = (0, 1)
# Degree 1 is the rung: reached from three degrees under it, held for three beats, left for where it came from.
APPROACHES = {
    "steps": "[p]5,/4( 6,/4 7,/4 1/4~ | 1/2 5,/2)*",
    "skip": "[p]5,/2( 7,/4 1/4~ | 1/2 5,/2)*",
    "turn": "[p]5,/4( 7,/4 6,/4 1/4~ | 1/2 5,/2)*",
    "leap": "[p]5,/2.( 1/4~ | 1/2 5,/2)*",
}
_AIM = "Listen for each rung to be no louder and no thinner than the last; stop at the first that pinches."
_CARE = (
    "Only after a warm-up, and not on a tired day. Rest at least as long as the bars say. Stop for today at the "
    "first rung that pinches or hurts, and tick those before it. A teacher's or doctor's word comes first."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RangeRequest(Request):
    """A ladder into the upper register: its first rung; the limit is its last."""

    from_: str = option("", "The first rung, a note that is easy today; without it a fourth under the limit.")
    approach: str = option("steps", "How each rung is reached from a fourth under it.", allowed=tuple(APPROACHES))


def range_ladder(request: RangeRequest) -> Study:
    """Return the ladder of a request, one rung a strain; never past the limit."""
    setting = resolve(request, ("C",), _OWN_TEMPO, learner_keys=1)
    rungs = _rungs(request, setting)
    music, pace = with_air([_line(APPROACHES[request.approach], key, rung) for key, rung in rungs], setting)
    first, last = rungs[0][1], rungs[-1][1]
    return Study(
        "range",
        "Range",
        f"{first.pretty} to {last.pretty}",
        _AIM,
        setting.horn.id,
        pace,
        tuple(_strain(*rungs[i], line, 2 if i >= len(rungs) / 2 else 1) for i, line in enumerate(music)),
        setting.limits,
        remarks=(Advice(_CARE),),
        rungs=tuple(rung for _, rung in rungs),
    )


_Rungs = list[tuple[Key, Pitch]]


def _rungs(request: RangeRequest, setting: Setting) -> _Rungs:
    """Return every rung with the key in which it is reached; a first one that leaves no ladder is refused."""
    limits, every = setting.limits, list(_every(setting))
    if not every:
        why = f"finds no rung between {limits.low} and {limits.high} with a fourth under it"
        raise NoFit(Refusal("range", None, why))
    if not request.from_:
        return every[-_OWN_RUNGS:]
    start = parse_pitch(request.from_).midi
    found = [(key, rung) for key, rung in every if rung.midi >= start]
    if not every[0][1].midi <= start <= every[-1][1].midi or len(found) > MOST_RUNGS:
        lowest = every[max(0, len(every) - MOST_RUNGS)][1]
        allowed = f"{lowest} to {every[-1][1]}, {MOST_RUNGS} rungs at the most"
        raise BadRequest(Refusal("from_", request.from_, "is no first rung", allowed=allowed))
    return found


def _every(setting: Setting) -> Iterator[tuple[Key, Pitch]]:
    """Yield the rungs of the whole range: half-steps, each in the plainest key on it; a learner's the notes of his own key."""
    limits = setting.limits
    if limits.keys or not setting.grade.chromatic:
        notes = [(setting.keys[0], setting.keys[0].degree(index)) for index in range(-21, 35)]
    else:
        keys = sorted(all_keys("major"), key=lambda key: (abs(key.fifths), key.fifths), reverse=True)
        plain = {key.degree(0).midi % 12: key for key in keys}
        notes = [(key, key.degree(0, octave)) for octave in range(1, 8) for key in plain.values()]
    low, high = limits.low.midi, limits.high.midi
    fitting = [(key, note) for key, note in notes if _at(key, note, _FROM).midi >= low and note.midi <= high]
    yield from sorted(fitting, key=lambda rung: rung[1].midi)


def _at(key: Key, rung: Pitch, steps: int) -> Pitch:
    return key.degree(rung.place - key.degree(0).place + steps)


def _line(sketch: str, key: Key, rung: Pitch) -> Phrase[Pitch]:
    def pitch(degree: Degree) -> Pitch:
        return _at(key, rung, degree.index)

    return mapped(degrees(sketch), pitch)


def _strain(key: Key, rung: Pitch, line: Phrase[Pitch], rests: int) -> Strain:
    """Return a rung with a rest so many times as long as itself."""
    bars = int(length(line) / COMMON.bar)
    return Strain(Label(name="rung", note=rung), key, (*line, Rest(rests * bars * COMMON.bar)), COMMON, (bars + rests * bars,))


def _high_part(where: Occasion) -> Iterator[Request]:
    """Yield ladders of the last rungs up to the top of the day, some days a little below, where most stand over the staff."""
    over, approach = where.horn.clef.over.midi, where.drift(tuple(APPROACHES), "approach", 3)
    under = where.turn(_DAY_TOPS, "ladder", 3) if where.far_above else 0
    top = simple(where.high.midi - under, sharp=False)
    for count in _MANY_RUNGS if where.far_above else _DAY_RUNGS:
        first = top.midi - count + 1
        if first + count // 2 >= over:
            high = {"high": top.name}
            yield RangeRequest(**where.common | high, from_=simple(first, sharp=True).name, approach=approach)


# What to listen for in a day's ladder, by turns.
_DAY_AIMS = (
    _AIM,
    "Listen for the same ease on every rung; where it goes, the ladder ends for today.",
    "Listen for each rung to begin as softly as the one below it; stop at the first that pinches.",
    "Listen for the air to be quicker on each rung and the lips no tighter; rest longer than you like.",
)

KIND = Kind(
    name="range",
    place=125,
    request=RangeRequest,
    make=range_ladder,
    summary="A soft ladder by half-steps up to the limit, with as long a rest after every rung.",
    example=RangeRequest(from_="G5", high="C6"),
    aim=_AIM,
    child_aim=("Listen: is your highest note as soft and kind as the one before?", ""),
    several="ladder",
    lacking="no ladder to climb",
    areas=("high",),
    parts=(
        DayPart(
            name="high",
            place=125,
            requests=_high_part,
            weight=8,
            rank=11,
            most_lines=8,
            areas=("high",),
            days=("normal",),
            repeatable=False,
            group="high",
            title="Range",
            aims=_DAY_AIMS,
        ),
    ),
)
