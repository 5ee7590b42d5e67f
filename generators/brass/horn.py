"""The instruments: one value a row of `horns.toml`; written pitch is the player's, the horn holds the transposition."""

from dataclasses import dataclass
from typing import Any

from generators.brass.table import read_table
from generators.errors import unknown
from generators.theory.interval import Interval, parse_interval
from generators.theory.pitch import Pitch, parse_pitch


@dataclass(frozen=True, slots=True)
class Horn:
    """One instrument; every pitch is written, treble clef."""

    id: str
    name: str
    valves: int
    interval: Interval
    """From the written to the sounding pitch."""
    low: Pitch
    high: Pitch
    """The ordinary limits; pedals lie below the lower one."""
    ceiling: Pitch
    """The top that a player may ask for."""
    comfort: tuple[Pitch, Pitch]
    """The span that studies use when the player names none."""
    program: int
    """The General MIDI program, counted from 0."""
    sound: str
    """The MusicXML sound id."""
    source: str
    reason: str

    @property
    def sounding_half_steps(self) -> int:
        """Half-steps from the written to the sounding pitch."""
        return self.interval.half_steps


def _horn(row: dict[str, Any]) -> Horn:
    pitches = {field: parse_pitch(row[field]) for field in ("low", "high", "ceiling")}
    low, high = row["comfort"]
    typed = {**pitches, "comfort": (parse_pitch(low), parse_pitch(high)), "interval": parse_interval(row["interval"])}
    return Horn(**(row | typed))


HORNS: dict[str, Horn] = {row["id"]: _horn(row) for row in read_table("horns.toml")["horn"]}


def horn(id: str) -> Horn:  # noqa: A002 - the word that the tables and the command line use
    """Return the horn of an id such as "trumpet"; another id is refused with its nearest neighbour."""
    if id not in HORNS:
        raise unknown("horn", id, HORNS)
    return HORNS[id]
