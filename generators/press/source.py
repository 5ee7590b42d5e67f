"""LilyPond source: the house style once, then one book part for every group of pages; the same pages give the same text."""

from collections.abc import Sequence

from generators.press.filling import filled_in
from generators.press.laying import Group
from generators.press.layout import STAFF_POINTS
from generators.sheets.document import Document

# Millimetres of a LilyPond point: 72.27 of them are an inch.
POINT = 25.4 / 72.27
# The staff of plain print, in points; the fixed sizes of panels are counted from it.
PLAIN_POINTS = STAFF_POINTS[False]


def source(document: Document, groups: Sequence[Group]) -> str:
    """Return the whole source of a document, ready for the engraver."""
    return preamble(document, groups) + "".join(part(document, group, groups) for group in groups)


def preamble(document: Document, groups: Sequence[Group]) -> str:
    """Return what comes before the first page: paper, staff size and house style."""
    sheet = document.sheet
    total = sum(len(group.pages) for group in groups)
    return filled_in("sheet.ly.j2", paper=sheet.paper, staff_points=STAFF_POINTS[sheet.large_print], total=total)


def part(document: Document, group: Group, groups: Sequence[Group]) -> str:
    """Return the book part of one group of pages; its number is that of its first page."""
    points = STAFF_POINTS[document.sheet.large_print]
    return filled_in(
        "part.ily.j2",
        pages=group.pages,
        number=group.first_page,
        starts={chapter: other.first_page for other in groups for chapter in other.chapters},
        code=document.stamp.code,
        unit=PLAIN_POINTS / points,
        staff_space=points / 4 * POINT,
    )


def beginning_at(page: int) -> str:
    """Return the line that goes before the source of a run of pages that does not begin with the first."""
    return "" if page == 1 else f"#(define first-page {page})\n"
