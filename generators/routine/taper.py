"""Towards a date: how much is played on each day before a recital, and what kind of day it is; pure functions of dates."""

from datetime import date

# The share of the usual minutes by the days that are left, our choice: a little more in the second week before, less from day
# to day in the last one. Farther off and afterwards nothing changes.
SHARES = (0.6, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 1.0, 1.1, 1.1, 1.1, 1.1, 1.05, 1.05)
# On the day itself a warm-up for a concert, on the one before a light day; nothing is stretched so few days before.
_CONCERT, _LIGHT, UNSTRETCHED = 0, 1, 3


def days_left(on: date, towards: date | None) -> int | None:
    """Return how many days there are to a date that is near enough to change the day; None for none."""
    left = (towards - on).days if towards else -1
    return left if 0 <= left < len(SHARES) else None


def share(on: date, towards: date | None) -> float:
    """Return the share of the usual minutes that is played on a day."""
    left = days_left(on, towards)
    return 1.0 if left is None else SHARES[left]


def kind_towards(kind: str, on: date, towards: date | None) -> str:
    """Return the kind that a day should be of, where it would be normal or one for stretching."""
    left = days_left(on, towards)
    if left is None or kind not in ("normal", "stretch"):
        return kind
    return "concert" if left == _CONCERT else "light" if left == _LIGHT else "normal" if left <= UNSTRETCHED else kind


def towards_words(on: date, towards: date | None) -> str:
    """Return what the page says of the days that are left; nothing where they change nothing."""
    left = days_left(on, towards)
    if left is None:
        return ""
    if left <= _LIGHT:
        return "Today is the day: a short warm-up." if left == _CONCERT else "Tomorrow is the day: short and easy."
    return f"{left} days to go."
