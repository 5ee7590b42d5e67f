"""The table of studies, and making one: from any request to its study, or a refusal with a limit that would work."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from generators.brass.grade import grade
from generators.brass.horn import horn
from generators.errors import BadRequest, Refusal, unknown
from generators.fields import checked
from generators.phrase.study import Study
from generators.studies.air import AirRequest, air
from generators.studies.arpeggios import ArpeggiosRequest, arpeggios
from generators.studies.bends import BendsRequest, bends
from generators.studies.buzz.study import BuzzRequest, buzz
from generators.studies.dynamics import DynamicsRequest, dynamics
from generators.studies.entrances import EntrancesRequest, entrances
from generators.studies.etude.study import EtudeRequest, etude
from generators.studies.fingers.study import FingersRequest, fingers
from generators.studies.first_aims import FIRST_AIMS
from generators.studies.flow.study import FlowRequest, flow
from generators.studies.intervals import IntervalsRequest, intervals
from generators.studies.kit.fit import NoFit, span_words
from generators.studies.kit.request import Request
from generators.studies.kit.setting import ALL_KEYS, OWN_KEYS, OffTempo, home_keys, resolve
from generators.studies.low import LowRequest, low
from generators.studies.scales import ScalesRequest, scales
from generators.studies.slurs.study import SlursRequest, slurs
from generators.studies.tonguing.study import TonguingRequest, tonguing
from generators.theory.pitch import simple


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of study: its name on the command line, its request record, its function, and what it is."""

    name: str
    request: type[Request]
    make: Callable[[Any], Study]
    summary: str


KINDS = {
    kind.name: kind
    for kind in (
        Kind("flow", FlowRequest, flow, "Long legato lines out to a turning point and home, key after key."),
        Kind("slurs", SlursRequest, slurs, "Lip slurs: one path of partials down the seven tubes, quickening."),
        Kind(
            "low",
            LowRequest,
            low,
            "Slow descents to the bottom of the horn, half-step by half-step, and into the pedals if asked.",
        ),
        Kind("scales", ScalesRequest, scales, "Scales as wide as the range, in any pattern, rhythm and articulation."),
        Kind("arpeggios", ArpeggiosRequest, arpeggios, "Chords climbed like scales, straight, broken or by inversions."),
        Kind(
            "entrances",
            EntrancesRequest,
            entrances,
            "Cold starts after counted rests, spread evenly over register and dynamic.",
        ),
        Kind("etude", EtudeRequest, etude, "A tune in sentences: one motive, asked, answered, developed and brought home."),
        Kind("air", AirRequest, air, "One soft middle note, and small slurred turns around it that widen."),
        Kind("buzz", BuzzRequest, buzz, "Mouthpiece alone, in a box of seconds: glides drawn as free lines."),
        Kind("bends", BendsRequest, bends, "Middle notes bent a half-step on their own fingering and back, then fingered."),
        Kind("fingers", FingersRequest, fingers, "Small quick cells, slurred, then tongued, or over asked changes of valves."),
        Kind("intervals", IntervalsRequest, intervals, "Leaps from one note, wider and wider, slurred, then tongued."),
        Kind("dynamics", DynamicsRequest, dynamics, "Long tones that swell over counted beats, and sudden changes both ways."),
        Kind("tonguing", TonguingRequest, tonguing, "Single, k alone, double and triple in every order, up a ladder of tempi."),
    )
}


# The studies of a first packet.
PACKET = ("flow", "slurs", "low", "scales", "arpeggios", "entrances")


def kind_of(request: Request) -> Kind:
    """Return the row of the table that a request belongs to."""
    return next(kind for kind in KINDS.values() if type(request) is kind.request)


def kind(name: str) -> Kind:
    """Return a kind of study by name; an unknown one is refused with its nearest neighbour."""
    if name not in KINDS:
        raise unknown("study", name, KINDS)
    return KINDS[name]


def make(request: Request) -> Study:
    """Return the study of a request, its aim worded for a child in the first grade.

    Raises BadRequest where a value is wrong, and NoFit where no shape of the study fits the player; its refusal then
    names the nearest limits that would do, or the tempo, each of them tried.
    """
    checked(request)
    study = _made(request)
    return replace(study, aim=horn(study.horn).said(FIRST_AIMS[study.kind])) if grade(request.grade).child else study


def _made(request: Request) -> Study:
    try:
        return kind_of(request).make(request)
    except (NoFit, OffTempo) as unfit:
        own = None if request.keys else _in_fitting_keys(request)
        if own:
            return own
        if unfit.refusal.would_do:
            raise
        raise NoFit(_cured(unfit.refusal, request)) from None


def _in_fitting_keys(request: Request) -> Study | None:
    """Return the study in the first keys that fit the player, where none were asked for; None where no key fits."""
    keys: tuple[str, ...] = ()
    for name in home_keys(ALL_KEYS, horn(request.horn)):
        if len(keys) < OWN_KEYS and _works(replace(request, keys=(*keys, name))):
            keys = (*keys, name)
    if not keys:
        return None
    study = kind_of(request).make(replace(request, keys=keys))
    return replace(study, remarks=(*study.remarks, f"In keys that fit {span_words(study.limits)}."))


def _works(request: Request) -> bool:
    try:
        kind_of(request).make(request)
    except BadRequest:
        return False
    return True


# What is told where nothing that is tried helps.
NO_CURE = "no limits or tempo would help: choose another shape, pattern or figure"


def _cured(refusal: Refusal, request: Request) -> Refusal:
    """Return the refusal with the tempo, the limits, or both that would do; another fault of the request is raised."""
    paced, why = _paced(request)
    found = paced if why is None else next((near for near in map(_in_time, _wider(paced)) if near), None)
    if found is None:
        return replace(refusal, do=NO_CURE)
    changes = ((name, getattr(found, name)) for name in ("tempo", "low", "high"))
    return replace(refusal, would_do=tuple((name, (str(value),)) for name, value in changes if value != getattr(request, name)))


def _in_time(request: Request) -> Request | None:
    """Return the request at a tempo that does; None where it is refused for anything else."""
    try:
        paced, why = _paced(request)
    except BadRequest:
        return None
    return paced if why is None else None


def _paced(request: Request) -> tuple[Request, NoFit | None]:
    """Return the request at the tempo that its refusals lead to, and what is then still in the way."""
    tried: set[int | None] = set()
    while request.tempo not in tried:
        tried.add(request.tempo)
        try:
            kind_of(request).make(request)
        except OffTempo as paced:
            request = replace(request, tempo=paced.tempo)
        except NoFit as unfit:
            return request, unfit
        else:
            return request, None
    return request, NoFit(Refusal("tempo", why="cannot be both quick and slow enough"))


def _wider(request: Request) -> Iterator[Request]:
    """Yield the request with a higher top, then with a lower bottom, then with both, nearest first."""
    limits = resolve(replace(request, tempo=None), ("C",), 72, pedals=getattr(request, "pedals", False)).limits
    the_horn = horn(request.horn)
    up = range(the_horn.ceiling.midi - limits.high.midi + 1)
    down = range(max(0, limits.low.midi - the_horn.low.midi) + 1)
    for more, less in sorted(((u, d) for u in up for d in down), key=lambda pair: (pair[0] + pair[1], pair[1])):
        high = _named(limits.high.midi + more) if more else request.high
        low = _named(limits.low.midi - less) if less else request.low
        yield replace(request, low=low, high=high)


def _named(midi: int) -> str:
    """Return a note as players name it: flats, but F sharp and C sharp."""
    return simple(midi, sharp=midi % 12 in (1, 6)).name
