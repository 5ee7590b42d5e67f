"""What a learner may be asked, and what a player without a grade is: one value a row of `grades.toml`, limits and habits."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from typing import Any

from generators.brass.horn import Horn
from generators.brass.table import read_table
from generators.errors import unknown
from generators.theory.key import parse_key
from generators.theory.pitch import Pitch, parse_pitch

# What range makes a day: an octave, for the first notes a third; our choice.
_NARROWEST_RANGE, _FIRST_RANGE = 12, 4


@dataclass(frozen=True, slots=True)
class Grade:
    """One learner's grade, or the adult; what is written is for the treble convention until it is moved to a horn."""

    id: str
    low: Pitch
    high: Pitch
    comfort: bool
    """Whether the range is the horn's comfortable one instead."""
    keys: tuple[str, ...]
    """The written keys allowed; empty for all."""
    own_keys: tuple[str, ...]
    """The keys of a study where none are asked for; empty where the study has its own."""
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
    chromatic: bool
    """Whether notes outside the key are asked for."""
    triplets: bool
    syncopes: bool
    """Whether a tune leans on notes off the beat, and has dotted and leaning characters."""
    off_the_beat: bool
    """Whether cold entrances come after the beat."""
    threes: bool
    """Whether a day has patterns in groups of three."""
    sets: tuple[str, ...]
    """The articulation sets that scales take, the first by itself; empty for all."""
    soft: str
    loud: str
    """The ends of a long tone."""
    entrances: tuple[str, ...]
    """The dynamics of cold entrances."""
    entrance_count: int
    """How many of them there are by themselves."""
    entrance_rests: str
    """The bars of rest before each of them by itself, such as 2-4."""
    octaves: str
    """How far scales and chords climb by themselves."""
    tune: str
    """How many bars a tune has by itself."""
    tubes: tuple[int, ...]
    """The tubes that lip slurs go through by themselves, by the half-steps that they lower."""
    slur_path: str
    """The path of lip slurs by itself."""
    slur_values: tuple[int, ...]
    """The note values that lip slurs may have; empty for all."""
    pedals: bool
    tongues: tuple[str, ...]
    """The kinds of tonguing; empty for all."""
    moving: tuple[str, ...]
    """Those that leave one note; empty for all."""
    leaves_out: tuple[str, ...]
    """The parts of a day that it does not have."""
    without: tuple[str, ...]
    """The studies that it does not have."""
    large: bool
    """Whether staves are larger by themselves."""
    minutes: int
    """The longest day by itself; 0 where a player's own minutes are kept."""
    fingered: str
    """The fingerings printed by themselves: none, of new notes, all."""
    child: bool
    """Whether aims are worded for a child."""
    beginner: bool
    """Whether long notes come first, slurs go by step, a warm-up has one loudness, and nothing high is begun cold."""
    warm_down: int
    """The tempo of a day's last part; 0 for its own."""
    source: str
    choice: str
    """What the published charts leave open, and how it was settled."""

    def knows(self, key: str) -> bool:
        """Tell whether a written key is one of the grade's."""
        return not self.keys or key in self.keys

    @property
    def slow(self) -> bool:
        """Whether it has nothing quicker than quarters."""
        return self.shortest >= Fraction(1, 4)

    @property
    def narrowest(self) -> int:
        """How many half-steps a range has at the least that makes a day."""
        return _FIRST_RANGE if self.slow else _NARROWEST_RANGE

    @property
    def one_dynamic(self) -> bool:
        """Whether all is played in one dynamic."""
        return self.soft == self.loud

    def tongues_with(self, kind: str) -> bool:
        """Tell whether a kind of tonguing is practised."""
        return not self.tongues or kind in self.tongues

    def moves_with(self, kind: str) -> bool:
        """Tell whether a kind of tonguing leaves its one note."""
        return not self.moving or kind in self.moving


_LISTS = (
    "keys",
    "own_keys",
    "meters",
    "sets",
    "entrances",
    "tubes",
    "slur_values",
    "tongues",
    "moving",
    "leaves_out",
    "without",
)


def _grade(row: dict[str, Any]) -> Grade:
    pitches = {field: parse_pitch(row[field]) for field in ("low", "high")}
    lists = {field: tuple(row[field]) for field in _LISTS}
    return Grade(**(row | pitches | lists | {"shortest": Fraction(1, int(row["shortest"]))}))


_TABLE = read_table("grades.toml")
GRADES: dict[str, Grade] = {row["id"]: _grade(row) for row in _TABLE["grade"]}
# The grades that notes alone tell.
FIRST_GRADES = ("0", "1")
# How far down a beginner's limits may go, in treble clef: our choice.
_LOWEST = Pitch("G", 0, 3)
# A player without a grade: wide enough for every horn, whose own limits then decide.
ADULT: Grade = _grade(_TABLE["adult"])


def grade(id: str) -> Grade:  # noqa: A002 - the word that the tables and the command line use
    """Return the grade of an id from "0" to "6", or the adult for an empty one; another id is refused."""
    if id and id not in GRADES:
        raise unknown("grade", id, GRADES)
    return GRADES[id] if id else ADULT


@cache
def grade_on(id: str, horn: Horn) -> Grade:  # noqa: A002 - as above
    """Return a grade with its range and keys as a horn reads them, so that they have the same fingerings on all."""
    plain = grade(id)
    keys, own = (tuple(horn.key_at_home(parse_key(name)).name for name in names) for names in (plain.keys, plain.own_keys))
    return replace(plain, low=horn.at_home(plain.low), high=horn.at_home(plain.high), keys=keys, own_keys=own)


def span_on(of: Grade, horn: Horn) -> tuple[Pitch, Pitch]:
    """Return the range of a player who names none, inside what the horn has."""
    low, high = horn.comfort if of.comfort else (of.low, of.high)
    return max(low, horn.low), min(high, horn.ceiling)


def grade_by_notes(named: str, low: str, high: str, horn: Horn) -> str:
    """Return the grade that a player names; without one that of the first grades whose notes hold both of his limits, if any.

    Who names no grade but only a beginner's notes is a beginner: our choice.
    """
    if named or not (low and high):
        return named
    return next((first.id for first in firsts_between(parse_pitch(low), parse_pitch(high), horn)), "")


def firsts_between(low: Pitch, high: Pitch, horn: Horn) -> list[Grade]:
    """Return the first grades that have both limits; the last of them a fourth further down: low notes come before high."""
    *before, last = (grade_on(first, horn) for first in FIRST_GRADES)
    wider = replace(last, low=min(last.low, max(horn.low, horn.at_home(_LOWEST))))
    return [first for first in (*before, wider) if first.low <= low < high <= first.high]


def first_with(has: Callable[[Grade], bool]) -> str:
    """Return the first grade that has a habit, for a refusal: `first_with(lambda each: each.pedals) == "4"`."""
    return next((id_ for id_, each in GRADES.items() if has(each)), "")
