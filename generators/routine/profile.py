"""A player's profile: horn, range, time and habits, as a frozen record; storing it is not done here."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

from generators.brass.grade import grade_by_notes, grade_on, span_on
from generators.brass.horn import horn
from generators.errors import BadRequest, Refusal
from generators.fields import option
from generators.phrase.articulation import SETS
from generators.studies.catalogue import DAY_PARTS
from generators.theory.pitch import Pitch, parse_pitch

# The parts that a player may leave out or favour, in warming order; a stretch day is nothing without its own.
PARTS = tuple(name for name in DAY_PARTS if name != "stretch")
# The shortest and the longest day, in minutes; our choice.
SHORTEST_DAY, LONGEST_DAY = 8, 60
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")

# What of a profile may be other on one day of the week.
OF_PROFILE = ("horn", "low", "high", "grade")
# What belongs to a horn or a grade: another horn or grade leaves it out.
BOUND: Mapping[str, Any] = MappingProxyType({"low": "", "high": "", "stretch": "", "breath": 0, "tongue": 0, "multiple": 0})


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """What the planner knows of a player; pitches are written, empty values are the horn's or the grade's own."""

    name: str = option("", "The name printed on the pages.")
    horn: str = option("trumpet", "The horn, as listed by `waterkey horns`.")
    low: str = option("", "Comfortable lowest note, such as F#3.")
    high: str = option("", "Comfortable highest note, such as A5: the top of ordinary days.")
    stretch: str = option("", "The note a stretch day reaches once, such as C6.")
    minutes: int = option(22, f"Minutes of a day's routine, {SHORTEST_DAY} to {LONGEST_DAY}.", span=(SHORTEST_DAY, LONGEST_DAY))
    grade: str = option("", "A learner's grade, 0 to 6; empty for none.")
    paper: str = option("a4", "Paper size.", allowed=("a4", "letter"))
    breath: int = option(0, "Seconds one breath lasts, 5 to 60; 0 for the grade's own.", span=(5, 60))
    tongue: int = option(
        0,
        "Quarter notes a minute at which single-tongued sixteenths are easy, 40 to 160; 0 for the grade's own.",
        span=(40, 160),
    )
    multiple: int = option(0, "The same for double tonguing, up to 200; 0 for what the single tongue suggests.", span=(40, 200))
    articulations: tuple[str, ...] = option((), "Articulation sets preferred for scales.", allowed=tuple(SETS))
    weak_keys: tuple[str, ...] = option((), "Keys that come oftener, such as Db,F#m.")
    leave_out: tuple[str, ...] = option((), "Parts of the day never wanted.", allowed=PARTS)
    favour: tuple[str, ...] = option((), "Parts of the day that get more time.", allowed=PARTS)
    rest_day: str = option("sunday", "The day of the week kept light or free.", allowed=(*WEEKDAYS, "none"))
    towards: str = option("", "The day of a recital to build towards, such as 2026-12-12.")
    seed: int = option(0, "Another number, another draw of every day.", span=(0, 9999))
    duplex: bool = option(True, "Printed on both sides: every day begins on a right-hand page.")
    days: tuple[str, ...] = option((), "What is other on a day of the week, such as thursday:horn=cornet, thursday:minutes=12.")


class WrongField(BadRequest):
    """A refusal that knows its field, and the item of a list, so that a file can add the line."""

    def __init__(self, refusal: Refusal, field: str, item: object = None) -> None:
        """Keep the refusal, the field and the item."""
        super().__init__(refusal)
        self.field = field
        self.item = item

    def __reduce__(self) -> tuple[type["WrongField"], tuple[Refusal, str, object]]:
        return type(self), (self.refusal, self.field, self.item)


def for_another(profile: Profile, fields: Mapping[str, Any]) -> Profile:
    """Return a profile with other fields, without what belonged to its horn or grade where one of these is another."""
    if {"horn", "grade"} & fields.keys():
        horn(fields.get("horn", profile.horn))
        profile = replace(profile, **BOUND)
    return replace(profile, **fields)


def grade_of(profile: Profile) -> str:
    """Return the grade of a player: the one named, or that of a beginner's notes; nothing for none."""
    return grade_by_notes(profile.grade, profile.low, profile.high, horn(profile.horn))


def range_of(profile: Profile) -> tuple[Pitch, Pitch]:
    """Return the range of a player: his own limits, those of his grade or horn where he names none."""
    low, high = span_on(grade_on(grade_of(profile), horn(profile.horn)), horn(profile.horn))
    return parse_pitch(profile.low) if profile.low else low, parse_pitch(profile.high) if profile.high else high
