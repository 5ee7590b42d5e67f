"""A studio: the players of one teacher or band, each a chair with a profile, and what they share; plain values."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from generators.errors import Refusal
from generators.fields import option
from generators.routine.context import concert_keys, occasion
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest, WeekRequest
from generators.routine.week import DAYS, day_requests, kind_on
from generators.studies.kit.occasion import DayKeys

LONGEST_SLUG = 60
# The most pages and minutes that a packet is told to have, far more than a week's; our choice.
MOST_PACKET_PAGES, MOST_MINUTES_OF_PACKET = 10_000, 10_000
PRINTED, KEPT, FAILED = "printed", "kept", "failed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shared:
    """What a studio file says for all of its players, beside the fields of a profile that hold for those without their own."""

    name: str = option("", "The name of the group, printed on its summary.")
    first: str = option("", "The first day, such as 2026-11-30.")
    concert: bool = option(False, "The keys of a day are the same concert keys for everyone.")


@dataclass(frozen=True, slots=True)
class Chair:
    """One player: his profile, or why the file's entries make none."""

    name: str
    profile: Profile | None
    refusal: Refusal | None = None

    @property
    def slug(self) -> str:
        """The chair as the name of a file."""
        return slug(self.name)


@dataclass(frozen=True, slots=True)
class Studio:
    """All players of a file in its order."""

    shared: Shared
    chairs: tuple[Chair, ...]

    def with_concert(self) -> "Studio":
        """Return the studio with the same concert keys for everyone."""
        return replace(self, shared=replace(self.shared, concert=True))


@dataclass(frozen=True, slots=True)
class Packet:
    """One player's packet: its file and what it holds, or why there is none."""

    name: str
    state: str
    """printed, kept (nothing had changed) or failed."""
    file: str = ""
    code: str = ""
    digest: str = ""
    """What tells whether it was asked for in just the same way."""
    pages: int = option(0, "Its pages.", span=(0, MOST_PACKET_PAGES))
    minutes: float = option(0, "The minutes of its music.", span=(0, MOST_MINUTES_OF_PACKET))
    lowest: str = ""
    highest: str = ""
    reason: str = ""


def slug(text: str) -> str:
    """Return a text as the name of a file: `slug("Second cornet (B)") == "second-cornet-b"`."""
    plain = "".join(char if char.isalnum() else " " for char in text.lower())
    return "-".join(plain.split())[:LONGEST_SLUG].strip("-")


def printed_days(on: date, *, week: bool) -> Sequence[date]:
    """Return the days that are printed: seven, or the one."""
    return [on + timedelta(days=i) for i in range(DAYS if week else 1)]


def keys_by_day(profile: Profile, on: date, *, week: bool, concert: bool) -> tuple[DayKeys, ...]:
    """Return the keys of each day, as they sound where the group shares them, else as written."""
    whole = WeekRequest(profile=profile, on=on, concert=concert)
    each = (
        day_requests(whole)
        if week
        else (DayRequest(profile=profile, on=on, kind=kind_on(profile, on), concert=concert).settled,)
    )
    days = [occasion(request) for request in each]
    return tuple(concert_keys(day) if concert else day.keys for day in days)
