"""How rested a player comes to a day, by the days before it and by what is felt today; a pure function of dates."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from generators.routine.calendar import weekday_name
from generators.routine.logbook import Entry

# All three are our choice: the days before that are looked at, how long after a sore day nothing is stretched, and how many
# sore days in a row are a matter for somebody who knows more.
LOOKED_AT, NO_STRETCH, TOO_MANY = 7, 3, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Lately:
    """The days before a routine on which the log has something sore or hard, each of them once, in order."""

    sore: tuple[date, ...] = ()
    hard: tuple[date, ...] = ()
    """Those that were hard and not sore."""


# Nothing sore and nothing hard.
RESTED = Lately()


def lately(entries: Iterable[Entry], on: date) -> Lately:
    """Return what the log has of the week before a day; what was logged on it or later is not heard."""
    heard = [entry for entry in entries if on - timedelta(days=LOOKED_AT) <= entry.day < on]
    sore = {entry.day for entry in heard if entry.felt == "sore"}
    hard = {entry.day for entry in heard if entry.felt == "hard"} - sore
    return Lately(sore=tuple(sorted(sore)), hard=tuple(sorted(hard)))


def after(before: Lately, on: date, felt: str) -> Lately:
    """Return what is heard on the days after one that felt so."""
    sore = {"sore": (on,)}.get(felt, ())
    hard = {"hard": (on,)}.get(felt, ())
    return Lately(sore=(*before.sore, *sore), hard=(*before.hard, *hard))


def why_light(on: date, before: Lately, felt: str) -> str:
    """Return why a day should be light, in a player's words; nothing where it need not."""
    last = 0 if felt == "sore" else 1
    if all(_ago(on, days) in {*before.sore, on} for days in range(last, last + TOO_MANY)):
        return f"Sore for {TOO_MANY} days: better rest today, and ask a teacher or a doctor."
    if felt == "sore":
        return "A light day, because it is sore today. Stop at the first pain."
    if _ago(on, 1) in before.sore:
        return "A light day, because yesterday was sore. Stop at the first pain."
    heavy = {*before.sore, *before.hard}
    if _ago(on, 1) in heavy and (felt == "hard" or _ago(on, 2) in heavy):
        return "A light day after two heavy ones."
    return ""


def sore_before(on: date, before: Lately, felt: str) -> str:
    """Return which day speaks against a stretch, in a player's words; nothing where none does."""
    if felt == "sore":
        return "it is sore today"
    recent = [day for day in before.sore if on - timedelta(days=NO_STRETCH) <= day < on]
    return f"{weekday_name(recent[-1])} was sore" if recent else ""


def _ago(on: date, days: int) -> date:
    return on - timedelta(days=days)
