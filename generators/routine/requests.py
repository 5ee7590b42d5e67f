"""What is asked of a routine: one day, or the seven from a date; each complete in itself, whatever the log says later."""

from dataclasses import dataclass, replace
from datetime import date
from typing import Self

from generators.fields import option
from generators.routine.growth import Growth
from generators.routine.profile import LONGEST_DAY, SHORTEST_DAY, Profile
from generators.studies.kit.kind import DAY_KINDS
from generators.studies.kit.request import FASTEST, SLOWEST


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What is wanted today beside the profile."""

    keys: tuple[str, ...] = option((), "Written keys instead of the rotation's, such as Eb,D.")
    transpose: int = option(0, "All keys moved by so many half-steps.", span=(-12, 12))
    tempo: int | None = option(
        None,
        "Quarter notes a minute for every part that can be had at it; others as near as they can.",
        span=(SLOWEST, FASTEST),
    )
    seed: int = option(0, "Another number, another draw.")


@dataclass(frozen=True, slots=True, kw_only=True)
class RoutineRequest:
    """What a day and a week are both asked."""

    profile: Profile
    on: date
    """The day that is played, or the first of seven."""
    minutes: int | None = option(None, "Minutes of a normal day; without it the profile's.", span=(SHORTEST_DAY, LONGEST_DAY))
    growth: Growth | None = None
    """Where growth has arrived by the log, and why; nothing without a log."""
    concert: bool = option(False, "The keys are the same concert keys for every player of that day.")
    wishes: Wishes = Wishes()

    @property
    def player(self) -> str:
        """What the draws of this player depend on."""
        return f"{self.profile.name}{self.wishes.seed or ''}"

    @property
    def music(self) -> Self:
        """The request with all that changes no note left at its default."""
        profile = replace(self.profile, paper="a4", duplex=False)
        top = Growth(top=self.growth.top) if self.growth else None
        return replace(self, profile=profile, growth=top)


@dataclass(frozen=True, slots=True, kw_only=True)
class DayRequest(RoutineRequest):
    """A day's routine."""

    kind: str = option("normal", "The kind of day.", allowed=DAY_KINDS)


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekRequest(RoutineRequest):
    """The seven days from a date, with a cover and an etude."""
