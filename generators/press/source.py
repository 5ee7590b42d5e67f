"""LilyPond source: the house style once, then one book part for every page; the same pages give the same text."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from generators.press.filling import filled_in
from generators.press.laying import Laid
from generators.press.room import STAFF_POINTS, room_of
from generators.sheets.document import Document

# The staff of plain print, in points; the fixed sizes of panels are counted from it.
PLAIN_POINTS = STAFF_POINTS[False]


@dataclass(frozen=True, slots=True)
class Source:
    """The source of a document as it is laid out; the text of each page is made once, when it is first wanted."""

    document: Document
    pages: tuple[Laid, ...]
    made: dict[int, str] = field(default_factory=dict, compare=False, repr=False)

    @property
    def head(self) -> str:
        """What comes before the first page: paper, staff size and house style."""
        room = room_of(self.document.sheet)
        return filled_in("sheet.ly.j2", room=room, total=len(self.pages))

    @property
    def whole(self) -> str:
        """The whole source, as it may be engraved in one run."""
        return self.head + "".join(map(self.part, range(len(self.pages))))

    def run(self, places: Sequence[int]) -> str:
        """Return the source of some consecutive pages; a line before it tells the first one's number, if it is not 1."""
        first = self.pages[places[0]].number
        beginning = "" if first == 1 else f"#(define first-page {first})\n"
        return beginning + self.head + "".join(map(self.part, places))

    def part(self, place: int) -> str:
        """Return the book part of a page, by its place in the document."""
        if place not in self.made:
            self.made[place] = self._filled(place)
        return self.made[place]

    def _filled(self, place: int) -> str:
        here, room = self.pages[place], room_of(self.document.sheet)
        return filled_in(
            "part.ily.j2",
            page=here.page,
            number=here.number,
            starts={chapter: page.number for page in self.pages for chapter in page.chapters},
            code=self.document.stamp.code,
            room=room,
            unit=PLAIN_POINTS / room.points,
        )
