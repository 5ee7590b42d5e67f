"""A week: seven days with one kept light, one for stretching if the player has a stretch note, and the week's etude keys."""

from collections.abc import Iterator
from dataclasses import dataclass

from generators.chance import number
from generators.errors import BadRequest
from generators.routine.day import Day, plan
from generators.routine.parts import PIECES
from generators.routine.profile import WEEKDAYS, Profile
from generators.theory.pitch import Pitch

DAYS = 7
# The stretch day comes so many days after the light one: well rested, and with a normal day on either side.
AFTER_REST = 3


@dataclass(frozen=True, slots=True)
class Week:
    """Seven planned days, and the seed of the week's etude."""

    profile: Profile
    first: int
    days: tuple[Day, ...]

    @property
    def seed(self) -> int:
        """The seed of the week's etude: another every week, the same for the same player."""
        return number(self.first // DAYS, "etude", self.profile.name) % 10000

    @property
    def coverage(self) -> dict[str, tuple[float, ...]]:
        """Minutes of every part on every day, parts in warming order."""
        names = [piece.name for piece in PIECES if any(part.name == piece.name for day in self.days for part in day.parts)]
        return {name: tuple(_minutes(day, name) for day in self.days) for name in names}


def _minutes(day: Day, name: str) -> float:
    return sum(part.seconds + part.rest for part in day.parts if part.name == name) / 60


def weekday(day: int) -> str:
    """Return the weekday of a day counted from the first of January of the year 1, a Monday, as day 1."""
    return WEEKDAYS[(day - 1) % DAYS]


def kinds(profile: Profile, first: int) -> Iterator[str]:
    """Yield the kind of each of the seven days: the rest day light, one day for stretching, the others normal."""
    rest = WEEKDAYS.index(profile.rest_day) if profile.rest_day in WEEKDAYS else None
    for day in range(first, first + DAYS):
        place = (day - 1) % DAYS
        if place == rest:
            yield "light"
        elif profile.stretch and place == ((rest if rest is not None else 6) + AFTER_REST) % DAYS:
            yield "stretch"
        else:
            yield "normal"


def plan_week(profile: Profile, first: int, top: Pitch | None = None, *, concert: bool = False) -> Week:
    """Return the week that begins on a day; raises BadRequest where a day has no routine."""
    try:
        days = tuple(plan(profile, first + i, kind, top=top, concert=concert) for i, kind in enumerate(kinds(profile, first)))
    except BadRequest as refused:
        raise BadRequest(refused.refusal.within("week")) from None
    return Week(profile, first, days)
