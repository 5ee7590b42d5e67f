"""A week: seven days with one kept light, one for stretching if the player has a stretch note, and the week's etude keys."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from generators.chance import number
from generators.errors import BadRequest, Refusal
from generators.fields import checked
from generators.routine.calendar import check_day
from generators.routine.condition import RESTED, Lately, after, sore_before
from generators.routine.day import Day, plan
from generators.routine.other_days import other_on, plainly
from generators.routine.profile import WEEKDAYS, Profile
from generators.routine.requests import DayRequest, WeekRequest
from generators.studies.catalogue import DAY_PARTS

DAYS = 7
# The stretch day comes so many days after the light one: well rested, and with a normal day on either side.
AFTER_REST = 3


@dataclass(frozen=True, slots=True)
class Week:
    """Seven planned days, and the seed of the week's etude."""

    request: WeekRequest
    days: tuple[Day, ...]

    @property
    def seed(self) -> int:
        """The seed of the week's etude: another every week, the same for the same player."""
        return number(self.request.on.toordinal() // DAYS, "etude", self.request.player) % 10000

    @property
    def coverage(self) -> dict[str, tuple[float, ...]]:
        """Minutes of every part on every day, parts in warming order."""
        names = [name for name in DAY_PARTS if any(part.name == name for day in self.days for part in day.parts)]
        return {name: tuple(_minutes(day, name) for day in self.days) for name in names}


def _minutes(day: Day, name: str) -> float:
    return sum(part.seconds + part.rest for part in day.parts if part.name == name) / 60


def kinds(profile: Profile, first: date, before: Lately = RESTED, felt: str = "") -> Iterator[str]:
    """Yield the kind of each of the seven days: the rest day light, one day for stretching, the others normal.

    Nothing is stretched soon after a sore day.
    """
    rest = WEEKDAYS.index(profile.rest_day) if profile.rest_day in WEEKDAYS else None
    for later in range(DAYS):
        place = (first.weekday() + later) % DAYS
        if place == rest:
            yield "light"
        elif profile.stretch and place == ((rest if rest is not None else 6) + AFTER_REST) % DAYS:
            on = first + timedelta(days=later)
            sore = sore_before(on, after(before, first, felt) if later else before, "" if later else felt)
            yield "normal" if sore else "stretch"
        else:
            yield "normal"


def kind_on(profile: Profile, on: date, before: Lately = RESTED, felt: str = "") -> str:
    """Return the kind that a day has in its week: what the profile has on that weekday, else what every week has on it."""
    return other_on(profile.days, on.weekday()).kind or next(kinds(profile, on, before, felt))


def day_requests(request: WeekRequest) -> Iterator[DayRequest]:
    """Yield what is asked of each of the seven days; minutes asked for stand for the profile's, so light days are shorter."""
    others = plainly((*request.profile.days, *request.days))
    profile = replace(request.profile, minutes=request.minutes or request.profile.minutes, days=others)
    for later, kind in enumerate(kinds(profile, request.on, request.lately, request.felt)):
        on = request.on + timedelta(days=later)
        yield DayRequest(
            profile=profile,
            on=on,
            kind=other_on(others, on.weekday()).kind or kind,
            growth=request.growth,
            lately=after(request.lately, request.on, request.felt) if later else request.lately,
            felt="" if later else request.felt,
            towards=request.towards,
            concert=request.concert,
            wishes=request.wishes,
        ).settled


def plan_week(request: WeekRequest) -> Week:
    """Return the week from a day; raises BadRequest where a day has no routine, with what would do for all seven."""
    checked(request)
    check_day("on", request.on)
    try:
        return _planned(request)
    except BadRequest as refused:
        raise BadRequest(_for_every_day(request, refused.refusal).within("week")) from None


def _planned(request: WeekRequest) -> Week:
    return Week(request, tuple(map(plan, day_requests(request))))


def _for_every_day(request: WeekRequest, refusal: Refusal) -> Refusal:
    """Return the refusal of a day with the minutes at which no other day of the week is refused; others as they are."""
    found = refusal
    while fit := dict(found.would_do).get("minutes"):
        try:
            _planned(replace(request, minutes=int(fit[0])))
        except BadRequest as refused:
            found = refused.refusal
        else:
            break
    return replace(refusal, do=found.do, would_do=found.would_do)
