"""What is asked of a routine: one day, or the seven from a date; each complete in itself, whatever the log says later."""

from dataclasses import dataclass, replace
from datetime import date
from typing import Self, TypeVar

from generators.fields import option
from generators.routine.condition import RESTED, Lately, sore_before, why_light
from generators.routine.growth import OUTGROWN, Growth
from generators.routine.logbook import FELT
from generators.routine.other_days import other_on, plainly, profile_on
from generators.routine.profile import LONGEST_DAY, PARTS, SHORTEST_DAY, Profile
from generators.routine.taper import kind_towards, towards_words
from generators.studies.kit.kind import DAY_KINDS
from generators.studies.kit.request import FASTEST, SLOWEST

# What is left of the minutes: our choice.
MINUTES_KEPT = {"normal": 1.0, "light": 0.7, "concert": 0.6, "stretch": 1.0}


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
    tempi: tuple[str, ...] = option((), "The tempo of single parts, such as scales=96,tonguing=80.")
    leave_out: tuple[str, ...] = option((), "Parts not wanted today.", allowed=PARTS)
    only: tuple[str, ...] = option((), "The only parts wanted today.", allowed=PARTS)
    favour: tuple[str, ...] = option((), "Parts that get more time today.", allowed=PARTS)
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
    lately: Lately = RESTED
    """The heavy days of the week before, by the log."""
    felt: str = option("", "How the lips feel on the first day, before a note is played.", allowed=("", *FELT))
    towards: date | None = None
    """A recital that is built towards, and tapered before."""
    concert: bool = option(False, "The keys are the same concert keys for every player of that day.")
    wishes: Wishes = Wishes()

    @property
    def player(self) -> str:
        """What the draws of this player depend on: the seeds, nothing without any."""
        return f"{self.profile.seed}/{self.wishes.seed}" if self.profile.seed or self.wishes.seed else ""

    @property
    def music(self) -> Self:
        """The request with all that changes no note left at its default."""
        return _bare(self)


R = TypeVar("R", bound=RoutineRequest)


def _bare(request: R) -> R:
    profile = replace(request.profile, name="", paper="a4", duplex=False)
    top = Growth(top=request.growth.top) if request.growth else None
    return replace(request, profile=profile, growth=top)


@dataclass(frozen=True, slots=True, kw_only=True)
class DayRequest(RoutineRequest):
    """A day's routine."""

    kind: str = option("normal", "The kind of day.", allowed=DAY_KINDS)
    anyway: bool = option(False, "The kind of day as asked for, whatever log and lips say.")

    @property
    def music(self) -> Self:
        """The request with all that changes no note left at its default."""
        return _bare(replace(self.settled.heard, lately=RESTED, felt="", anyway=False))

    @property
    def settled(self) -> Self:
        """The request with what its profile has other on that weekday; minutes and a kind that are asked for go over it."""
        if not self.profile.days:
            return self
        other = other_on(self.profile.days, self.on.weekday())
        return replace(
            self,
            profile=profile_on(self.profile, other),
            minutes=other.minutes if self.minutes is None else self.minutes,
            kind=other.kind if other.kind and self.kind == DAY_KINDS[0] else self.kind,
            growth=self.growth if other.fields.keys().isdisjoint(OUTGROWN) else None,
        )

    @property
    def lightened(self) -> str:
        """Why the day is lighter than asked for; nothing where it is not."""
        changes = self.kind in ("normal", "stretch") and not self.anyway
        return why_light(self.on, self.lately, self.felt) if changes else ""

    @property
    def against(self) -> str:
        """What speaks against a stretch on this day; nothing where nothing does, or none is asked for."""
        return sore_before(self.on, self.lately, self.felt) if self.kind == "stretch" else ""

    @property
    def told(self) -> str:
        """What the page says of a day that is lighter than asked for, or as asked for against what speaks against it."""
        if self.against:
            begun = f"{self.against[:1].upper()}{self.against[1:]}"
            return f"{begun}: the stretch is your choice. Stop at the first pain; a teacher's or doctor's word comes first."
        return self.lightened or towards_words(self.on, self.towards)

    @property
    def heard(self) -> Self:
        """The day as it is planned once the log, the lips and the days left to a recital are heard."""
        if self.anyway:
            return self
        if not self.lightened:
            return replace(self, kind=kind_towards(self.kind, self.on, self.towards))
        minutes = None if self.minutes is None else max(SHORTEST_DAY, round(self.minutes * MINUTES_KEPT["light"]))
        return replace(self, kind="light", minutes=minutes)


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekRequest(RoutineRequest):
    """The seven days from a date, with a cover and an etude."""

    days: tuple[str, ...] = option((), "What is other on a day of the week, such as thursday:horn=cornet,minutes=12.")
    """It goes over what the profile has other on that day, field by field."""
    daily: bool = option(False, "Seven days where a young player's week would be one sheet.")
    done: tuple[date, ...] = ()
    """The days of it that were played already, by the log: the bar on the cover has them filled."""

    @property
    def music(self) -> Self:
        """The request with all that changes no note left at its default."""
        profile = replace(self.profile, days=())
        return _bare(replace(self, profile=profile, days=plainly((*self.profile.days, *self.days)), done=()))
