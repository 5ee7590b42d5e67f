"""The progress page, for a wall or a teacher: why the top is where it is, the last month, and top, minutes and load by week."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from generators.brass.horn import horn
from generators.errors import BadRequest, Refusal
from generators.routine.calendar import full_date
from generators.routine.growth import Growth
from generators.routine.growth_words import outlook, reason
from generators.routine.logbook import FELT, Practice
from generators.routine.month import Counted, Month
from generators.routine.month_words import COUNTED, month_rows, unknown_words
from generators.sheets.chart import Frame, axis_slots, bar_panel, legend, panel_heading, top_panel, week_dates
from generators.sheets.document import Band, Document, Front, Panel, Stamp
from generators.sheets.drawing import CENTERED, Drawing, Words
from generators.sheets.facts import sentence
from generators.sheets.panels import Paragraph, Picture, TextRows, TitlePanel
from generators.sheets.sheet import PAPER_SIZES, Sheet
from generators.sheets.study import file_name
from generators.theory.pitch import Pitch

# Millimetres: the margins at the sides, and what the panels and the room between them leave to titles and footers.
MARGIN = 15.0
TITLES, BETWEEN, DATES = 56.0, 16.0, 8.0
# What the rows of the month take, and what is left between panels then.
MONTH_HEIGHT, CLOSER = 82.0, 13.0
PANEL_SHARES = (0.46, 0.27, 0.27)


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgressRequest:
    """What the page tells: the growth, the weeks, and the top of ordinary days at the end of each."""

    horn: str
    growth: Growth
    weeks: tuple[Practice, ...]
    planned: tuple[Pitch, ...]
    today: date
    month: Month | None = None
    """The last month; nothing where the page is to tell of the weeks alone."""

    @property
    def music(self) -> "ProgressRequest":
        """The request itself: all of it is told."""
        return self


def progress_document(request: ProgressRequest, sheet: Sheet, stamp: Stamp) -> Document:
    """Return the page; refuses weeks of which not each has its top."""
    _check_planned(request)
    band = Band(horn(request.horn).name, sheet.player, sheet.shown_date or full_date(request.today))
    page: tuple[Panel, ...] = (
        TitlePanel(sheet.title or "Progress", band),
        Paragraph(sentence(reason(request.growth, request.today)), "strong"),
        Paragraph(outlook(request.growth)),
        *_month(request),
        Picture(progress_drawing(request, sheet)),
    )
    return Document(
        name=file_name("progress", request.today.isoformat(), stamp.code),
        title=sheet.title or "Progress",
        sheet=sheet,
        stamp=stamp,
        chapters=(Front(pages=(page,), foot=_foot(request)),),
        facts=_facts(request),
    )


def _check_planned(request: ProgressRequest) -> None:
    tops, count = len(request.planned), len(request.weeks)
    if tops != count:
        raise BadRequest(
            Refusal("planned", tops, "is not the number of weeks", allowed=str(count), do="give each week its top")
        )


def _month(request: ProgressRequest) -> tuple[TextRows, ...]:
    """Return the last month, with a line for the teacher to write on."""
    if not request.month:
        return ()
    rows = tuple(month_rows(request.month))
    return (TextRows("The last month", rows, COUNTED, unknown_words(request.month), "Teacher"),)


def _facts(request: ProgressRequest) -> dict[str, Any]:
    """Return growth and weeks as a report tells them."""
    growth = request.growth
    return {
        "top": growth.top.name,
        "since": growth.since.isoformat() if growth.since else None,
        "reason": reason(growth, request.today),
        "easy_days": growth.easy,
        "next": growth.next.name if growth.next else None,
        "weeks": [_week(week, top) for week, top in zip(request.weeks, request.planned, strict=True)],
        "month": _month_facts(request.month) if request.month else None,
    }


def _month_facts(month: Month) -> dict[str, object]:
    return {
        "from": month.first.isoformat(),
        "to": month.last.isoformat(),
        "days": month.days,
        "days_known": month.known,
        "minutes": month.minutes,
        "top": month.top.name if month.top else None,
        "felt": {each.name: each.count for each in month.felt},
        "keys": _shares(month.keys),
        "areas": _shares(month.areas),
    }


def _shares(counted: Sequence[Counted]) -> dict[str, object]:
    """Return what was practised with its days, and what was neglected."""
    return {
        "practised": {each.name: each.count for each in counted if each.count},
        "neglected": [each.name for each in counted if not each.count],
    }


def _week(week: Practice, planned: Pitch) -> dict[str, object]:
    return {
        "monday": week.start.isoformat(),
        "days": week.days,
        "minutes": week.minutes,
        "hard_minutes": week.heavy_minutes,
        "load": week.load,
        "top": week.top.name if week.top else None,
        "planned_top": planned.name,
    }


def _foot(request: ProgressRequest) -> str:
    """Return all weeks in one line, with the best note of them."""
    days, minutes = sum(week.days for week in request.weeks), sum(week.minutes for week in request.weeks)
    best = max((week.top for week in request.weeks if week.top), default=None)
    highest = f", highest note {best.pretty}" if best else ""
    return f"{_counted(len(request.weeks), 'week')}, {_counted(days, 'day')}, {_counted(minutes, 'minute')}{highest}"


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def progress_drawing(request: ProgressRequest, sheet: Sheet) -> Drawing:
    """Return the three panels over one axis of weeks."""
    weeks, (first, second, third) = request.weeks, _frames(request, sheet)
    weights = ", ".join(f"{name} {weight:g}" for name, weight in FELT.items())
    whole = (
        panel_heading(first, "Top note", "dot: reached in the week; line: top of ordinary days")
        + top_panel(first, weeks, request.planned or (request.growth.top,) * first.slots)
        + panel_heading(second, "Minutes", "")
        + bar_panel(second, weeks, lambda week: week.minutes, lambda week: week.heavy_minutes)
        + legend(second)
        + panel_heading(third, "Load", f"minutes weighted by how they felt: {weights}")
        + bar_panel(third, weeks, lambda week: week.load, lambda _: 0)
        + week_dates(third, weeks)
    )
    return whole if weeks else whole + _nothing(second)


def _nothing(frame: Frame) -> Drawing:
    return Drawing(words=(Words(frame.x(frame.slots / 2), frame.y(0.5) - 1, "Nothing is logged yet.", CENTERED, -2),))


def _frames(request: ProgressRequest, sheet: Sheet) -> list[Frame]:
    """Return the frames of the three panels from top to bottom."""
    width, tall = PAPER_SIZES[sheet.paper]
    between = CLOSER if request.month else BETWEEN
    height = tall - 2 * MARGIN - TITLES - 2 * between - DATES - (MONTH_HEIGHT if request.month else 0)
    frames: list[Frame] = []
    bottom = 0.0
    for share in reversed(PANEL_SHARES):
        frames.insert(0, Frame(width - 2 * MARGIN, bottom, share * height, axis_slots(request.weeks)))
        bottom += share * height + between
    return frames
