"""The teacher's summary of a studio: who got what, the keys by day, and what failed; one page or a few."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from generators.brass.horn import horn
from generators.errors import BadRequest
from generators.phrase.wording import key_words, range_words
from generators.routine.calendar import check_day, full_date, weekday_name
from generators.routine.profile import Profile
from generators.routine.rotation import day_keys
from generators.routine.studio import Packet, keys_by_day, printed_days
from generators.sheets.document import Band, Document, Front, Panel, Stamp
from generators.sheets.panels import Paragraph, TitlePanel
from generators.sheets.sheet import PAPER_SIZES, Sheet
from generators.sheets.study import file_name
from generators.studies.kit.occasion import DayKeys
from generators.theory.pitch import parse_pitch

NAMELESS = "Studio"
# Millimetres of the page: what margins, title and footer take, a row of a table, and the heading of a table.
FRAME, TABLE_ROW, TABLE_HEADING = 62.0, 9.6, 16.0
# Longer texts are cut in the tables; the file itself has the whole name. A failure takes a row for so many characters.
LONGEST_NAME, LONGEST_IN_KEYS, FAILURE_LINE = 30, 21, 150


@dataclass(frozen=True, slots=True)
class SummaryPlayer:
    """One player's packet, and the profile it was made from, if the studio's file gave one."""

    packet: Packet
    profile: Profile | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SummaryRequest:
    """What a summary tells: the studio's name, from which day, a week each or the one day, and every player's packet."""

    name: str
    on: date
    week: bool
    concert: bool
    """Whether all share the concert keys of a day."""
    players: tuple[SummaryPlayer, ...]

    @property
    def span(self) -> str:
        """What is printed, in words."""
        words = full_date(self.on)
        return f"Week from {words}" if self.week else f"{weekday_name(self.on)}, {words}"

    @property
    def music(self) -> "SummaryRequest":
        """The request itself: all of it is told."""
        return self


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


@dataclass(frozen=True, slots=True)
class Players:
    """The table of players."""

    rows: tuple[PlayerRow, ...]
    template: str = "panels/players.ily.j2"


@dataclass(frozen=True, slots=True)
class KeysTable:
    """The table of keys: a row a player, a column a day."""

    title: str
    days: tuple[str, ...]
    rows: tuple[KeysRow, ...]
    template: str = "panels/keys.ily.j2"


# What stands in the three tables: players, keys, failures.
SummaryRow = PlayerRow | KeysRow | str


def summary_document(request: SummaryRequest, sheet: Sheet, stamp: Stamp) -> Document:
    """Return the pages that tell a teacher what was printed for whom; refuses a day at the end of the calendar."""
    check_day("on", request.on)
    name = request.name or NAMELESS
    pages = tuple(_pages(request, PAPER_SIZES[sheet.paper][1] - FRAME))
    foot = "tick a box when the sheets are handed out"
    return Document(
        name=file_name("summary", stamp.code),
        title=f"{name}: {request.span}",
        sheet=sheet,
        stamp=stamp,
        chapters=(Front(pages=pages, foot=foot, bookmark="Summary"),),
    )


def _pages(request: SummaryRequest, room: float) -> Iterator[tuple[Panel, ...]]:
    """Yield the panels of each page, every table under its heading on each."""
    name, band = request.name or NAMELESS, Band(request.span, "", _count(request))
    for place, rows in enumerate(_filled(list(_summary_rows(request)), room)):
        title = TitlePanel(name if place == 0 else f"{name} (continued)", band)
        tables = (_table(kind, list(group), request) for kind, group in groupby(rows, key=type))
        yield (title, *(panel for table in tables for panel in table))


def _count(request: SummaryRequest) -> str:
    packets = [player.packet for player in request.players]
    done = sum(1 for packet in packets if packet.file)
    return f"{done} of {len(packets)} players, {sum(packet.pages for packet in packets)} pages"


def _summary_rows(request: SummaryRequest) -> Iterator[SummaryRow]:
    yield from map(_player, request.players)
    yield from _keys(request)
    yield from (f"{player.packet.name}: {player.packet.reason}" for player in request.players if player.packet.reason)


def _filled(rows: Sequence[SummaryRow], room: float) -> Iterator[list[SummaryRow]]:
    """Yield the rows of each page: as many as there is room for."""
    page: list[SummaryRow] = []
    free = room
    for row in rows:
        height = _height(row) + (0 if page and type(page[-1]) is type(row) else TABLE_HEADING)
        if height > free:
            yield page
            page, free, height = [], room, _height(row) + TABLE_HEADING
        page.append(row)
        free -= height
    yield page


def _height(row: SummaryRow) -> float:
    return TABLE_ROW * (1 + len(row) // FAILURE_LINE) if isinstance(row, str) else TABLE_ROW


def _table(kind: type, rows: Sequence[SummaryRow], request: SummaryRequest) -> tuple[Panel, ...]:
    if kind is PlayerRow:
        return (Players(tuple(row for row in rows if isinstance(row, PlayerRow))),)
    if kind is KeysRow:
        days = tuple(f"{weekday_name(day)[:3]} {day.day}" for day in printed_days(request.on, week=request.week))
        title = "Keys by day, concert pitch" if request.concert else "Keys by day, as each player reads them"
        return (KeysTable(title, days, tuple(row for row in rows if isinstance(row, KeysRow))),)
    return (Paragraph("Not printed", "strong"), *(Paragraph(str(row), "quiet") for row in rows))


def _player(player: SummaryPlayer) -> PlayerRow:
    packet, profile = player.packet, player.profile
    return PlayerRow(
        name=_cut(packet.name, LONGEST_NAME),
        horn=horn(profile.horn).name if profile else "",
        grade=profile.grade if profile else "",
        range=range_words((parse_pitch(packet.lowest), parse_pitch(packet.highest))) if packet.lowest else "",
        minutes=str(profile.minutes) if profile else "",
        pages=str(packet.pages) if packet.file else "failed",
        file=packet.file,
    )


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else f"{text[: most - 1]}…"


def _keys(request: SummaryRequest) -> Iterator[KeysRow]:
    """Yield the keys of every day: the group's where it shares them and whoever has others, else every player's."""
    group = _shown(day_keys(day.toordinal()) for day in printed_days(request.on, week=request.week))
    if request.concert:
        yield KeysRow("the group", group)
    for player in request.players:
        own = _own(player.profile, request)
        if own and not (request.concert and own == group):
            yield KeysRow(_cut(player.packet.name, LONGEST_IN_KEYS), own)


def _own(profile: Profile | None, request: SummaryRequest) -> tuple[tuple[str, str], ...]:
    """Return the keys of a player's days; none where the entries or the range allow no day."""
    try:
        return _shown(keys_by_day(profile, request.on, week=request.week, concert=request.concert)) if profile else ()
    except BadRequest:
        return ()


def _shown(days: Iterator[DayKeys] | Sequence[DayKeys]) -> tuple[tuple[str, str], ...]:
    return tuple((" ".join(map(key_words, keys.majors)), " ".join(map(key_words, keys.minors))) for keys in days)
