"""Growth of the top: its laws over whole logs, and the sentences that explain it."""

from dataclasses import fields, replace
from datetime import date, timedelta
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.brass.horn import horn
from generators.errors import BadRequest
from generators.fields import checked
from generators.routine.growth import (
    BY_EASY,
    BY_HEAVY,
    DEEPEST,
    EASY_DAYS,
    HEAVY_DAYS,
    UNCHANGED,
    UNLOGGED,
    Growth,
    growth,
    planned_tops,
    top_and_ceiling,
)
from generators.routine.growth_words import outlook, reason
from generators.routine.logbook import FELT, HEAVY, Entry, weeks
from generators.routine.profile import Profile
from generators.theory.pitch import Pitch, parse_pitch, simple

START = date(2026, 11, 3)
TOP, CEILING = parse_pitch("A5"), parse_pitch("C6")
TODAY = date(2027, 3, 1)

entries = st.builds(
    Entry,
    day=st.dates(START, START + timedelta(days=40)),
    minutes=st.integers(1, 60),
    felt=st.sampled_from(sorted(FELT)),
    top=st.one_of(st.none(), st.integers(74, 90).map(simple)),
)
logs = st.lists(entries, max_size=60)


def easy(count: int, first: date = START, top: str = "A5") -> list[Entry]:
    """Return so many easy days in a row that reach a note."""
    return [Entry(day=first + timedelta(days=i), minutes=25, felt="easy", top=parse_pitch(top)) for i in range(count)]


def heavy(*days: date) -> list[Entry]:
    """Return hard days."""
    return [Entry(day=day, minutes=25, felt="hard") for day in days]


def grown(log: list[Entry], top: Pitch = TOP, ceiling: Pitch = CEILING, today: date = TODAY) -> Growth:
    """Return the growth of a log."""
    return growth(log, top, today, ceiling)


def test_no_log_no_growth() -> None:
    """Without a log the top is the profile's, since no day at all."""
    found = grown([])

    assert (TOP, None, UNLOGGED) == (found.top, found.since, found.cause)
    assert "top is A5: nothing is logged yet, so it stays" == reason(found, TODAY)


def test_a_growth_of_no_cause_is_told_plainly() -> None:
    """A growth that somebody else made, with a day but no cause, is told without either; an unknown cause is refused."""
    odd = Growth(top=TOP, since=START)

    assert "top is A5: nothing is logged yet, so it stays" == reason(odd, TODAY)
    with pytest.raises(BadRequest, match='cause "luck" is not known; allowed: easy, heavy, unchanged, unlogged'):
        checked(replace(odd, cause="luck"))


def test_a_log_without_a_step_counts_the_days() -> None:
    """Before the first step the sentence says how many easy days there were."""
    assert "top is A5 as in the profile: 3 of 10 easy days there so far" == reason(grown(easy(3)), TODAY)


@given(logs)
def test_a_growth_tells_how_it_came(log: list[Entry]) -> None:
    """The cause and its days agree with the step: up by easy days, down by heavy ones, none without a date."""
    found = grown(log)

    assert {BY_EASY: EASY_DAYS, BY_HEAVY: HEAVY_DAYS}.get(found.cause, 0) == found.days
    assert (found.since is None) == (found.cause in (UNCHANGED, UNLOGGED))
    assert (not log) == (found.cause == UNLOGGED)


# What a growth may be made of, so that it can be kept and told as plain values.
PLAIN = (Pitch, date, int, str, type(None))


@given(logs)
def test_a_growth_holds_plain_values(log: list[Entry]) -> None:
    """Every field is a pitch, a date, a number, a text or nothing."""
    found = grown(log)

    assert [] == [f.name for f in fields(found) if not isinstance(getattr(found, f.name), PLAIN)]


def test_ten_easy_days_raise_the_top() -> None:
    """The tenth easy day at the top raises it by a half-step, and the sentence says since when and why."""
    found = grown(easy(EASY_DAYS))

    assert "top is B♭5 since 12 November 2026: ten easy days" == reason(found, TODAY)
    assert parse_pitch("Bb5") == found.top


def test_nine_easy_days_are_not_enough() -> None:
    """One easy day less leaves the top, and the page counts them."""
    found = grown(easy(EASY_DAYS - 1))

    assert (TOP, "Easy days at A5: 9 of 10, then comes B♭5.") == (found.top, outlook(found))


def test_the_year_is_left_out_within_it() -> None:
    """A day of the same year is said without it."""
    december = date(2026, 12, 1)
    found = grown(easy(EASY_DAYS), today=december)

    assert "top is B♭5 since 12 November: ten easy days" == reason(found, december)


def test_days_below_the_top_do_not_count() -> None:
    """Easy days that stay below the top, or that name no note, never raise it."""
    below = [*easy(20, top="G5"), *(replace(day, top=None) for day in easy(20, START + timedelta(days=30)))]

    assert (TOP, 0) == (grown(below).top, grown(below).easy)


def test_one_easy_day_has_one_vote() -> None:
    """Several sessions of a day are one day."""
    assert TOP == grown(easy(1) * 30).top


def test_a_hard_session_makes_the_day_heavy() -> None:
    """A day that was easy in the morning and sore in the evening is no easy day."""
    sore = Entry(day=START, minutes=10, felt="sore")

    assert EASY_DAYS - 1 == grown([*easy(EASY_DAYS), sore]).easy


def test_two_heavy_days_within_a_week_lower_the_top() -> None:
    """The second heavy day within seven steps back by a half-step."""
    found = grown(heavy(START, START + timedelta(days=6)))

    assert "top is A♭5 since 9 November 2026: two heavy days within a week" == reason(found, TODAY)


def test_heavy_days_a_week_apart_leave_the_top() -> None:
    """Two heavy days in different weeks are life."""
    assert TOP == grown(heavy(START, START + timedelta(days=7))).top


def test_the_ceiling_holds() -> None:
    """At the ceiling easy days change nothing, and the page says so."""
    found = grown(easy(60, top="C6"))

    assert (CEILING, "C6 is the ceiling that profile, grade and horn allow.") == (found.top, outlook(found))


def test_the_floor_holds() -> None:
    """However many the heavy days, the top stays within a major third of the profile's."""
    assert TOP.midi - DEEPEST == grown(heavy(*(START + timedelta(days=i) for i in range(60)))).top.midi


@given(logs)
def test_the_top_stays_between_floor_and_ceiling(log: list[Entry]) -> None:
    """Whatever the log, the top lies between a third below the profile's and the ceiling."""
    assert TOP.midi - DEEPEST <= grown(log).top.midi <= CEILING.midi


@given(logs, st.randoms())
def test_the_order_of_entries_does_not_matter(log: list[Entry], chance: Random) -> None:
    """The same entries in any order give the same growth."""
    shuffled = list(log)
    chance.shuffle(shuffled)

    assert grown(log) == grown(shuffled)


@given(logs, st.integers(0, 41))
def test_one_step_a_day(log: list[Entry], days: int) -> None:
    """From one day to the next the top moves by a half-step at most, and only upon an entry of that day."""
    day = START + timedelta(days=days)
    before, after = grown(log, today=day - timedelta(days=1)), grown(log, today=day)

    assert abs(after.top.midi - before.top.midi) <= any(entry.day == day for entry in log)


@given(logs, entries.filter(lambda entry: entry.felt not in HEAVY))
def test_a_last_easy_day_never_lowers(log: list[Entry], last: Entry) -> None:
    """One more easy day after all others never lowers the top."""
    assert grown([*log, replace(last, day=START + timedelta(days=50))]).top.midi >= grown(log).top.midi


@given(logs, entries.filter(lambda entry: entry.felt in HEAVY))
def test_a_last_heavy_day_never_raises(log: list[Entry], last: Entry) -> None:
    """One more heavy day after all others never raises the top."""
    assert grown([*log, replace(last, day=START + timedelta(days=50))]).top.midi <= grown(log).top.midi


@given(logs)
def test_no_growth_without_ten_easy_days(log: list[Entry]) -> None:
    """The top never lies higher above the profile's than a half-step for every ten days that were not heavy."""
    days = {entry.day for entry in log} - {entry.day for entry in log if entry.heavy}

    assert grown(log).top.midi - TOP.midi <= len(days) // EASY_DAYS


@given(logs)
def test_days_to_come_do_not_count(log: list[Entry]) -> None:
    """Entries after today change nothing."""
    today = START + timedelta(days=15)

    assert grown([entry for entry in log if entry.day <= today], today=today) == grown(log, today=today)


@given(logs)
def test_the_plan_of_the_weeks_ends_where_growth_stands(log: list[Entry]) -> None:
    """Every week has its planned top, and the last is today's."""
    plan = planned_tops(log, TOP, TODAY, CEILING)

    assert len(weeks(log, TODAY)) == len(plan)
    assert plan[-1:] == ((grown(log).top,) if plan else ())


@pytest.mark.parametrize(
    ("profile", "expected"),
    [
        (Profile(), (horn("trumpet").comfort[1].name, horn("trumpet").ceiling.name)),
        (Profile(high="G5", stretch="Bb5"), ("G5", "Bb5")),
        (Profile(grade="1"), ("C5", "C5")),
        (Profile(grade="1", high="D5"), ("D5", "D5")),
        (Profile(grade="2", high="C5", stretch="D5"), ("C5", "D5")),
    ],
)
def test_what_a_profile_reaches(profile: Profile, expected: tuple[str, str]) -> None:
    """The profile's top begins the growth; its stretch note, its grade or the horn ends it, whichever is lowest."""
    assert expected == tuple(pitch.name for pitch in top_and_ceiling(profile))
