"""Why the top of ordinary days is where it is and what comes next, in words for page and terminal."""

from datetime import date

from generators.routine.calendar import in_words
from generators.routine.growth import BY_EASY, BY_HEAVY, EASY_DAYS, UNLOGGED, Growth

_NUMBERS = {2: "two", 3: "three", 7: "seven", 8: "eight", 10: "ten", 12: "twelve"}
_CAUSES = {BY_EASY: "easy days", BY_HEAVY: "heavy days within a week"}


def reason(growth: Growth, today: date) -> str:
    """Return why the top is where it is, a clause without its full stop."""
    if growth.since and growth.cause in _CAUSES:
        why = f"{_number(growth.days)} {_CAUSES[growth.cause]}"
        return f"top is {growth.top.pretty} since {in_words(growth.since, today)}: {why}"
    if growth.cause == UNLOGGED:
        return f"top is {growth.top.pretty}: nothing is logged yet, so it stays"
    return f"top is {growth.top.pretty} as in the profile: {growth.easy} of {EASY_DAYS} easy days there so far"


def outlook(growth: Growth) -> str:
    """Return what is still to do for the next half-step, a sentence."""
    if not growth.next:
        return f"{growth.top.pretty} is the ceiling that profile, grade and horn allow."
    if not growth.easy:
        return f"{_number(EASY_DAYS).capitalize()} easy days that reach {growth.top.pretty} lead to {growth.next.pretty}."
    return f"Easy days at {growth.top.pretty}: {growth.easy} of {EASY_DAYS}, then comes {growth.next.pretty}."


def _number(count: int) -> str:
    return _NUMBERS.get(count, str(count))
