"""Arpeggios: chords climbed like scales, by a pattern, a rhythm and an articulation set."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice, product
from typing import Any

from generators.brass.grade import grade
from generators.brass.horn import horn
from generators.errors import BadRequest
from generators.fields import option
from generators.phrase.articulation import SETS, articulation
from generators.phrase.remark import Fitting
from generators.phrase.study import Strain, Study
from generators.studies.kit.climb import Pattern
from generators.studies.kit.climb_task import (
    below_the_top,
    chord_articulation,
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
from generators.studies.kit.fit import NoFit
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import FASTEST, Request
from generators.studies.kit.rungs import chord
from generators.studies.kit.setting import ALL_KEYS, OWN_KEYS, graded, home_keys, resolve
from generators.studies.scales import has_minors
from generators.theory.key import Key, all_keys, parse_key
from generators.theory.pitch import Pitch, simple
from generators.theory.scales import CHORDS

_OWN_KEYS = ("C", "F", "Bb", "Eb")
# How a chord is climbed where nobody says, and where there is no room for it in any key: our choice.
_WIDE, _PLAIN = "rolling", "straight"
# The part of his speed at which a player is easy, less than in scales; threes, each one gesture, go quicker: our choice.
_EASY, _EASY_THREES = 0.45, 0.55
# The patterns of a day, which come round in turn, and the majors that belong to a minor, by the half-steps of their tonics over
# its own, nearest first: our choice.
_DAY_CHORDS = ("rolling", "broken", "inversions", "returning", "crossed", "straight")
# The patterns of a day of who is grown, all of which go beyond the octave, and his chords: in seven days no pattern comes
# twice on the same chord, and the key's own come oftenest: our choice.
_GROWN_CHORDS = ("rolling", "broken", "crossed", "inversions")
_DAY_COUNTS, _SPANS = (2, 3, 4), ("wide", "1")
_GROWN_KINDS = ("", "", "", "minor-seventh", "dominant-seventh", "diminished-seventh", "dominant-seventh")
_KIN = (3, 8, 0, 5, 10, 7)
_THREE = 3

CHORD_PATTERNS = {
    pattern.name: pattern
    for pattern in (
        Pattern(
            "straight",
            (0,),
            aim="Listen for the skips to sound like steps: air through them, and {hand_does} not announce them.",
        ),
        Pattern("returning", (0,), stops=False, aim="Listen for the top note as a point on the way, not a place to stop."),
        Pattern(
            "broken",
            (0, 1, 2),
            full=4,
            aim="Listen for every three as one gesture, whichever note of the chord is its first.",
        ),
        Pattern(
            "rolling",
            (0, 2, 1, 2),
            aim="Listen for the notes that move to make one line past the one that keeps coming back.",
        ),
        Pattern("inversions", (0, 1, 2, 3), full=3, aim="Listen for the chord to keep its colour whichever note is lowest."),
        Pattern("crossed", (0, 2), aim="Listen for the outer notes of each skip to be in tune with each other."),
    )
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ArpeggiosRequest(Request):
    """An arpeggio study: its chord, pattern, articulation, rhythm and octaves."""

    kind: str = option("", "The chord on each tonic; without it major or minor by the key.", allowed=tuple(CHORDS))
    pattern: str = option(
        "",
        "How the chord is climbed; without it rolling, straight in grades to 3 and where that goes too far.",
        allowed=tuple(CHORD_PATTERNS),
    )
    articulation: str = option("", "The articulation set; without it one that goes into the pattern.", allowed=tuple(SETS))
    rhythm: str = rhythm_option()
    octaves: str = octaves_option()


def arpeggios(request: ArpeggiosRequest) -> Study:
    """Return the arpeggio study of a request, one strain a key."""
    if request.pattern or grade(request.grade).child:
        return _climbed(request, request.pattern or _PLAIN)
    try:
        return _climbed(request, _WIDE)
    except NoFit:
        return _in_other_keys(request) or _climbed(request, _PLAIN)


def _in_other_keys(request: ArpeggiosRequest) -> Study | None:
    """Return chords in the keys that have room for the wide pattern, where the player named none; nothing where none has."""
    each = [replace(request, pattern=_WIDE, keys=(name,)) for name in home_keys(ALL_KEYS, horn(request.horn))]
    found = tuple(islice((one.keys[0] for one in each if not request.keys and _summits(one)), OWN_KEYS))
    if not found:
        return None
    study = _climbed(replace(request, keys=found), _WIDE)
    return replace(study, remarks=(*study.remarks, Fitting("keys", (study.limits.low, study.limits.high))))


def _climbed(request: ArpeggiosRequest, name: str) -> Study:
    pattern, known = CHORD_PATTERNS[name], grade(request.grade).sets
    # A chord of three or four notes is over too soon in eighths for those who begin.
    rhythm = slowed(request.rhythm, request.grade, few=pattern.run)
    row = articulation(request.articulation or own_articulation(pattern, rhythm, known, "slurred-pairs"))
    job = task("arpeggios", pattern, rhythm, row, request.octaves or grade(request.grade).octaves, own=not request.articulation)
    setting = below_the_top(to_the_bottom(resolve(request, _OWN_KEYS, FASTEST), request), request)
    job = suited(replace(job, octaves_asked=bool(request.octaves)), setting)
    setting = paced(setting, job.rhythm, _EASY_THREES if job.rhythm.slots == _THREE else _EASY)
    job = gradual(job, setting, request)
    each = [chord(_kind(request, key), key) for key in setting.keys]
    for rungs in each:
        graded(rungs.key, setting.grade)
    return climbing_study(job, each, setting, "Arpeggios", request.kind)


def _kind(request: ArpeggiosRequest, key: Key) -> str:
    return request.kind or key.mode


def _arpeggios_part(where: Occasion) -> Iterator[Request]:
    """Yield arpeggios in a few keys of the day that belong together, a chord, a pattern, a set and a rhythm by turns."""
    if where.grade.octaves == "wide":
        yield from _grown_part(where)
        return
    turned = where.turn(_patterns(where, _DAY_CHORDS), "chords")
    chosen, keys = where.articulations or where.grade.sets, _day_keys(where)
    for name in dict.fromkeys((turned, "returning")):
        asked = _of_the_day(where, name, octaves=where.turn(("1", "wide"), "octaves"))
        # Where a chord has too few notes for the set of the day it has one of its own, if the player has not chosen.
        sets = dict.fromkeys((asked.articulation, *(() if chosen or name == turned else ("",))))
        yield from (replace(asked, articulation=row, keys=keys[:count]) for row, count in product(sets, _DAY_COUNTS))


def _grown_part(where: Occasion) -> Iterator[Request]:
    """Yield chords of a grown player in the keys that have room for the pattern whose turn it is, or for the next of them.

    Each grows to its highest note: what turns back before that, for want of room, is for another day.
    """
    patterns, keys = _patterns(where, _GROWN_CHORDS), _day_keys(where)
    begun = where.turn(range(len(patterns)), "chords")
    for name in (*patterns[begun:], *patterns[:begun]):
        asked = _of_the_day(where, name, kind=where.turn(_GROWN_KINDS, "chord"))
        spans = ((span, tuple(key for key in keys if _summits(replace(asked, octaves=span, keys=(key,))))) for span in _SPANS)
        doses = (replace(asked, octaves=span, keys=own[:count]) for span, own in spans for count in _DAY_COUNTS)
        found = [dose for dose in doses if len(dose.keys) >= min(len(keys), _DAY_COUNTS[0]) and _summits(dose)]
        if found:
            yield from found
            return


def _patterns(where: Occasion, names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(name for name in names if where.grade.threes or name != "broken")


def _of_the_day(where: Occasion, name: str, **more: str) -> ArpeggiosRequest:
    """Return chords of a day climbed by a pattern, in the set and the rhythm of the day that go into it."""
    pattern = CHORD_PATTERNS[name]
    row, rhythm = chord_articulation(where, pattern), day_rhythm(where, pattern)
    common: dict[str, Any] = where.early | more
    return ArpeggiosRequest(**common, pattern=name, articulation=row, rhythm=rhythm)


def _summits(request: ArpeggiosRequest) -> bool:
    """Tell whether chords are to be had, and each grows to its highest note."""
    try:
        return all(map(_grows_to_its_top, arpeggios(request).strains))
    except BadRequest:
        return False


def _grows_to_its_top(strain: Strain) -> bool:
    """Tell whether the first hairpin ends on the highest note of all."""
    goal = next((note for note in strain.notes if "." in note.hairpin or note.hairpin == ">"), strain.notes[0])
    return goal.pitch.midi == max(note.pitch.midi for note in strain.notes)


def _day_keys(where: Occasion) -> tuple[str, ...]:
    """Return the keys of a day's chords: weak ones, then a minor with the majors nearest to it.

    Both minors have one where the scales of the day are not theirs.
    """
    minors, majors = where.keys.minors, where.keys.majors
    if not minors:
        return tuple(dict.fromkeys((*where.keys.weak, *majors)))
    first = where.turn(minors, "chord keys", 3)
    near = sorted(majors, key=lambda major: _apart(first, major))
    others = () if has_minors(where) else (name for minor in minors for name in (minor, _nearest(minor, majors)))
    return tuple(dict.fromkeys((*where.keys.weak, first, near[0], *others, *near)))


def _nearest(minor: str, majors: Sequence[str]) -> str:
    return min(majors, key=lambda major: _apart(minor, major))


def _apart(minor: str, major: str) -> int:
    """Return how far a major lies from a minor: its relative, what shares two notes with its chord, what one, another."""
    above = (parse_key(major).degree(0).midi - parse_key(minor).degree(0).midi) % 12
    return _KIN.index(above) if above in _KIN else len(_KIN)


def _stretch_part(where: Occasion) -> Iterator[Request]:
    """Yield one slurred chord up to the stretch note and down again: once, late, briefly; quicker for a short breath."""
    top = where.stretch
    tonic = min((key for key in all_keys("major") if key.degree(0).midi % 12 == top.midi % 12), key=lambda key: abs(key.fifths))
    floor = simple(top.midi - 12, sharp=False)
    limits = where.common | {"low": floor.name, "high": top.name, "grade": "", "keys": (tonic.name,)}
    chord_up = ArpeggiosRequest(**limits, pattern="returning", articulation="slurred", octaves="1", kind="major")
    tempi = (replace(chord_up, tempo=tempo) for tempo in (76, 96, 120, 144))
    yield from islice((request for request in tempi if _reaches(request, top)), 1)


def _reaches(request: ArpeggiosRequest, top: Pitch) -> bool:
    try:
        return any(note.pitch.midi == top.midi for note in arpeggios(request).notes)
    except BadRequest:
        return False


KIND = Kind(
    name="arpeggios",
    place=90,
    request=ArpeggiosRequest,
    make=arpeggios,
    summary="Chords climbed like scales, straight, broken or by inversions.",
    example=ArpeggiosRequest(kind="dominant-seventh", keys=("F", "Bb", "Eb", "Ab"), octaves="1"),
    aim=CHORD_PATTERNS["rolling"].aim,
    child_aim=("Listen: you hop up and down.", "Do the hops sound as easy as steps?"),
    lacking="no three notes of a chord",
    areas=("arpeggios",),
    parts=(
        DayPart("arpeggios", 90, _arpeggios_part, weight=5, rank=8, most_lines=6, areas=("arpeggios",)),
        DayPart(
            name="stretch",
            place=160,
            requests=_stretch_part,
            weight=1,
            rank=0,
            most_lines=1,
            areas=("arpeggios", "high"),
            days=("stretch",),
            repeatable=False,
            brief=True,
        ),
    ),
    packet=True,
)
