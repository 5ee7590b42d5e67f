"""The teacher's summary of a studio: who got what, the keys by day, and what failed; one page or a few."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from generators.brass.horn import horn
from generators.errors import BadRequest
from generators.press.layout import PAPERS
from generators.routine.calendar import weekday_name
from generators.routine.rotation import DayKeys, day_keys
from generators.routine.studio import Chair, Packet, Studio, days_from, keys_by_day
from generators.sheets.sheet import Sheet
from generators.theory.pitch import parse_pitch

# Millimetres of the page: what margins, title and footer take, a row of a table, and the heading of a table.
FRAME, ROW, HEADING = 62.0, 9.6, 16.0
# Longer texts are cut in the tables; the file itself has the whole name. A failure takes a row for so many characters.
LONGEST_NAME, LONGEST_IN_KEYS, FAILURE_LINE = 30, 21, 150


@dataclass(frozen=True, slots=True)
class PlayerRow:
    """One player in the first table."""

    name: str
    horn: str
    grade: str
    range: str
    minutes: str
    pages: str
    file: str


@dataclass(frozen=True, slots=True)
class KeysRow:
    """The keys of one player, or of the group: majors and minors of each day."""

    name: str
    days: tuple[tuple[str, str], ...]


# What stands in the three tables: players, keys, failures.
Row = PlayerRow | KeysRow | str


@dataclass(frozen=True, slots=True)
class SummaryPage:
    """One page of the summary."""

    title: str
    band: str
    date: str
    players: tuple[PlayerRow, ...]
    keys_title: str
    days: tuple[str, ...]
    keys: tuple[KeysRow, ...]
    failures: tuple[str, ...]
    foot_left: str
    foot_right: str
    first: bool = True
    full: bool = False
    template: str = "summary.ily.j2"
    notes: int = 100
    """What it costs to engrave, in notes."""


def summary_pages(
    studio: Studio, on: date, packets: Sequence[Packet], span: str, sheet: Sheet, code: str, *, week: bool
) -> tuple[SummaryPage, ...]:
    """Return the pages that tell a teacher what was printed for whom."""
    pages = sum(packet.pages for packet in packets)
    done = sum(1 for packet in packets if packet.file)
    base = SummaryPage(
        title=studio.shared.name or "Studio",
        band=span,
        date=f"{done} of {len(packets)} players, {pages} pages",
        players=(),
        keys_title="Keys by day, concert pitch" if studio.shared.concert else "Keys by day, as each player reads them",
        days=tuple(f"{weekday_name(day)[:3]} {day.day}" for day in days_from(on, week=week)),
        keys=(),
        failures=(),
        foot_left="tick a box when the sheets are handed out",
        foot_right=code,
    )
    players = [_player(chair, packet) for chair, packet in zip(studio.chairs, packets, strict=True)]
    failures = [f"{packet.name}: {packet.reason}" for packet in packets if packet.reason]
    rows: list[Row] = [*players, *_keys(studio, on, week=week), *failures]
    return tuple(_filled(base, rows, PAPERS[sheet.paper, False].height - FRAME))


def _filled(base: SummaryPage, rows: Sequence[Row], room: float) -> Iterator[SummaryPage]:
    """Yield pages with as many rows as there is room for, every table under its heading on each."""
    page, free = base, room
    kind: type | None = None
    for row in rows:
        height = _height(row) + (HEADING if type(row) is not kind else 0)
        if height > free:
            yield page
            page, free, height = replace(base, title=f"{base.title} (continued)"), room, _height(row) + HEADING
        page, free, kind = _with(page, row), free - height, type(row)
    yield page


def _height(row: Row) -> float:
    return ROW * (1 + len(row) // FAILURE_LINE) if isinstance(row, str) else ROW


def _with(page: SummaryPage, row: Row) -> SummaryPage:
    if isinstance(row, PlayerRow):
        return replace(page, players=(*page.players, row))
    return replace(page, keys=(*page.keys, row)) if isinstance(row, KeysRow) else replace(page, failures=(*page.failures, row))


def _player(chair: Chair, packet: Packet) -> PlayerRow:
    profile = chair.profile
    return PlayerRow(
        name=_cut(chair.name, LONGEST_NAME),
        horn=horn(profile.horn).name if profile else "",
        grade=profile.grade if profile else "",
        range=f"{parse_pitch(packet.lowest).pretty} to {parse_pitch(packet.highest).pretty}" if packet.lowest else "",
        minutes=str(profile.minutes) if profile else "",
        pages=str(packet.pages) if packet.file else "failed",
        file=packet.file,
    )


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else f"{text[: most - 1]}…"


def _keys(studio: Studio, on: date, *, week: bool) -> Iterator[KeysRow]:
    """Yield the keys of every day: the group's where it shares them and whoever has others, else every player's."""
    concert = studio.shared.concert
    group = _shown(day_keys(day.toordinal()) for day in days_from(on, week=week))
    if concert:
        yield KeysRow("the group", group)
    for chair in studio.chairs:
        own = _own(chair, on, week=week, concert=concert)
        if own and not (concert and own == group):
            yield KeysRow(_cut(chair.name, LONGEST_IN_KEYS), own)


def _own(chair: Chair, on: date, *, week: bool, concert: bool) -> tuple[tuple[str, str], ...]:
    """Return the keys of a player's days; none where his entries or his range allow no day."""
    try:
        return _shown(keys_by_day(chair.profile, on, week=week, concert=concert)) if chair.profile else ()
    except BadRequest:
        return ()


def _shown(days: Iterator[DayKeys] | Sequence[DayKeys]) -> tuple[tuple[str, str], ...]:
    return tuple((" ".join(keys.majors), " ".join(keys.minors)) for keys in days)
