"""Pages of a score: one staff for each line of music, all broken at the same bars, so many systems on a page as it holds."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, groupby, pairwise

from generators.brass.horn import Horn, horn
from generators.phrase.study import Strain, Study
from generators.phrase.wording import full_label
from generators.press.extent import Extent
from generators.press.marks import Extras
from generators.press.once import unrepeated
from generators.press.pages import Head, Heading
from generators.press.room import ENDS, POINT, Room, room_of
from generators.press.score import PLAIN_BREAK, Printed, printed
from generators.sheets.document import FullScore, ScoredStudy, Stave, told_rest
from generators.sheets.sheet import Sheet

# The heights of a staff in points, the largest that has room is taken: our choice. A conductor's score is smaller than a part.
STAFF_SIZES = (17, 15, 13.5, 12, 11, 10, 9, 8)
# So many systems a page should hold, as long as staves are not smaller than that: our choice.
WANTED_SYSTEMS = ((3, 12), (2, 10), (1, 8))
# Millimetres: the column of full names and of short ones; what stands between two systems, and a heading over the first.
FULL_NAMES, SHORT_NAMES, BETWEEN_SYSTEMS, SCORE_HEADING, SCORE_HEAD, SCORE_RUNNING = 48.0, 19.0, 6.0, 12.0, 16.0, 8.0
# Staff spaces: from staff to staff at the least, what lies between what reaches out of two, the words over a strain.
APART, CLEAR_BETWEEN, STRAIN_WORDS = 8.4, 0.9, 2.5
# The smallest staff, in points, that is taken for the sake of fewer pages: our choice.
LEAST_FOR_PAGES = 12
# What systems take of the sum of what their staves reach, for these fit into one another, measured; a score is drawn a little
# wider than a part.
NESTED, WELL_SPACED = 0.85, 0.97
# How much more room is given to every strain for a page that has proved too full: our choice.
CAUTION = 0.02
# Letters of a line in the column of names, of horns and of players, the millimetres of a line, and the most lines of horns.
NAME_LETTERS, PLAYER_LETTERS, NAME_LINE, NAME_LINES = 31, 37, 3.5, 3


@dataclass(frozen=True, slots=True)
class ScoreStaff:
    """A staff: the horns and who plays them, in lines; its short name; its strains, and the opening of each."""

    horns: tuple[str, ...]
    players: tuple[str, ...]
    short: tuple[str, ...]
    strains: tuple[Printed, ...]


@dataclass(frozen=True, slots=True)
class ScorePiece:
    """A study in score, or what of it stands on a page; without a heading it goes on from the page before."""

    heading: Heading | None
    staves: tuple[ScoreStaff, ...]
    words: tuple[str, ...]
    """What stands over each strain."""
    first_bar: int
    timed: bool
    """Whether the meter is printed where it begins."""
    ends: bool
    lettered: bool
    """Whether its words are the letters of sections."""


@dataclass(frozen=True, slots=True)
class FullScorePage:
    """A page of a score."""

    head: Head | None
    running: str
    pieces: tuple[ScorePiece, ...]
    points: float
    foot: str
    names: float = FULL_NAMES
    short_names: float = SHORT_NAMES
    template: str = "full-score.ily.j2"

    @property
    def notes(self) -> int:
        """How many notes it prints."""
        return sum(strain.notes for piece in self.pieces for staff in piece.staves for strain in staff.strains)


@dataclass(frozen=True, slots=True)
class _Row:
    """One strain of a study in all its staves, and the room that it takes in millimetres."""

    study: ScoredStudy
    number: int
    strains: tuple[Printed, ...]
    words: str
    """What stands over it."""
    height: float

    @property
    def system(self) -> float:
        """What one of its systems takes."""
        return self.height / len(self.strains[0].lines)


def score_pages(
    score: FullScore, sheet: Sheet, refused: frozenset[tuple[int, int]]
) -> Iterator[tuple[FullScorePage, tuple[int, int]]]:
    """Yield the pages of a score with the strains on each, from one up to another; `refused` are those that proved too much."""
    room = room_of(sheet)
    points, rows = _sized(score, room)
    counts = list(_counts(rows, score, room, refused))
    for place, (count, end) in enumerate(zip(counts, accumulate(counts), strict=True)):
        head = Head(score.title, score.band, glance=score.glance) if place == 0 else None
        pieces = tuple(_pieces(rows[end - count : end], points))
        yield FullScorePage(head, score.title, pieces, points, ""), (end - count, end)


def _sized(score: FullScore, room: Room) -> tuple[float, list[_Row]]:
    """Return the size of staff that makes the fewest pages and splits the fewest pieces, else the largest, and its strains."""
    points, rows = _largest(score, room)
    smaller = (size for size in STAFF_SIZES if LEAST_FOR_PAGES <= size < points)
    tried = [(points, rows), *((size, _all_rows(score, size, room)) for size in smaller)]
    return min(tried, key=lambda one: (*_turned(one[1], score, room), -one[0]))


def _turned(rows: Sequence[_Row], score: FullScore, room: Room) -> tuple[int, int]:
    """Return how many pages strains make, and how many of them begin within a piece."""
    counts = list(_counts(rows, score, room, frozenset()))
    return len(counts), sum(rows[end].number > 0 for end in accumulate(counts[:-1]))


def _largest(score: FullScore, room: Room) -> tuple[float, list[_Row]]:
    """Return the largest size of staff at which every strain has room on a page, and the strains at that size."""
    for systems, least in WANTED_SYSTEMS:
        for points in (size for size in STAFF_SIZES if size >= least):
            rows = _all_rows(score, points, room)
            needed = max(max(row.height, systems * row.system) for row in rows)
            if needed + SCORE_HEADING <= _page(room, SCORE_RUNNING):
                return points, rows
    return points, rows


def _all_rows(score: FullScore, points: float, room: Room) -> list[_Row]:
    return [row for study in score.studies for row in _rows(study, points, room)]


def _page(room: Room, head: float) -> float:
    return room.height * room.space - head


def _rows(study: ScoredStudy, points: float, room: Room) -> Iterator[_Row]:
    space = points / 4 * POINT
    line = WELL_SPACED * (room.width - FULL_NAMES) / space - ENDS
    for number in range(len(study.staves[0].study.strains)):
        strains = _aligned([stave.study for stave in study.staves], number, line)
        words = _words(study, number)
        yield _Row(study, number, strains, words, _height(strains, space) + (STRAIN_WORDS * space if words else 0.0))


def _aligned(studies: Sequence[Study], number: int, line: float) -> tuple[Printed, ...]:
    """Return a strain in all staves, broken where the one that needs most lines is."""
    bare = [_bare(list(unrepeated(study.strains))[number], top=place == 0) for place, study in enumerate(studies)]
    alone = [printed(strain, Extras(horn(study.horn)), line) for strain, study in zip(bare, studies, strict=True)]
    counts = max((one.counts for one in alone), key=len)
    same = (one if one.counts == counts else printed(one.strain, Extras(one.horn), line, counts=counts) for one in alone)
    return tuple(replace(one, turn=PLAIN_BREAK) for one in same)


def _bare(strain: Strain, *, top: bool) -> Strain:
    """Return a strain for a staff of a score: how often it is played stands over the top one alone."""
    return strain if top else replace(strain, repeats=min(strain.repeats, 2))


def _height(strains: Sequence[Printed], space: float) -> float:
    """Return what a strain takes in all its staves, system by system."""
    systems = zip(*(one.extents for one in strains), strict=True)
    return sum(NESTED * _system(list(extents)) * space + BETWEEN_SYSTEMS for extents in systems)


def _system(extents: Sequence[Extent]) -> float:
    between = sum(max(APART, upper.down + lower.up + CLEAR_BETWEEN) for upper, lower in pairwise(extents))
    return between + extents[0].up + extents[-1].down


def _counts(rows: Sequence[_Row], score: FullScore, room: Room, refused: frozenset[tuple[int, int]]) -> Iterator[int]:
    """Yield how many strains stand on each page: as many as have room and have not proved too many.

    A piece that has no room behind the one before it begins a page; one that has more than a page goes on on the next.
    """
    # What was measured is not exact: the more pages have proved too full, the more room is given to all.
    more = 1 + CAUTION * len(refused)
    start, free = 0, _page(room, SCORE_HEAD + score.glance_height)
    for place, row in enumerate(rows):
        height = more * row.height + SCORE_HEADING * (row.number == 0)
        left = len(row.study.staves[0].study.strains) - row.number if row.number == 0 else 1
        wanted = more * sum(one.height for one in rows[place : place + left]) + SCORE_HEADING * (row.number == 0)
        over = any(begin == start and end <= place + left for begin, end in refused)
        if place > start and (wanted > free or over):
            yield place - start
            start, free = place, _page(room, SCORE_RUNNING)
        free -= height
    yield len(rows) - start


def _pieces(rows: Sequence[_Row], points: float) -> Iterator[ScorePiece]:
    for _, group in groupby(rows, key=lambda row: row.study.number):
        own = list(group)
        study, first = own[0].study, own[0].number
        top = study.staves[0].study
        yield ScorePiece(
            heading=_heading(study) if first == 0 else None,
            staves=tuple(_staff(stave, [row.strains[i] for row in own], points) for i, stave in enumerate(study.staves)),
            words=tuple(row.words for row in own),
            first_bar=1 + sum(len(strain.bars) - bool(strain.upbeat) for strain in top.strains[:first]),
            timed=not first or top.strains[first].meter != top.strains[first - 1].meter,
            ends=first + len(own) == len(top.strains),
            lettered=top.piece,
        )


def _heading(scored: ScoredStudy) -> Heading:
    study = scored.told
    tempo = f".{study.told_tempo}" if study.compound else str(study.told_tempo)
    aim = " ".join(dict.fromkeys((study.aim, *_own_aims(scored))))
    return Heading(study.title, "", scored.number, tempo, told_rest(scored.rest, together=True), aim, (), ())


def _own_aims(scored: ScoredStudy) -> Iterator[str]:
    """Yield what stands on the parts of single staves alone, under whose name: how what is slurred is begun there."""
    for stave in scored.staves:
        more = horn(stave.study.horn).said("{doo}").strip()
        if more and more in stave.study.aim and more not in scored.told.aim:
            yield f"{stave.horns[0]}: {more[0].lower()}{more[1:]}"


def _words(scored: ScoredStudy, number: int) -> str:
    """Return what the score says of a strain: what tells it from the others, without the key that is another on every horn."""
    strains = [(stave.study.strains[number], horn(stave.study.horn)) for stave in scored.staves]
    tubes = (own.resonator.opened(strain.tube) or f"{own.resonator.what(strain.tube)} {strain.tube}" for strain, own in strains)
    if strains[0][0].tube:
        return ", ".join(dict.fromkeys(tubes))
    return full_label(replace(scored.told.strains[number].label, key=None, concert=None, note=None, root=None))


def _staff(stave: Stave, strains: Sequence[Printed], points: float) -> ScoreStaff:
    """Return a staff with the names that have room beside it: where they are many, the pitch of the horns for their names."""
    own = horn(stave.study.horn)
    short = (f"in {own.name.split(' in ')[-1]}",) if len(stave.horns) > 1 and " in " in own.name else _short(own)
    room = max(2, round(APART * points / 4 * POINT / NAME_LINE))
    horns, players = _lines(", ".join(stave.horns))[:NAME_LINES], _lines(", ".join(stave.names), PLAYER_LETTERS)
    if len(horns) + len(players) > room:
        horns = short if len(stave.horns) > 1 else horns[:1]
    return ScoreStaff(horns, _players(stave.names, max(1, room - len(horns))), short, tuple(strains))


def _players(names: Sequence[str], room: int) -> tuple[str, ...]:
    """Return the names of the players on a staff in lines; where there are too many for its room the last are counted."""
    for named in range(len(names), 0, -1):
        others = (f"and {len(names) - named} more",) if named < len(names) else ()
        lines = _lines(", ".join((*names[:named], *others)), PLAYER_LETTERS)
        if len(lines) <= room:
            break
    return lines[:room]


def _short(own: Horn) -> tuple[str, ...]:
    """Return the name of a horn without its pitch and clef, a word a line."""
    return tuple(own.name.split(" in ")[0].split(",")[0].split())


def _lines(text: str, letters: int = NAME_LETTERS) -> tuple[str, ...]:
    """Return a text in lines that the column of names holds."""
    lines = [""]
    for word in (word[:letters] for word in text.split()):
        joined = f"{lines[-1]} {word}".strip()
        if lines[-1] and len(joined) > letters:
            lines.append(word)
        else:
            lines[-1] = joined
    return tuple(lines)
