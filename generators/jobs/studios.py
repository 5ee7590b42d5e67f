"""From a studio to its packets: one for each player, one summary for the teacher; only what changed is printed again."""

import json
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import date
from pathlib import Path

from generators.errors import WaterkeyError, worded
from generators.jobs.printing import DEFAULT_FOLDER
from generators.jobs.routines import DayRequest, RoutineReport, code_of, print_day, print_week
from generators.keep.files import check_target, save
from generators.keep.manifest import NAME, Manifest, read_manifest
from generators.press.binding import Facts, Laid, bound
from generators.press.code import short
from generators.routine.calendar import full_date, weekday_name
from generators.routine.profile import Profile
from generators.routine.studio import FAILED, PRINTED, Chair, Packet, Studio, slug
from generators.sheets.sheet import Sheet
from generators.sheets.summary import summary_pages

SUMMARY, NAMELESS = "summary", "Studio"


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

    @property
    def what(self) -> str:
        """The kind of packet: week or day."""
        return "week" if self.week else "day"

    @property
    def span(self) -> str:
        """What is printed, in words."""
        words = full_date(self.on)
        return f"Week from {words}" if self.week else f"{weekday_name(self.on)}, {words}"

    def of(self, profile: Profile) -> DayRequest:
        """Return the request of one player."""
        return DayRequest(profile=profile, on=self.on, concert=self.studio.shared.concert)


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
    folder = Path(out).expanduser() if str(out) else DEFAULT_FOLDER / _telling(request)
    check_target(folder / NAME)
    manifest = Manifest(folder) if anew else read_manifest(folder)
    packets: list[Packet] = []
    for chair in request.studio.chairs:
        packets.append(_packet(chair, request, manifest))
        manifest = manifest.noted(chair.slug, packets[-1])
        tell(packets[-1])
    return StudioReport(str(folder), str(_summary(request, packets, manifest)), tuple(packets))


def _telling(request: StudioRequest) -> str:
    return f"{slug(request.studio.shared.name) or 'studio'}-{request.what}-{request.on.isoformat()}"


def _packet(chair: Chair, request: StudioRequest, manifest: Manifest) -> Packet:
    """Return the packet of a chair: kept, printed, or failed with its reason."""
    if chair.profile is None:
        return Packet(chair.name, FAILED, reason=_why(chair))
    asked = request.of(chair.profile)
    try:
        kept = manifest.unchanged(chair.slug, code_of(asked, request.what))
        return kept or _made(chair, (print_week if request.week else print_day)(asked, manifest.folder / f"{chair.slug}.pdf"))
    except WaterkeyError as failure:
        return Packet(chair.name, FAILED, reason=str(failure))


def _why(chair: Chair) -> str:
    return worded(chair.refusal) if chair.refusal else ""


def _made(chair: Chair, report: RoutineReport) -> Packet:
    return Packet(
        name=chair.name,
        state=PRINTED,
        file=report.files[0].name,
        code=report.code,
        pages=report.pages,
        minutes=report.minutes,
        lowest=report.lowest,
        highest=report.highest,
    )


def _summary(request: StudioRequest, packets: Sequence[Packet], manifest: Manifest) -> Path:
    """Print the summary if it says anything new, and return its file."""
    text = _as_json(request, packets)
    code = short(text)
    file = manifest.folder / f"{SUMMARY}.pdf"
    if not manifest.unchanged(SUMMARY, code):
        sheet = Sheet(paper=next((chair.profile.paper for chair in request.studio.chairs if chair.profile), "a4"))
        pages = summary_pages(request.studio, request.on, packets, request.span, sheet, code, week=request.week)
        facts = Facts(f"{request.studio.shared.name or NAMELESS}: {request.span}", request.studio.shared.name, code, text)
        printed = bound(lambda _: Laid(pages, (("Summary", 0),)), sheet, ("pdf",), facts)
        save({file: printed.contents["pdf"][0]})
        manifest.noted(SUMMARY, Packet(SUMMARY, PRINTED, file.name, code, printed.pages))
    return file


def _as_json(request: StudioRequest, packets: Sequence[Packet]) -> str:
    """Return what the summary tells, as JSON: the studio's request and every packet, printed now or before."""
    shared = asdict(request.studio.shared) | {"from": request.on.isoformat(), "week": request.week}
    rows = [asdict(packet) | {"state": FAILED if packet.state == FAILED else PRINTED} for packet in packets]
    plain = {
        "studio": shared,
        "players": [asdict(replace(chair, refusal=None)) | {"refusal": _why(chair)} for chair in request.studio.chairs],
        "packets": rows,
    }
    return json.dumps(plain, indent=1, ensure_ascii=False, sort_keys=True)
