"""Scales: as many octaves as the day allows, from the lowest tonic up, by a pattern, a rhythm and an articulation set."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Any

from generators.brass.grade import grade
from generators.fields import option
from generators.phrase.algebra import length, on
from generators.phrase.articulation import SETS, articulation
from generators.phrase.bars import COMMON
from generators.phrase.in_key import in_key
from generators.phrase.notation import degrees
from generators.phrase.study import Strain, Study
from generators.studies.kit.climb import Pattern
from generators.studies.kit.climb_task import (
    below_the_top,
    day_articulation,
    day_rhythm,
    gradual,
    octaves_option,
    own_articulation,
    paced,
    rhythm_option,
    slowed,
    suited,
    task,
    to_the_bottom,
)
from generators.studies.kit.climbing import climbing_study
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import FASTEST, Request
from generators.studies.kit.rungs import Rungs, scale
from generators.studies.kit.setting import Setting, graded, resolve
from generators.theory.key import Key
from generators.theory.scales import SCALES

_OWN_KEYS = ("C", "F", "Bb", "Eb")
# The part of his speed at which a player is easy: our choice.
_EASY = 0.7
# What the scales of a day are, and the patterns of each, which come round in turn: our choice.
_MAJOR, _MINOR, _CHROMATIC = "major", "minor", "chromatic"
_DAY_PATTERNS = {
    _MAJOR: ("straight", "thirds", "returning", "fours", "turns", "fourths", "threes"),
    _MINOR: ("thirds", "straight", "fours", "returning", "threes"),
    _CHROMATIC: ("straight", "threes", "returning"),
}
_QUICK = "sixteenths"
# How a beginner meets the notes under his home note, by how many there are, one after another: our choice.
_DOWN = {
    1: "1/2 7,/2 | 1/1* | r/1",
    2: "1/2 7, | 6,/2.* r/4 | 6,/2 7, | 1/1* | r/1",
    3: "1/2 7, | 6,/2.* r/4 | 6,/2 7, | 1/1* | r/1 | 1/2 7, | 6, 5,* | r/1 | 5,/2 6, | 7, 1* | r/1",
}
# Where the lowest of three comes after the two over it, and how many bars of a line these fill.
_LOW_NOTES, _BEFORE_THE_LOWEST = 3, 5

SCALE_PATTERNS = {
    pattern.name: pattern
    for pattern in (
        Pattern(
            "straight",
            (0,),
            aim="Listen for every note to be as good as the first, on the way up and on the way down.",
        ),
        Pattern(
            "returning",
            (0,),
            stops=False,
            aim="Listen for the turn at the top to pass in time; no note there is longer than its neighbours.",
        ),
        Pattern("thirds", (0, 2), aim="Listen for the lower notes to make one line and the upper ones another."),
        Pattern("fourths", (0, 3), aim="Listen for each fourth to be in tune before it is fast."),
        Pattern(
            "turns",
            (0, 1, 0, -1),
            aim="Listen for the note that is turned round; the others are its ornament.",
        ),
        Pattern(
            "fours",
            (0, 1, 2, 3),
            aim="Listen for the first of every four: no heavier than the rest, and never lost among them.",
        ),
        Pattern("threes", (0, 1, 2), aim="Listen for three even notes to the beat, the first no heavier than it must be."),
    )
}

# What to listen for in a chromatic scale instead.
_HALF_STEPS = {
    "straight": "Listen for half-steps of one size, on the way up and on the way down.",
    "threes": "Listen for three even notes to the beat, no half-step of them swallowed.",
    "returning": "Listen for the turn at the top to pass in time, and for every half-step on the way to it.",
}
_MINOR_WAYS = {
    "straight": "Listen for the colour of minor on the way up and on the way down: the third tells it every time.",
    "returning": "Listen for the turn at the top to pass in time, and for the colour of minor on both ways.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ScalesRequest(Request):
    """A scale study: its kind, pattern, articulation, rhythm and octaves."""

    kind: str = option("", "The scale; without it major in major keys and melodic minor in minor ones.", allowed=tuple(SCALES))
    pattern: str = option("straight", "How the scale is climbed.", allowed=tuple(SCALE_PATTERNS))
    articulation: str = option("", "The articulation set; without it one that goes into the pattern.", allowed=tuple(SETS))
    rhythm: str = rhythm_option()
    octaves: str = octaves_option()


def scales(request: ScalesRequest) -> Study:
    """Return the scale study of a request, one strain a key."""
    pattern, known, rhythm = _pattern(request), grade(request.grade).sets, slowed(request.rhythm, request.grade)
    row = articulation(request.articulation or own_articulation(pattern, rhythm, known, "slur-two-tongue-two"))
    job = task("scales", pattern, rhythm, row, request.octaves or grade(request.grade).octaves, own=not request.articulation)
    setting = below_the_top(to_the_bottom(resolve(request, _OWN_KEYS, FASTEST), request), request)
    job = suited(replace(job, octaves_asked=bool(request.octaves)), setting)
    setting = paced(setting, job.rhythm, _EASY)
    job = gradual(job, setting, request)
    each = [_climbable(scale(_kind(request, key), key), setting) for key in setting.keys]
    for rungs in each:
        graded(rungs.key, setting.grade)
    study = climbing_study(job, each, setting, "Scales", request.kind)
    return replace(study, strains=tuple(_with_low_notes(study.strains, setting))) if job.gradual else study


def _with_low_notes(strains: Sequence[Strain], setting: Setting) -> Iterator[Strain]:
    """Yield a beginner's scales; after the first the notes under his grade, if he has any: long and tongued, down and home."""
    home, *later = strains
    yield home
    low, tonic = setting.limits.low, home.notes[0].pitch
    places = [index for index in range(-_LOW_NOTES, 0) if low.midi <= home.key.degree(index, tonic.octave).midi]
    if low < setting.grade.low and places and home.key.degree(0, tonic.octave) == tonic:
        music = in_key(degrees(_DOWN[-places[0]]), home.key, tonic.octave)
        bars = int(length(music) / COMMON.bar)
        lines = (_BEFORE_THE_LOWEST, bars - _BEFORE_THE_LOWEST) if bars > _BEFORE_THE_LOWEST else (bars,)
        label = setting.label(home.key, part=f"down to {home.key.degree(places[0]).pretty[:-1]}", detail="halves")
        yield Strain(label, home.key, on(music, 0, dynamic="mf"), COMMON, lines)
    yield from later


def _pattern(request: ScalesRequest) -> Pattern:
    """Return the pattern of a scale; of half-steps, or of minor keys alone, with its own aim, where there is one."""
    pattern, minors = SCALE_PATTERNS[request.pattern], bool(request.keys) and all(key.endswith("m") for key in request.keys)
    own = _HALF_STEPS if request.kind == _CHROMATIC else _MINOR_WAYS if minors else {}
    return replace(pattern, aim=own.get(pattern.name, pattern.aim))


def _climbable(rungs: Rungs, setting: Setting) -> Rungs:
    """Return a scale that is worth climbing to its third by those who have no more notes yet, else to its fifth."""
    return replace(rungs, least=min(rungs.least, 2)) if setting.grade.slow else rungs


def _kind(request: ScalesRequest, key: Key) -> str:
    return request.kind or ("melodic-minor" if key.mode == "minor" else "major")


def has_minors(where: Occasion) -> bool:
    """Tell whether the scales of a day are the minor ones."""
    return _day_kind(where) == _MINOR


def _day_kind(where: Occasion) -> str:
    """Return what the scales of a day are: major, minor or chromatic by turns, as far as the grade has them."""
    minor = (_MINOR,) if where.keys.minors else ()
    kinds: tuple[str, ...] = (_MAJOR, *minor, _MAJOR, *((_CHROMATIC,) if where.grade.chromatic else ()))
    return where.turn(kinds, "scale kind")


def _scales_part(where: Occasion) -> Iterator[Request]:
    """Yield scales in two or all of the day's majors, weak keys first, in its minors, or chromatic; all else is in turn.

    Where time or paper is short they are bare and returning.
    """
    kind = _day_kind(where)
    patterns = tuple(name for name in _DAY_PATTERNS[kind] if where.grade.threes or name != "threes")
    turned = where.turn(patterns, "scale pattern")
    # Half-steps have so many accidentals that a quick octave of them, or two, would not go on a line.
    close = kind == _CHROMATIC
    octaves = "1" if close else where.turn(("1", "1", "wide"), "scale octaves")
    for name in dict.fromkeys((turned, "returning")):
        pattern = SCALE_PATTERNS[name]
        own: dict[str, Any] = {"pattern": name, "articulation": day_articulation(where, pattern)}
        rhythm = "" if close else day_rhythm(where, pattern)
        # What is quick goes as far as the range has octaves: one would be over at once.
        spans = ("wide",) if rhythm == _QUICK else (octaves, "wide") if kind == _MINOR else (octaves,)
        for keys, span in product(_day_scales(where, kind), spans):
            yield ScalesRequest(**where.early, kind=_row_of(where, kind), keys=keys, octaves=span, rhythm=rhythm, **own)


def _day_scales(where: Occasion, kind: str) -> tuple[tuple[str, ...], ...]:
    """Return the keys of a day's scales, few and all."""
    if kind == _MINOR:
        weak = (key for key in where.keys.weak if key.endswith("m"))
        return (tuple(dict.fromkeys((*weak, *where.keys.minors))),)
    return where.keys.all_majors[:2], where.keys.all_majors[: 3 if kind == _CHROMATIC else None]


def _row_of(where: Occasion, kind: str) -> str:
    """Return the scale of a day: of minor ones the melodic or the harmonic by turns, the key's own for a learner."""
    if kind == _MINOR and where.grade.chromatic:
        return where.turn(("melodic-minor", "harmonic-minor"), "minor scale", 3)
    return _CHROMATIC if kind == _CHROMATIC else ""


KIND = Kind(
    name="scales",
    place=80,
    request=ScalesRequest,
    make=scales,
    summary="Scales in as many octaves as the range has, in any pattern, rhythm and articulation.",
    example=ScalesRequest(keys=("A", "Am", "F#m"), pattern="thirds", articulation="slurred-pairs"),
    aim=SCALE_PATTERNS["straight"].aim,
    child_aim=("Listen: you walk up and down the stairs.", "Is every step as clear as the last?"),
    lacking="no three notes of a scale in a row",
    areas=("scales",),
    parts=(DayPart("scales", 80, _scales_part, weight=6, rank=2, most_lines=6, areas=("scales",)),),
    packet=True,
)
