"""Days in words and back: the same in every locale."""

from datetime import date, datetime, timedelta

from generators.errors import BadRequest, Refusal

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
# The first day with a whole week before it in the calendar of Python, and the last with one after it.
FIRST_DAY, LAST_DAY = date.min + timedelta(weeks=1), date.max - timedelta(weeks=1)
WEEKDAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def parse_day(text: str, what: str = "date") -> date:
    """Read "2026-11-25"; anything else is refused under the name of what it is."""
    try:
        return datetime.strptime(text.strip(), "%Y-%m-%d").date()
    except ValueError:
        example = "write year, month and day as in 2026-11-25"
        raise BadRequest(Refusal(what, text, "is not a date", do=example)) from None


def check_day(what: str, day: date) -> None:
    """Refuse a day so near an end of the calendar that the week beyond it cannot be told."""
    if not FIRST_DAY.toordinal() <= day.toordinal() <= LAST_DAY.toordinal():
        raise BadRequest(Refusal(what, day.isoformat(), "is out of reach", allowed=f"{FIRST_DAY} to {LAST_DAY}"))


def day_and_month(day: date) -> str:
    """Return a day as "3 November"."""
    return f"{day.day} {MONTHS[day.month - 1]}"


def full_date(day: date) -> str:
    """Return a day as "3 November 2026"."""
    return f"{day_and_month(day)} {day.year}"


def in_words(day: date, today: date) -> str:
    """Return a day as it is said, "3 November", with the year where it is not today's."""
    return day_and_month(day) if day.year == today.year else full_date(day)


def weekday_name(day: date) -> str:
    """Return the weekday of a day, "Tuesday"."""
    return WEEKDAY_NAMES[day.weekday()]
