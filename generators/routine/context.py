"""What the parts of a day are written for: the player on this day, as plain values."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from generators.brass.grade import Grade, grade_on, span_on
from generators.brass.horn import Horn, horn
from generators.chance import number, pick
from generators.errors import BadRequest
from generators.routine.profile import Profile
from generators.routine.rotation import DayKeys, day_keys, sounding, written
from generators.theory.pitch import Pitch, parse_pitch, simple

T = TypeVar("T")
KINDS = ("normal", "light", "concert", "stretch")
# How many half-steps lower the top of a light day lies, and what is left of the minutes: our choice.
LIGHTER = 4
SHARES = {"normal": 1.0, "light": 0.7, "concert": 0.6, "stretch": 1.0}
# A top lower than this above the bottom leaves no room for a routine, in half-steps.
NARROWEST = 12


@dataclass(frozen=True, slots=True)
class Context:
    """One player's day before its parts are chosen."""

    profile: Profile
    horn: Horn
    grade: Grade
    """Its range and keys as the horn reads them."""
    kind: str
    day: int
    """The day's number, counted from any fixed date."""
    low: Pitch
    high: Pitch
    stretch: Pitch
    keys: DayKeys

    def draw(self, items: Sequence[T], *place: object) -> T:
        """Return one of the items, the same for the same player and day."""
        return pick(items, self.day, self.profile.name, *place)

    def turn(self, items: Sequence[T], what: str) -> T:
        """Return the item whose turn it is: each comes once before any comes again."""
        return items[(self.day + number(0, what, self.profile.name)) % len(items)]

    @property
    def common(self) -> dict[str, Any]:
        """The fields that all requests of the day share."""
        return {
            "horn": self.horn.id,
            "grade": self.profile.grade,
            "low": self.low.name,
            "high": self.high.name,
            "seed": number(self.day, "seed", self.profile.name) % 10000,
            "breath": self.profile.breath or None,
            "tongue": self.profile.tongue or None,
        }


def context(profile: Profile, day: int, kind: str, top: Pitch | None = None, *, concert: bool = False) -> Context:
    """Return the context of a day; `top` is the top that growth has reached, the profile's own without it.

    With `concert` the day's keys are the same concert keys for every player, turned to what each horn reads.
    """
    the_horn = horn(profile.horn)
    the_grade = grade_on(profile.grade, the_horn)
    low, high = _range(profile, the_horn, the_grade, top)
    stretch = (
        parse_pitch(profile.stretch) if profile.stretch else simple(min(high.midi + 2, the_horn.ceiling.midi), sharp=False)
    )
    if kind == "light":
        high = simple(max(high.midi - LIGHTER, low.midi + NARROWEST), sharp=False) if high.midi - low.midi > NARROWEST else high
    keys = _concert_keys(profile, day, the_horn) if concert else day_keys(day, profile.name, profile.weak_keys)
    return Context(profile, the_horn, the_grade, kind, day, low, high, stretch, _known(keys, day, the_grade, together=concert))


def _range(profile: Profile, the_horn: Horn, the_grade: Grade, top: Pitch | None) -> tuple[Pitch, Pitch]:
    low, high = span_on(the_grade, the_horn)
    low = parse_pitch(profile.low) if profile.low else low
    high = top or (parse_pitch(profile.high) if profile.high else high)
    if high.midi - low.midi < NARROWEST:
        raise BadRequest(f"range {low} to {high} is too narrow for a routine; give at least an octave.")
    return low, high


def _concert_keys(profile: Profile, day: int, the_horn: Horn) -> DayKeys:
    """Return the concert keys that all players share on a day, as the horn reads them; weak keys stay the player's own."""
    return written(day_keys(day, weak=profile.weak_keys), the_horn.sounding_half_steps)


def _known(keys: DayKeys, day: int, the_grade: Grade, *, together: bool) -> DayKeys:
    """Return the day's keys; a learner's are turned round within the grade, beginning with the group's that it knows."""
    if not the_grade.keys:
        return keys
    shared = [name for name in (*keys.majors, *keys.minors) if together and name in the_grade.keys]
    majors = [name for name in the_grade.keys if not name.endswith("m")]
    minors = [name for name in the_grade.keys if name.endswith("m")]
    return replace(keys, majors=_round(majors, day, 4, shared), minors=_round(minors, day, 2, shared), weak=())


def _round(names: Sequence[str], day: int, count: int, shared: Sequence[str]) -> tuple[str, ...]:
    """Return the shared names and then the next of a series that goes on from day to day, so many in all."""
    many = min(count, len(names))
    turning = (names[(day * many + i) % len(names)] for i in range(len(names)))
    return tuple(dict.fromkeys((*(name for name in shared if name in names), *turning)))[:many]


def concert_keys(where: Context) -> DayKeys:
    """Return the day's keys as they sound."""
    keys, half_steps = where.keys, where.horn.sounding_half_steps
    return replace(keys, majors=sounding(keys.majors, half_steps), minors=sounding(keys.minors, half_steps))
