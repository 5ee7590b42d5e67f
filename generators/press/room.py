"""What the paper gives: staff size, the room of a page, and the distances of the house style, in staff spaces."""

from dataclasses import dataclass

from generators.sheets.sheet import PAPER_SIZES, Sheet

# Millimetres of a LilyPond point: 72.27 of them are an inch.
POINT = 25.4 / 72.27
STAFF_POINTS = {False: 22, True: 28}
# Millimetres, our choice: the margins at the sides, above and below; the footer with the air over it; the column of labels.
SIDE, PAGE_EDGE, FOOTER, COLUMN = 15.0, 13.0, 6.0, 15.0
# How far apart the middle two staves of a page stand at the most, in millimetres, plain and in large print: our choice.
MIDDLE_WIDEST = {False: 25.97, True: 31.9}
# How much larger the texts of large print are, and how far lines of print lie apart by the size of its letters.
LARGER, LEADING = 1.2, 1.15
# Staff spaces that clef, meter and the ends of a line take.
ENDS = 9.0


@dataclass(frozen=True, slots=True)
class Room:
    """The room of every page of a sheet."""

    paper: str
    large: bool

    @property
    def points(self) -> int:
        """The height of a staff in LilyPond points."""
        return STAFF_POINTS[self.large]

    @property
    def space(self) -> float:
        """The millimetres of a staff space."""
        return self.points / 4 * POINT

    @property
    def larger(self) -> float:
        """How much larger than elsewhere its texts are."""
        return LARGER if self.large else 1.0

    @property
    def leading(self) -> float:
        """The staff spaces between two lines of print, for every point of its size elsewhere."""
        return LEADING * POINT * self.larger / self.space

    @property
    def height(self) -> float:
        """What stands between the upper edge and the footer, in staff spaces."""
        return (PAPER_SIZES[self.paper][1] - 2 * PAGE_EDGE - FOOTER) / self.space

    @property
    def widest(self) -> float:
        """How far apart the middle two staves of a page stand at the most, in staff spaces."""
        return self.spaces(MIDDLE_WIDEST[self.large])

    @property
    def width(self) -> float:
        """What stands between the side margins, in millimetres."""
        return PAPER_SIZES[self.paper][0] - 2 * SIDE

    @property
    def column(self) -> float:
        """The column of labels, in millimetres."""
        return COLUMN * self.larger

    @property
    def line(self) -> float:
        """What a line has for its key and its notes beside the column, in staff spaces."""
        return self.spaces(self.width - self.column) - ENDS

    def spaces(self, millimetres: float) -> float:
        """Return a length in staff spaces."""
        return millimetres / self.space


def room_of(sheet: Sheet) -> Room:
    """Return the room of a sheet's pages."""
    return Room(sheet.paper, bool(sheet.large_print))
