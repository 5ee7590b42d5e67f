"""Clefs: the notes that stand on the lines of a staff, and how far others hang out of it."""

from dataclasses import dataclass

from generators.errors import unknown
from generators.theory.pitch import STEPS, Pitch


@dataclass(frozen=True, slots=True)
class Clef:
    """A clef, `Clef("treble", Pitch("E", 0, 4), Pitch("F", 0, 5))`: the notes of the bottom and the top line."""

    name: str
    bottom: Pitch
    top: Pitch

    @property
    def over(self) -> Pitch:
        """The first note that stands above the five lines."""
        return Pitch(STEPS[(self.top.place + 1) % 7], 0, (self.top.place + 1) // 7)

    def ledgers(self, pitch: Pitch) -> int:
        """Return on how many ledger lines a note stands, positive above the staff and negative below it."""
        above, below = (pitch.place - self.top.place) // 2, (self.bottom.place - pitch.place) // 2
        return max(above, 0) or -max(below, 0)


CLEFS = {
    row.name: row
    for row in (
        Clef("treble", Pitch("E", 0, 4), Pitch("F", 0, 5)),
        Clef("bass", Pitch("G", 0, 2), Pitch("A", 0, 3)),
    )
}


def clef(name: str) -> Clef:
    """Return a clef by name; another is refused."""
    if name not in CLEFS:
        raise unknown("clef", name, CLEFS)
    return CLEFS[name]
