"""Compact pages: many studies one after another, each under a small heading, the first page with a glance at them all."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from generators.brass.horn import horn
from generators.press.layout import ROOMS
from generators.press.marks import Extras
from generators.press.pages import PageSection, SectionsPage, continued, study_range, transposition
from generators.press.score import printed
from generators.sheets.document import Music, Section
from generators.sheets.sheet import Sheet

# How much more a page of compact sections holds, and the steps in which pages are evened out; what a heading and an aim take of
# the page, in lines of music: measured on our own sheets.
DENSER, EVENING = 1.0, 0.25
HEADING_LINES, AIM_LINES = 0.5, 0.2
# A page is never evened below so many lines, and one with fewer than so many free ones is spread to the bottom.
LEAST_ROOM, NEARLY_FULL = 6, 2


@dataclass(slots=True)
class _Filling:
    """A page while it is filled: its sections and the lines still free."""

    free: float
    sections: list[PageSection]


def compact_pages(chapter: Music, sheet: Sheet, slack: float) -> tuple[SectionsPage, ...]:
    """Return the pages of a chapter; `slack` leaves so many half lines of every page empty."""
    room = ROOMS[sheet.paper, sheet.large_print].later + DENSER - slack / 2
    filled = _evened([_section(section, sheet) for section in chapter.sections], chapter.glance_lines, room)
    foot = study_range([section.study for section in chapter.sections])
    return tuple(
        SectionsPage(
            title=chapter.title if place == 0 else continued(chapter.title),
            band=chapter.band,
            glance=chapter.glance if place == 0 else (),
            sections=tuple(page.sections),
            first=place == 0,
            full=page.free < NEARLY_FULL and place < len(filled) - 1,
            foot=foot,
        )
        for place, page in enumerate(filled)
    )


def _section(section: Section, sheet: Sheet) -> PageSection:
    study = section.study
    extras = Extras(horn(study.horn), bool(sheet.fingerings), sheet.intonation)
    notes_a_line = ROOMS[sheet.paper, sheet.large_print].notes_a_line
    strains = tuple(printed(strain, extras, notes_a_line, compact=True) for strain in study.strains)
    rest = f"then rest {section.rest} s" if section.rest else ""
    title = f"{section.number}  {study.title}" if section.number else study.title
    return PageSection(title, study.tempo, study.goal, rest, study.aim, transposition(study), strains, inline=True)


def _evened(sections: Sequence[PageSection], glance: float, room: float) -> list[_Filling]:
    """Return as few pages as do, filled as evenly as they get, so that the last is not nearly empty."""
    pages = _filled(sections, room - glance, room)
    while room > LEAST_ROOM:
        room -= EVENING
        tighter = _filled(sections, room - glance, room)
        if len(tighter) > len(pages):
            break
        pages = tighter
    return pages


def _filled(sections: Sequence[PageSection], first: float, room: float) -> list[_Filling]:
    """Return the pages: sections go on over a page turn only between strains, and never leave their heading behind."""
    pages = [_Filling(first, [])]
    for section in sections:
        rest = section
        while rest.strains:
            # A strain taller than an empty page stands there all the same; engraving tells whether it fits.
            fits = _fitting(rest, pages[-1].free) or int(not pages[-1].sections)
            if fits:
                part = replace(rest, strains=rest.strains[:fits])
                pages[-1].sections.append(part)
                pages[-1].free -= section_height(part)
                rest = replace(rest, strains=rest.strains[fits:], title=continued(section.title), aim="")
            if rest.strains:
                pages.append(_Filling(room, []))
    return pages


def section_height(section: PageSection) -> float:
    """Return what a section takes of a page, in plain lines of music."""
    return HEADING_LINES + (AIM_LINES if section.aim else 0) + sum(strain.height for strain in section.strains)


def _fitting(section: PageSection, free: float) -> int:
    """Return how many strains of a section fit into what is free."""
    count = 0
    while count < len(section.strains) and section_height(replace(section, strains=section.strains[: count + 1])) <= free:
        count += 1
    return count
