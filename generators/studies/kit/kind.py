"""A kind of study as one row: everything that the catalogue, the command line, the day and the tests know of it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from generators.phrase.study import Study
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request

# The kinds of a day, and those on which one works.
DAY_KINDS = ("normal", "light", "concert", "stretch")
WORKING_DAYS = ("normal", "stretch")
# What playing touches; a part of a day, or a study, covers one or several.
AREAS = (
    *("air", "flow", "low", "high", "fingers", "scales", "arpeggios", "slurs"),
    *("intervals", "dynamics", "entrances", "tonguing", "multiple tonguing", "tunes"),
)


@dataclass(frozen=True, slots=True)
class DayPart:
    """A part of a day that a kind of study offers: its requests from short to long, and how much of a day it is worth."""

    name: str
    place: int
    """Where it stands in warming order."""
    requests: Callable[[Occasion], Iterator[Request]]
    weight: float
    """Its share of the time, beside the other parts'."""
    rank: int
    """Parts of a higher rank are dropped first where time is short."""
    most_lines: int
    """Lines it may take on paper; more time is filled by repeats."""
    areas: tuple[str, ...]
    days: tuple[str, ...] = DAY_KINDS
    repeatable: bool = True
    group: str = ""
    """Parts of one group take turns from day to day; nothing for one that is there every day."""
    turns: int = 1
    """How many turns it has while each other of its group has its own."""
    brief: bool = False
    """Whether it may last less than a minute with its rest."""
    easy: bool = False
    """Whether a grown player needs but a short rest after it."""
    aims: tuple[str, ...] = ()
    """What to listen for, by turns from day to day; nothing where that is what its study says."""
    bars_off: int = 0
    """Bars of rest after each of its lines, at the least."""
    closes: bool = False
    """Whether the day ends with it: its last line is a step softer, and no rest comes after."""
    title: str = ""
    """What the page calls it where its study's own name does not tell what it is for."""


def _as_slow_as_wanted(_: Request) -> int:
    return 0


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of study."""

    name: str
    place: int
    """Where it stands in lists of studies."""
    request: type[Request]
    make: Callable[[Any], Study]
    summary: str
    example: Request
    """A request that shows it at its best."""
    aim: str
    """What to listen for in general."""
    child_aim: tuple[str, str]
    """The same for a child: what stands in the day too, and what a page with room adds."""
    areas: tuple[str, ...]
    parts: tuple[DayPart, ...] = ()
    packet: bool = False
    """Whether it is in a first packet."""
    several: str = ""
    """What a page calls it where its name alone will not do: "low notes"."""
    lacking: str = ""
    """What a range has not where the study finds no room: "no two notes on one {hold}"."""
    warms: bool = False
    """Whether one warms up with it: a beginner plays it in one easy loudness."""
    slowest: Callable[[Any], int] = _as_slow_as_wanted
    """The tempo under which a request of it is not slowed; 0 where there is none."""
