"""Which strains stand on which page: none is split, pages are filled evenly, and none is nearly empty."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generators.errors import FailedRun, Refusal


@dataclass(frozen=True, slots=True)
class Room:
    """How many lines of music fit on the first and on further pages of a study, and how many notes on a line."""

    first: float
    later: float
    notes_a_line: int


# By paper and large print: measured on our own sheets.
ROOMS = {
    ("a4", False): Room(11.2, 11.4, 34),
    ("letter", False): Room(9.8, 10.2, 34),
    ("a4", True): Room(7, 7.2, 24),
    ("letter", True): Room(6.7, 6.9, 24),
}
STAFF_POINTS = {False: 22, True: 28}


class TooTallError(FailedRun):
    """A strain is too tall for any page of the paper."""


Way = tuple[int, float, tuple[int, ...]]
"""Pages, unevenness, and the strains on each page as negative counts, so that the least is the best."""


def paginate(lines: Sequence[float], first: float, later: float) -> tuple[int, ...]:
    """Return how many strains stand on each page, given the lines of each strain and the lines a page holds.

    As few pages as do, then as evenly filled as they get, so that the last is not nearly empty.
    """
    if max(lines) > first:
        why = f"of {max(lines):.0f} lines does not fit on a page of {first:.0f}"
        raise TooTallError(Refusal("strain", None, why, do="choose larger paper or no large print"))
    best: dict[int, Way] = {0: (0, 0, ())}
    for end in range(1, len(lines) + 1):
        best[end] = min(_ways_to(end, lines, first, later, best))
    return tuple(-count for count in best[len(lines)][2])


def _ways_to(end: int, lines: Sequence[float], first: float, later: float, best: dict[int, Way]) -> Iterator[Way]:
    """Yield the ways to end a page after so many strains."""
    for start in reversed(range(end)):
        pages, uneven, counts = best[start]
        free = (later if pages else first) - sum(lines[start:end])
        if free < 0:
            return
        yield pages + 1, uneven + free * free, (*counts, start - end)
