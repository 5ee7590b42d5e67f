"""From a studio to its packets: one for each player, one summary for the teacher; only what changed is printed again."""

import json
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import date
from functools import partial
from pathlib import Path

from generators.errors import BadRequest, Refusal, WaterkeyError, worded
from generators.jobs.again import read_sheet
from generators.jobs.codec import decoded
from generators.jobs.compose import compose
from generators.jobs.kinds import AnyRequest
from generators.jobs.publish import DEFAULT_FOLDER, publish
from generators.jobs.report import Report
from generators.keep.files import check_target, refuse_other, user_path
from generators.keep.manifest import NAME, OTHER_FOLDER, Manifest, digest_of, read_manifest
from generators.routine.calendar import check_day
from generators.routine.other_days import profile_of_day
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest, RoutineRequest, WeekRequest
from generators.routine.studio import FAILED, PRINTED, Chair, Packet, Studio, slug
from generators.routine.week import kind_on
from generators.sheets.document import Document
from generators.sheets.sheet import Sheet
from generators.sheets.summary import SummaryPlayer, SummaryRequest

SUMMARY = "summary"


@dataclass(frozen=True, slots=True)
class StudioReport:
    """What was printed of a studio: the folder, the teacher's summary, and every player's packet."""

    folder: str
    summary: str
    packets: tuple[Packet, ...]

    @property
    def failures(self) -> tuple[Packet, ...]:
        """The packets that failed."""
        return tuple(packet for packet in self.packets if packet.state == FAILED)

    def as_json(self) -> str:
        """Return the report as one JSON object."""
        return json.dumps(asdict(self), ensure_ascii=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class StudioRequest:
    """A studio's printing: whose, from which day, a week each or the one day."""

    studio: Studio
    on: date
    week: bool = True

    def of(self, profile: Profile) -> DayRequest | WeekRequest:
        """Return the request of one player."""
        concert = self.studio.shared.concert
        if self.week:
            return WeekRequest(profile=profile, on=self.on, concert=concert)
        return DayRequest(profile=profile, on=self.on, kind=kind_on(profile, self.on), concert=concert)


def print_studio(
    request: StudioRequest,
    out: str | Path = "",
    *,
    anew: bool = False,
    tell: Callable[[Packet], None] = lambda _: None,
) -> StudioReport:
    """Print every player's packet and the summary into a folder, and return the report; `tell` is called after each player.

    A packet that is there and whose request is the same is kept, unless all are wanted `anew`. A player's failure is in the
    report and stops nobody else's; raises FailedRun where the folder cannot be written or the summary not be printed.
    """
    check_day("first", request.on)
    folder = user_path(out, "out") if str(out) else DEFAULT_FOLDER / _telling(request)
    check_target(folder / NAME)
    manifest = read_manifest(folder, request.studio.shared.name)
    _refuse_other(_asked(request, ()), folder / f"{SUMMARY}.pdf")
    if anew:
        manifest = replace(manifest, packets={})
    packets: list[Packet] = []
    for chair in request.studio.chairs:
        packets.append(_packet(chair, request, manifest))
        manifest = manifest.noted(chair.slug, packets[-1])
        tell(packets[-1])
    return StudioReport(str(folder), str(_summary(request, packets, manifest)), tuple(packets))


def _telling(request: StudioRequest) -> str:
    return f"{slug(request.studio.shared.name) or 'studio'}-{'week' if request.week else 'day'}-{request.on.isoformat()}"


def _packet(chair: Chair, request: StudioRequest, manifest: Manifest) -> Packet:
    """Return the packet of a chair: kept, printed, or failed with its reason."""
    if chair.profile is None:
        return Packet(chair.name, FAILED, reason=worded(chair.refusal) if chair.refusal else "")
    try:
        document = compose(request.of(chair.profile))
        kept = manifest.unchanged(chair.slug, digest_of(document.stamp.carried))
        return kept or _made(chair.name, document, manifest.folder / f"{chair.slug}.pdf")
    except WaterkeyError as failure:
        return Packet(chair.name, FAILED, reason=str(failure))


def _made(name: str, document: Document, file: Path) -> Packet:
    _refuse_other(decoded(document.stamp.carried)[0], file)
    report = publish(document, file, replace=True)
    return Packet(
        name=name,
        state=PRINTED,
        file=report.files[0].name,
        code=report.code,
        digest=digest_of(document.stamp.carried),
        pages=report.pages,
        minutes=_minutes(report),
        lowest=report.lowest,
        highest=report.highest,
    )


def _refuse_other(request: AnyRequest, file: Path) -> None:
    """Refuse to print over a file that is not what the studio printed in its place before."""
    refusal = Refusal("out", str(file), "and is no earlier print of this packet", do=OTHER_FOLDER)
    refuse_other(file, refusal, partial(_earlier, request))


def _earlier(request: AnyRequest, file: Path) -> bool:
    """Whether a file is what a studio printed before in its place: a routine of the same player, or its own summary."""
    try:
        there, _ = read_sheet(file)
    except BadRequest:
        return False
    return _whose(there) == _whose(request)


def _whose(request: AnyRequest) -> object:
    if isinstance(request, RoutineRequest):
        return request.profile.name
    return type(request), request.name if isinstance(request, SummaryRequest) else ""


def _minutes(report: Report) -> float:
    return float(report.facts.get("minutes", 0))


def _summary(request: StudioRequest, packets: Sequence[Packet], manifest: Manifest) -> Path:
    """Print the summary if it says anything new, and return its file."""
    chairs, name = request.studio.chairs, request.studio.shared.name
    paper = next((chair.profile.paper for chair in chairs if chair.profile), "a4")
    told = tuple(replace(packet, state=FAILED if packet.state == FAILED else PRINTED) for packet in packets)
    players = tuple(SummaryPlayer(packet, _shown(chair, request)) for packet, chair in zip(told, chairs, strict=True))
    document = compose(_asked(request, players), Sheet(paper=paper, player=name))
    file = manifest.folder / f"{SUMMARY}.pdf"
    if not manifest.unchanged(SUMMARY, digest_of(document.stamp.carried)):
        manifest.noted(SUMMARY, _made(SUMMARY, document, file))
    return file


def _shown(chair: Chair, request: StudioRequest) -> Profile | None:
    """Return the profile that a summary tells of: for a day alone the one of that day."""
    return chair.profile if request.week or not chair.profile else profile_of_day(chair.profile, request.on)


def _asked(request: StudioRequest, players: tuple[SummaryPlayer, ...]) -> SummaryRequest:
    shared = request.studio.shared
    return SummaryRequest(name=shared.name, on=request.on, week=request.week, concert=shared.concert, players=players)
