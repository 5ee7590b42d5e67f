"""What each part of a day asks of the studies: requests from short to long, other ones every day."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice
from typing import Any

from generators.brass.speed import MULTIPLE_SHARE
from generators.errors import BadRequest
from generators.routine.context import Context
from generators.studies.air import AirRequest
from generators.studies.arpeggios import ArpeggiosRequest
from generators.studies.bends import BendsRequest
from generators.studies.buzz.study import BuzzRequest
from generators.studies.catalogue import make
from generators.studies.dynamics import DynamicsRequest
from generators.studies.entrances import EntrancesRequest
from generators.studies.fingers.study import FingersRequest
from generators.studies.flow.lines import LINES
from generators.studies.flow.study import FlowRequest
from generators.studies.intervals import IntervalsRequest
from generators.studies.kit.request import Request
from generators.studies.kit.setting import home_keys
from generators.studies.low import LowRequest
from generators.studies.scales import ScalesRequest
from generators.studies.slurs.study import SlursRequest
from generators.studies.tonguing.study import TonguingRequest
from generators.theory.key import all_keys
from generators.theory.pitch import Pitch, simple

PATHS = ("neighbours", "rocking", "quicken-and-widen", "there-and-back", "anchor", "falling", "over-and-back")
THREES = ("slur-two-tongue-one", "tongue-one-slur-two", "tongued", "slurred")
FOURS = ("slur-two-tongue-two", "tongued", "slurred-pairs", "slur-three-tongue-one", "tongue-one-slur-three", "slurred")
# The note values of a day's lip slurs where the grade has none of its own.
SLUR_VALUES = (4, 8)
# Tonics of the low study, on days by turns, in treble clef.
LOW_TONICS = (("C", "Bb", "Ab", "F#"), ("B", "A", "G", "F"))


def air(where: Context) -> Iterator[Request]:
    """Yield one middle note and its turns."""
    for seconds in (30, 45, 60, 90):
        yield AirRequest(
            **where.common, keys=where.keys.majors[:1], seconds=seconds, widest=where.turn(("third", "fourth", "fifth"), "air")
        )


def buzz(where: Context) -> Iterator[Request]:
    """Yield the mouthpiece alone, never over a minute."""
    for seconds in (10, 20, 30, 45, 60):
        yield BuzzRequest(**where.common, seconds=seconds, shapes=(where.turn(("siren", "wave", "steps"), "buzz"),))


def bends(where: Context) -> Iterator[Request]:
    """Yield a few bent notes."""
    for count in (1, 2, 3, 4):
        yield BendsRequest(**where.common, count=count)


def flow(where: Context) -> Iterator[Request]:
    """Yield narrow flow lines in the day's majors, weak keys in front."""
    shape = where.turn(tuple(LINES), "shape")
    for count in (1, 2, 3, 4):
        yield FlowRequest(**where.common, keys=_weak_first(where)[:count], shape=shape, compass="third", tag="none")


def wide_flow(where: Context) -> Iterator[Request]:
    """Yield wide flow lines, another shape than the narrow ones."""
    shape = where.turn((*tuple(LINES)[2:], *tuple(LINES)[:2]), "shape")
    for count in (1, 2, 3, 4):
        yield FlowRequest(**where.common, keys=where.keys.majors[:count], shape=shape, compass="octave", tag="slur")


def _weak_first(where: Context) -> tuple[str, ...]:
    weak = tuple(key for key in where.keys.weak if not key.endswith("m"))
    return tuple(dict.fromkeys((*weak, *where.keys.majors)))[:4]


def low(where: Context) -> Iterator[Request]:
    """Yield descents by whole steps, one day from the even tonics, the next from the odd ones."""
    known = tuple(key for key in where.grade.keys if not key.endswith("m"))[:3]
    keys = known or home_keys(where.turn(LOW_TONICS, "low"), where.horn)
    for count in (1, 2, 3, 4):
        yield LowRequest(**(where.common | {"low": _floor(where)}), keys=keys[:count])


def _floor(where: Context) -> str:
    """Return the lowest note of the low study: the bottom of the tubes, or of the learner's grade."""
    own = where.profile.low or not where.grade.comfort
    return where.low.name if own else max(where.horn.low, where.horn.lowest).name


def fingers(where: Context) -> Iterator[Request]:
    """Yield cells in one or two of the day's keys."""
    for count in (1, 2, 3, 4):
        yield FingersRequest(
            **where.common,
            keys=where.keys.majors[1:2] or where.keys.majors[:1],
            cells=where.turn(("diatonic", "chromatic", "both"), "cells"),
            count=count,
        )


def scales(where: Context) -> Iterator[Request]:
    """Yield scales in the day's four majors, pattern and articulation in turn; a bare returning scale where time is short."""
    patterns = ("straight", "thirds", "returning", "fours", "turns", "fourths", "threes")
    pattern = where.turn(patterns if where.grade.threes else patterns[:-1], "scale pattern")
    rows = [(pattern, _articulation(where, pattern)), ("returning", _articulation(where, "returning"))]
    for shape, row in dict.fromkeys(rows):
        yield ScalesRequest(**where.common, keys=where.keys.majors, pattern=shape, articulation=row, octaves="1")


def arpeggios(where: Context) -> Iterator[Request]:
    """Yield arpeggios in the day's minors and two of its majors."""
    keys = (*where.keys.minors, *where.keys.majors)[:4]
    patterns = ("straight", "returning", "rolling", "crossed", "broken")
    chosen = where.turn(patterns if where.grade.threes else patterns[:-1], "chords")
    for pattern in dict.fromkeys((chosen, "straight")):
        yield ArpeggiosRequest(
            **where.common,
            keys=keys,
            pattern=pattern,
            articulation=_articulation(where, pattern),
            octaves=where.turn(("1", "wide"), "octaves"),
        )


def _articulation(where: Context, pattern: str) -> str:
    """Return the articulation set of the day: one of the player's own, or the next in turn that goes into the pattern."""
    rows = THREES if pattern in ("threes", "broken") else FOURS
    own = tuple(name for name in where.profile.articulations if name in rows)
    simple = where.grade.sets if where.grade.sets and rows is FOURS else rows
    return where.turn(own or simple, "articulation")


def intervals(where: Context) -> Iterator[Request]:
    """Yield leaps from a fixed note, slurred or tongued, in one key."""
    direction = where.turn(("up", "down", "both"), "direction")
    for widest in ("third", "fifth", "octave"):
        yield IntervalsRequest(
            **where.common,
            keys=where.keys.majors[2:3] or where.keys.majors[:1],
            direction=direction,
            widest=widest,
            articulation=where.turn(("slurred", "tongued"), "leaps"),
        )


def slurs(where: Context) -> Iterator[Request]:
    """Yield a path down two to seven tubes."""
    path = where.turn(PATHS, "path")
    tubes = tuple(where.horn.tubes[lowers] for lowers in where.grade.day_tubes)
    values = where.grade.slur_values or SLUR_VALUES
    for count in (2, 3, 4, 5, 7):
        yield SlursRequest(**where.common, path=path, tubes=tubes[:count], values=values)


def dynamics(where: Context) -> Iterator[Request]:
    """Yield long tones in one or all registers; a light day stays below forte."""
    loud = "mf" if where.kind == "light" else ""
    shape = where.turn(("swell", "sudden"), "dynamics")
    for registers in (("middle",), ("low", "middle"), ("low", "middle", "high")):
        yield DynamicsRequest(**where.common, keys=where.keys.majors[:1], shapes=(shape,), registers=registers, loud=loud)


def entrances(where: Context) -> Iterator[Request]:
    """Yield a few cold entrances after short rests."""
    for count in (2, 3, 4, 5, 6):
        yield EntrancesRequest(**where.common, keys=where.keys.majors[:1], count=count, rests="2-4")


def tonguing(where: Context) -> Iterator[Request]:
    """Yield single tonguing, k alone every third day from a grade that knows it."""
    kinds = ("single", "single", "k") if where.grade.tongues_with("k") else ("single",)
    kind = where.turn(kinds, "tongue")
    for registers in (("middle",), ("low", "middle"), ("low", "middle", "high")):
        yield TonguingRequest(
            **where.common, keys=where.keys.majors[-1:], kind=kind, patterns=("one-note",), registers=registers
        )


def multiple(where: Context) -> Iterator[Request]:
    """Yield double and triple tonguing in their orders, another every day."""
    kind = where.turn(("double", "triple-ttk", "double-reversed", "triple-tkt", "triple-ktt"), "multiple")
    for registers in (("middle",), ("low", "middle"), ("middle", "high")):
        yield TonguingRequest(
            **_doubling(where), keys=where.keys.majors[:1], kind=kind, patterns=("one-note",), registers=registers
        )


def _doubling(where: Context) -> dict[str, Any]:
    """Return the common fields, the tongue the one that goes with the player's own speed of double tonguing."""
    own = where.profile.multiple
    return where.common | ({"tongue": max(40, min(160, round(own / MULTIPLE_SHARE)))} if own else {})


def stretch(where: Context) -> Iterator[Request]:
    """Yield one slurred chord up to the stretch note and down again: once, late, briefly; quicker for a short breath."""
    top = where.stretch
    tonic = min((key for key in all_keys("major") if key.degree(0).midi % 12 == top.midi % 12), key=lambda key: abs(key.fifths))
    floor = simple(top.midi - 12, sharp=False)
    limits = where.common | {"low": floor.name, "high": top.name, "grade": "", "keys": (tonic.name,)}
    chord = ArpeggiosRequest(**limits, pattern="returning", articulation="slurred", octaves="1", kind="major")
    tempi = (chord, *(replace(chord, tempo=tempo) for tempo in (96, 120, 144)))
    yield from islice((request for request in tempi if _reaches(request, top)), 1)


def _reaches(request: Request, top: Pitch) -> bool:
    try:
        return any(note.pitch.midi == top.midi for note in make(request).notes)
    except BadRequest:
        return False


def warm_down(where: Context) -> Iterator[Request]:
    """Yield one slow, soft, narrow line."""
    slow = where.common | {"tempo": where.grade.warm_down or None}
    for compass in ("third", "fifth"):
        yield FlowRequest(**slow, keys=where.keys.majors[-1:], shape="dip", compass=compass, tag="none")
