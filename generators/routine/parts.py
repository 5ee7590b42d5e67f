"""The parts of a day in warming order: what each asks of the studies, in doses from short to long."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from generators.routine import doses
from generators.routine.context import Context
from generators.studies.kit.request import Request

EVERY = ("normal", "light", "concert", "stretch")
WORKING = ("normal", "stretch")
ALL_GRADES = ("", "1", "2", "3", "4", "5", "6")
FROM_3, FROM_4, FROM_5 = ("", "3", "4", "5", "6"), ("", "4", "5", "6"), ("", "5", "6")


@dataclass(frozen=True, slots=True)
class Piece:
    """A kind of part: its requests from short to long, its weight in time, and when it is left out."""

    name: str
    requests: Callable[[Context], Iterator[Request]]
    weight: float
    rank: int
    """Parts of a higher rank are dropped first where time is short."""
    most_lines: int
    """Lines it may take on paper; more time is filled by repeats."""
    kinds: tuple[str, ...] = EVERY
    grades: tuple[str, ...] = ALL_GRADES
    repeatable: bool = True

    def suits(self, where: Context) -> bool:
        """Tell whether the part belongs into this day of this player."""
        return where.kind in self.kinds and where.profile.grade in self.grades


# Order and shares: common practice, no source. Bends and multiple tonguing wait until a grade that can use them.
PIECES = (
    Piece("low", doses.low, 5, 6, 6),
    Piece("scales", doses.scales, 6, 2, 6),
    Piece("arpeggios", doses.arpeggios, 5, 4, 6),
    Piece("slurs", doses.slurs, 5, 5, 7),
    Piece("stretch", doses.stretch, 1, 0, 1, kinds=("stretch",), repeatable=False),
)
