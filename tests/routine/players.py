"""Players of every kind as hypothesis strategies, and the plan of a day as the tests want it."""

from datetime import date
from functools import cache

from hypothesis import strategies as st

from generators.brass.grade import GRADES
from generators.brass.horn import HORNS
from generators.routine.day import Day, plan
from generators.routine.profile import LONGEST_DAY, SHORTEST_DAY, Profile
from generators.routine.requests import DayRequest

# 30 November 2026, and days on either side of a year.
MONDAY = 739950
NAMES = ("", "second cornet", "solo horn", "third-year student")
KEYS = ("Db", "F#", "B", "F#m", "Ebm")

days = st.integers(MONDAY - 400, MONDAY + 400)
minutes = st.integers(SHORTEST_DAY, LONGEST_DAY)
names = st.sampled_from(NAMES)
weak_keys = st.lists(st.sampled_from(KEYS), unique=True, max_size=3).map(tuple)
profiles = st.builds(
    Profile,
    name=names,
    horn=st.sampled_from(list(HORNS)),
    grade=st.sampled_from(["", *GRADES]),
    breath=st.sampled_from([0, 0, 6, 12, 20]),
    tongue=st.sampled_from([0, 0, 60, 132]),
    multiple=st.sampled_from([0, 0, 100, 160]),
    weak_keys=weak_keys,
)


@cache
def planned(profile: Profile, day: int = MONDAY, kind: str = "normal", minutes: int | None = None) -> Day:
    """Return the plan of a day, made once however many tests ask for it."""
    return plan(DayRequest(profile=profile, on=date.fromordinal(day), kind=kind, minutes=minutes))
