"""The parts of a day in warming order: what each asks of the studies, in doses from short to long."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from generators.routine import doses
from generators.routine.context import Context
from generators.studies.kit.request import Request

EVERY = ("normal", "light", "concert", "stretch")
WORKING = ("normal", "stretch")


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
    repeatable: bool = True

    def suits(self, where: Context) -> bool:
        """Tell whether the part belongs into this day of this player."""
        return where.kind in self.kinds and self.name not in where.grade.leaves_out


# Order and shares: our choice.
PIECES = (
    Piece("air", doses.air, 3, 3, 4, repeatable=False),
    Piece("buzz", doses.buzz, 1.5, 12, 2, repeatable=False),
    Piece("bends", doses.bends, 3, 13, 3),
    Piece("flow", doses.flow, 5, 1, 4),
    Piece("low", doses.low, 5, 6, 6),
    Piece("wide-flow", doses.wide_flow, 4, 14, 4, kinds=WORKING),
    Piece("fingers", doses.fingers, 4, 7, 4),
    Piece("scales", doses.scales, 6, 2, 6),
    Piece("arpeggios", doses.arpeggios, 5, 4, 6),
    Piece("intervals", doses.intervals, 3, 11, 3),
    Piece("slurs", doses.slurs, 5, 5, 7),
    Piece("dynamics", doses.dynamics, 4, 10, 3),
    Piece("entrances", doses.entrances, 4, 9, 3),
    Piece("tonguing", doses.tonguing, 4, 8, 4),
    Piece("multiple", doses.multiple, 3, 15, 4, kinds=WORKING),
    Piece("stretch", doses.stretch, 1, 0, 1, kinds=("stretch",), repeatable=False),
    Piece("warm-down", doses.warm_down, 2, 0, 2, repeatable=False),
)
