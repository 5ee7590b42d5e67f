"""A week: a cover with the days at a glance, a chart of what is covered and boxes to tick; the week's etude; seven days."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generators.phrase.remark import LeftOut
from generators.phrase.study import Study
from generators.phrase.wording import key_words, range_words
from generators.proof.prove import proved
from generators.routine.calendar import day_and_month, full_date, weekday_name
from generators.routine.day import Day
from generators.routine.load import Load, load
from generators.routine.part import LOUDNESS_AREA
from generators.routine.requests import WeekRequest
from generators.routine.taper import days_left
from generators.routine.week import Week, plan_week
from generators.sheets.day import day_chapter, day_omissions, proved_day
from generators.sheets.document import Document, Front, Music, Section, Stamp, horn_band
from generators.sheets.drawing import FROM_LEFT, Drawing, FilledBox, Words
from generators.sheets.facts import growth_words, routine_facts
from generators.sheets.panels import Cautions, Paragraph, Picture, TitlePanel
from generators.sheets.sheet import Sheet
from generators.sheets.sheet_of_week import is_one_sheet, sheet_of_week
from generators.sheets.study import file_name
from generators.studies.catalogue import DAY_PARTS, make, nearest_tempo
from generators.studies.etude.study import EtudeRequest

# Minutes that fill a cell of the chart.
FULL_CELL = 5.0
# What the chart calls the parts that are all of them tonguing.
_TONGUES = {"tonguing": "single tonguing", "multiple": "double, triple"}
# The chart in millimetres: a cell, the room between two, the names at its left; and the tones of a cell and of what fills it.
CELL_WIDTH, CELL_HEIGHT, CELL_GAP, NAMES_WIDTH = 18.2, 2.2, 0.64, 27.0
CELL_TONE, FILLED_TONE = 0.88, 0.35
# How high the longest day stands in the curve towards a date, in millimetres.
CURVE_HEIGHT = 9.0
# How high the bar of the days that are done is, in millimetres.
BAR_HEIGHT = 3.0
# The chapters of the document before the first day: cover and etude.
COVER, ETUDE = 0, 1


@dataclass(frozen=True, slots=True)
class DayRow:
    """One day on the cover; its page is that of a chapter."""

    name: str
    kind: str
    keys: str
    minutes: str
    range: str
    load: str
    chapter: int


@dataclass(frozen=True, slots=True)
class Days:
    """The days at a glance, each with a box to tick, and the etude."""

    rows: tuple[DayRow, ...]
    etude: str
    etude_chapter: int = ETUDE
    template: str = "panels/days.ily.j2"


def week_document(request: WeekRequest, sheet: Sheet, stamp: Stamp) -> Document:
    """Return the packet of a week, every study proved and every day checked; a young player's is one sheet."""
    if is_one_sheet(request):
        return sheet_of_week(request, sheet, stamp)
    week = plan_week(request)
    findings = tuple(finding for day in week.days for finding in proved_day(day))
    etude = week_etude(week)
    title = sheet.title or f"Week from {full_date(request.on)}"
    inner = replace(sheet, title="")
    band = horn_band(request.profile.horn, inner)
    return Document(
        name=file_name("week", request.profile.horn, request.on.isoformat(), stamp.code),
        title=title,
        sheet=sheet,
        stamp=stamp,
        chapters=(
            week_cover(week, etude, request, sheet, title),
            Music(sections=(Section(etude),), band=band, bookmark=etude.title),
            *(_day(day, request, inner) for day in week.days),
        ),
        findings=(*proved(etude), *findings),
        left_out=day_omissions(week.days),
        facts=routine_facts(week.days, request),
    )


def week_etude(week: Week) -> Study:
    """Return the week's etude, in its keys and within the player's range; a key that finds no place needs no word."""
    first = week.days[0].context
    etude = make(nearest_tempo(EtudeRequest(**(first.common | {"seed": week.seed}), keys=first.keys.majors[:2])))
    return replace(etude, remarks=tuple(told for told in etude.remarks if not isinstance(told, LeftOut)))


def _day(day: Day, request: WeekRequest, sheet: Sheet) -> Music:
    dated = replace(sheet, date=sheet.date or day.on.isoformat())
    return day_chapter(day, request, dated, odd=request.profile.duplex)


def week_cover(week: Week, etude: Study, request: WeekRequest, sheet: Sheet, title: str) -> Front:
    """Return the cover."""
    total = sum(day.seconds for day in week.days) / 60
    told = growth_words(request)
    return Front(
        pages=(
            (
                TitlePanel(title, horn_band(request.profile.horn, sheet)),
                Days(tuple(_rows(week)), etude.title),
                *((Paragraph(told),) if told else ()),
                *_done_by_the_log(week),
                *_curve(week, request),
                Picture(coverage_chart(week), "What is covered, by parts and days", f"a full cell is {FULL_CELL:.0f} minutes"),
                Cautions(small=True),
            ),
        ),
        foot=f"{total:.0f} minutes in seven days",
        bookmark="The week",
    )


def _rows(week: Week) -> Iterator[DayRow]:
    for chapter, day in enumerate(week.days, ETUDE + 1):
        weight = load(day)
        yield DayRow(
            name=f"{weekday_name(day.on)} {day_and_month(day.on)}",
            kind=_kind(day, week),
            keys=" ".join(map(key_words, day.keys)),
            minutes=f"{day.seconds / 60:.0f} min",
            range=range_words(day.reach),
            load=_load_words(weight),
            chapter=chapter,
        )


def _load_words(weight: Load) -> str:
    """Return the load of a day as the cover tells it: minutes of notes above the staff, where there are any, and the rest."""
    minutes = f"{weight.above / 60:.1f}"
    above = f"{minutes} min above the staff, " if float(minutes) else ""
    return f"{above}{weight.rest:.0%} rest"


def _done_by_the_log(week: Week) -> tuple[Picture, ...]:
    """Return the bar of days done, once the log has one; the boxes beside the days are ticked by hand."""
    told = f"{_count(week)} of {len(week.days)} by the log"
    return (Picture(_done(week), "Days done", told),) if _count(week) else ()


def _done(week: Week) -> Drawing:
    """Return a bar of the days of the week, those filled that were played."""
    cells = ((i, FILLED_TONE if day.on in week.request.done else CELL_TONE) for i, day in enumerate(week.days))
    boxes = tuple(FilledBox(_x(i), _x(i) + CELL_WIDTH, -BAR_HEIGHT, 0.0, tone) for i, tone in cells)
    return Drawing(boxes=boxes, words=_weekdays(week))


def _count(week: Week) -> int:
    return sum(day.on in week.request.done for day in week.days)


def _weekdays(week: Week) -> tuple[Words, ...]:
    return tuple(Words(_x(i), 0.8, weekday_name(day.on)[:3], FROM_LEFT, -3) for i, day in enumerate(week.days))


def _curve(week: Week, request: WeekRequest) -> tuple[Picture, ...]:
    """Return the minutes of the days as a curve, where they lead to a recital."""
    if not request.towards or all(days_left(day.on, request.towards) is None for day in week.days):
        return ()
    most = max(day.seconds for day in week.days)
    bars = tuple(
        FilledBox(_x(i), _x(i) + CELL_WIDTH, -CURVE_HEIGHT, CURVE_HEIGHT * (day.seconds / most - 1), FILLED_TONE)
        for i, day in enumerate(week.days)
    )
    heads = tuple(
        Words(_x(i), 0.8, f"{weekday_name(day.on)[:3]} {day.seconds / 60:.0f}", FROM_LEFT, -3)
        for i, day in enumerate(week.days)
    )
    return (Picture(Drawing(boxes=bars, words=heads), f"Towards {full_date(request.towards)}", "minutes of each day"),)


def _kind(day: Day, week: Week) -> str:
    """Return what the cover says of a day beside its name: its kind, if it is not a normal one, and its horn, if another."""
    kind = "" if day.kind == "normal" else f"{day.kind} day"
    its = day.context.horn
    other = "" if its.id == week.request.profile.horn else its.name
    return ", ".join(filter(None, (kind, other)))


def coverage_chart(week: Week) -> Drawing:
    """Return the coverage as a drawing: a row a part, a column a day, each cell filled by its minutes.

    Where loudness is the subject of another part, its minutes stand in both rows.
    """
    rows = list((week.coverage | _swelling(week)).items())
    names = tuple(Words(0.0, _y(down) + 0.2, _called(part), FROM_LEFT, -3) for down, (part, _) in enumerate(rows))
    return Drawing(boxes=tuple(_boxes([minutes for _, minutes in rows])), words=(*_weekdays(week), *names))


def _swelling(week: Week) -> dict[str, tuple[float, ...]]:
    """Return the row of dynamics with what swells in other parts; nothing in a week without that row."""
    own = week.coverage.get(LOUDNESS_AREA, ())
    more = (sum(part.seconds + part.rest for part in day.parts if part.swells) / 60 for day in week.days)
    return {LOUDNESS_AREA: tuple(a + b for a, b in zip(own, more, strict=True))} if own else {}


def _called(part: str) -> str:
    """Return what the chart calls a part: as its page does, where that has a name of its own for it."""
    return DAY_PARTS[part].title.lower() or _TONGUES.get(part) or part.replace("-", " ")


def _boxes(rows: Sequence[Sequence[float]]) -> Iterator[FilledBox]:
    for down, minutes in enumerate(rows):
        for across, value in enumerate(minutes):
            x, y, top = _x(across), _y(down), _y(down) + CELL_HEIGHT
            yield FilledBox(x, x + CELL_WIDTH, y, top, CELL_TONE)
            if value:
                yield FilledBox(x, x + CELL_WIDTH * min(1.0, value / FULL_CELL), y, top, FILLED_TONE)


def _x(across: int) -> float:
    return NAMES_WIDTH + across * (CELL_WIDTH + CELL_GAP)


def _y(down: int) -> float:
    return -(down + 1) * (CELL_HEIGHT + CELL_GAP)
