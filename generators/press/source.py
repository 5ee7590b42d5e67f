"""LilyPond source: the house style once, then one book part for every group of pages; the same pages give the same text."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from generators.press.filling import filled_in
from generators.press.laying import Group
from generators.press.layout import STAFF_POINTS
from generators.sheets.document import Document

# Millimetres of a LilyPond point: 72.27 of them are an inch.
POINT = 25.4 / 72.27
# The staff of plain print, in points; the fixed sizes of panels are counted from it.
PLAIN_POINTS = STAFF_POINTS[False]


@dataclass(frozen=True, slots=True)
class Source:
    """The source of a document as it is laid out; the text of each group is made once, when it is first wanted."""

    document: Document
    groups: tuple[Group, ...]
    made: dict[int, str] = field(default_factory=dict, compare=False, repr=False)

    @property
    def head(self) -> str:
        """What comes before the first page: paper, staff size and house style."""
        sheet = self.document.sheet
        return filled_in("sheet.ly.j2", paper=sheet.paper, staff_points=STAFF_POINTS[sheet.large_print], total=self.pages)

    @property
    def pages(self) -> int:
        """The number of pages."""
        return sum(len(group.pages) for group in self.groups)

    @property
    def whole(self) -> str:
        """The whole source, as it may be engraved in one run."""
        return self.head + "".join(map(self.part, range(len(self.groups))))

    def run(self, places: Sequence[int]) -> str:
        """Return the source of some consecutive groups; a line before it tells at which page it begins, if not at the first."""
        first = self.groups[places[0]].first_page
        beginning = "" if first == 1 else f"#(define first-page {first})\n"
        return beginning + self.head + "".join(map(self.part, places))

    def part(self, place: int) -> str:
        """Return the book part of a group, by its place in the document; the part's number is that of its first page."""
        if place not in self.made:
            self.made[place] = self._filled(place)
        return self.made[place]

    def _filled(self, place: int) -> str:
        points, here = STAFF_POINTS[self.document.sheet.large_print], self.groups[place]
        return filled_in(
            "part.ily.j2",
            pages=here.pages,
            number=here.first_page,
            starts={chapter: group.first_page for group in self.groups for chapter in group.chapters},
            code=self.document.stamp.code,
            unit=PLAIN_POINTS / points,
            staff_space=points / 4 * POINT,
        )
