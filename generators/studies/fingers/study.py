"""Fingers: small quick cells, each slurred four times, rested after, played twice more, held; then the next one, a step up.

In every part the rhythm of the last slurred ones and the articulation after them take turns, in the same order.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import chain
from typing import Any

from generators.brass.speed import FINGER_SPEED
from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.algebra import length, on, slurred, then, times
from generators.phrase.bars import COMMON
from generators.phrase.label import Label
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.remark import Advice, Fewer, Remark
from generators.phrase.study import Strain, Study
from generators.studies.fingers.cells import (
    FINGER_SHAPES,
    FingerCell,
    change,
    changing,
    chromatic_cell,
    crosses,
    diatonic_cell,
    stand_ins,
    unmoved,
    valves_moved,
)
from generators.studies.fingers.playing import FINGER_PAIRS, FINGER_SETS, Turn, cell_line, cell_notes
from generators.studies.kit.climb import RHYTHMS
from generators.studies.kit.fit import NoFit, centre, inside, leap, with_air
from generators.studies.kit.had import study_had
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.studies.kit.setting import Setting, resolve
from generators.theory.key import Key, parse_key
from generators.theory.pitch import Pitch, simple

# Tempi from where to where, in steps of a metronome: our choice.
_OWN_TEMPO, _GOAL, _RISE = 80, 112, 4
_TICK = "Tick a tempo when every line was clean twice; rest as long as you need."
# The bars of a note that only its valves change, held; what is tongued then has a line of its own.
_HELD_BARS = 2
_QUICKEST = Fraction(1, 16)
_QUARTER = Fraction(1, 4)
_CELLS = ("both", "diatonic", "chromatic")
# Where a day's cells are parted into low and high ones, in treble clef, and the half-steps that low ones need.
_SPLIT, _ROOM = Pitch("B", -1, 4), 9
# The cells of a day in each key and kind.
_DAY_COUNTS = (1, 2, 3, 4)
# How much farther down high cells go, to where two fingers work in every key.
_UNDER = 3
# How far cells of a grown player lie below and above the middle of the staff, and how far high ones below it: our choice. Lower
# would go on where low notes end, higher would be work for the lips.
_BELOW, _ABOVE, _UPPER = 10, 4, 6
# How many half-steps nearer cells would have to lie in which fewer than two fingers work, and for each note that is reached
# with no finger moved: our choice.
_ONE_FINGER, _UNMOVED, _TWO = 24, 12, 2
_AIM = "Listen for the {clicks} in time; quick {hand}, slow air; stop before the hand cramps."
_DAY_AIMS = (
    _AIM,
    "Listen for even notes, none hurried; quick {hand}, slow air; stop before the hand cramps.",
    "Listen for one steady air, one long note; light {hand}, no grip; stop before the hand cramps.",
    "Listen for the last cell of a line to be as even as the first; stop before the hand cramps.",
)
_TOGETHER = "all"
_STANDS_IN = "stands in for the usual fingering: hear how it changes pitch and colour."
_STAND_IN = "stand in for the usual fingerings: hear how they change pitch and colour."
_GENERAL_AIM = "Listen for every change to come in time with the notes; slow air, and stop before the hand cramps."
_STILL = "Tied notes: one air, the {parts} alone change."
# What shapes are called of which there are several, where they take no s alone.
_SHAPES = {"reach": "reaches"}
_WHATS = {
    "turn": "The lower neighbour is as clear as the upper.",
    "gap": "The skip is as light as the step.",
    "trill": "Two notes are as even as a ticking clock.",
    "round": "The highest of the four is no heavier than the others.",
    "rock": "The skip is as even as a trill.",
    "reach": "The lowest note stays while the others go by turns.",
    "weave": "Two skips make one line.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FingersRequest(Request):
    """A finger study: what its cells are made of, their shape, and how many of them."""

    cells: str = option("both", "Cells of scale steps, of half-steps, or of each in turn.", allowed=_CELLS)
    shape: str = option("turn", "The shape of a cell.", allowed=tuple(FINGER_SHAPES))
    changes: tuple[str, ...] = option((), 'Cells over these changes of valves instead, such as "1-2>3,2>2-3".')
    count: int = option(3, "How many cells in each key and kind, or over each change.", span=(1, 8))
    rhythm: str = option("", "The note value; without it the quickest that the grade knows.", allowed=("eighths", "sixteenths"))


def fingers(request: FingersRequest) -> Study:
    """Return the finger study of a request: fewer cells where the range is small, none outside it."""
    setting = resolve(request, ("C",), _OWN_TEMPO, learner_keys=2)
    unit = _unit(request, setting)
    setting = setting.capped(min(setting.limits.speed, FINGER_SPEED) * 240 * unit, "tongued cells in these values")
    parts = list(_over_changes(request, setting) if request.changes else _in_keys(request, setting))
    every = [cell for _, cells in parts for cell in cells]
    lines = [cell_line(cell, unit, _turn(i, unit, setting)) for _, cells in parts for i, cell in enumerate(cells)]
    music, pace = with_air(lines, setting)
    ladder = () if setting.tempo_asked or setting.grade.child else _ladder(pace, setting)
    together = _together(every, unit, pace, setting) if request.changes else ()
    return Study(
        "fingers",
        setting.horn.said("{Hand}"),
        _what(request, setting),
        setting.horn.said(_AIM),
        setting.horn.id,
        pace,
        (*_strains(parts, iter(music), leads_home=not request.changes), *together),
        setting.limits,
        goal=max(ladder, default=0),
        remarks=(*((Advice(_TICK),) if ladder else ()), *_remarks(request, parts, setting)),
        ladder=ladder,
        also=" ".join(_also(request, every, setting)),
    )


def _ladder(pace: int, setting: Setting) -> tuple[int, ...]:
    """Return the tempi to tick off from a pace to where the fingers go; none where there is no room."""
    tempi = tuple(range(pace, min(_GOAL, setting.limits.tempo) + 1, _RISE))
    return tempi if len(tempi) > 1 else ()


def _also(request: FingersRequest, cells: Sequence[FingerCell], setting: Setting) -> Iterator[str]:
    yield setting.horn.said("{moving}" if request.changes else _WHATS[request.shape])
    if any(cell.still for cell in cells):
        yield setting.horn.said(_STILL)
    if request.changes and (crossing := list(dict.fromkeys(_told(cell) for cell in cells if crosses(cell, setting.horn)))):
        yield f"{' and '.join(crossing)}: the lips move to another partial too."


def _told(cell: FingerCell) -> str:
    """Return the two notes of a cell in words, in whatever octave."""
    first, second = (pitch.pretty.rstrip("0123456789") for pitch in cell.pitches[:2])
    return f"{first} to {second}"


def _what(request: FingersRequest, setting: Setting) -> str:
    if request.changes:
        return ", ".join(" to ".join(change(text, setting.horn)) for text in _by_motion(request, setting))
    kinds = " and ".join(_moving(request.shape, kind) for kind in _kinds(request, setting))
    return f"{_SHAPES.get(request.shape, f'{request.shape}s')} {kinds}"


def _moving(shape: str, kind: str) -> str:
    """Return what a title says of how the notes of a cell lie: what rocks in a key does so in thirds."""
    return "in thirds" if (shape, kind) == ("rock", "diatonic") else f"by {_word(kind)}"


_Part = tuple[Label, Sequence[FingerCell]]


def _unit(request: FingersRequest, setting: Setting) -> Fraction:
    """Return the note value; one too quick for the grade is refused."""
    name = request.rhythm or ("sixteenths" if setting.limits.shortest <= Fraction(1, 16) else "eighths")
    if RHYTHMS[name].shortest < setting.limits.shortest:
        raise BadRequest(Refusal("rhythm", name, "is too quick for the grade", allowed=("eighths",)))
    return RHYTHMS[name].unit


def _plain(setting: Setting) -> bool:
    return not setting.grade.chromatic


def _in_keys(request: FingersRequest, setting: Setting) -> Iterator[_Part]:
    """Yield label and cells of every key and kind."""
    if request.cells == "chromatic" and _plain(setting):
        why = f"is not for grade {request.grade}"
        raise BadRequest(Refusal("cells", request.cells, why, would_do=(("cells", ("diatonic",)),)))
    for key in setting.keys:
        begun: int | None = None
        for kind in _kinds(request, setting):
            cells = _climb(request, kind, key, setting, begun)
            begun = cells[0].pitches[0].midi
            start = Label(name="from", note=cells[0].pitches[0], detail=_word(kind))
            yield setting.label(key, detail=_word(kind)) if kind == "diatonic" else start, cells


def _kinds(request: FingersRequest, setting: Setting) -> tuple[str, ...]:
    if request.cells != "both":
        return (request.cells,)
    return ("diatonic",) if _plain(setting) else ("diatonic", "chromatic")


def _word(kind: str) -> str:
    return {"diatonic": "steps", "chromatic": "half-steps"}[kind]


def _climb(request: FingersRequest, kind: str, key: Key, setting: Setting, begun: int | None) -> Sequence[FingerCell]:
    """Return the cells that climb by step: from the MIDI number that others began on, or the tonic most in the middle.

    They are fewer where there is no room.
    """
    for count in range(request.count, 0, -1):
        runs = [run for run in _runs(request.shape, kind, key, count) if all(_fits(cell, setting) for cell in run)]
        if runs:
            level = [run for run in runs if run[0].pitches[0].midi == begun] or runs
            return min(level, key=lambda run: _off(run, key, setting))
    where = f"between {setting.limits.low} and {setting.limits.high} in {key.pretty}"
    raise NoFit(Refusal("fingers", None, f"finds no room for a cell {where}"))


def _runs(shape: str, kind: str, key: Key, count: int) -> Iterator[Sequence[FingerCell]]:
    for start in range(-21, 21):
        if kind == "diatonic":
            yield [diatonic_cell(shape, key, start + i) for i in range(count)]
        else:
            yield [chromatic_cell(shape, key, key.degree(start).midi + i) for i in range(count)]


def _off(run: Sequence[FingerCell], key: Key, setting: Setting) -> float:
    """Return how far a run is from comfort: from the middle of the range, its tonic, and work for two fingers or more."""
    middle = sum(pitch.midi for cell in run for pitch in cell.pitches) / (4 * len(run))
    far = abs(middle - centre(setting.limits)) + 7 * (run[0].pitches[0].step != key.step)
    still = sum(unmoved((*cell.pitches, cell.pitches[0]), setting.horn) for cell in run)
    return (
        far
        + _UNMOVED * still
        + _ONE_FINGER * (len(valves_moved([pitch for cell in run for pitch in cell.pitches], setting.horn)) < _TWO)
    )


def _fits(cell: FingerCell, setting: Setting) -> bool:
    phrase = cell_notes(cell, (_QUICKEST,) * len(cell.pitches))
    return inside(phrase, setting.limits) and leap(times(phrase, 2)) <= setting.limits.leap


def _over_changes(request: FingersRequest, setting: Setting) -> Iterator[_Part]:
    """Yield label and cells of every change asked for, from low to high; the change that moves least comes first."""
    for i, text in enumerate(_by_motion(request, setting)):
        first, second = change(text, setting.horn)
        start = i % len(setting.keys)
        keys = setting.keys[start:] + setting.keys[:start]
        found = next((cells for key in keys if (cells := list(_changing(first, second, key, setting)))), [])
        if not found:
            where = f"between {setting.limits.low} and {setting.limits.high}"
            raise NoFit(Refusal("changes", text, f"is played by no two notes {where} within reach of each other"))
        yield Label(name=f"{first} to {second}"), sorted(found[: request.count], key=lambda cell: cell.pitches[0].midi)


def _by_motion(request: FingersRequest, setting: Setting) -> list[str]:
    """Return the changes asked for by how many valves move, as they were asked for where as many do."""
    changes = {text: map(_held, change(text, setting.horn)) for text in dict.fromkeys(request.changes)}
    moved = {text: len(next(held) ^ next(held)) for text, held in changes.items()}
    return sorted(moved, key=moved.__getitem__)


def _held(valves: str) -> frozenset[str]:
    return frozenset(valves.split("-")) - {"0"}


def _changing(first: str, second: str, key: Key, setting: Setting) -> Iterator[FingerCell]:
    cells = changing(first, second, setting.horn, setting.limits, key, _plain(setting))
    yield from (cell for cell in cells if _fits(cell, setting))


def _turn(place: int, unit: Fraction, setting: Setting) -> Turn:
    """Return how the cell at a place in its part is played, of what the grade knows; eighths stay even."""
    rhythms = FINGER_PAIRS if unit == _QUICKEST else FINGER_PAIRS[:1]
    sets = [name for name in FINGER_SETS if not setting.grade.sets or name in setting.grade.sets]
    return Turn(rhythms[place % len(rhythms)], sets[place % len(sets)])


def _strains(parts: Sequence[_Part], music: Iterator[Phrase[Pitch]], *, leads_home: bool) -> Iterator[Strain]:
    """Yield one strain a part, one line a cell with a bar of rest; the last is led home before that."""
    for label, cells in parts:
        lines = [then(next(music), (Rest(COMMON.bar),)) for _ in cells]
        if len(cells) > 1 and leads_home:
            lines[-1] = _home(lines[-1], [cell.pitches[0] for cell in cells])
        whole = on(then(*lines), 0, dynamic="mp")
        widths = (width for cell, phrase in zip(cells, lines, strict=True) for width in _widths(cell, phrase))
        yield Strain(label, cells[0].key, whole, COMMON, tuple(widths))


def _together(cells: Sequence[FingerCell], unit: Fraction, pace: int, setting: Setting) -> tuple[Strain, ...]:
    """Return the goal of changes: all their cells once, tongued, from low to high and louder, to a long note.

    None where there is one cell alone, or where they lie too far apart or outlast a breath.
    """
    climbed = sorted(dict.fromkeys(cells), key=lambda cell: cell.pitches[0].midi)
    run = then(*(cell_notes(replace(cell, valves=cell.begun or cell.valves), (unit,) * 4) for cell in climbed))
    room = COMMON.bar - length(run) % COMMON.bar
    hold = room if room >= COMMON.strong else room + COMMON.strong
    line = then(run, (Note(climbed[-1].pitches[0], hold, valves=climbed[-1].valves[0], breath=True),))
    if len(climbed) == 1 or leap(line) > setting.limits.leap or length(line) * 240 > Fraction(setting.limits.breath) * pace:
        return ()
    rest = -length(line) % COMMON.bar + COMMON.bar
    music = then(on(on(line, 0, dynamic="mp", hairpin="<"), len(run), dynamic="f"), (Rest(rest),))
    return (Strain(Label(name=_TOGETHER, detail="tongued"), climbed[0].key, music, COMMON, (int(length(music) / COMMON.bar),)),)


def _widths(cell: FingerCell, line: Phrase[Pitch]) -> tuple[int, ...]:
    """Return the bars on the printed lines of a cell: one line, but of one note what is tongued on a second."""
    count = int(length(line) / COMMON.bar)
    return (_HELD_BARS, count - _HELD_BARS) if cell.still else (count,)


def _home(line: Phrase[Pitch], firsts: Sequence[Pitch]) -> Phrase[Pitch]:
    """Return the last line of a part, led back down its cells to the first note of all before its bar of rest."""
    *music, rest = line
    way = list(firsts[-2::-1])
    # In quarters to a longer note; a way that would end on a quarter leaves out its first step.
    way = way[1:] if len(way) % 4 == 0 else way
    quarters = [Note(pitch, _QUARTER) for pitch in way[:-1]]
    home = Note(way[-1], COMMON.bar - len(quarters) * _QUARTER % COMMON.bar, breath=True)
    return (*music, *slurred((*quarters, home)), rest)


def _remarks(request: FingersRequest, parts: Sequence[_Part], setting: Setting) -> Iterator[Remark]:
    """Yield which sets stand in for the usual ones, or where there are fewer cells than were asked for."""
    if request.changes:
        every = (cell for _, cells in parts for cell in cells)
        yield from _replacing(tuple(dict.fromkeys(valves for cell in every for valves in stand_ins(cell, setting.horn))))
        return
    for label, cells in parts:
        if len(cells) < request.count:
            yield Fewer("cells", len(cells), request.count, within=setting.range, of=label)


def _replacing(valves: Sequence[str]) -> Iterator[Remark]:
    if len(valves) == 1:
        yield Advice(f"{valves[0]} {_STANDS_IN}")
    elif valves:
        yield Advice(f"{', '.join(valves[:-1])} and {valves[-1]} {_STAND_IN}")


def _fingers_part(where: Occasion) -> Iterator[Request]:
    """Yield cells on the tonic of one of the day's keys, by half-steps where the grade has them, in registers by turns.

    From each note to the next a finger moves: where none do in steps, they go by half-steps.
    """
    cells = where.turn(("diatonic", "chromatic", "both"), "cells") if where.grade.chromatic else "diatonic"
    cells = "diatonic" if _is_light(where) and cells == "both" else cells
    moving = _roomiest(_moving_ones(_at_home(cells, where), where))
    if not moving and where.grade.chromatic and cells != "chromatic":
        moving = _roomiest(_moving_ones(_at_home("chromatic", where), where))
    yield from moving or _roomiest(_at_home(cells, where)) or _every(cells, where)[0]


def _is_light(where: Occasion) -> bool:
    return where.kind == "light" and not where.grade.slow


def _every(cells: str, where: Occasion) -> list[list[FingersRequest]]:
    """Return what may be asked for with such cells: for each key and register all doses."""
    shape = where.turn(tuple(FINGER_SHAPES), "finger shape")
    counts = [count for count in _DAY_COUNTS if not _is_light(where) or count <= _TWO]
    keys = _next(where.keys.majors, 1)[: _keys(where)]
    asked = (FingersRequest(**where.common, keys=(key,), cells=cells, shape=shape) for key in keys)
    return [[replace(one, count=count) for count in counts] for each in asked for one in _registers(each, where)]


def _at_home(cells: str, where: Occasion) -> Iterator[list[FingersRequest]]:
    """Yield the ways of which two doses or more begin on the tonic, with these."""
    found = ([one for one in some if _on_the_tonic(one)] for some in _every(cells, where))
    return (some for some in found if len(some) >= _TWO)


def _moving_ones(ways: Iterable[list[FingersRequest]], where: Occasion) -> Iterator[list[FingersRequest]]:
    """Yield the ways of which two doses or more move a finger from note to note, with these."""
    found = ([one for one in some if _moves(one, where)] for some in ways)
    return (some for some in found if len(some) >= _TWO)


def _roomiest(ways: Iterator[list[FingersRequest]]) -> list[FingersRequest]:
    """Return the first way that has more than two doses; the first where none has, nothing where there is no way."""
    first = next(ways, [])
    return next((found for found in chain([first], ways) if len(found) > _TWO), first)


def _keys(where: Occasion) -> int:
    """Return how many of a day's keys are tried for cells on their tonic: all of a grown player, whose cells lie close."""
    return len(where.keys.majors) if where.grade.octaves == "wide" else 1


def _next(keys: tuple[str, ...], later: int) -> tuple[str, ...]:
    """Return keys from a later one on and round."""
    return keys[later % len(keys) :] + keys[: later % len(keys)]


def _registers(asked: FingersRequest, where: Occasion) -> Iterator[FingersRequest]:
    """Yield cells in the registers of a day, the one in turn first; a grown player's lie within the staff, nowhere else.

    Others have all, or half of the staff, where it has room.
    """
    split, over = where.horn.at_home(_SPLIT), where.horn.clef.over
    every: tuple[dict[str, str], ...]
    if where.grade.octaves == "wide" and where.low.midi <= split.midi - _BELOW and split.midi + _ABOVE <= where.high.midi:
        bounds = ((_BELOW, _ABOVE), (_UPPER, _ABOVE), (_BELOW, 0))
        every = tuple(_around(split.midi, below, above) for below, above in bounds)
    else:
        upper, lower = where.high.midi >= over.midi, split.midi - where.low.midi >= _ROOM
        high = _around(split.midi, _UNDER, over.midi - split.midi)
        every = ({}, *((high,) if upper else ()), *(({"high": split.name},) if lower else ()))
    begun = where.drift(range(len(every)), "finger register", len(every))
    yield from (replace(asked, **dict[str, Any](limits)) for limits in (*every[begun:], *every[:begun]))


def _around(middle: int, below: int, above: int) -> dict[str, str]:
    """Return the limits of cells so many half-steps on either side of the middle."""
    return {"low": simple(middle - below, sharp=False).name, "high": simple(middle + above, sharp=False).name}


def _on_the_tonic(asked: FingersRequest) -> bool:
    """Tell whether every part of a study begins on the tonic, and has all its cells."""
    made = study_had(fingers, asked)
    if made is None:
        return False
    tonic = parse_key(asked.keys[0])
    whole = not any(isinstance(told, Fewer) for told in made.remarks)
    return whole and all(strain.notes[0].pitch.midi % 12 == tonic.degree(0).midi % 12 for strain in made.strains)


def _moves(asked: FingersRequest, where: Occasion) -> bool:
    """Tell whether a finger or the slide moves from each quick note of a study to the next."""
    made = study_had(fingers, asked)
    quick = ([note.pitch for note in strain.notes if note.length < _QUARTER] for strain in made.strains) if made else ()
    return not any(unmoved(pitches, where.horn) for pitches in quick)


KIND = Kind(
    name="fingers",
    place=70,
    request=FingersRequest,
    make=fingers,
    summary="Small quick cells, slurred, then tongued, or over asked changes of valves.",
    example=FingersRequest(changes=("1-2>3", "2>2-3"), keys=("D",)),
    aim=_GENERAL_AIM,
    child_aim=("Listen: do your {hand} and your notes come at the very same time?", ""),
    several="finger studies",
    lacking="no two notes to change between",
    areas=("fingers",),
    parts=(
        DayPart("fingers", 70, _fingers_part, weight=4, rank=7, most_lines=4, areas=("fingers",), easy=True, aims=_DAY_AIMS),
    ),
)
