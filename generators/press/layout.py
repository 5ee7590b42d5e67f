"""Which strains stand on which page: none is split, pages are filled evenly, and none is nearly empty."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generators.errors import FailedRun


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper size in millimetres, and the lines of music that fit on its first and on further pages."""

    name: str
    width: float
    height: float
    first: float
    later: float
    notes_a_line: int


# ISO 216 and ANSI/ASME Y14.1 size A. Lines a page and notes a line were measured on our own sheets.
PAPERS = {
    ("a4", False): Paper("a4", 210.0, 297.0, 11.2, 11.4, 34),
    ("letter", False): Paper("letter", 215.9, 279.4, 9.8, 10.2, 34),
    ("a4", True): Paper("a4", 210.0, 297.0, 7, 7.2, 24),
    ("letter", True): Paper("letter", 215.9, 279.4, 6.7, 6.9, 24),
}
STAFF_POINTS = {False: 22, True: 28}


class LayoutError(FailedRun):
    """A strain is too tall for any page of the paper."""


def paginate(lines: Sequence[float], first: float, later: float) -> tuple[int, ...]:
    """Return how many strains stand on each page, given the lines of each strain and the lines a page holds.

    As few pages as do, then as evenly filled as they get, so that the last is not nearly empty.
    """
    if max(lines) > first:
        raise LayoutError(
            f"a strain of {max(lines):.0f} lines does not fit on a page of {first:.0f}; choose larger paper or no large print."
        )
    best: dict[int, tuple[int, float, tuple[int, ...]]] = {0: (0, 0, ())}  # pages, unevenness, strains on each page, negative
    for end in range(1, len(lines) + 1):
        best[end] = min(_pages_to(end, lines, first, later, best))
    return tuple(-count for count in best[len(lines)][2])


def _pages_to(
    end: int, lines: Sequence[float], first: float, later: float, best: dict[int, tuple[int, float, tuple[int, ...]]]
) -> Iterator[tuple[int, float, tuple[int, ...]]]:
    """Yield the ways to end a page after so many strains: pages, unevenness, strains on each page."""
    for start in reversed(range(end)):
        pages, uneven, counts = best[start]
        free = (later if pages else first) - sum(lines[start:end])
        if free < 0:
            return
        yield pages + 1, uneven + free * free, (*counts, start - end)
