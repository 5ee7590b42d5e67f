"""Entrances: counted silence, then a note or a short call taken cold; spread evenly over register and dynamic by a draw."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import groupby, pairwise

from generators.chance import T, number, pick, shuffled
from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.algebra import length, notes, on, shifted, then
from generators.phrase.bars import COMMON
from generators.phrase.in_key import in_key, placed
from generators.phrase.notation import degrees
from generators.phrase.note import Degree, Note, Phrase, Rest
from generators.phrase.remark import Advice
from generators.phrase.study import Limits, Strain, Study
from generators.phrase.wording import tonic
from generators.studies.first_calls import first_calls
from generators.studies.kit.fit import NoFit, inside, leap, needed
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.registers import REGISTERS, band
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.theory.key import Key
from generators.theory.pitch import Pitch, simple

# From so many minutes on the page says how long it takes: our choice.
_LONG, _LASTING = 4, "About {} minutes, counts included; with less time, leave out the second of each line."
_OWN_TEMPO = 76
# Far from one another, so that no key is in the ear for long: our choice.
_OWN_KEYS = ("C", "Ab", "D")
_AIM = "Listen inwardly before you lift the horn: pitch and loudness are ready a bar early, the breath a beat before."
_DAY_AIMS = (
    "Listen inwardly first: pitch and loudness are ready a bar early, the breath a beat before.",
    "Listen to the silence: hear the note in it before you breathe, and breathe in time.",
    "Listen for the first instant of each entrance: tone at once, in tune, as loud as it says.",
    "Listen for pp to speak as surely as f; count aloud inside, and never come in late.",
)
_CHECK = "Sound the home note once at the start of each line, then count; check each entrance with a tuner or a keyboard."
_DYNAMICS = ("pp", "p", "mp", "mf", "f", "ff")
_A_LINE = 2
_ANY = tuple(range(7))
_KEPT = 2048

# Degree 1 is the note entered on. Each fills whole bars; each is a thing that happens in an orchestra or a band.
ENTRANCE_FIGURES = {
    "note": "1/2 r/2",
    "long": "1/2. r/4",
    "off-beat": "r/4. 1/8:st 1/2:te",
    "call": "r/2 r/4 1/8:ac 1/8:ac | 4/2.:te r/4",
    "fall": "1/4.( 7,/8 6,/2)",
    "rise": "r/4 1/4( 2 3 | 5/2.) r/4",
    "turn": "1/8( 2 1 7, 1/2)",
    "fanfare": "1/8t:st 1:st 1:st 3/4:te 5/2:te",
    "neighbour": "1/4( #7,/8 1 2/4 1)",
    "from-nothing": "[o<]1/1~ | 1/2 r/2",
    "twice": "1/2 1 | 1/1",
    "neighbours": "1/4 2 3 2 | 1/1",
    "upward": "1/2 2 | 3/1",
    "homeward": "1/2 7, | 6,/1",
}
# What a beginner comes in with by himself: twice as long as he waited, in halves and quarters, tongued. Our choice.
_FIRST_FIGURES = ("twice", "neighbours", "upward", "homeward")
# The figure that grows out of silence: its dynamic is where it arrives.
_SILENT = "from-nothing"
# Figures that come in after the beat, for grades that know it.
_OFF_THE_BEAT = ("off-beat", "call")
# Loudness for the honest tests: high and no louder, low and no softer.
_SOFT, _LOUD = ("pp", "p"), ("f", "ff")
_DRAWS = 16
# Half-steps that a learner's cold entrances keep from both ends of a range of an octave or more: our choice.
_COLD, _ROOMY, _FIFTH = 2, 12, 7
# The degrees on which a child comes in cold.
_CHORD = (0, 2, 4)
# Digits of a number that is read at all: Python refuses very long ones with an error of its own.
_LONGEST_COUNT = 9
# The degrees, 0 the tonic, on which a figure makes a chord or a cadence of the key; elsewhere only where the register has none.
FIGURE_HOMES = {
    "call": (0, 1, 4),
    "fall": (2, 4, 0),
    "rise": (0, 3),
    "turn": (0, 1, 2, 3, 4, 5),
    "fanfare": (0, 3),
    "neighbour": (1, 4),
    "neighbours": (0, 2),
    "upward": (0, 2),
    "homeward": (2, 4),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class EntrancesRequest(Request):
    """Cold starts: how many, after what rests, in which registers, dynamics and figures."""

    count: int | None = option(None, "How many entrances, 1 to 64; without it 12, fewer for a learner.", span=(1, 64))
    rests: str = option(
        "",
        "Bars of rest before each: a range such as 4-16, or a list such as 6,9,4 taken in turn; without it by the grade.",
    )
    long_rest: int = option(0, "One rest of so many bars at a drawn place, 0 for none.", span=(0, 99))
    registers: tuple[str, ...] = option(REGISTERS, "Registers, thirds of the range.", allowed=REGISTERS)
    dynamics: tuple[str, ...] = option((), "Dynamics; without them from pp to ff, for beginners p to f.", allowed=_DYNAMICS)
    figures: tuple[str, ...] = option(
        (), "What is played; without them all that suit the player.", allowed=tuple(ENTRANCE_FIGURES)
    )


def entrances(request: EntrancesRequest) -> Study:
    """Return the entrances of a request; the draw depends on the request and its seed alone."""
    setting = _in_one_key(resolve(request, _OWN_KEYS, _OWN_TEMPO, learner_keys=len(_OWN_KEYS)), request)
    figures, count = _playable(request, setting), request.count or setting.grade.entrance_count
    rests = _rests(request, count, request.rests or setting.grade.entrance_rests)
    played = _first_played(request, setting, count) or _drawn_evenly(request, setting, count, figures)
    study = Study(
        "entrances",
        _titled(count, child=setting.grade.child),
        f"home note {tonic(setting.keys[0])}" if setting.grade.child and len(setting.keys) == 1 else "",
        _AIM,
        setting.horn.id,
        setting.tempo,
        tuple(_strains(setting, rests, played)),
        setting.limits,
        also="" if setting.grade.child else _CHECK,
    )
    minutes = round((study.playing + study.resting) / 60)
    return replace(study, remarks=(Advice(_LASTING.format(minutes)),)) if minutes >= _LONG else study


def _first_played(request: EntrancesRequest, setting: Setting, count: int) -> list[Phrase[Pitch]]:
    """Return the calls of a beginner who asked for no figures, registers or keys; none for others."""
    if not setting.grade.beginner or request.figures or request.registers != REGISTERS or len(setting.keys) > 1:
        return []
    calls = first_calls(setting.keys[0], setting.limits, count, request.seed)
    loudness = balanced(dict.fromkeys(request.dynamics) or setting.grade.entrances, count, request.seed, "dynamic")
    return [on(call, 0, dynamic=dynamic) for call, dynamic in zip(calls, loudness, strict=False)]


def _drawn_evenly(request: EntrancesRequest, setting: Setting, count: int, figures: Sequence[str]) -> list[Phrase[Pitch]]:
    """Return what is played, a learner's outermost notes left out where there is room without them."""
    try:
        return _played(request, count, _eased(setting, request), figures)
    except NoFit:
        return _played(request, count, setting, figures)


def _in_one_key(setting: Setting, request: EntrancesRequest) -> Setting:
    """Return the setting in the first of a beginner's keys, where he asked for none: one home note is enough to remember."""
    return replace(setting, keys=setting.keys[:1]) if setting.grade.beginner and not request.keys else setting


def _titled(count: int, *, child: bool) -> str:
    """Return what so many entrances are called; a child's are not cold, but come after rests."""
    if child:
        return "Coming in after a rest"
    return f"{count} cold entrances" if count > 1 else "One cold entrance"


def _eased(setting: Setting, request: EntrancesRequest) -> Setting:
    """Return the setting with a learner's outermost notes left out, which do not speak when cold.

    Where he named his limits only a beginner's highest go, of more than a fifth, and what lies under his grade.
    """
    limits, named = setting.limits, bool(request.low or request.high)
    wide = limits.high.midi - limits.low.midi
    if setting.grade.beginner and wide > _FIFTH and (named or wide < _ROOMY):
        low, high = max(limits.low, setting.grade.low), simple(limits.high.midi - _COLD, sharp=False)
        return replace(setting, limits=replace(limits, low=low, high=high))
    if not limits.keys or named or wide < _ROOMY:
        return setting
    low, high = simple(limits.low.midi + _COLD, sharp=False), simple(limits.high.midi - _COLD, sharp=False)
    return replace(setting, limits=replace(limits, low=low, high=high))


def _played(request: EntrancesRequest, count: int, setting: Setting, figures: Sequence[str]) -> list[Phrase[Pitch]]:
    """Return what is played at each entrance, registers, dynamics and figures drawn evenly."""
    seed = request.seed
    registers = balanced(dict.fromkeys(request.registers) or REGISTERS, count, seed, "register")
    dynamics = _loudness(dict.fromkeys(request.dynamics) or setting.grade.entrances, registers, seed, setting)
    choices = balanced(figures, count, seed, "figure")
    played: list[Phrase[Pitch]] = []
    drawn = zip(_keys(setting, count), registers, dynamics, choices, strict=True)
    for i, (key, register, dynamic, choice) in enumerate(drawn):
        line = _entry(setting, key, register, _suited(_turned(figures, choice), register, dynamic), played, (seed, i, count))
        played.append(on(_gentle(line, dynamic), int(notes(line)[0].hairpin == "o<"), dynamic=dynamic))
    return played


def _gentle(line: Phrase[Pitch], dynamic: str) -> Phrase[Pitch]:
    """Return an entrance without the accents that a soft one would contradict: its notes are short instead."""
    if dynamic not in _SOFT:
        return line
    return tuple(
        replace(event, articulations=("staccato",)) if isinstance(event, Note) and "accent" in event.articulations else event
        for event in line
    )


def _loudness(items: Sequence[str] | dict[str, None], registers: Sequence[str], seed: int, setting: Setting) -> list[str]:
    """Return a balanced series of dynamics; of some draws the one in which high is soft and low is loud most often.

    For a child the one in which high is soft least often, for other learners one in which high is not as soft as can be: a
    soft high note speaks last of all.
    """
    learner, child = bool(setting.limits.keys), setting.grade.child

    def honest(series: list[str]) -> tuple[int, int]:
        pairs = list(zip(registers, series, strict=True))
        soft, loud = sum(r == "high" and d in _SOFT for r, d in pairs), sum(r == "low" and d in _LOUD for r, d in pairs)
        if child:
            return 0, -soft
        return -learner * sum(r == "high" and d == _SOFT[0] for r, d in pairs), min(soft, loud)

    draws = [balanced(items, len(registers), seed, f"dynamic {i}") for i in range(_DRAWS)]
    return max(draws, key=honest)


def balanced(items: Sequence[T] | dict[T, None], count: int, seed: int, what: str) -> list[T]:
    """Return a drawn series in which every item comes equally often (within one) and no neighbours are equal."""
    pool = list(items)
    series: list[T] = []
    while len(series) < count:
        block = shuffled(pool, seed, what, len(series))
        if series and len(pool) > 1 and block[0] == series[-1]:
            block = block[1:] + block[:1]
        series += block
    return series[:count]


def _suited(figures: list[str], register: str, dynamic: str) -> list[str]:
    """Return the figures with the one from silence last where it would be too high to speak, or end too soft to have grown."""
    return sorted(figures, key=_SILENT.__eq__) if register == "high" or dynamic in _SOFT else figures


def _turned(figures: Sequence[str], first: str) -> list[str]:
    """Return the figures beginning with the one that was drawn, the others in case it does not lie in the register."""
    place = figures.index(first)
    return [*figures[place:], *figures[:place]]


def _playable(request: EntrancesRequest, setting: Setting) -> list[str]:
    """Return the figures that the grade's note values, tongue and breath allow at the tempo."""
    grade = setting.grade
    known = dict.fromkeys(_OFF_THE_BEAT, grade.off_the_beat) | {
        "neighbour": grade.chromatic,
        "fall": grade.syncopes,
        _SILENT: "pp" in grade.entrances,
    }
    own = [name for name in ENTRANCE_FIGURES if known.get(name, True)]
    first = [name for name in own if (name in _FIRST_FIGURES) == grade.beginner]
    asked = dict.fromkeys(request.figures or first)
    fit = [name for name in asked if _easy(degrees(ENTRANCE_FIGURES[name]), setting)]
    if not fit:
        allowed = tuple(name for name in own if _easy(degrees(ENTRANCE_FIGURES[name]), setting))
        why = f"do not suit tempo {setting.tempo} or the grade"
        raise BadRequest(Refusal("figures", ", ".join(asked), why, allowed=allowed, do="" if allowed else "play faster"))
    return fit


def _easy(figure: Phrase[Degree], setting: Setting) -> bool:
    line, limits = notes(figure), setting.limits
    tongued = [a.length for a, b in pairwise(line) if b.articulations or not (a.slur_open or b.slur_close)]
    slow = all(note.length >= limits.shortest for note in line)
    speed = all(240 * value * limits.speed >= setting.tempo for value in tongued)
    return slow and speed and needed([in_key(figure, Key("C", 0), 4)], limits) <= setting.tempo


def _rests(request: EntrancesRequest, count: int, asked: str) -> list[int]:
    """Return the bars of rest before each entrance."""
    low, high, series = _rest_plan(asked)
    rests = [series[i % len(series)] for i in range(count)] if series else _drawn(low, high, count, request.seed)
    if request.long_rest:
        rests[number(request.seed, "long rest") % len(rests)] = request.long_rest
    return rests


def _drawn(low: int, high: int, count: int, seed: int) -> list[int]:
    rests: list[int] = []
    for i in range(count):
        free = [bars for bars in range(low, high + 1) if bars not in rests[-1:]] or [low]
        rests.append(pick(free, seed, "rest", i))
    return rests


def _rest_plan(text: str) -> tuple[int, int, list[int]]:
    """Read "4-16" as a range or "6,9,4" as a series."""
    parts = text.replace(" ", "").split("-" if "-" in text else ",")
    if not all(map(_counts, parts)) or ("-" in text and len(parts) != 2):
        how = "write 1 to 99 bars as a range, 4-16, or as a list, 6,9,4"
        raise BadRequest(Refusal("rests", text, "is not understood", do=how))
    numbers = [int(part) for part in parts]
    if "-" not in text:
        return 0, 0, numbers
    low, high = numbers
    if low > high:
        raise BadRequest(Refusal("rests", text, "runs backwards", would_do=(("rests", (f"{high}-{low}",)),)))
    return low, high, []


def _counts(text: str) -> bool:
    """Tell whether a text is a number of bars, 1 to 99."""
    return text.isascii() and text.isdigit() and len(text) <= _LONGEST_COUNT and 1 <= int(text) <= 99


def _entry(
    setting: Setting,
    key: Key,
    register: str,
    figures: Sequence[str],
    before: Sequence[Phrase[Pitch]],
    draw: tuple[int, int, int],
) -> Phrase[Pitch]:
    """Return one entrance: the drawn figure, or the next that lies in the register, on a note of the key.

    It begins on another note than the last one, and is none that was there before, in whatever octave, while there is another
    in any figure. The first and the last of a beginner come home, if one does.
    """
    last, heard = notes(before[-1])[0].pitch if before else None, {_tune(line) for line in before}
    ways = _ways(figures, setting.grade.child)
    drawn = [(way, _lines(way[0], key, register, way[1], setting.limits)) for way in ways]
    found = [(way, lines) for way, every in drawn if (lines := [line for line in every if notes(line)[0].pitch != last])]
    if setting.grade.beginner and draw[1] in (0, draw[2] - 1):
        found = [(way, homing) for way, lines in found if (homing := [one for one in lines if _comes_home(one, key)])] or found
    fresh = [new for _, lines in sorted(found, key=_away) if (new := [line for line in lines if _tune(line) not in heard])]
    if found:
        return pick((fresh or [found[0][1]])[0], draw[0], "pitch", draw[1])
    where = f"in the {register} register of {setting.limits.low} to {setting.limits.high} in {key.name}"
    raise NoFit(Refusal("entrances", None, f"finds no room for a figure {where}"))


def _comes_home(line: Phrase[Pitch], key: Key) -> bool:
    return (notes(line)[-1].pitch.midi - key.degree(0).midi) % 12 == 0


def _ways(figures: Sequence[str], child: bool) -> list[tuple[str, tuple[int, ...]]]:
    """Return figures with the degrees that they may begin on, the best first: their own, then any.

    A child comes in on the chord, in another figure if need be.
    """
    degrees_of = {figure: FIGURE_HOMES.get(figure, _ANY) for figure in figures}
    own = [
        (figure, tuple(home for home in homes if home in _CHORD) if child else homes) for figure, homes in degrees_of.items()
    ]
    others = [(figure, () if figure == "neighbour" else _ANY) for figure in figures]
    return [*own, *others] if child else [way for pair in zip(own, others, strict=True) for way in pair]


def _away(found: tuple[tuple[str, tuple[int, ...]], object]) -> bool:
    """Tell whether a figure begins on any degree that has its own."""
    (figure, homes), _ = found
    return figure in FIGURE_HOMES and len(homes) > len(FIGURE_HOMES[figure])


def _tune(line: Phrase[Pitch]) -> tuple[tuple[str, Fraction], ...]:
    """Return a line without its marks and without its octave."""
    return tuple((note.pitch.name[:-1], note.length) for note in notes(line))


@lru_cache(_KEPT)
def _lines(figure: str, key: Key, register: str, homes: tuple[int, ...], limits: Limits) -> tuple[Phrase[Pitch], ...]:
    """Return a figure on each of the degrees in a register, in every octave; the last ones are kept."""
    low, high = band(limits, register)
    sketch = degrees(ENTRANCE_FIGURES[figure])
    first = notes(sketch)[0].pitch
    begun = (index for index in range(-21, 28) if index % 7 in homes)
    # Minor may raise the first note by a half-step: what begins farther off is not written out.
    near = (i for i in begun if low - 1 <= placed(Degree(first.index + i, first.alter), key, 4).midi <= high)
    lines = (in_key(shifted(sketch, index), key, 4) for index in near)
    return tuple(
        line
        for line in lines
        if low <= notes(line)[0].pitch.midi <= high and inside(line, limits) and leap(line) <= limits.leap
    )


def _strains(setting: Setting, rests: Sequence[int], played: Sequence[Phrase[Pitch]]) -> Iterator[Strain]:
    """Yield strains of two entrances on one line, a beginner's of one, numbered beside it; every one in its key."""
    keys, a_line = _keys(setting, len(played)), 1 if setting.grade.beginner else _A_LINE
    for key, group in groupby(range(len(played)), key=lambda i: keys[i]):
        own = list(group)
        for pair in (own[i : i + a_line] for i in range(0, len(own), a_line)):
            music = then(*(then((Rest(rests[i] * COMMON.bar),), played[i]) for i in pair))
            numbers = ", ".join(str(i + 1) for i in pair)
            # Alone under a key, in a page of fingerings, a beginner would read a number as a valve.
            label = setting.label(key, part=f"No. {numbers}" if setting.grade.beginner else numbers)
            yield Strain(label, key, music, COMMON, (_bars(music),))


def _keys(setting: Setting, count: int) -> list[Key]:
    """Return the key of each entrance: they change between lines, or between entrances where there are more keys than lines."""
    a_line = _A_LINE if -(-count // _A_LINE) >= len(setting.keys) else 1
    lines = -(-count // a_line)
    return [setting.keys[i // a_line * len(setting.keys) // lines] for i in range(count)]


def _bars(phrase: Phrase[Pitch]) -> int:
    return int(length(phrase) / COMMON.bar)


def _entrances_part(where: Occasion) -> Iterator[Request]:
    """Yield a few cold entrances after short rests, none of them very loud so near the end of a day."""
    loudness = tuple(name for name in where.grade.entrances if name != _DYNAMICS[-1])
    for count in (2, 3, 4, 5, 6):
        rests = where.grade.entrance_rests if where.grade.beginner else "2-4"
        yield EntrancesRequest(**where.early, keys=where.keys.majors[:1], count=count, rests=rests, dynamics=loudness)


KIND = Kind(
    name="entrances",
    place=130,
    request=EntrancesRequest,
    make=entrances,
    summary="Cold starts after counted rests, spread evenly over register and dynamic.",
    example=EntrancesRequest(count=16, rests="6-20", seed=7, dynamics=("pp", "ff")),
    aim=_AIM,
    child_aim=(
        "Play the home note before each line. Count, sing inside, breathe, play.",
        "Listen: was it what you sang?",
    ),
    lacking="no note to come in on",
    areas=("entrances",),
    parts=(
        DayPart(
            name="entrances",
            place=140,
            requests=_entrances_part,
            weight=4,
            rank=9,
            most_lines=3,
            # From pp to f over all registers: it stands for a day's loud and soft.
            areas=("entrances", "dynamics"),
            repeatable=False,
            group="loudness",
            aims=_DAY_AIMS,
        ),
    ),
    packet=True,
)
