"""Waterkey: practice pages for trumpet and its family, written, proved and engraved from a request.

The public face, each name loaded when it is first used: a request record for every study, `make` (request to study),
`prove` (study to findings), `print_pages` (requests to files), `exported` (study to MusicXML or MIDI bytes), `horn`,
`HORNS`, `fingerings`, and the errors `BadRequest` and `FailedRun`.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from generators.brass.fingering import fingerings
    from generators.brass.horn import HORNS, horn
    from generators.errors import BadRequest, FailedRun, WaterkeyError
    from generators.jobs.printing import Report, exported, packet_requests, print_pages
    from generators.proof.prove import Finding, prove
    from generators.sheets.sheet import Sheet
    from generators.studies.air import AirRequest
    from generators.studies.arpeggios import ArpeggiosRequest
    from generators.studies.bends import BendsRequest
    from generators.studies.buzz.study import BuzzRequest
    from generators.studies.catalogue import KINDS, make
    from generators.studies.dynamics import DynamicsRequest
    from generators.studies.entrances import EntrancesRequest
    from generators.studies.etude.study import EtudeRequest
    from generators.studies.fingers.study import FingersRequest
    from generators.studies.flow.study import FlowRequest
    from generators.studies.intervals import IntervalsRequest
    from generators.studies.low import LowRequest
    from generators.studies.scales import ScalesRequest
    from generators.studies.slurs.study import SlursRequest
    from generators.studies.tonguing.study import TonguingRequest
    from generators.theory.pitch import parse_pitch

_HOMES = {
    "generators.brass.fingering": ("fingerings",),
    "generators.brass.horn": ("HORNS", "horn"),
    "generators.errors": ("BadRequest", "FailedRun", "WaterkeyError"),
    "generators.sheets.sheet": ("Sheet",),
    "generators.jobs.printing": ("Report", "exported", "packet_requests", "print_pages"),
    "generators.proof.prove": ("Finding", "prove"),
    "generators.studies.air": ("AirRequest",),
    "generators.studies.arpeggios": ("ArpeggiosRequest",),
    "generators.studies.bends": ("BendsRequest",),
    "generators.studies.buzz.study": ("BuzzRequest",),
    "generators.studies.catalogue": ("KINDS", "make"),
    "generators.studies.dynamics": ("DynamicsRequest",),
    "generators.studies.entrances": ("EntrancesRequest",),
    "generators.studies.etude.study": ("EtudeRequest",),
    "generators.studies.fingers.study": ("FingersRequest",),
    "generators.studies.flow.study": ("FlowRequest",),
    "generators.studies.intervals": ("IntervalsRequest",),
    "generators.studies.low": ("LowRequest",),
    "generators.studies.scales": ("ScalesRequest",),
    "generators.studies.slurs.study": ("SlursRequest",),
    "generators.studies.tonguing.study": ("TonguingRequest",),
    "generators.theory.pitch": ("parse_pitch",),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = [
    "HORNS",
    "KINDS",
    "AirRequest",
    "ArpeggiosRequest",
    "BadRequest",
    "BendsRequest",
    "BuzzRequest",
    "DynamicsRequest",
    "EntrancesRequest",
    "EtudeRequest",
    "FailedRun",
    "Finding",
    "FingersRequest",
    "FlowRequest",
    "IntervalsRequest",
    "LowRequest",
    "Report",
    "ScalesRequest",
    "Sheet",
    "SlursRequest",
    "TonguingRequest",
    "WaterkeyError",
    "exported",
    "fingerings",
    "horn",
    "make",
    "packet_requests",
    "parse_pitch",
    "print_pages",
    "prove",
]


def __getattr__(name: str) -> Any:
    if name not in _HOME_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOME_OF[name]), name)
