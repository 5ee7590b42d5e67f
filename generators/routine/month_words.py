"""The last month in words for page and terminal: a line a subject."""

from collections.abc import Iterator, Sequence

from generators.phrase.wording import key_words
from generators.routine.calendar import day_and_month, full_date
from generators.routine.month import MONTH_DAYS, Counted, Month

_NONE = "none"
# What the numbers behind feelings, keys and areas count.
COUNTED = "sessions by how they felt; days of each key and area"


def month_rows(month: Month) -> Iterator[tuple[str, str]]:
    """Yield each subject of the month and what there is to say of it."""
    yield "Period", f"{day_and_month(month.first)} to {full_date(month.last)}"
    highest = f"; highest note {month.top.pretty}" if month.top else ""
    felt = ", ".join(f"{each.name} {each.count}" for each in month.felt if each.count)
    yield "Practice", f"{month.days} of {MONTH_DAYS} days, {month.minutes} minutes{highest}"
    yield "Felt", felt or _NONE
    keys = [Counted(key_words(each.name), each.count) for each in month.keys]
    yield "Keys", _practised(keys)
    yield "neglected", _neglected(keys)
    yield "Areas", _practised(month.areas)
    yield "neglected", _neglected(month.areas)


def unknown_words(month: Month) -> str:
    """Return on how many days the log does not say what was played; nothing where it always does."""
    missing = month.days - month.known
    days = "1 day" if missing == 1 else f"{missing} days"
    return f"On {days} the log does not say what was played." if missing else ""


def _practised(counted: Sequence[Counted]) -> str:
    """Return what was practised and on how many days, the most first."""
    there = sorted((each for each in counted if each.count), key=lambda each: -each.count)
    return ", ".join(f"{each.name} {each.count}" for each in there) or _NONE


def _neglected(counted: Sequence[Counted]) -> str:
    return ", ".join(each.name for each in counted if not each.count) or _NONE
