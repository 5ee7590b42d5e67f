"""What is other on a day of the week: horn, range, grade, minutes or kind, as texts such as thursday:horn=cornet."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from generators.brass.grade import GRADES
from generators.brass.horn import HORNS
from generators.errors import BadRequest, Refusal, unknown
from generators.routine.profile import LONGEST_DAY, OF_PROFILE, SHORTEST_DAY, WEEKDAYS, Profile, WrongField, for_another
from generators.studies.kit.kind import DAY_KINDS
from generators.theory.pitch import parse_pitch

# What may be other on one day, in the order in which it is told.
OTHER_FIELDS = (*OF_PROFILE, "minutes", "kind")
# A longer number is no minutes; it is not even read.
_DIGITS = 9
_NAMES: Mapping[str, tuple[str, ...]] = {"horn": tuple(HORNS), "grade": ("", *GRADES), "kind": DAY_KINDS}


@dataclass(frozen=True, slots=True)
class OtherDay:
    """What is other on one day; None and nothing where nothing is."""

    fields: Mapping[str, Any]
    """Fields of the profile."""
    minutes: int | None
    kind: str


def other_days(texts: Iterable[str]) -> Mapping[str, Mapping[str, str]]:
    """Return what is other on each weekday that is named, later texts over earlier ones; what cannot be is refused."""
    found: dict[str, dict[str, str]] = {}
    for text in texts:
        day, _, fields = text.partition(":")
        for field in fields.split(","):
            name, _, value = field.partition("=")
            check_other(day, name, value)
            found.setdefault(day, {})[name] = value
    return found


def check_other(day: str, name: str, value: str) -> None:
    """Refuse a weekday, a field or a value that there is not."""
    if day not in WEEKDAYS:
        raise WrongField(unknown("day", day, WEEKDAYS).refusal, "days", (day,))
    try:
        _check_field(name, value)
    except BadRequest as refused:
        raise WrongField(refused.refusal.within(day), "days", (day, name)) from None


def _check_field(name: str, value: str) -> None:
    if name not in OTHER_FIELDS:
        raise unknown("field", name, OTHER_FIELDS)
    if name in _NAMES and value not in _NAMES[name]:
        raise unknown(name, value, filter(None, _NAMES[name]))
    if name == "minutes" and not _is_length(value):
        allowed = f"{SHORTEST_DAY} to {LONGEST_DAY}"
        raise BadRequest(Refusal(name, _number(value), "is out of reach", allowed=allowed, do="write digits alone, as in 12"))
    if name in ("low", "high") and value:
        parse_pitch(value)


def _number(text: str) -> object:
    """Return a number as it is told, any other text in quotes."""
    return int(text) if text.isascii() and text.isdigit() and len(text) < _DIGITS else text


def _is_length(text: str) -> bool:
    number = _number(text)
    return isinstance(number, int) and SHORTEST_DAY <= number <= LONGEST_DAY


def plainly(texts: Iterable[str]) -> tuple[str, ...]:
    """Return texts in the one way to write them: a text a field, days and fields in order, each once."""
    return tuple(_texts(other_days(texts)))


def _texts(days: Mapping[str, Mapping[str, str]]) -> Iterator[str]:
    for day in WEEKDAYS:
        fields = days.get(day, {})
        yield from (f"{day}:{name}={fields[name]}" for name in OTHER_FIELDS if name in fields)


def other_on(texts: Sequence[str], weekday: int) -> OtherDay:
    """Return what is other on a day of the week, counted from 0 on Monday."""
    found = other_days(texts).get(WEEKDAYS[weekday], {})
    fields = {name: found[name] for name in OF_PROFILE if name in found}
    return OtherDay(fields, int(found["minutes"]) if "minutes" in found else None, found.get("kind", ""))


def profile_of_day(profile: Profile, on: date) -> Profile:
    """Return the profile of a date, its minutes too."""
    other = other_on(profile.days, on.weekday())
    return replace(profile_on(profile, other), minutes=other.minutes or profile.minutes)


def profile_on(profile: Profile, other: OtherDay) -> Profile:
    """Return the profile of one day, on which nothing is other any more."""
    return for_another(profile, {"days": (), **other.fields})
