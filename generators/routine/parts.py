"""The parts of a day in warming order: what each asks of the studies, in doses from short to long."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from generators.brass.tube import LOWEST_TUBE
from generators.routine.context import Context
from generators.studies.arpeggios import ArpeggiosRequest
from generators.studies.entrances import EntrancesRequest
from generators.studies.flow import FlowRequest
from generators.studies.flow_lines import LINES
from generators.studies.low import LowRequest
from generators.studies.request import Request
from generators.studies.scales import ScalesRequest
from generators.studies.slurs import SlursRequest

EVERY = ("normal", "light", "concert", "stretch")
# Tubes whose notes a first-year player knows from C and F major.
EASY_TUBES = ("0", "1", "1-2")


@dataclass(frozen=True, slots=True)
class Piece:
    """A kind of part: its requests from short to long, its weight in time, and when it is left out."""

    name: str
    requests: Callable[[Context], Iterator[Request]]
    weight: float
    rank: int
    """Parts of a higher rank are dropped first where time is short."""
    most_lines: int
    """Lines it may take on paper; more time is filled by repeats."""
    kinds: tuple[str, ...] = EVERY
    grades: tuple[str, ...] = ("", "1", "2", "3", "4", "5", "6")
    repeatable: bool = True

    def suits(self, where: Context) -> bool:
        """Tell whether the part belongs into this day of this player."""
        return where.kind in self.kinds and where.profile.grade in self.grades


def _flow(where: Context) -> Iterator[Request]:
    shape = where.turn(tuple(LINES), "shape")
    for count in (1, 2, 3, 4):
        yield FlowRequest(**where.common, keys=_down(where)[:count], shape=shape, compass="third", tag="none")


def _wide_flow(where: Context) -> Iterator[Request]:
    shape = where.turn(tuple(LINES)[2:] + tuple(LINES)[:2], "shape")
    for count in (1, 2, 3, 4):
        yield FlowRequest(**where.common, keys=_down(where)[:count], shape=shape, compass="octave", tag="slur")


def _down(where: Context) -> tuple[str, ...]:
    """Return the day's majors for flow studies, weak keys in front."""
    weak = tuple(key for key in where.keys.weak if not key.endswith("m"))
    return tuple(dict.fromkeys((*weak, *where.keys.majors)))[:4]


def _low(where: Context) -> Iterator[Request]:
    """Yield descents by whole steps, one day from the even tonics, the next from the odd ones."""
    known = tuple(key for key in where.grade.keys if not key.endswith("m"))[:3] if where.grade else ()
    keys: tuple[str, ...] = known or where.turn((("C", "Bb", "Ab", "F#"), ("B", "A", "G", "F")), "low")
    for count in (1, 2, 3, 4):
        yield LowRequest(**(where.common | {"low": _floor(where)}), keys=keys[:count])


def _floor(where: Context) -> str:
    """Return the lowest note of the low study: the bottom of the tubes, or of the learner's grade."""
    return where.low.name if where.grade or where.profile.low else max(where.horn.low, LOWEST_TUBE).name


def _scales(where: Context) -> Iterator[Request]:
    pattern = where.turn(("straight", "thirds", "returning", "fours", "turns", "fourths", "threes"), "scale pattern")
    row = _articulation(where, "threes" if pattern == "threes" else pattern)
    for shape in (pattern, "returning"):
        yield ScalesRequest(**where.common, keys=where.keys.majors, pattern=shape, articulation=row if shape == pattern else "slurred", octaves="1")
    yield ScalesRequest(**where.common, keys=where.keys.majors, pattern=pattern, articulation=row)


def _arpeggios(where: Context) -> Iterator[Request]:
    pattern = where.turn(("straight", "returning", "rolling", "crossed", "inversions", "broken"), "chord pattern")
    row = "slurred" if pattern == "broken" else _articulation(where, pattern)
    keys = (*where.keys.minors, *where.keys.majors)[:4]
    for octaves in ("1", "wide"):
        yield ArpeggiosRequest(**where.common, keys=keys, pattern=pattern, articulation=row, octaves=octaves)


def _articulation(where: Context, pattern: str) -> str:
    """Return the articulation set of the day: one of the player's own, or the next in turn that goes into the pattern."""
    threes = ("slur-two-tongue-one", "tongue-one-slur-two", "tongued", "slurred")
    fours = ("slur-two-tongue-two", "tongued", "slurred-pairs", "slur-three-tongue-one", "tongue-one-slur-three", "slurred")
    rows = threes if pattern in ("threes", "broken") else fours
    own = tuple(name for name in where.profile.articulations if name in rows)
    return where.turn(own or rows, "articulation")


def _slurs(where: Context) -> Iterator[Request]:
    path = where.turn(("neighbours", "rocking", "quicken-and-widen", "there-and-back", "anchor", "falling", "over-and-back"), "path")
    tubes = EASY_TUBES if where.profile.grade == "1" else ("0", "2", "1", "1-2", "2-3", "1-3", "1-2-3")
    for count in (2, 3, 4, 5, 7):
        yield SlursRequest(**where.common, path=path, tubes=tubes[:count], values=(4, 8))


def _entrances(where: Context) -> Iterator[Request]:
    for count in (2, 3, 4, 5, 6, 8, 10):
        yield EntrancesRequest(**where.common, keys=where.keys.majors[:1], count=count, rests="2-4")


def _warm_down(where: Context) -> Iterator[Request]:
    common: dict[str, Any] = where.common | {"tempo": 60 if not where.profile.grade else None}
    for compass in ("third", "fifth"):
        yield FlowRequest(**common, keys=where.keys.majors[-1:], shape="dip", compass=compass, tag="none")


PIECES = (
    Piece("flow", _flow, 6, 1, 4),
    Piece("low", _low, 6, 5, 6),
    Piece("wide-flow", _wide_flow, 5, 10, 4, kinds=("normal", "stretch")),
    Piece("scales", _scales, 8, 2, 6),
    Piece("arpeggios", _arpeggios, 7, 3, 6),
    Piece("slurs", _slurs, 7, 4, 7),
    Piece("entrances", _entrances, 6, 7, 3),
    Piece("warm-down", _warm_down, 2, 0, 2, repeatable=False),
)
