"""The table of studies, and making one: from any request to its study, or a refusal with a limit that would work."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from generators.brass.horn import horn
from generators.errors import BadRequest, unknown
from generators.phrase.study import Study
from generators.studies.arpeggios import ArpeggiosRequest, arpeggios
from generators.studies.entrances import EntrancesRequest, entrances
from generators.studies.fit import NoFit
from generators.studies.flow import FlowRequest, flow
from generators.studies.low import LowRequest, low
from generators.studies.request import Request
from generators.studies.scales import ScalesRequest, scales
from generators.studies.setting import resolve
from generators.studies.slurs import SlursRequest, slurs
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
    )
}


def kind_of(request: Request) -> Kind:
    """Return the row of the table that a request belongs to."""
    return next(kind for kind in KINDS.values() if type(request) is kind.request)


def kind(name: str) -> Kind:
    """Return a kind of study by name; an unknown one is refused with its nearest neighbour."""
    if name not in KINDS:
        raise unknown("study", name, KINDS)
    return KINDS[name]


def make(request: Request) -> Study:
    """Return the study of a request.

    Raises BadRequest where a value is wrong, and NoFit where no shape of the study fits the player; its message then
    names the nearest limits that would do.
    """
    function = kind_of(request).make
    try:
        return function(request)
    except NoFit as refusal:
        if "would do" in str(refusal) or "choose" in str(refusal):
            raise
        wider = next((try_ for try_ in _wider(request) if _works(function, try_)), None)
        cure = (
            f"--low {wider.low} --high {wider.high} would do"
            if wider
            else "no range of this horn would do; choose another pattern"
        )
        raise NoFit(f"{refusal}; {cure}.") from None


def _wider(request: Request) -> Iterator[Request]:
    """Yield the request with a higher top, then with a lower bottom, then with both, nearest first."""
    limits = resolve(request, ("C",), 72).limits
    the_horn = horn(request.horn)
    up = range(the_horn.ceiling.midi - limits.high.midi + 1)
    down = range(limits.low.midi - the_horn.low.midi + 1)
    for more, less in sorted(((u, d) for u in up for d in down), key=lambda pair: (pair[0] + pair[1], pair[1])):
        high, low = simple(limits.high.midi + more), simple(limits.low.midi - less)
        yield replace(request, low=low.name, high=high.name)


def _works(function: Callable[[Any], Study], request: Request) -> bool:
    try:
        function(request)
    except BadRequest:
        return False
    return True
