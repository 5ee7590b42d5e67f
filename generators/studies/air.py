"""Air: one middle note held softly, then small slurred turns around it that widen, about a minute in each key."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.algebra import inverted, length, notes, shifted, then
from generators.phrase.bars import COMMON
from generators.phrase.in_key import in_key
from generators.phrase.notation import degrees
from generators.phrase.note import Degree, Note, Phrase, Rest
from generators.phrase.remark import Narrowed
from generators.phrase.study import Limits, Strain, Study
from generators.studies.kit.fit import NoFit, centre, inside, leap, with_air
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.theory.key import Key, all_keys, parse_key
from generators.theory.pitch import Pitch, at_place, parse_pitch

# Its tempo, and the seconds of a day's shortest, whose two lines stay narrow: our choice.
_OWN_TEMPO, _SHORT = 60, 30
# The degrees on which a day's note is at rest, each with every turn as wide as its name, and the half-steps that turns take.
_HOMES, _SPANS = {"major": (0, 4), "minor": (0,)}, {"third": 4, "fourth": 5, "fifth": 7}
# The turns from narrow to wide; degree 1 is the middle note. The half-step turn is written with steps and narrowed afterwards.
AIR_TURNS = {
    "half-step": "1/2( 2/4 1 | 7,/4 1/2.)*",
    "step": "1/2( 2/4 1 | 7,/4 1/2.)*",
    "third": "1/4( 2/8 3 2/4 1 | 7,/8 6, 7,/4 1/2)*",
    "fourth": "1/4( 2/8 3 4/4 2 | 7,/8 6, 5, 7, 1/2)*",
    "fifth": "1/8( 2 3 5 4 3 2 1 | 6,/8 4, 5, 7, 1/2)*",
}
# The same way out and home on one side, the other side the next time.
_ARCS = {
    "half-step": "1/2( 2/2 | 1/1)*",
    "step": "1/2( 2/2 | 1/1)*",
    "third": "1/4( 2 3/2 | 2/4 1/2.)*",
    "fourth": "1/4( 2 3 4 | 3/4 2 1/2)*",
    "fifth": "1/4( 2/8 3 4/4 5 | 3/4 2 1/2)*",
}
AIR_SHAPES = {"turns": AIR_TURNS, "arcs": _ARCS}
# The turns of a beginner, in halves and quarters alone: the wider one on one side, then on the other; of the first notes one.
_FIRST_TURNS = {"step": AIR_TURNS["step"], "third": "1/4( 2 3 2 | 1/1)*"}
_FIRST, _SLOW = "first turns", "slow turns"
_SHAPES = {**AIR_SHAPES, _FIRST: _FIRST_TURNS, _SLOW: {"step": AIR_TURNS["step"]}}
# From the seventh of minor to its sixth and home, in some octaves; and the degrees that are raised there.
_AROUND, _MOVING = [[7 * octave - 1, 7 * octave - 2, 7 * octave - 1, 7 * octave] for octave in range(-3, 4)], (5, 6)
# The degrees of a minor key that are never raised.
_RESTING = range(5)
# What a beginner's page says of the turns.
_CHILD_WORDS = "a note and its neighbours"
_HOLD, _LAST = "[p]1/1*", "[pp]1/1:fe"
_AIM = "Listen for air before sound: each {turn}, however wide, leaves {note} and finds it without a push."


_DAY_AIMS = (
    "Listen for air before sound: each way out, however wide, comes home without a push.",
    "Listen for the note to be as still after every way out as it was before the first.",
    "Listen for the ways out to ride on the air of the long note, none with a push of its own.",
    "Listen for the softest beginning that speaks at once; after it nothing but the pitch changes.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AirRequest(Request):
    """An air study: its middle note, how wide the turns grow, and how long it lasts."""

    note: str = option("", "The middle note, such as G4; without it the chord note of the key nearest the middle of the range.")
    widest: str = option("fourth", "How far the last turn goes; less where the range asks.", allowed=tuple(AIR_TURNS))
    shape: str = option("turns", "Turns on both sides of the note, or arcs on one and the other.", allowed=tuple(AIR_SHAPES))
    seconds: int = option(60, "About how long it lasts in each key, 15 to 300 seconds.", span=(15, 300))


def air(request: AirRequest) -> Study:
    """Return the air study of a request: the same note in every line, the turns one width further each time."""
    setting = resolve(request, ("C",), _OWN_TEMPO, learner_keys=1)
    if request.note and not request.keys:
        setting = replace(setting, keys=(_home(parse_pitch(request.note), setting),))
    shape = _shape(request, setting)
    for widths in _widths(request, setting):
        middles = [_middle(request, key, (shape, widths), setting) for key in setting.keys]
        if None not in middles:
            return _study(request, setting, widths, [middle for middle in middles if middle is not None])
    where = f"between {setting.limits.low} and {setting.limits.high} in every key"
    raise NoFit(Refusal("air", None, f"finds no room for the smallest turn {where}"))


def _shape(request: AirRequest, setting: Setting) -> str:
    """Return the shape that was asked for; of turns those of a beginner."""
    if request.shape != "turns" or not setting.grade.beginner:
        return request.shape
    return _SLOW if setting.grade.slow else _FIRST


def _home(note: Pitch, setting: Setting) -> Key:
    """Return the key that lies plainest on the horn, of those the grade knows, that has a note."""
    limits = setting.limits
    keys = {setting.horn.key_at_home(key): (abs(key.fifths), key.mode != "major") for key in all_keys()}
    known = [key for key in keys if not limits.keys or key.name in limits.keys]
    homes = [key for key in known if key.alteration(note.step) == note.alter]
    if not homes:
        allowed = f"the notes of {', '.join(limits.keys)}"
        raise BadRequest(Refusal("note", note.name, "is in no key of the grade", allowed=allowed))
    return min(homes, key=lambda key: keys[key])


def _widths(request: AirRequest, setting: Setting) -> Iterator[tuple[str, ...]]:
    """Yield the widths from narrow to wide, up to the one asked for, then fewer; a beginner's are notes of the key."""
    narrow = "half-step" if setting.grade.chromatic or request.widest == "half-step" else "step"
    shortest = setting.limits.shortest
    shape = _SHAPES[_shape(request, setting)]
    names = [name for name, turn in shape.items() if min(note.length for note in notes(degrees(turn))) >= shortest]
    widths = names[names.index(narrow) :][: list(AIR_TURNS).index(request.widest) - names.index(narrow) + 1]
    yield from (tuple(widths[:end]) for end in range(len(widths), 0, -1))


def _middle(request: AirRequest, key: Key, shaped: tuple[str, tuple[str, ...]], setting: Setting) -> int | None:
    """Return the degree of the key that the turns go round: the note asked for, or the chord note nearest the middle."""
    wanted = parse_pitch(request.note) if request.note else None
    resting = [index for index in range(-21, 28) if index % 7 in (_RESTING if key.mode == "minor" else range(7))]
    found = [index for index in resting if _fits(index, key, shaped, setting)]
    if wanted is None:
        return min(found, key=lambda index: _far(index, key, setting.limits), default=None)
    if wanted not in [key.degree(index) for index in resting]:
        why = f"is no resting note of {key.pretty}"
        raise BadRequest(Refusal("note", wanted.name, why, do="choose another, or leave the keys out"))
    return next((index for index in found if key.degree(index) == wanted), None)


def _far(index: int, key: Key, limits: Limits) -> float:
    """Order degrees by how near they lie to the middle of the range, chord notes first, easily spelled ones before others."""
    doubles = any(abs(note.pitch.alter) > 1 for note in notes(_turn(("turns", "half-step"), index, key)))
    return abs(key.degree(index).midi - centre(limits)) + 4 * (index % 7 not in (0, 2, 4)) + 6 * doubles


def _fits(index: int, key: Key, shaped: tuple[str, tuple[str, ...]], setting: Setting) -> bool:
    shape, widths = shaped
    turns = (_turn((shape, width), index, key, mirrored) for width in reversed(widths) for mirrored in (False, True))
    return all(inside(turn, setting.limits) and leap(turn) <= setting.limits.leap for turn in turns)


@cache
def _turn(shaped: tuple[str, str], index: int, key: Key, mirrored: bool = False) -> Phrase[Pitch]:
    """Return the turn of a shape and width round a degree, begun downwards where it is mirrored."""
    shape, width = shaped
    sketch = degrees(_SHAPES[shape][width])
    line = in_key(_leading(shifted(inverted(sketch, 0) if mirrored else sketch, index), key), key, 4)
    return _narrowed(line) if width == "half-step" else line


def _leading(line: Phrase[Degree], key: Key) -> Phrase[Degree]:
    """Return a minor turn whose seventh and sixth, down from the tonic and up to it by step, are raised both ways."""
    steps = [note.pitch.index for note in notes(line)]
    if key.mode == "major" or not any(steps[i : i + 4] in _AROUND for i in range(len(steps))):
        return line
    return tuple(_raised_turn(event) if isinstance(event, Note) else event for event in line)


def _raised_turn(note: Note[Degree]) -> Note[Degree]:
    step = note.pitch.index % 7
    return replace(note, pitch=Degree(note.pitch.index, 1)) if step in _MOVING else note


def _narrowed(line: Phrase[Pitch]) -> Phrase[Pitch]:
    """Return a turn with its neighbours a half-step from the middle note, on the staff positions they have."""
    middle = notes(line)[0].pitch
    return tuple(replace(note, pitch=_neighbour(middle, note.pitch)) for note in notes(line))


def _neighbour(middle: Pitch, neighbour: Pitch) -> Pitch:
    side = neighbour.place - middle.place
    return at_place(neighbour.place, middle.midi + side) if side else middle


def _study(request: AirRequest, setting: Setting, widths: tuple[str, ...], middles: list[int]) -> Study:
    shape = _shape(request, setting)
    turns = [_turn((shape, widths[-1]), index, key) for index, key in zip(middles, setting.keys, strict=True)]
    _, pace = with_air(turns, setting)
    lines = spread_out(widths, max(1, round(request.seconds * pace / 60 / 16)))
    each = zip(middles, setting.keys, strict=True)
    strains = tuple(strain for place in each for strain in _strains(*place, (shape, lines), setting))
    note = strains[0].notes[0].pitch.pretty[:-1] if len(middles) == 1 else "its note"
    return Study(
        "air",
        "Air",
        _CHILD_WORDS if setting.grade.beginner else f"{request.shape} to the {widths[-1]}",
        _AIM.format(note=note, turn=request.shape.removesuffix("s")),
        setting.horn.id,
        pace,
        strains,
        setting.limits,
        remarks=tuple(_remarks(request, widths[-1], setting)),
    )


def _remarks(request: AirRequest, widest: str, setting: Setting) -> Iterator[Narrowed]:
    if widest != request.widest and not setting.grade.slow:
        yield Narrowed(f"a {request.widest}", f"a {widest}", setting.range)


def spread_out(widths: tuple[str, ...], count: int) -> list[str]:
    """Return so many widths, from the narrowest to the widest, as evenly as they go."""
    if count >= len(widths):
        return [widths[i * len(widths) // count] for i in range(count)]
    return [widths[i * (len(widths) - 1) // max(1, count - 1)] for i in range(count)]


def _strains(index: int, key: Key, shaped: tuple[str, list[str]], setting: Setting) -> Iterator[Strain]:
    """Yield the lines, a strain each: the note held, a turn, a bar of rest; the last ends on the note again.

    A beginner rests after that too, and is told which way he turns.
    """
    shape, widths = shaped
    held, last = (in_key(shifted(degrees(text), index), key, 4) for text in (_HOLD, _LAST))
    rest = (Rest(COMMON.bar),)
    ends = [*[rest] * (len(widths) - 1), then(last, rest) if setting.grade.beginner else last]
    for i, (width, end) in enumerate(zip(widths, ends, strict=True)):
        turn = _turn((shape, width), index, key, widths[:i].count(width) % 2 == 1)
        music = then(held, turn, end)
        label = setting.label(key, **({"part": _way(turn)} if setting.grade.beginner else {"detail": width}))
        yield Strain(label, key, music, COMMON, (int(length(music) / COMMON.bar),))


def _way(turn: Phrase[Pitch]) -> str:
    """Return which way a turn goes, in words for a child."""
    first, second, *_ = pitches = [note.pitch.midi for note in notes(turn)]
    return f"{'up' if second > first else 'down'} {'first' if min(pitches) < first < max(pitches) else 'and home'}"


def _air_part(where: Occasion) -> Iterator[Request]:
    """Yield one soft note and its turns or arcs, on another day in another register and key, of few signs."""
    widest, shape = where.turn(tuple(_SPANS), "air", 3), where.turn(tuple(AIR_SHAPES), "air shape")
    named = where.keys.majors if where.grade.child else where.turn((where.keys.majors, where.keys.all[::-1]), "air key", 2)
    keys = [name for name in named if abs(parse_key(name).fifths) <= where.few_signs] or named
    rests = ((name, note) for name in keys if not where.grade.slow and (note := _note(where, name, widest)))
    name, note = next(rests, (keys[0], ""))
    common: dict[str, Any] = where.calm | {"keys": (name,), "note": note}
    yield AirRequest(**common, seconds=_SHORT, widest=next(iter(_SPANS)), shape=shape)
    for seconds in (45, 60, 90):
        yield AirRequest(**common, seconds=seconds, widest=widest, shape=shape)


def _note(where: Occasion, name: str, widest: str) -> str:
    """Return the tonic or fifth of a key that a day's turns go round, now lower, now higher; nothing where none has room."""
    key, span = parse_key(name), _SPANS[widest]
    low, high = where.low.midi + span, parse_pitch(where.calm["high"]).midi - span
    every = (key.degree(degree, octave) for octave in range(1, 7) for degree in _HOMES[key.mode])
    room = sorted(pitch for pitch in every if low <= pitch.midi <= high)
    return where.turn(room, "air register").name if room else ""


KIND = Kind(
    name="air",
    place=10,
    request=AirRequest,
    make=air,
    summary="One soft middle note, and small slurred turns around it that widen.",
    example=AirRequest(note="G4", widest="fifth", seconds=90),
    aim=_AIM.format(note="its note", turn="turn"),
    child_aim=("Listen: is your note as smooth as your breath on a cold window?{doo}", ""),
    lacking="no note with neighbours on both sides",
    areas=("air",),
    warms=True,
    parts=(
        DayPart(
            "air", 10, _air_part, weight=3, rank=3, most_lines=4, areas=("air",), repeatable=False, easy=True, aims=_DAY_AIMS
        ),
    ),
)
