"""From a request to its document: checked at the door, its sheet settled, stamped with its code and itself."""

from collections.abc import Sequence
from dataclasses import replace

from generators.band.request import ClassRequest
from generators.brass.grade import grade
from generators.fields import check_record, checked
from generators.jobs.codec import encoded, music_code
from generators.jobs.kinds import AnyRequest, paper_of
from generators.routine.calendar import parse_day
from generators.routine.profile import grade_of
from generators.routine.requests import DayRequest, RoutineRequest
from generators.sheets.document import Document, Stamp
from generators.sheets.packet import PacketRequest
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import first_notes
from generators.studies.kit.request import Request


def compose(request: AnyRequest | Sequence[Request], sheet: Sheet | None = None) -> Document:
    """Return the document of a request; several studies in a row are a packet.

    Raises BadRequest where a value or its type is wrong or no music meets it, FailedRun where the music fails its proof.
    """
    asked: AnyRequest = PacketRequest(studies=tuple(request)) if isinstance(request, Sequence) else request
    paper = paper_of(asked)
    checked(asked)
    asked = asked.settled if isinstance(asked, DayRequest) else asked
    settled = settled_sheet(asked, sheet)
    return paper.compose(asked, settled, Stamp(music_code(asked), encoded(asked, settled)))


def settled_sheet(request: AnyRequest, sheet: Sheet | None) -> Sheet:
    """Return the sheet with its defaults settled: paper and name from the profile, what is over the notes from the grade."""
    page = _own_sheet(request) if sheet is None else sheet
    check_record("sheet", page, Sheet)
    if page.date not in ("", "none"):
        parse_day(page.date)
    of = grade(_grade(request))
    return replace(
        page,
        fingerings=page.fingerings or of.fingered,
        note_names=of.child and of.fingered == "all" if page.note_names is None else page.note_names,
        large_print=of.large if page.large_print is None else page.large_print,
        player=page.player or _player(request),
    )


def _own_sheet(request: AnyRequest) -> Sheet:
    return Sheet(paper=request.profile.paper) if isinstance(request, RoutineRequest) else Sheet()


def _player(request: AnyRequest) -> str:
    """Return the name of the player whom a request is for; nothing where it names none."""
    if isinstance(request, ClassRequest):
        return request.reader.name if request.reader else ""
    return request.profile.name if isinstance(request, RoutineRequest) else ""


def _grade(request: AnyRequest) -> str:
    """Return the grade that a request is written for; nothing for none."""
    if isinstance(request, ClassRequest):
        return request.reader.grade if request.reader else ""
    if isinstance(request, RoutineRequest):
        return grade_of(request.profile)
    if isinstance(request, PacketRequest):
        return _grade(request.studies[0]) if request.studies else ""
    return first_notes(request).grade if isinstance(request, Request) else ""
