"""One day: its parts in warming order and the rests between them; a pure function of what is asked of it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache

from generators.brass.grade import grade
from generators.errors import BadRequest, Refusal
from generators.fields import checked
from generators.routine.calendar import check_day
from generators.routine.context import occasion
from generators.routine.filling import chosen_parts, deep_of
from generators.routine.part import Part
from generators.routine.profile import LONGEST_DAY, SHORTEST_DAY, grade_of
from generators.routine.profile_check import check_profile
from generators.routine.requests import MINUTES_KEPT, DayRequest
from generators.routine.rests import rests_between
from generators.routine.taper import share
from generators.studies.kit.occasion import Occasion
from generators.theory.pitch import Pitch, extremes

# The parts whose keys are those of the day.
_KEYED = ("flow", "scales")
# What would do where a stretch is refused.
_GENTLER = (("kind", ("light", "normal")),)


@dataclass(frozen=True, slots=True)
class Day:
    """A planned day."""

    request: DayRequest
    context: Occasion
    minutes: int
    parts: tuple[Part, ...]
    told: str = ""
    """Why it is lighter than asked for, or what speaks against it."""
    left_out: tuple[str, ...] = ()
    """The parts of its kind of day that this player cannot have on these notes."""

    @property
    def on(self) -> date:
        """The day on which it is played."""
        return self.request.on

    @property
    def kind(self) -> str:
        """The kind of day: normal, light, concert or stretch."""
        return self.request.kind

    @property
    def reach(self) -> tuple[Pitch, Pitch]:
        """The lowest and the highest note of all its parts, as written."""
        return extremes(note.pitch for part in self.parts for note in part.study.notes)

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys that its flow and scales are played in, in the order of the day; of all parts where it has neither."""
        parts = [part for part in self.parts if part.name in _KEYED] or self.parts
        strains = (strain for part in parts for strain in part.study.strains)
        played = {strain.label.key.name for strain in strains if strain.label.key}
        return tuple(name for name in self.context.keys.all if name in played)

    @property
    def deep(self) -> str:
        """The part that it goes deep into; nothing where it has none of those that may be."""
        wanted = {*self.request.profile.favour, *self.request.wishes.favour, *self.request.wishes.only}
        return deep_of({part.name for part in self.parts} - wanted, self.context)

    @property
    def seconds(self) -> float:
        """All of its time: notes, written rests, repeats, and the rests between parts."""
        return sum(part.seconds + part.rest for part in self.parts)


def plan(request: DayRequest) -> Day:
    """Return the day of a player; raises BadRequest where the minutes or the profile leave no routine, with what would fit."""
    checked(request)
    check_day("on", request.on)
    check_profile(request.profile)
    request = request.settled
    if request.against and not request.anyway:
        do = "or ask for it anyway"
        raise BadRequest(Refusal("kind", "stretch", f"is not for today: {request.against}", would_do=_GENTLER, do=do))
    return replace(_planned(request.heard), told=request.told)


@lru_cache(maxsize=32)
def _planned(request: DayRequest) -> Day:
    """Return the day; the last ones are kept, for it is asked again for its pages, its files and its report."""
    minutes, where = _minutes(request), occasion(request)
    own = request.wishes
    wished = replace(request.profile, favour=(*request.profile.favour, *own.favour, *own.only))
    every, chosen = chosen_parts(where, request, wished, minutes)
    groups = {choice.row.group for choice in every if choice.doses and choice.row.group}
    left_out = tuple(choice.row.name for choice in every if not choice.doses and choice.row.group not in groups)
    return Day(request, where, minutes, tuple(_rested(chosen, minutes * 60)), left_out=left_out)


def _minutes(request: DayRequest) -> int:
    """Return the minutes asked for, or what the kind of day and the days left to a recital leave of the profile's."""
    if request.minutes is not None:
        return request.minutes
    kept, own, most = MINUTES_KEPT[request.kind], request.profile.minutes, grade(grade_of(request.profile)).minutes
    working = share(request.on, request.towards) if kept == 1.0 else 1.0
    return min(LONGEST_DAY, max(SHORTEST_DAY, round(min(own, most or own) * kept * working)))


def _rested(parts: Sequence[Part], seconds: int) -> Iterator[Part]:
    """Yield the parts with what is left of the time as rests between them, by how hard each was."""
    total = seconds - sum(part.seconds for part in parts)
    top = max((part.most_rest for part in parts[:-1]), default=0)
    bounds = [(part.least_rest, top if "high" in part.areas else part.most_rest) for part in parts[:-1]]
    rests = rests_between(total, bounds, [part.effort for part in parts[:-1]])
    yield from (replace(part, rest=rest) for part, rest in zip(parts, (*rests, 0), strict=True))
