"""The cover of a week: the days at a glance, a chart of what is covered, boxes to tick and lines to write on."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generators.press.pages import span
from generators.routine.load import load
from generators.routine.week import Week
from generators.sheets.cover import CAUTIONS
from generators.sheets.sheet import Sheet

# Minutes that fill a cell of the chart.
FULL_CELL = 3.0


@dataclass(frozen=True, slots=True)
class DayRow:
    """One day on the cover."""

    name: str
    kind: str
    keys: str
    minutes: str
    range: str
    load: str
    page: int


@dataclass(frozen=True, slots=True)
class Box:
    """A filled box of the chart, in staff spaces from its lower left corner."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Chart:
    """Parts by days: cells, what fills them, and the words at the edges with their places."""

    boxes: tuple[Box, ...]
    cells: tuple[Box, ...]
    words: tuple[tuple[float, float, str], ...]


@dataclass(frozen=True, slots=True)
class WeekCover:
    """The first page of a week's packet."""

    title: str
    band: str
    player: str
    date: str
    days: tuple[DayRow, ...]
    chart: Chart
    growth: str
    etude: tuple[str, int]
    cautions: tuple[str, ...]
    foot_left: str
    foot_right: str
    full_cell: int = round(FULL_CELL)
    template: str = "week.ily.j2"
    first: bool = True
    full: bool = False
    notes: int = 150
    """What it costs to engrave, in notes."""


@dataclass(frozen=True, slots=True)
class Blank:
    """A page left empty so that a day begins on a right-hand page."""

    foot_left: str = ""
    foot_right: str = ""
    template: str = "blank.ily.j2"
    first: bool = True
    full: bool = False
    notes: int = 1


CELL_WIDTH, CELL_HEIGHT, GAP = 9.4, 1.15, 0.33
LEFT = 14.0


def chart(week: Week, names: Sequence[str]) -> Chart:
    """Return the coverage chart: a row a part, a column a day, each cell filled by its minutes."""
    rows = list(week.coverage.items())
    cells, boxes, words = [], [], []
    for down, (part, minutes) in enumerate(rows):
        y = -(down + 1) * (CELL_HEIGHT + GAP)
        words.append((0.0, y + 0.1, part.replace("-", " ")))
        for across, value in enumerate(minutes):
            x = LEFT + across * (CELL_WIDTH + GAP)
            cells.append(Box(x, y, CELL_WIDTH, CELL_HEIGHT))
            if value:
                boxes.append(Box(x, y, round(CELL_WIDTH * min(1.0, value / FULL_CELL), 2), CELL_HEIGHT))
    words += [(LEFT + i * (CELL_WIDTH + GAP), 0.4, name) for i, name in enumerate(names)]
    return Chart(tuple(boxes), tuple(cells), tuple(words))


def week_cover(
    week: Week,
    title: str,
    names: Sequence[str],
    starts: Sequence[int],
    etude: tuple[str, int],
    growth: str,
    sheet: Sheet,
    code: str,
) -> WeekCover:
    """Return the cover, given the names of the days and the pages they start on."""
    total = sum(day.seconds for day in week.days) / 60
    return WeekCover(
        title=title,
        band=week.days[0].context.horn.name,
        player=sheet.player,
        date=sheet.date,
        days=tuple(_rows(week, names, starts)),
        chart=chart(week, [name.split()[0][:3] for name in names]),
        growth=growth,
        etude=etude,
        cautions=CAUTIONS,
        foot_left=f"{total:.0f} minutes in seven days",
        foot_right=code,
    )


def _rows(week: Week, names: Sequence[str], starts: Sequence[int]) -> Iterator[DayRow]:
    for day, name, page in zip(week.days, names, starts, strict=True):
        reach = span(note.pitch for part in day.parts for note in part.study.notes)
        weight = load(day)
        words = f"{weight.above / 60:.1f} min high, {weight.rest:.0%} rest"
        keys = " ".join((*day.context.keys.majors, *day.context.keys.minors))
        yield DayRow(name, day.context.kind, keys, f"{day.seconds / 60:.0f} min", reach, words, page)
