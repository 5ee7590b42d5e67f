"""Every kind of paper: its name, the record that asks for it, and the function that composes it; the studies' rows included."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from generators.band.request import ClassRequest
from generators.errors import BadRequest, Refusal
from generators.routine.requests import DayRequest, WeekRequest
from generators.sheets.classes import class_document
from generators.sheets.day import day_document
from generators.sheets.document import Document, Stamp
from generators.sheets.packet import PacketRequest, packet_document
from generators.sheets.progress import ProgressRequest, progress_document
from generators.sheets.sheet import Sheet
from generators.sheets.study import study_document
from generators.sheets.summary import SummaryRequest, summary_document
from generators.sheets.week import week_document
from generators.studies.catalogue import KINDS
from generators.studies.kit.request import Request

AnyRoutine = DayRequest | WeekRequest
AnyRequest = Request | PacketRequest | DayRequest | WeekRequest | ClassRequest | ProgressRequest | SummaryRequest


@dataclass(frozen=True, slots=True)
class Paper:
    """One kind of paper."""

    name: str
    request: type[Any]
    compose: Callable[[Any, Sheet, Stamp], Document]


PAPERS: dict[str, Paper] = {
    paper.name: paper
    for paper in (
        *(Paper(kind.name, kind.request, study_document) for kind in KINDS.values()),
        Paper("packet", PacketRequest, packet_document),
        Paper("day", DayRequest, day_document),
        Paper("week", WeekRequest, week_document),
        Paper("class", ClassRequest, class_document),
        Paper("progress", ProgressRequest, progress_document),
        Paper("summary", SummaryRequest, summary_document),
    )
}


def paper_of(request: AnyRequest) -> Paper:
    """Return the kind of paper that a request asks for; anything else is refused."""
    found = next((paper for paper in PAPERS.values() if type(request) is paper.request), None)
    if not found:
        allowed = tuple(paper.request.__name__ for paper in PAPERS.values())
        raise BadRequest(Refusal("request", repr(request), "asks for no paper", allowed=allowed))
    return found
