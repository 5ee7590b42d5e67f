"""From a studio to its packets: one for each player, one summary for the teacher; only what changed is printed again."""

import json
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import date
from functools import partial
from hashlib import sha256
from pathlib import Path

from generators.errors import BadRequest, Refusal, WaterkeyError, worded
from generators.jobs.again import read_sheet
from generators.jobs.codec import decoded
from generators.jobs.compose import compose
from generators.jobs.kinds import AnyRequest
from generators.jobs.publish import DEFAULT_FOLDER, publish
from generators.jobs.report import Report
from generators.keep.files import check_target, refuse_other, user_path
from generators.keep.manifest import NAME, Manifest, read_manifest
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest, RoutineRequest, WeekRequest
from generators.routine.studio import FAILED, PRINTED, Chair, Packet, Studio, slug
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
        made = WeekRequest if self.week else DayRequest
        return made(profile=profile, on=self.on, concert=self.studio.shared.concert)


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
    folder = user_path(out, "out") if str(out) else DEFAULT_FOLDER / _telling(request)
    check_target(folder / NAME)
    manifest = Manifest(folder) if anew else read_manifest(folder)
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
        kept = manifest.unchanged(chair.slug, digest(document))
        return kept or _made(chair.name, document, manifest.folder / f"{chair.slug}.pdf")
    except WaterkeyError as failure:
        return Packet(chair.name, FAILED, reason=str(failure))


def digest(document: Document) -> str:
    """Return what tells whether a document was asked for in just the same way, paper and names included."""
    return sha256(document.stamp.carried.encode("utf-8", "surrogatepass")).hexdigest()[:16]


def _made(name: str, document: Document, file: Path) -> Packet:
    do = "move it away, or choose another folder"
    refuse_other(file, Refusal("out", str(file), "and is no earlier print of this packet", do=do), partial(_earlier, document))
    report = publish(document, file, replace=True)
    return Packet(
        name=name,
        state=PRINTED,
        file=report.files[0].name,
        code=report.code,
        digest=digest(document),
        pages=report.pages,
        minutes=_minutes(report),
        lowest=report.lowest,
        highest=report.highest,
    )


def _earlier(document: Document, file: Path) -> bool:
    """Whether a file is what a studio printed before in its place: a routine of the same player, or a summary."""
    try:
        there, _ = read_sheet(file)
    except BadRequest:
        return False
    return _whose(there) == _whose(decoded(document.stamp.carried)[0])


def _whose(request: AnyRequest) -> object:
    return request.profile.name if isinstance(request, RoutineRequest) else type(request)


def _minutes(report: Report) -> float:
    return float(report.facts.get("minutes", 0))


def _summary(request: StudioRequest, packets: Sequence[Packet], manifest: Manifest) -> Path:
    """Print the summary if it says anything new, and return its file."""
    studio = request.studio
    paper = next((chair.profile.paper for chair in studio.chairs if chair.profile), "a4")
    told = tuple(replace(packet, state=FAILED if packet.state == FAILED else PRINTED) for packet in packets)
    players = tuple(SummaryPlayer(packet, chair.profile) for packet, chair in zip(told, studio.chairs, strict=True))
    shared = studio.shared
    asked = SummaryRequest(name=shared.name, on=request.on, week=request.week, concert=shared.concert, players=players)
    document = compose(asked, Sheet(paper=paper, player=shared.name))
    file = manifest.folder / f"{SUMMARY}.pdf"
    if not manifest.unchanged(SUMMARY, digest(document)):
        manifest.noted(SUMMARY, _made(SUMMARY, document, file))
    return file
