"""What a learner may be asked: one value a row of `grades.toml`, and the limits of a player without a grade."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from generators.brass.table import read_table
from generators.errors import unknown
from generators.phrase.study import Limits
from generators.theory.pitch import Pitch, parse_pitch


@dataclass(frozen=True, slots=True)
class Grade:
    """One learner's grade; the written notes are the same on every horn."""

    id: str
    low: Pitch
    high: Pitch
    keys: tuple[str, ...]
    """The written keys allowed; empty for all."""
    meters: tuple[str, ...]
    """The meters allowed, such as 3/4; empty for all."""
    shortest: Fraction
    """The shortest note value, in whole notes."""
    leap: int
    """The widest leap in half-steps."""
    tempo: int
    """Beats a minute at the most."""
    breath: float
    """Seconds between two breaths at the most."""
    speed: float
    """Single-tongued notes a second at the most."""
    source: str
    choice: str
    """What the published charts leave open, and how it was settled."""


def _grade(row: dict[str, Any]) -> Grade:
    pitches = {field: parse_pitch(row[field]) for field in ("low", "high")}
    lists = {field: tuple(row[field]) for field in ("keys", "meters")}
    return Grade(**(row | pitches | lists | {"shortest": Fraction(1, int(row["shortest"]))}))


_TABLE = read_table("grades.toml")
GRADES: dict[str, Grade] = {row["id"]: _grade(row) for row in _TABLE["grade"]}
# A player without a grade: wide enough for every horn, whose own limits then decide.
ADULT: Grade = _grade(_TABLE["adult"])


def grade(id: str) -> Grade:  # noqa: A002 - the word that the tables and the command line use
    """Return the grade of an id from "1" to "6"; another id is refused."""
    if id not in GRADES:
        raise unknown("grade", id, GRADES)
    return GRADES[id]


def limits(of: Grade | None, low: Pitch, high: Pitch, *, pedals: bool = False, partials: bool = False) -> Limits:
    """Return the limits of a study between two notes, with the habits of a grade or, without one, of an adult."""
    by = of or ADULT
    return Limits(low, high, by.breath, by.leap, by.tempo, by.shortest, by.speed, pedals, partials, by.keys)
