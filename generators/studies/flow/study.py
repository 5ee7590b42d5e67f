"""Flow: long legato lines from the tonic out to a turning point and home, key after key, with a close if wanted."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise

from generators.brass.grade import Grade
from generators.chance import shuffled
from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.algebra import length, notes, slurred_by_step, slurred_to_bars, then
from generators.phrase.bars import Meter
from generators.phrase.notation import degrees
from generators.phrase.note import Degree, Note, Phrase, Rest
from generators.phrase.remark import Advice, Narrowed, Remark
from generators.phrase.study import Strain, Study
from generators.phrase.wording import key_words, tonic
from generators.studies.flow.closes import FLOW_AIMS, FLOW_CLOSES, tongued_close, tongued_sighs
from generators.studies.flow.courses import FLOW_COMPASSES, FLOW_LENGTHS, FLOW_METERS, LEANS, Wanted, ways
from generators.studies.flow.drawing import LOUD_TURN, drawn_line
from generators.studies.kit.fit import NoFit, all_seated, leap, with_air
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.theory.key import Key, all_keys
from generators.theory.pitch import Pitch, extremes

_OWN_KEYS = ("C", "F", "Bb", "Eb")
_OWN_TEMPO = 72
# A line of so many bars is rested after for two; a longer one of a beginner, whose lips last for no more, is rested in.
_LONG, _RESTS = 8, 2
# The shapes that three notes have room for.
FIRST_FLOW_SHAPES = ("dip", "arch", "wave")
_OCTAVE = 12
# How far a line turns by itself: farther for who has leaps of an octave.
_LEARNERS_COMPASS, _OWN_COMPASS = "fifth", "octave"
# Five notes are no less than a third below and above: another line, not a narrower one.
_NO_NARROWER = (("third", "six-notes"), ("third", "five-notes"), ("third", "three-notes"))
_COMPASS_NAMES = {
    "octave": "an octave",
    "fifth": "a fifth",
    "third": "a third",
    "six-notes": "six notes",
    "five-notes": "five notes",
    "three-notes": "three notes",
}
_COMPASS_WORDS = {
    "octave": "to the octave",
    "fifth": "to the fifth",
    "third": "to the third",
    "six-notes": "in six notes",
    "five-notes": "in five notes",
    "three-notes": "in three notes",
}

# Those that are told in notes.
_COUNTED = ("six-notes", "five-notes", "three-notes")

# What is said of a line that does not come as far as the octave, by its steps.
_NARROWER_WORDS = {4: "to the fifth", 5: "to the sixth", 6: "to the seventh"}

# What a beginner calls a shape, and a wave that comes to its highest note first or to its lowest.
_CHILD_SHAPES = {"arch": "up and home", "dip": "down and home"}
_CHILD_WAVES = {True: "up, down and home", False: "down, up and home"}
# From so many signs on it is told which key sounds alike, so many fifths away: our choice.
MANY_SIGNS, _ROUND = 6, 12

# What the tongued close is for.
_TONGUED_AIM = "Then tongue on the same air, every note long."
_SIGHS_AIM = "Then tongue the sighs."


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowRequest(Request):
    """A flow study: its shape, how far it turns, the order of its keys and the close."""

    shape: str = option(
        "arch", "The line: below the tonic, above it, both, step by step wider, or leaning.", allowed=tuple(FLOW_METERS)
    )
    compass: str = option(
        "",
        "How far the line turns from the tonic, narrower where the range asks; without it an octave, in grades to 2 a fifth.",
        allowed=FLOW_COMPASSES,
    )
    length: str = option("8", "Bars of the line, drawn by the seed.", allowed=FLOW_LENGTHS)
    order: str = option("given", "Order of the keys.", allowed=("given", "down", "up", "fourths", "shuffled"))
    close: str = option(
        "none", "What follows each line: nothing, a slurred chord, or a tongued figure.", allowed=("none", "slurred", "tongued")
    )
    peak: str = option("mf", "How loud the turning points of the line are.", allowed=("mp", "mf", "f"))


def flow(request: FlowRequest) -> Study:
    """Return the flow study of a request; refuses with NoFit where no compass fits every key."""
    setting = resolve(request, _OWN_KEYS, _OWN_TEMPO)
    if request.close == "tongued":
        setting = setting.capped(setting.limits.speed * 240 / 8, "a tongued close in eighths")
    keys = ordered(setting.keys, request.order, request.seed)
    meter = _meter(request, setting)
    for compass, sketch in _candidates(request, setting):
        seats = all_seated(sketch, keys, setting.limits)
        if seats and max(leap(line) for line in seats) <= setting.limits.leap:
            easy = _first_line(request, setting)
            firsts = (all_seated(easy, keys, setting.limits) if easy else None) or []
            music, pace = with_air([*firsts, *seats], setting)
            first = int(request.length) + 1 if request.close == "tongued" else 0
            pairs = request.shape == "lean" and bool(first)
            lines = [
                _strain(key, line, meter, first, setting, paired=pairs)
                for key, line in zip(keys, music[len(firsts) :], strict=True)
            ]
            easier = [_strain(key, line, meter, 0, setting) for key, line in zip(keys, music, strict=False)] if firsts else []
            return _study(request, setting, compass, tuple(_told(easier, lines, compass)), pace)
    where = f"finds no room for five notes between {setting.limits.low} and {setting.limits.high} in every key asked for"
    raise NoFit(Refusal("flow", None, where))


def _meter(request: FlowRequest, setting: Setting) -> Meter:
    """Return the meter of a shape; one that the grade does not have, or a close too quick for it, is refused."""
    shapes = flow_shapes(setting.grade)
    if request.shape not in shapes:
        why = f"is in a meter that grade {request.grade} does not have"
        raise BadRequest(Refusal("shape", request.shape, why, allowed=shapes))
    if request.close == "tongued" and setting.grade.slow:
        raise BadRequest(Refusal("close", "tongued", "is too quick for the grade", allowed=("none", "slurred")))
    return Meter(*FLOW_METERS[request.shape])


def flow_shapes(of: Grade) -> tuple[str, ...]:
    """Return the shapes in meters that a grade has."""
    return tuple(shape for shape, meter in FLOW_METERS.items() if not of.meters or str(Meter(*meter)) in of.meters)


def _candidates(request: FlowRequest, setting: Setting) -> Iterator[tuple[str, Phrase[Degree]]]:
    """Yield compass and line with its close, from the widest asked for to the narrowest there is."""
    meter = FLOW_METERS[request.shape]
    rest = (Rest(Meter(*meter).bar),) if request.close == "tongued" else ()
    for compass in FLOW_COMPASSES[FLOW_COMPASSES.index(_compass(request, setting)) :]:
        wanted = _wanted(request, setting, compass, request.length)
        lines = (drawn_line(wanted, way) for way in range(ways(wanted)))
        whole = ((line, close) for line in lines if line for close in _closes(request, line))
        for line, close in whole:
            sung = _rested(_peaked(_slurred(line, wanted), request.peak), wanted)
            yield compass, then(sung, rest, close if rest else _slurred(close, wanted))


def _peaked(line: Phrase[Degree], peak: str) -> Phrase[Degree]:
    """Return a line whose loudest notes are as loud as asked for."""
    return tuple(
        replace(event, dynamic=_softened(event.dynamic, peak)) if isinstance(event, Note) and event.dynamic else event
        for event in line
    )


def _softened(dynamic: str, peak: str) -> str:
    """Return the dynamic of a note where the turning points are so loud: what was next to them is softer than a soft peak."""
    return peak if dynamic == LOUD_TURN else "p" if dynamic == peak == "mp" else dynamic


def _closes(request: FlowRequest, line: Phrase[Degree]) -> Iterator[Phrase[Degree]]:
    """Yield what may follow a line, the widest first; of a leaning one that is tongued its own sighs before others."""
    sketches = FLOW_CLOSES[request.shape].get(request.close, ("",))
    if request.close != "tongued":
        yield from map(degrees, sketches)
        return
    if request.shape == "lean":
        yield tongued_sighs(line)
    yield from (tongued_close(request.shape, sketch) for sketch in sketches)


def _wanted(request: FlowRequest, setting: Setting, compass: str, bars: str) -> Wanted:
    grade = setting.grade
    airy = 4 * FLOW_METERS[request.shape][0] <= setting.limits.breath * setting.tempo / 60
    return Wanted(request.shape, compass, bars, airy, grade.chromatic, request.seed, grade.beginner, grade.beginner)


def _slurred(line: Phrase[Degree], wanted: Wanted) -> Phrase[Degree]:
    """Return a line under its slurs, which go by step alone where the player begins, and after a leap to the bar line."""
    bar = Meter(*FLOW_METERS[wanted.shape]).bar
    return slurred_to_bars(slurred_by_step(line, _index), bar) if wanted.stepwise else line


def _rested(line: Phrase[Degree], wanted: Wanted) -> Phrase[Degree]:
    """Return a beginner's line with a bar of rest at every breath within it, where it is longer than his lips last."""
    if not wanted.slow or int(wanted.length) <= _LONG:
        return line
    rest, *events = Rest(Meter(*FLOW_METERS[wanted.shape]).bar), *line[:-1]
    aired = ((event, rest) if isinstance(event, Note) and event.breath else (event,) for event in events)
    return then(*aired, line[-1:])


def _index(degree: Degree) -> int:
    return degree.index


def _first_line(request: FlowRequest, setting: Setting) -> Phrase[Degree]:
    """Return the four bars in three notes that a beginner plays before a longer line; nothing for others."""
    compass, bars = FLOW_COMPASSES[-1], FLOW_LENGTHS[0]
    if not setting.grade.beginner or request.compass or request.length == bars or request.shape not in FIRST_FLOW_SHAPES:
        return ()
    wanted = _wanted(request, setting, compass, bars)
    return _slurred(drawn_line(wanted, 0), wanted)


def _told(easier: Sequence[Strain], lines: Sequence[Strain], compass: str) -> Iterator[Strain]:
    """Yield the lines; where an easier one comes before each, they are told by their compass, unless it is the same."""
    if not easier or compass == FLOW_COMPASSES[-1]:
        yield from (strain for pair in zip(easier or lines, lines, strict=True) for strain in dict.fromkeys(pair))
        return
    for pair in zip(easier, lines, strict=True):
        for strain, name in zip(pair, (FLOW_COMPASSES[-1], compass), strict=True):
            yield replace(strain, label=replace(strain.label, part=_COMPASS_NAMES[name]))


def _compass(request: FlowRequest, setting: Setting) -> str:
    return request.compass or (_LEARNERS_COMPASS if setting.grade.leap < _OCTAVE else _OWN_COMPASS)


def _strain(key: Key, line: Phrase[Pitch], meter: Meter, first: int, setting: Setting, *, paired: bool = False) -> Strain:
    """Return a line with a bar of rest, a long one of who is no beginner with two.

    A close of its own begins a printed line, after so many bars.
    """
    long = length(line) / meter.bar >= _LONG and not setting.grade.beginner
    music = then(line, (Rest(meter.bar * (2 if long else 1)),))
    bars = int(length(music) / meter.bar)
    altered = any(note.pitch.alter != key.alteration(note.pitch.step) for note in notes(music))
    scale = "natural minor" if key.mode == "minor" and not altered else ""
    silent = [i for i, event in enumerate(line) if isinstance(event, Rest)] if setting.grade.beginner and not first else []
    lines = _phrased(music, meter) if silent else _lines(first) + _lines(bars - first)
    return Strain(setting.label(key, scale=scale), key, music, meter, lines, paired=paired)


def _phrased(music: Phrase[Pitch], meter: Meter) -> tuple[int, ...]:
    """Return the bars from rest to rest, each with its rest."""
    rests = [i for i, event in enumerate(music, 1) if isinstance(event, Rest)]
    return tuple(int(length(music[a:b]) / meter.bar) for a, b in pairwise((0, *rests)))


def _lines(bars: int) -> tuple[int, ...]:
    """Return four bars a line, a rest that would stand alone on the last one."""
    fours, left = divmod(bars, 4)
    return (*[4] * (fours - 1), 4 + left) if fours and left <= _RESTS else (*[4] * fours, *([left] if left else []))


def _study(request: FlowRequest, setting: Setting, compass: str, strains: tuple[Strain, ...], pace: int) -> Study:
    return Study(
        "flow",
        "Flow",
        ", ".join(
            filter(None, (_shape_words(request, setting, strains[-1]), _compass_told(request, compass, strains, setting)))
        ),
        FLOW_AIMS[request.shape],
        setting.horn.id,
        pace,
        strains,
        setting.limits,
        remarks=tuple(_remarks(request, setting, compass)),
        also=" ".join(filter(None, (_close_aim(request), _alike(setting.keys)))),
    )


def _shape_words(request: FlowRequest, setting: Setting, line: Strain) -> str:
    """Return what a title says of the shape; a child is told where the line goes."""
    if not setting.grade.child:
        return request.shape
    heights = [note.pitch.midi for note in line.notes]
    wave = _CHILD_WAVES[heights.index(max(heights)) < heights.index(min(heights))]
    return wave if request.shape == "wave" else _CHILD_SHAPES.get(request.shape, request.shape)


def _close_aim(request: FlowRequest) -> str:
    return "" if request.close != "tongued" else _SIGHS_AIM if request.shape == "lean" else _TONGUED_AIM


def _alike(keys: Sequence[Key]) -> str:
    """Return what to listen for in keys that sound alike; nothing where there are none."""
    pairs = [(key, other) for key, other in combinations(keys, 2) if _sounding(key) == _sounding(other) and key != other]
    told = [f"{tonic(key)} and {tonic(other)}" for key, other in pairs]
    return f"Make {', '.join(told)} sound the same." if told else ""


def _sounding(key: Key) -> tuple[int, str]:
    return key.degree(0).midi % 12, key.mode


def _compass_told(request: FlowRequest, compass: str, strains: Sequence[Strain], setting: Setting) -> str:
    """Return what a title says of the compass; a child is told how many notes it has, not what interval it is."""
    counted = not setting.grade.child or compass in _COUNTED
    return _compass_words(request, compass, strains) if counted else ""


def _compass_words(request: FlowRequest, compass: str, strains: Sequence[Strain]) -> str:
    """Return what a title says of the compass; a leaning note may lie over the octave, and a line may not come so far."""
    highest = max(note.pitch.place - strain.key.degree(0).place for strain in strains for note in strain.notes)
    if request.shape == "lean" and compass == "octave" and highest % 7 == LEANS[0]:
        return "past the octave"
    wide = max(_reach(strain) for strain in strains)
    return _NARROWER_WORDS.get(wide, _COMPASS_WORDS[compass]) if compass == "octave" else _COMPASS_WORDS[compass]


def _reach(strain: Strain) -> int:
    """Return how many steps lie between the lowest and the highest note of a strain."""
    lowest, highest = extremes(note.pitch for note in strain.notes)
    return highest.place - lowest.place


def _remarks(request: FlowRequest, setting: Setting, compass: str) -> Iterator[Remark]:
    """Yield what is said of a narrower compass than was asked for, the usual one gives way without a word; and of hard keys."""
    if request.compass not in ("", compass) and (request.compass, compass) not in _NO_NARROWER:
        was, now = _COMPASS_NAMES[request.compass], _COMPASS_NAMES[compass]
        yield Narrowed(was, now, setting.range, every=len(setting.keys) > 1)
    if told := list(dict.fromkeys(_plainer(key) for key in setting.keys if abs(key.fifths) >= MANY_SIGNS)):
        (key, plainer), *others = told
        is_played = setting.horn.said("is {fingered} as")
        yield Advice(f"{', '.join((f'{key} {is_played} {plainer}', *map(' as '.join, others)))}.")


def _plainer(key: Key) -> tuple[str, str]:
    """Return a key of many signs and the one that sounds like it; of two that have as many the flat one first."""
    other = next(one for one in all_keys(key.mode) if one.fifths == key.fifths + (-_ROUND if key.fifths > 0 else _ROUND))
    flat, sharp = sorted((key, other), key=lambda one: one.fifths)
    first, second = (flat, sharp) if abs(flat.fifths) == abs(sharp.fifths) else (key, other)
    return key_words(first.name), key_words(second.name)


def ordered(keys: tuple[Key, ...], order: str, seed: int) -> tuple[Key, ...]:
    """Return the keys as given, by half-steps down or up or by fourths from the first, or in a drawn order."""
    if order == "given" or not keys:
        return keys
    if order == "shuffled":
        return tuple(shuffled(keys, seed, "keys"))
    step = {"down": -1, "up": 1, "fourths": 5}[order]
    first = keys[0].degree(0).midi
    away = {(step * n) % 12: n for n in reversed(range(12))}
    return tuple(sorted(keys, key=lambda key: away[(key.degree(0).midi - first) % 12]))
