"""What a class can play, one row a study: its forms from short to long, as requests for one horn."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from generators.brass.grade import Grade, grade
from generators.brass.horn import Horn
from generators.chance import shuffled
from generators.phrase.algebra import length
from generators.phrase.bars import COMMON
from generators.phrase.note import Rest
from generators.phrase.rests import with_single_rests
from generators.phrase.study import Strain, Study
from generators.studies.air import AirRequest
from generators.studies.arpeggios import ArpeggiosRequest
from generators.studies.catalogue import made_as_asked, nearest_tempo, no_quicker
from generators.studies.dynamics import DynamicsRequest
from generators.studies.entrances import EntrancesRequest
from generators.studies.etude.kinds import TUNE_KINDS
from generators.studies.etude.naming import tune_name, unlettered
from generators.studies.etude.study import EtudeRequest
from generators.studies.flow.study import FlowRequest
from generators.studies.intervals import IntervalsRequest
from generators.studies.kit.climb import pattern_words
from generators.studies.kit.request import Request
from generators.studies.scales import ScalesRequest
from generators.studies.slurs.study import SlursRequest
from generators.studies.tonguing.study import TonguingRequest
from generators.theory.key import parse_key

# Scales and chords of a class are played with these sets where the grade has no others.
_SETS = ("tongued", "slurred-pairs", "slur-two-tongue-two")
# The long tones of a class from few to many: shapes and registers.
_TONES = (
    (("swell",), ("middle",)),
    (("swell", "fade"), ("middle",)),
    (("swell", "fade"), ("low", "middle")),
)
# So many kinds of tune are tried of each length.
_TUNES = 3
# How long the air of beginners lasts, in seconds: our choice.
_FIRST_AIRS, _AIRS = (30, 45), (30, 45, 60, 90)


@dataclass(frozen=True, slots=True)
class Footing:
    """What the studies of a class are written for before they are moved to each horn: one horn, one key, shared limits."""

    horn: Horn
    grade: Grade
    common: Mapping[str, Any]
    """The fields that all requests share."""
    seed: int


Form = tuple[Request, ...]
"""One way to have a study: a request, or several that are played as one."""


@dataclass(frozen=True, slots=True)
class ClassStudy:
    """A study in the programme of a class."""

    name: str
    forms: Callable[[Footing], Iterator[Form]]
    weight: float
    """Its share of the time, beside the others'."""
    rank: int
    """Those of a higher rank are dropped first where time is short."""
    narrowest: int = 7
    """The half-steps that it needs at the least."""
    seats: int = 16
    """How many of the spans that players share are tried."""
    drafts: int = 1
    """How many forms of the same length there are, to choose one that all can play."""
    repeatable: bool = True
    twice: bool = False
    """Whether it can be played twice from beginning to end."""
    on_tubes: bool = False
    """Whether it lies on tubes, so that only horns of the same length can share it."""


def _air(on: Footing) -> Iterator[Form]:
    for seconds in _FIRST_AIRS if on.grade.beginner else _AIRS:
        yield (AirRequest(**on.common, seconds=seconds),)


def _flow(on: Footing) -> Iterator[Form]:
    for bars in ("4", "8", "12"):
        yield (FlowRequest(**on.common, length=bars),)


def _slurs(on: Footing) -> Iterator[Form]:
    common = {name: value for name, value in on.common.items() if name != "keys"}
    tubes = tuple(on.horn.tubes[lowers] for lowers in on.grade.tubes)
    for count in range(min(2, len(tubes)), len(tubes) + 1):
        yield (SlursRequest(**common, tubes=tubes[:count]),)


def _scales(on: Footing) -> Iterator[Form]:
    patterns = ("straight", "straight", "returning", "thirds")
    ways = enumerate(_turned(patterns, on))
    yield from _growing(
        ScalesRequest(**on.common, pattern=pattern, articulation=row, rhythm=_rhythm(place, on, "eighths"))
        for place, (pattern, row) in ways
    )


def _arpeggios(on: Footing) -> Iterator[Form]:
    patterns = ("straight", "straight", "broken", "returning")
    yield from _growing(
        _paced(
            ArpeggiosRequest(
                **on.common, pattern=pattern, articulation=row, rhythm="quarters" if place and on.grade.beginner else ""
            ),
            on,
        )
        for place, (pattern, row) in enumerate(_turned(patterns, on))
    )


def _paced(request: Request, on: Footing) -> Request:
    """Return what beginners play no quicker than their scales."""
    scale = formed(next(_scales(on))) if on.grade.beginner else None
    return no_quicker(request, scale.tempo) if scale and made_as_asked(request) else request


def _rhythm(place: int, on: Footing, quickest: str) -> str:
    """Return the rhythm of a climb at a place: beginners have long notes first, then their own quickest ones alone."""
    if not place or not on.grade.beginner:
        return ""
    return "quarters" if on.grade.slow else quickest


def _turned(patterns: tuple[str, ...], on: Footing) -> Iterator[tuple[str, str]]:
    """Yield each pattern with the next of the sets that the grade knows."""
    sets = on.grade.sets or _SETS
    for place, pattern in enumerate(patterns):
        yield pattern, sets[place % len(sets)]


def _growing(requests: Iterator[Request]) -> Iterator[Form]:
    """Yield the first request, then the first two, and so on."""
    known: Form = ()
    for request in requests:
        known = (*known, request)
        yield known


def _intervals(on: Footing) -> Iterator[Form]:
    for articulation in ("slurred", "both"):
        yield (IntervalsRequest(**on.common, articulation=articulation),)


def _dynamics(on: Footing) -> Iterator[Form]:
    for shapes, registers in _TONES:
        yield (DynamicsRequest(**on.common, shapes=shapes, registers=registers),)


def _entrances(on: Footing) -> Iterator[Form]:
    for count in (2, 4, 6, 8):
        rests = on.grade.entrance_rests if on.grade.beginner else "2-4"
        yield (EntrancesRequest(**on.common, count=count, rests=rests),)


def _tonguing(on: Footing) -> Iterator[Form]:
    for registers in (("middle",), ("low", "middle"), ("low", "middle", "high")):
        yield (TonguingRequest(**on.common, registers=registers),)


def _tunes(on: Footing) -> list[str]:
    """Return the kinds of tune that the grade has meters for, those of minor keys in minor alone.

    Of a beginner's only those in four, if there are any: in two, tunes of quarters are all alike.
    """
    minor, meters = parse_key(on.common["keys"][0]).mode == "minor", on.grade.meters
    kinds = (kind for kind in TUNE_KINDS.values() if minor or not kind.minor)
    known = [kind for kind in kinds if not meters or str(kind.meter) in meters]
    return [kind.name for kind in known if not on.grade.beginner or kind.meter == COMMON] or [kind.name for kind in known]


def _etude(on: Footing) -> Iterator[Form]:
    kinds = shuffled(_tunes(on), on.seed, "class tune")[:_TUNES]
    for bars in ("8", "16") if on.grade.beginner else ("8", "16", "24", "32"):
        for place in range(_TUNES):
            kind = kinds[place % len(kinds)]
            yield (_paced(EtudeRequest(**on.common, kind=kind, bars=bars), on),)


PROGRAMME: Mapping[str, ClassStudy] = {
    row.name: row
    for row in (
        ClassStudy("air", _air, weight=1.2, rank=3, narrowest=3, repeatable=False),
        ClassStudy("flow", _flow, weight=2, rank=2),
        ClassStudy("slurs", _slurs, weight=3, rank=4, narrowest=5, repeatable=False, on_tubes=True),
        ClassStudy("scales", _scales, weight=2.5, rank=1),
        ClassStudy("arpeggios", _arpeggios, weight=2, rank=5),
        ClassStudy("intervals", _intervals, weight=2, rank=6),
        ClassStudy("dynamics", _dynamics, weight=3, rank=7, narrowest=3),
        ClassStudy("entrances", _entrances, weight=3, rank=9, narrowest=4),
        ClassStudy("tonguing", _tonguing, weight=3, rank=8),
        ClassStudy("etude", _etude, weight=3, rank=0, repeatable=False, twice=True, seats=4, drafts=_TUNES),
    )
}


def formed(form: Form) -> Study | None:
    """Return the study of a form, its strains named by what tells them apart; nothing where it cannot be had."""
    study = _formed(form)
    return with_single_rests(study) if study and grade(form[0].grade).beginner else study


def _formed(form: Form) -> Study | None:
    studies = [study for request in form if (study := made_as_asked(request))]
    if len(studies) < len(form):
        return None
    if len(studies) == 1:
        return _named(studies[0], form[0])
    pace = min(study.tempo for study in studies)
    paced = [made_as_asked(nearest_tempo(replace(request, tempo=pace))) for request in form]
    alike = [study for study in paced if study and study.tempo == pace]
    if len(alike) < len(form):
        return _formed(form[:-1])
    pairs = zip(alike, form, strict=True)
    strains = tuple(_told(strain, request) for study, request in pairs for strain in study.strains)
    return replace(alike[0], what="", strains=strains)


def _told(strain: Strain, request: Request) -> Strain:
    """Return a scale or a chord that says no more than what tells it from the others.

    That is its pattern, or how it is tongued and slurred, and its rhythm.
    """
    if not isinstance(request, ScalesRequest | ArpeggiosRequest):
        return strain
    straight = request.pattern == "straight"
    way = request.articulation.replace("-", " ") if straight else ""
    detail = ", ".join(filter(None, (way, strain.label.detail)))
    part = pattern_words(request.pattern, child=grade(request.grade).child)
    return replace(strain, label=replace(strain.label, part=part, detail=detail))


def _named(study: Study, request: Request) -> Study:
    """Return a study whose words name no note and no key: they are other ones on every horn."""
    if isinstance(request, AirRequest):
        return replace(study, strains=tuple(map(_untold, study.strains)))
    if isinstance(request, EtudeRequest):
        beginner = grade(request.grade).beginner
        named = replace(study, name=tune_name(request.kind, study.strains, beginner=beginner).capitalize())
        return _with_rests(unlettered(named)) if beginner else named
    return replace(study, what="") if isinstance(request, EntrancesRequest) else study


def _untold(strain: Strain) -> Strain:
    return replace(strain, label=replace(strain.label, detail=""))


def _with_rests(study: Study) -> Study:
    """Return a tune with a rest between its sections: the lips of a beginner last eight bars, his patience a bar."""
    *before, last = study.strains
    return replace(study, strains=(*(_with_rest(strain) for strain in before), last))


def _with_rest(strain: Strain) -> Strain:
    """Return a section that ends with a bar of rest at the most, its own rests among it."""
    music, bar = list(strain.music), strain.meter.bar
    silent = Fraction(0)
    while isinstance(music[-1], Rest):
        silent += music.pop().length
    rest = silent % bar or bar
    bars = int((rest - silent) / bar)
    lines = (*strain.lines[:-1], strain.lines[-1] + bars) if strain.lines else ()
    return replace(strain, music=(*music, *_rests(rest, silent, strain)), lines=lines)


def _rests(rest: Fraction, silent: Fraction, strain: Strain) -> Iterator[Rest]:
    """Yield a rest at the end of a section, cut where its bar line is."""
    heard = length(strain.music) - silent - strain.upbeat
    left = -heard % strain.meter.bar
    yield from (Rest(part) for part in (min(left, rest), rest - min(left, rest)) if part)
