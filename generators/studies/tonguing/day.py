"""The tonguing of a day: single, multiple, and k alone; and the row of the kind."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from generators.brass.speed import MULTIPLE_SHARE
from generators.errors import BadRequest
from generators.studies.kit.kind import WORKING_DAYS, DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.studies.tonguing.speech import LATE, RUNNING_ON
from generators.studies.tonguing.study import STILL_LINE, TonguingRequest, tonguing
from generators.studies.tonguing.tongues import EVEN, TONGUES

# Single, double and triple take turns from day to day, the triples among themselves; what a day has beside them every third
# day: our choice.
_DAY_TRIPLES, _TURNS = ("triple-ttk", "triple-tkt"), 3
_DAY_K_TONGUES = ("k", "double-reversed", "triple-ktt")
# The lines of a day's tonguing, two new ones every day, so that none comes twice in seven; how their groups go comes round in
# another number of days. What stands beside them has two of other days, half a round later: our choice.
_DAY_LINES = (
    *("scale", "call", "round", "arpeggio", "march", "thirds", STILL_LINE, "signal"),
    *("hymn", "five-notes", "skips", "tune", "pairs", "arch", "two-notes"),
)
_A_DAY = 2
# Which of a day's lines each part has, and which way of going: that of so many days later.
_SINGLE_LINES, _MULTIPLE_LINES, _K_LINES = (0, 0), (0, 4), (7, 2)
_DAY_WAYS = (EVEN, "long-first", LATE, "short-first", RUNNING_ON)
_LIGHT, _OCTAVE = "light", 12
# How quick the single tonguing of a light day becomes: our choice.
_MODERATE = 92
# So many days until every major had its turn.
_ROUND = 12
# What to listen for in a day's single tonguing, by turns.
_SINGLE_AIMS = (
    TONGUES["single"].aim,
    "Listen for every note to begin as the first one did, on air that never stops.",
    "Listen for the line through the tongued notes: as if slurred, with a t on each.",
    "Listen for the t to be light and the note behind it full, the last as clear as the first.",
)
_MULTIPLE_AIMS = (
    TONGUES["double"].aim,
    "Listen for the k to speak where the t did: the same place, loudness and length.",
    "Listen for the air between the notes: it runs on as if they were one long note.",
    "Listen for the groups to stay even where the line moves; slow down at the first that limps.",
)


def _single_part(where: Occasion) -> Iterator[Request]:
    """Yield single tonguing in another value than the last time, long on a light day."""
    grown, light = where.grade.octaves == "wide", where.kind == _LIGHT
    own = {"rhythm": where.turn(("", "eighths"), "single", _TURNS)} if grown and not light else {}
    long = {"style": "legato"} if grown and light else {}
    asked = _on_patterns(where, where.common, _SINGLE_LINES, keys=_key_of_the_day(where), kind="single", **own, **long)
    for one in asked:
        moderate = replace(one, goal=_MODERATE)
        yield moderate if long and _goes(moderate) else one


def _multiple_part(where: Occasion) -> Iterator[Request]:
    """Yield double and triple tonguing that begin with t, by turns."""
    kind = where.turn(_DAY_TRIPLES, "triple", _TURNS) if _is_triple(where) else "double"
    yield from _on_patterns(where, _doubling(where), _MULTIPLE_LINES, keys=_key_of_the_day(where), kind=kind)


def _is_triple(where: Occasion) -> bool:
    """Tell whether the multiple tonguing of a day goes in threes."""
    return where.turn(range(_TURNS), "tongue") == _TURNS - 1


def _k_first_part(where: Occasion) -> Iterator[Request]:
    """Yield k alone and what begins with it, another each time, beside the day's other tonguing; no threes beside threes."""
    kind = where.turn(_DAY_K_TONGUES, "k first", 3)
    if TONGUES[kind].three and _is_triple(where):
        kind = next(name for name in _DAY_K_TONGUES[1:] if not TONGUES[name].three)
    yield from _on_patterns(where, _doubling(where), _K_LINES, keys=_key_of_the_day(where, 1), kind=kind)


def _on_patterns(where: Occasion, common: dict[str, Any], later: tuple[int, int], **asked: Any) -> Iterator[TonguingRequest]:
    """Yield tonguing on one of a day's two patterns or on both, under the high work; one note where the grade has that.

    The patterns, and how their groups go, are those whose turn it is so many days later.
    """
    moving = where.grade.moves_with(asked["kind"])
    first, turned = later
    pair = _lines_of_the_day(where, first) if moving else (STILL_LINE,)
    pair = tuple(sorted(pair, key=STILL_LINE.__eq__))
    own = common | _under_the_staff(where) | asked
    # A learner of the first years has even groups; threes are even, too, and run on by turns.
    named = (EVEN, RUNNING_ON) if TONGUES[asked["kind"]].three else _DAY_WAYS
    known = (_of_the_day(where, named, turned % len(named), "tongue groups"), named[1]) if where.grade.syncopes else ()
    way = next((way for way in known if _goes(TonguingRequest(**own, patterns=pair, groups=(way,)))), EVEN)
    ways = ((pair[:1], ("middle",)), (pair[:1], ("low", "middle")), (pair, ("middle",)))
    for patterns, registers in dict.fromkeys(ways):
        yield TonguingRequest(**own, patterns=patterns, registers=registers, groups=(way,))


def _lines_of_the_day(where: Occasion, later: int) -> tuple[str, ...]:
    """Return the next lines of the round, so many places later."""
    count = len(_DAY_LINES)
    begun = _A_DAY * where.turn(range(count), "moving") + later
    return tuple(_DAY_LINES[(begun + place) % count] for place in range(_A_DAY))


def _key_of_the_day(where: Occasion, later: int = 0) -> tuple[str, ...]:
    """Return the major of a day's tonguing: of those that come together every third day another each time."""
    names = sorted(where.keys.majors)
    return (names[(where.turn(range(_ROUND), "tongue key") // _TURNS + later) % len(names)],)


def _of_the_day(where: Occasion, names: tuple[str, ...], later: int, what: str) -> str:
    """Return the name whose turn it is so many days later."""
    return where.turn((*names[later:], *names[:later]), what)


def _goes(request: TonguingRequest) -> bool:
    try:
        return bool(tonguing(request).strains)
    except BadRequest:
        return False


def _under_the_staff(where: Occasion) -> dict[str, str]:
    """Return the top of a day's tonguing: no higher than the first note over the staff, where there is an octave below that."""
    over = where.horn.clef.over
    return {"high": over.name} if where.low.midi + _OCTAVE <= over.midi < where.high.midi else {}


def _doubling(where: Occasion) -> dict[str, Any]:
    """Return the common fields, the tongue the one that goes with the player's own speed of double tonguing."""
    own = where.multiple
    return where.common | ({"tongue": max(40, min(160, round(own / MULTIPLE_SHARE)))} if own else {})


KIND = Kind(
    name="tonguing",
    place=140,
    request=TonguingRequest,
    make=tonguing,
    summary="Single, k alone, double and triple in every order, up a ladder of tempi.",
    example=TonguingRequest(kind="triple-tkt", patterns=("one-note", "arpeggio"), tempo=72, goal=100),
    aim=TONGUES["single"].aim,
    child_aim=("Listen: you say too, too, too. Does every note begin in the same way?", ""),
    lacking="no notes to tongue on",
    areas=("tonguing", "multiple tonguing"),
    parts=(
        DayPart(
            name="tonguing",
            place=110,
            requests=_single_part,
            weight=5,
            rank=4,
            most_lines=4,
            areas=("tonguing",),
            group="tongue",
            aims=_SINGLE_AIMS,
        ),
        DayPart(
            name="k-first",
            place=85,
            requests=_k_first_part,
            weight=3,
            rank=12,
            most_lines=4,
            areas=("tonguing", "multiple tonguing"),
            days=WORKING_DAYS,
            group="small",
        ),
        DayPart(
            name="multiple",
            place=115,
            requests=_multiple_part,
            weight=5,
            rank=4,
            most_lines=4,
            areas=("tonguing", "multiple tonguing"),
            days=WORKING_DAYS,
            group="tongue",
            turns=2,
            aims=_MULTIPLE_AIMS,
        ),
    ),
)
