"""Which strains stand on which page: none is split, pages are filled evenly, and none is nearly empty."""

from collections.abc import Sequence
from dataclasses import dataclass

from generators.errors import FailedRun


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper size in millimetres, and the lines of music that fit on its first and on further pages."""

    name: str
    width: float
    height: float
    first: int
    later: int
    notes_a_line: int


# ISO 216 and ANSI/ASME Y14.1 size A. Lines a page and notes a line were measured on our own sheets.
PAPERS = {
    ("a4", False): Paper("a4", 210.0, 297.0, 10, 10, 34),
    ("letter", False): Paper("letter", 215.9, 279.4, 9, 9, 34),
    ("a4", True): Paper("a4", 210.0, 297.0, 7, 7, 24),
    ("letter", True): Paper("letter", 215.9, 279.4, 6, 6, 24),
}
STAFF_POINTS = {False: 22, True: 28}


def paginate(lines: Sequence[int], first: int, later: int) -> tuple[int, ...]:
    """Return how many strains stand on each page, given the lines of each strain and the lines a page holds.

    As few pages as do, then as even as they get, so that the last is not nearly empty.
    """
    tallest = max(lines)
    if tallest > first:
        raise FailedRun(
            f"a strain of {tallest} lines does not fit on a page of {first}; choose a larger paper or no large print."
        )
    fewest = _greedy(lines, first, later)
    for spare in range(1, later + 1):
        tighter = _greedy(lines, max(first - spare, tallest), max(later - spare, tallest))
        if len(tighter) > len(fewest):
            break
        fewest = tighter
    return fewest


def _greedy(lines: Sequence[int], first: int, later: int) -> tuple[int, ...]:
    pages: list[int] = []
    room = 0
    for count in lines:
        if not pages or count > room:
            room = later if pages else first
            pages.append(0)
        pages[-1] += 1
        room -= count
    return tuple(pages)
