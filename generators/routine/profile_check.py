"""Whether the fields of a profile can be meant: kinds of value, known names, and a range that runs upwards."""

from collections.abc import Mapping
from dataclasses import Field, fields, replace
from itertools import pairwise
from typing import Any

from generators.brass.grade import GRADES, grade
from generators.brass.horn import HORNS, Horn, horn
from generators.errors import BadRequest, Refusal, plain, unknown
from generators.fields import checked
from generators.routine.calendar import parse_day
from generators.routine.other_days import other_days, other_on, profile_on
from generators.routine.profile import WEEKDAYS, Profile, WrongField, grade_of, range_of
from generators.theory.key import parse_key
from generators.theory.pitch import parse_pitch

FIELDS: Mapping[str, Field[Any]] = {entry.name: entry for entry in fields(Profile)}
# What may stand in a field whose values come from a table; the others name theirs themselves.
TABLES: Mapping[str, tuple[str, ...]] = {"horn": tuple(HORNS), "grade": tuple(GRADES)}
PITCHES = ("low", "high", "stretch")
PEDALS = 12


def check_profile(profile: Profile) -> None:
    """Refuse a profile that holds a value its fields do not allow, or a range that does not run upwards."""
    for name in FIELDS:
        value = getattr(profile, name)
        for item in value if isinstance(value, tuple) else (value,):
            _check_item(name, item, isinstance(value, tuple))
    _check_range(profile, horn(profile.horn))
    _check_room(profile)
    for day in other_days(profile.days):
        _check_other(profile, day)


def _check_item(name: str, item: Any, listed: bool) -> None:
    try:
        value: Any = (item,) if listed else item
        checked(replace(Profile(), **{name: value}))
        if name in TABLES and item and item not in TABLES[name]:
            raise unknown(name, item, TABLES[name])
        if name in PITCHES and item:
            parse_pitch(item)
        if name == "towards" and item:
            parse_day(item)
        if name == "weak_keys":
            parse_key(item)
        if name == "days":
            other_days((item,))
    except WrongField as wrong:
        raise WrongField(wrong.refusal.within(name), name, wrong.item) from None
    except BadRequest as refused:
        raise WrongField(_named(name, refused.refusal), name, item if listed else None) from None


def _named(name: str, refusal: Refusal) -> Refusal:
    """Return a general refusal with the name of the field before it."""
    return refusal if refusal.what == name else refusal.within(plain(name))


def _check_room(profile: Profile) -> None:
    """Refuse a range in which no day has room."""
    low, high = range_of(profile)
    if high.midi - low.midi < grade(grade_of(profile)).narrowest:
        do = "give at least an octave, or print single sheets"
        refusal = Refusal(f"range {low} to {high}", why="is too narrow for a routine", do=do)
        raise WrongField(refusal, "high" if profile.high else "low" if profile.low else "horn")


def _check_range(profile: Profile, instrument: Horn) -> None:
    notes = [(name, parse_pitch(getattr(profile, name))) for name in PITCHES if getattr(profile, name)]
    for name, pitch in notes:
        if not instrument.low.midi - PEDALS <= pitch.midi <= instrument.ceiling.midi:
            span = f"{instrument.low} (or its pedals, down to an octave below) to {instrument.ceiling}"
            raise WrongField(Refusal(name, pitch, f"is out of reach on the {instrument.id}", allowed=span), name)
    for (lower, first), (upper, second) in pairwise(notes):
        if first.midi > second.midi:
            span = f"{first} to {instrument.ceiling}"
            raise WrongField(Refusal(upper, second, f"lies below {lower} {first}", allowed=span), upper)


def _check_other(profile: Profile, day: str) -> None:
    """Refuse a range that does not run upwards on the one day on which it is other."""
    own = profile_on(profile, other_on(profile.days, WEEKDAYS.index(day)))
    try:
        _check_range(own, horn(own.horn))
    except WrongField as wrong:
        raise WrongField(wrong.refusal.within(f"days: {day}"), "days", (day, wrong.field)) from None
