"""The progress page: why the top is where it is, and top note, minutes and load by week."""

import json
from collections.abc import Sequence
from dataclasses import dataclass

from generators.errors import FailedRun, Refusal
from generators.press.engraver import Engraved, engraved
from generators.press.filling import filled_in
from generators.press.layout import PAPERS, STAFF_POINTS
from generators.routine.growth import Growth
from generators.routine.logbook import FELT, Span
from generators.sheets.chart import Frame, bars, dates, headed, legend, slots, tops
from generators.sheets.drawing import CENTER, Drawing, Words
from generators.theory.pitch import Pitch

FORMATS = ("pdf", "svg", "png", "ly")
MARGIN = 15.0
# Millimetres of a LilyPond point.
POINT = 25.4 / 72.27
# What the panels and the room between them take of the height that titles and footers leave, in millimetres.
TITLES, BETWEEN, DATES = 56.0, 16.0, 8.0
SHARES = (0.46, 0.27, 0.27)
NOTHING = "Nothing is logged yet. After practice: waterkey log --minutes 25 --felt good --top A5"


@dataclass(frozen=True, slots=True)
class Progress:
    """What the page tells: the growth, the weeks, and the top of ordinary days at the end of each."""

    growth: Growth
    weeks: tuple[Span, ...]
    planned: tuple[Pitch, ...]
    band: str
    player: str
    date: str
    paper: str = "a4"

    @property
    def title(self) -> str:
        """What stands over the page."""
        return "Progress"

    @property
    def reason(self) -> str:
        """Why the top is where it is, as a sentence."""
        return f"{self.growth.reason[:1].upper()}{self.growth.reason[1:]}."

    @property
    def outlook(self) -> str:
        """What comes next."""
        return self.growth.outlook

    @property
    def foot_left(self) -> str:
        """All weeks in one line."""
        days, minutes = sum(week.days for week in self.weeks), sum(week.minutes for week in self.weeks)
        return f"{_counted(len(self.weeks), 'week')}, {_counted(days, 'day')} of practice, {_counted(minutes, 'minute')}"

    @property
    def foot_right(self) -> str:
        """The best note of these weeks."""
        best = max((week.top for week in self.weeks if week.top), default=None)
        return f"highest note {best.pretty}" if best else ""


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def drawing(progress: Progress) -> Drawing:
    """Return the three panels over one axis of weeks."""
    weeks, (first, second, third) = progress.weeks, _frames(progress)
    weights = ", ".join(f"{name} {weight:g}" for name, weight in FELT.items())
    whole = (
        headed(first, "Top note", "dot: reached in the week; line: top of ordinary days")
        + tops(first, weeks, progress.planned or (progress.growth.top,) * first.slots)
        + headed(second, "Minutes", "")
        + bars(second, weeks, lambda week: week.minutes, lambda week: week.heavy_minutes)
        + legend(second)
        + headed(third, "Load", f"minutes weighted by how they felt: {weights}")
        + bars(third, weeks, lambda week: week.load, lambda _: 0)
        + dates(third, weeks)
    )
    return (
        whole if weeks else whole + Drawing(words=(Words(second.x(second.slots / 2), second.y(0.5) - 1, NOTHING, CENTER, -2),))
    )


def _frames(progress: Progress) -> list[Frame]:
    paper = PAPERS[progress.paper, False]
    height = paper.height - 2 * MARGIN - TITLES - 2 * BETWEEN - DATES
    frames: list[Frame] = []
    bottom = 0.0
    for share in reversed(SHARES):
        frames.insert(0, Frame(paper.width - 2 * MARGIN, bottom, share * height, slots(progress.weeks)))
        bottom += share * height + BETWEEN
    return frames


def source(progress: Progress) -> str:
    """Return the LilyPond source of the page."""
    points = STAFF_POINTS[False]
    house = {"paper": progress.paper, "staff_points": points, "first_page": 1, "total": 1}
    return filled_in("progress.ly.j2", page=progress, drawing=drawing(progress), staff_space=points / 4 * POINT, **house)


def printed(progress: Progress, formats: Sequence[str]) -> dict[str, bytes]:
    """Return the page in the formats pdf, svg, png and ly; a PDF carries its weeks as JSON."""
    text = source(progress)
    pictures = [name for name in formats if name != "ly"]
    page = engraved([text], pictures)[0] if pictures else Engraved({}, "")
    if page.overfull:
        raise _too_much()
    contents = {name: parts[0] for name, parts in page.files.items()}
    if "pdf" in contents:
        contents["pdf"] = _one_page(contents["pdf"], progress)
    return contents | ({"ly": text.encode()} if "ly" in formats else {})


def _one_page(pdf: bytes, progress: Progress) -> bytes:
    from generators.press.pdf import merged, page_count, whole_pdf

    metadata = {"Title": progress.title, "Author": progress.player, "Creator": "Waterkey", "Subject": progress.reason}
    bound = merged([whole_pdf(pdf)], [], metadata, as_json(progress))
    if page_count(bound) != 1:
        raise _too_much()
    return bound


def _too_much() -> FailedRun:
    return FailedRun(Refusal("the progress chart", why="takes more than its one page", do="show fewer weeks"))


def as_json(progress: Progress) -> str:
    """Return growth and weeks as one JSON object."""
    growth = progress.growth
    return json.dumps(
        {
            "top": growth.top.name,
            "since": growth.since.isoformat() if growth.since else None,
            "reason": growth.reason,
            "easy_days": growth.easy,
            "next": growth.next.name if growth.next else None,
            "weeks": [_week(week, top) for week, top in zip(progress.weeks, progress.planned, strict=True)],
        },
        ensure_ascii=False,
    )


def _week(week: Span, planned: Pitch) -> dict[str, object]:
    return {
        "monday": week.start.isoformat(),
        "days": week.days,
        "minutes": week.minutes,
        "hard_minutes": week.heavy_minutes,
        "load": week.load,
        "top": week.top.name if week.top else None,
        "planned_top": planned.name,
    }
