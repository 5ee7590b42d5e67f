"""From a document to its pages: each chapter on pages of its own, short studies together where they fit."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from generators.brass.horn import horn
from generators.phrase.study import Study
from generators.press.compact import compact_pages, section_height
from generators.press.layout import ROOMS, paginate
from generators.press.marks import Extras
from generators.press.pages import (
    AnyPage,
    BlankPage,
    PageSection,
    PanelPage,
    SectionsPage,
    StudyPage,
    continued,
    remarks_of,
    study_range,
    transposition,
)
from generators.press.score import Printed, printed
from generators.sheets.document import COMPACT, SHARED, Chapter, Document, Front, Music
from generators.sheets.sheet import Sheet

# A page with so much of its lines filled is spread to the bottom; an emptier one keeps its natural spacing.
FULL = 0.6
# How many notes more a line is given, time and again, where a strain is too tall for its page.
FULLER = 4
# What a ladder of tempi takes of a page, in lines of music.
LADDER_LINES = 0.3


@dataclass(frozen=True, slots=True)
class Group:
    """Pages that belong together, a book part of the engraver's; the chapters on them, and the number of the first page."""

    chapters: tuple[int, ...]
    pages: tuple[AnyPage, ...]
    first_page: int

    @property
    def notes(self) -> int:
        """How many notes it prints."""
        return sum(page.notes for page in self.pages)


def laid(document: Document, slack: Mapping[int, int]) -> tuple[Group, ...]:
    """Return the pages of a document; `slack` leaves so many lines of every page of a chapter empty."""
    groups: list[Group] = []
    page = 1
    for places in _together(document, slack):
        chapter = document.chapters[places[0]]
        if chapter.odd and page % 2 == 0:
            groups.append(Group((), (BlankPage(),), page))
            page += 1
        pages = _pages([document.chapters[place] for place in places], document.sheet, slack.get(places[0], 0))
        groups.append(Group(places, pages, page))
        page += len(pages)
    return tuple(groups)


def _together(document: Document, slack: Mapping[int, int]) -> Iterator[tuple[int, ...]]:
    """Yield the chapters that share their pages: most stand alone, shared ones go together as long as they fit on one."""
    group: tuple[int, ...] = ()
    for place in range(len(document.chapters)):
        joined = [document.chapters[other] for other in (*group, place)]
        if group and not _fit(joined, document.sheet, slack.get(group[0], 0)):
            yield group
            group = ()
        group = (*group, place)
    if group:
        yield group


def _fit(chapters: Sequence[Chapter], sheet: Sheet, slack: int) -> bool:
    """Tell whether chapters share a page: each allows it, and they fit on it."""
    music = [chapter for chapter in chapters if isinstance(chapter, Music) and chapter.look == SHARED]
    room = ROOMS[sheet.paper, sheet.large_print].first - slack
    return len(music) == len(chapters) and sum(map(section_height, _shared_sections(music, sheet))) <= room


def _pages(chapters: Sequence[Chapter], sheet: Sheet, slack: int) -> tuple[AnyPage, ...]:
    chapter = chapters[0]
    if isinstance(chapter, Front):
        return tuple(PanelPage(panels, chapter.foot) for panels in chapter.pages)
    if chapter.look == COMPACT:
        return compact_pages(chapter, sheet, slack)
    if len(chapters) > 1:
        return (_shared_page([music for music in chapters if isinstance(music, Music)], sheet),)
    return tuple(page for section in chapter.sections for page in _study_pages(section.study, chapter, sheet, slack))


def _shared_page(chapters: Sequence[Music], sheet: Sheet) -> SectionsPage:
    sections = tuple(_shared_sections(chapters, sheet))
    foot = study_range([section.study for chapter in chapters for section in chapter.sections])
    return SectionsPage("", chapters[0].band, (), sections, first=True, full=False, foot=foot)


def _shared_sections(chapters: Sequence[Music], sheet: Sheet) -> Iterator[PageSection]:
    for chapter in chapters:
        for section in chapter.sections:
            strains = _strains(section.study, sheet, ROOMS[sheet.paper, sheet.large_print].notes_a_line)
            yield _section(section.study, strains, " ".join(filter(None, (_aim(section.study), *remarks_of(section.study)))))


def _strains(study: Study, sheet: Sheet, notes_a_line: int) -> tuple[Printed, ...]:
    extras = Extras(horn(study.horn), bool(sheet.fingerings), sheet.intonation)
    return tuple(printed(strain, extras, notes_a_line) for strain in study.strains)


def _aim(study: Study) -> str:
    return " ".join(filter(None, (study.aim, study.also)))


def _section(study: Study, strains: Sequence[Printed], aim: str) -> PageSection:
    return PageSection(study.title, study.tempo, study.goal, "", aim, transposition(study), tuple(strains))


def _study_pages(study: Study, chapter: Music, sheet: Sheet, slack: int) -> Iterator[StudyPage]:
    """Yield the pages of a study alone: title, aim, remarks and ladder on the first."""
    room = ROOMS[sheet.paper, sheet.large_print]
    first, later = room.first - slack - bool(study.remarks) - LADDER_LINES * bool(study.ladder), room.later - slack
    strains = _fitting(study, sheet, room.notes_a_line, first)
    counts = paginate([strain.height for strain in strains], first, later)
    title = chapter.title or study.title
    for place, (count, end) in enumerate(zip(counts, accumulate(counts), strict=True)):
        page = _study_page(study, chapter, strains[end - count : end], room.later if place else room.first)
        yield replace(page, first=True, title=title) if place == 0 else _further(page, title)


def _fitting(study: Study, sheet: Sheet, notes_a_line: int, room: float) -> tuple[Printed, ...]:
    """Return the strains, their lines a little fuller where one would not fit on a page."""
    for most in range(notes_a_line, 2 * notes_a_line, FULLER):
        strains = _strains(study, sheet, most)
        if max(strain.height for strain in strains) <= room:
            break
    return strains


def _study_page(study: Study, chapter: Music, strains: Sequence[Printed], room: float) -> StudyPage:
    return StudyPage(
        title="",
        band=chapter.band,
        section=_section(study, strains, _aim(study)),
        first=False,
        full=sum(strain.height for strain in strains) >= FULL * room,
        foot=study_range([study]),
        remarks=remarks_of(study),
        ladder=study.ladder,
    )


def _further(page: StudyPage, title: str) -> StudyPage:
    return replace(page, title=continued(title), section=replace(page.section, aim=""), remarks=(), ladder=())
