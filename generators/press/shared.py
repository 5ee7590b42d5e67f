"""Short studies on a page together: in a packet no page is left half empty where the next study would fit on it."""

from collections.abc import Sequence

from generators.brass.horn import horn
from generators.phrase.study import Study
from generators.press.layout import PAPERS
from generators.press.marks import Extras
from generators.press.pages import AnyPage, pages, span, transposition
from generators.press.routine_pages import RoutinePage, Section, height, voiced
from generators.press.score import printed
from generators.sheets.sheet import Sheet

Group = tuple[list[Study], tuple[AnyPage, ...]]


def study_pages(studies: Sequence[Study], sheet: Sheet, code: str, slack: int) -> list[Group]:
    """Return the pages of studies in order: alone on pages of their own, or several on one where they all fit."""
    result: list[Group] = []
    group: list[Study] = []
    for study in studies:
        if group and not _fits([*group, study], sheet, slack):
            result.append((group, _printed(group, sheet, code, slack)))
            group = []
        group.append(study)
    return [*result, (group, _printed(group, sheet, code, slack))]


def _printed(group: Sequence[Study], sheet: Sheet, code: str, slack: int) -> tuple[AnyPage, ...]:
    return pages(group[0], sheet, code, slack=slack) if len(group) == 1 else (_shared(group, sheet, code),)


def _fits(group: Sequence[Study], sheet: Sheet, slack: int) -> bool:
    room = PAPERS[sheet.paper, sheet.large_print].first - slack
    return sum(height(section) for section in _sections(group, sheet)) <= room


def _sections(group: Sequence[Study], sheet: Sheet) -> list[Section]:
    return [_section(study, sheet) for study in group]


def _section(study: Study, sheet: Sheet) -> Section:
    extras = Extras(horn(study.horn), bool(sheet.fingerings), sheet.intonation)
    notes_a_line = PAPERS[sheet.paper, sheet.large_print].notes_a_line
    strains = tuple(printed(strain, extras, notes_a_line) for strain in study.strains)
    words = " ".join((study.aim, *study.remarks))
    return voiced(Section(study.title, study.tempo, study.goal, "", words, transposition(study), strains, (), inline=False))


def _shared(group: Sequence[Study], sheet: Sheet, code: str) -> RoutinePage:
    return RoutinePage(
        title="",
        band=horn(group[0].horn).name,
        player=sheet.player,
        date=sheet.date,
        strip=(),
        summary="",
        sections=tuple(_sections(group, sheet)),
        foot_left=span(note.pitch for study in group for note in study.notes),
        foot_right=code,
        first=True,
    )
