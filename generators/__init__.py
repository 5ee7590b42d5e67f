"""Waterkey: practice pages for trumpet and its family, written, proved and engraved from a request.

The public face, each name loaded when it is first used: a request record for every study (`FlowRequest` ...), `PacketRequest`,
`DayRequest` and `WeekRequest` with `Profile`, `ClassRequest` with `ClassPlayer`; `make` (request to study), `prove` (study to
findings), `compose` (request to document), `render` (document to bytes), `publish` (document to files), `packet_of`, `class_of`
and `print_class` (a studio's file to the papers of a class), `Sheet`, `Report`, `encoded` and `decoded` (requests as JSON),
`read_sheet`, `Changes` and `changed` (a sheet made again), `exported` (study to MusicXML or MIDI), `horn`, `HORNS`,
`fingerings`, `parse_pitch`, and the errors `BadRequest` and `FailedRun`.
"""

from importlib import import_module
from typing import Any

_HOMES = {
    "generators.band.request": ("ClassPlayer", "ClassRequest"),
    "generators.brass.fingering": ("fingerings",),
    "generators.brass.horn": ("HORNS", "horn"),
    "generators.errors": ("BadRequest", "FailedRun", "Refusal", "WaterkeyError"),
    "generators.jobs.again": ("read_sheet",),
    "generators.jobs.changes": ("Changes", "changed"),
    "generators.jobs.classes": ("class_of", "print_class"),
    "generators.jobs.codec": ("decoded", "encoded", "music_code"),
    "generators.jobs.compose": ("compose",),
    "generators.jobs.formats": ("exported",),
    "generators.jobs.publish": ("publish",),
    "generators.jobs.render": ("render", "render_all"),
    "generators.jobs.report": ("Report",),
    "generators.proof.finding": ("Finding",),
    "generators.proof.prove": ("prove",),
    "generators.routine.profile": ("Profile",),
    "generators.routine.requests": ("DayRequest", "WeekRequest", "Wishes"),
    "generators.sheets.document": ("Document",),
    "generators.sheets.packet": ("PacketRequest", "packet_of"),
    "generators.sheets.sheet": ("Sheet",),
    "generators.studies.catalogue": ("KINDS", "make"),
    "generators.theory.pitch": ("parse_pitch",),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}


def _studies() -> dict[str, type[Any]]:
    """Return the request record of every study by its name."""
    from generators.studies.catalogue import KINDS

    return {kind.request.__name__: kind.request for kind in KINDS.values()}


def __dir__() -> list[str]:
    return sorted((*_HOME_OF, *_studies()))


def __getattr__(name: str) -> Any:
    if name in _HOME_OF:
        return getattr(import_module(_HOME_OF[name]), name)
    if name == "__all__":
        return sorted(__dir__(), key=lambda each: (not each.isupper(), not each[0].isupper(), each))
    if name.endswith("Request") and name in _studies():
        return _studies()[name]
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
