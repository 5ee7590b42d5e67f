"""The practice log as values: an entry for each session, the days and the weeks they add up to."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import MISSING, dataclass
from datetime import date, timedelta
from itertools import groupby

from generators.brass.horn import horn
from generators.errors import BadRequest, Refusal
from generators.fields import checked, option
from generators.studies.catalogue import DAY_PARTS
from generators.studies.kit.kind import DAY_KINDS
from generators.theory.key import parse_key
from generators.theory.pitch import Pitch, parse_pitch, simple

# How a session felt, and what a minute of it then weighs. Minutes times felt effort is how sport counts the load of a session;
# the four weights are our choice.
FELT = {"easy": 0.8, "good": 1.0, "hard": 1.5, "sore": 2.0}
HEAVY = ("hard", "sore")
LONGEST_SESSION = 600
# The most minutes that a week is told to have, far more than it has: sessions may have been logged twice. Our choice.
MOST_MINUTES = 100_000
WEEK = 7
# How far above the horn's ceiling a top note may be logged, in half-steps; our choice.
ABOVE_CEILING = 12
# The code of some music, as it stands in the footer of its pages.
_CODE = re.compile(r"[A-Z2-7]{4}-[A-Z2-7]{4}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One session of practice; a wrong value is refused where the entry is made."""

    day: date
    minutes: int = option(MISSING, "Minutes played.", span=(1, LONGEST_SESSION))
    felt: str = option("good", "How it felt.", allowed=tuple(FELT))
    top: Pitch | None = None
    """The highest written note reached; without it the session counts for minutes and load alone."""
    kind: str = option("normal", "The kind of day.", allowed=DAY_KINDS)
    notes: str = option("", "A line of your own.")
    code: str = option("", "The code of the page that was played, from its footer.")
    horn: str = option("", "The horn that was played.")
    keys: tuple[str, ...] = option((), "The written keys that were played, such as Eb,Cm.")
    parts: tuple[str, ...] = option((), "The parts of the day that were played.", allowed=tuple(DAY_PARTS))
    id: int = 0
    """Its number in the log, 0 before it is kept."""

    def __post_init__(self) -> None:
        checked(self)
        check_played(self)

    @property
    def load(self) -> float:
        """Minutes weighted by how they felt."""
        return self.minutes * FELT[self.felt]

    @property
    def heavy(self) -> bool:
        """Hard or sore."""
        return self.felt in HEAVY


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice:
    """What some days add up to: a day, or a week that begins on a Monday."""

    start: date
    days: int = option(MISSING, "Days with practice.", span=(0, 7))
    minutes: int = option(MISSING, "Minutes played.", span=(0, MOST_MINUTES))
    heavy_minutes: int = option(MISSING, "Minutes that were hard or sore.", span=(0, MOST_MINUTES))
    load: float = option(MISSING, "Minutes weighted by how they felt.", span=(0, 2 * MOST_MINUTES))
    top: Pitch | None

    @property
    def heavy(self) -> bool:
        """Any of it was hard or sore."""
        return self.heavy_minutes > 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedDay:
    """What was printed for a day, so that the log can say what was played."""

    day: date
    code: str
    horn: str
    kind: str
    minutes: int
    keys: tuple[str, ...]
    parts: tuple[str, ...]


def check_played(entry: Entry) -> None:
    """Refuse what is no code of a page, and a horn or a key that there is not."""
    if entry.code and not _CODE.fullmatch(entry.code):
        raise BadRequest(Refusal("code", entry.code, "is the code of no page", do="copy it from a footer, such as K3F7-Q2MD"))
    if entry.horn:
        horn(entry.horn)
    for name in entry.keys:
        parse_key(name)


def parse_top(text: str) -> Pitch | None:
    """Read the top note of a session, or nothing."""
    return parse_pitch(text) if text.strip() else None


def check_top(top: Pitch | None, horn_id: str) -> None:
    """Refuse a top note that no player of a horn reaches: it is a slip of the pen. Without a horn any may be."""
    if not top or not horn_id:
        return
    instrument = horn(horn_id)
    if not instrument.low.midi <= top.midi <= instrument.ceiling.midi + ABOVE_CEILING:
        highest = simple(instrument.ceiling.midi + ABOVE_CEILING, sharp=False)
        span = f"{instrument.low} to {highest}"
        raise BadRequest(Refusal("top", top, f"is out of reach on the {horn_id}", allowed=span))


def monday(day: date) -> date:
    """Return the first day of a day's week."""
    return day - timedelta(days=day.weekday())


def practised(entries: Iterable[Entry]) -> tuple[Practice, ...]:
    """Return the days with practice, in order, whatever the order of the entries; sessions of a day are added up."""
    ordered = sorted(entries, key=lambda entry: entry.day)
    return tuple(_practice(day, list(group)) for day, group in groupby(ordered, key=lambda entry: entry.day))


def week_days(entries: Iterable[Entry], today: date) -> tuple[bool, ...]:
    """Return of each day of today's week, from its Monday, whether something is logged on it."""
    logged = {entry.day for entry in entries}
    return tuple(monday(today) + timedelta(days=later) in logged for later in range(WEEK))


def weeks(entries: Iterable[Entry], today: date) -> tuple[Practice, ...]:
    """Return every week from the first entry to today's, those without practice too; later entries are left out."""
    known = [entry for entry in entries if entry.day <= today]
    first = monday(min((entry.day for entry in known), default=today))
    count = (monday(today) - first).days // 7 + 1 if known else 0
    held: list[list[Entry]] = [[] for _ in range(count)]
    for entry in known:
        held[(monday(entry.day) - first).days // 7].append(entry)
    return tuple(_practice(first + timedelta(weeks=i), group) for i, group in enumerate(held))


def _practice(start: date, entries: Sequence[Entry]) -> Practice:
    return Practice(
        start=start,
        days=len({entry.day for entry in entries}),
        minutes=sum(entry.minutes for entry in entries),
        heavy_minutes=sum(entry.minutes for entry in entries if entry.heavy),
        load=round(sum(entry.load for entry in entries), 1),
        top=max((entry.top for entry in entries if entry.top), default=None),
    )
