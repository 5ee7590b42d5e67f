"""What each part of a day asks of the studies: requests from short to long, other ones every day."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice

from generators.brass.tube import LOWEST_TUBE, TUBES
from generators.errors import BadRequest
from generators.routine.context import Context
from generators.studies.arpeggios import ArpeggiosRequest
from generators.studies.catalogue import make
from generators.studies.kit.request import Request
from generators.studies.low import LowRequest
from generators.studies.scales import ScalesRequest
from generators.studies.slurs.study import SlursRequest
from generators.theory.key import all_keys
from generators.theory.pitch import Pitch, simple

# Tubes whose notes a first-year player knows from C and F major.
EASY_TUBES = ("0", "1", "1-2")
PATHS = ("neighbours", "rocking", "quicken-and-widen", "there-and-back", "anchor", "falling", "over-and-back")
THREES = ("slur-two-tongue-one", "tongue-one-slur-two", "tongued", "slurred")
FOURS = ("slur-two-tongue-two", "tongued", "slurred-pairs", "slur-three-tongue-one", "tongue-one-slur-three", "slurred")
BEGINNERS = ("1", "2")


def low(where: Context) -> Iterator[Request]:
    """Yield descents by whole steps, one day from the even tonics, the next from the odd ones."""
    known = tuple(key for key in where.grade.keys if not key.endswith("m"))[:3] if where.grade else ()
    keys: tuple[str, ...] = known or where.turn((("C", "Bb", "Ab", "F#"), ("B", "A", "G", "F")), "low")
    for count in (1, 2, 3, 4):
        yield LowRequest(**(where.common | {"low": _floor(where)}), keys=keys[:count])


def _floor(where: Context) -> str:
    """Return the lowest note of the low study: the bottom of the tubes, or of the learner's grade."""
    return where.low.name if where.grade or where.profile.low else max(where.horn.low, LOWEST_TUBE).name


def scales(where: Context) -> Iterator[Request]:
    """Yield scales in the day's four majors, pattern and articulation in turn; a bare returning scale where time is short."""
    patterns = ("straight", "thirds", "returning", "fours", "turns", "fourths", "threes")
    pattern = where.turn(patterns[:-1] if where.profile.grade in BEGINNERS else patterns, "scale pattern")
    rows = [(pattern, _articulation(where, pattern)), ("returning", _articulation(where, "returning"))]
    for shape, row in dict.fromkeys(rows):
        yield ScalesRequest(**where.common, keys=where.keys.majors, pattern=shape, articulation=row, octaves="1")


def arpeggios(where: Context) -> Iterator[Request]:
    """Yield arpeggios in the day's minors and two of its majors."""
    keys = (*where.keys.minors, *where.keys.majors)[:4]
    patterns = ("straight", "returning", "rolling", "crossed", "broken")
    chosen = where.turn(patterns[:-1] if where.profile.grade in BEGINNERS else patterns, "chords")
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
    simple = ("tongued", "slurred-pairs", "slurred") if where.profile.grade in BEGINNERS and rows is FOURS else rows
    return where.turn(own or simple, "articulation")


def slurs(where: Context) -> Iterator[Request]:
    """Yield a path down two to seven tubes."""
    path = where.turn(PATHS, "path")
    tubes = EASY_TUBES if where.profile.grade == "1" else TUBES
    values = (2, 4) if where.profile.grade == "1" else (4, 8)
    for count in (2, 3, 4, 5, 7):
        yield SlursRequest(**where.common, path=path, tubes=tubes[:count], values=values)


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
