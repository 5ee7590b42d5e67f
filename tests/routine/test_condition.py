"""What a day hears: heavy days before it, how it feels, what is wished for; laws over dates, logs and players."""

from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.routine.condition import Lately, after, lately, sore_before, why_light
from generators.routine.day import Day, plan
from generators.routine.load import load
from generators.routine.logbook import FELT, Entry
from generators.routine.profile import PARTS, Profile
from generators.routine.requests import DayRequest, WeekRequest, Wishes
from generators.routine.week import plan_week
from tests.routine.players import MONDAY

ON = date.fromordinal(MONDAY)
LOGS = st.lists(st.tuples(st.integers(-9, 3), st.sampled_from(list(FELT))), max_size=12)
briefly = settings(max_examples=4)


def logged(days: list[tuple[int, str]]) -> tuple[Entry, ...]:
    """Return a log of days counted from the one that is planned."""
    return tuple(Entry(day=ON + timedelta(days=day), minutes=20, felt=felt) for day, felt in days)


def heard(*days: tuple[int, str]) -> Lately:
    """Return what is heard of such a log."""
    return lately(logged(list(days)), ON)


@given(LOGS)
def test_only_the_days_before_are_heard(days: list[tuple[int, str]]) -> None:
    """What is logged on the day itself or later, or more than a week before, changes nothing."""
    before = [(day, felt) for day, felt in days if -7 <= day < 0]

    assert lately(logged(before), ON) == lately(logged(days), ON)


@given(LOGS)
def test_a_day_after_a_sore_one_is_light(days: list[tuple[int, str]]) -> None:
    """Yesterday sore, or two heavy days in a row: the day is light, with words; else it is not."""
    sore = {day for day, felt in days if felt == "sore"}
    heavy = sore | {day for day, felt in days if felt == "hard"}
    light = -1 in sore or {-1, -2} <= heavy

    assert light == bool(why_light(ON, lately(logged(days), ON), ""))


@given(LOGS, st.sampled_from(list(FELT)))
def test_nothing_is_stretched_soon_after_a_sore_day(days: list[tuple[int, str]], felt: str) -> None:
    """For three days after a sore one, and on one that is sore, a stretch is spoken against."""
    sore = {day for day, told in days if told == "sore"}

    assert bool(sore & {-1, -2, -3} or felt == "sore") == bool(sore_before(ON, lately(logged(days), ON), felt))


def test_sore_for_three_days_asks_for_help() -> None:
    """Sore three days running, the page says to rest, and whom to ask."""
    words = why_light(ON, heard((-1, "sore"), (-2, "sore"), (-3, "sore")), "")

    assert all(word in words for word in ("rest", "teacher", "doctor"))


@briefly
@given(st.integers(0, 300), st.sampled_from(["", "3", "5"]))
def test_a_sore_day_lightens_the_next(later: int, grade: str) -> None:
    """The day after is at most three quarters as long, lower at the top, with more rest, and says why."""
    on = ON + timedelta(days=later)
    asked = DayRequest(profile=Profile(grade=grade), on=on)
    plain, light = plan(asked), plan(DayRequest(profile=Profile(grade=grade), on=on, lately=_sore_before(on)))

    assert "light" == light.kind
    assert "sore" in light.told
    assert light.minutes <= Fraction(3, 4) * plain.minutes
    assert light.context.high < plain.context.high
    assert load(light).rest > load(plain).rest


def _sore_before(on: date) -> Lately:
    return Lately(sore=(on - timedelta(days=1),))


def test_minutes_asked_for_are_lightened_too() -> None:
    """Twenty minutes asked for on a sore day are three quarters of that at the most."""
    assert 15 >= plan(DayRequest(profile=Profile(), on=ON, minutes=20, felt="sore")).minutes


def test_a_stretch_against_the_log_is_refused() -> None:
    """A stretch soon after a sore day is refused with what would do, which does; asked for anyway it comes with its caution."""
    asked = DayRequest(profile=Profile(stretch="C6"), on=ON, kind="stretch", lately=_sore_before(ON))
    with pytest.raises(BadRequest) as told:
        plan(asked)
    [(field, kinds)] = told.value.refusal.would_do

    assert "kind" == field
    assert all(plan(DayRequest(profile=asked.profile, on=ON, kind=kind, lately=asked.lately)).parts for kind in kinds)
    anyway = plan(DayRequest(profile=asked.profile, on=ON, kind="stretch", lately=asked.lately, anyway=True))
    assert "stretch" == anyway.kind
    assert all(word in anyway.told for word in ("pain", "teacher", "doctor"))


@briefly
@given(LOGS, st.integers(0, 6), st.sampled_from(["", "sore"]))
def test_a_day_alone_is_the_day_of_its_week(days: list[tuple[int, str]], later: int, felt: str) -> None:
    """Whatever the log, a day of a week is the same music as that day asked for alone with the same log."""
    profile, before = Profile(stretch="C6"), lately(logged(days), ON)
    week = plan_week(WeekRequest(profile=profile, on=ON, lately=before, felt=felt))
    own = week.days[later]
    alone = DayRequest(
        profile=profile,
        on=own.on,
        kind=_asked_kind(own),
        lately=after(before, ON, felt) if later else before,
        felt="" if later else felt,
    )

    assert [part.study for part in plan(alone).parts] == [part.study for part in own.parts]


def _asked_kind(day: Day) -> str:
    """Return the kind that a day was asked for as: a light one on the rest day, a normal one where the log lightened it."""
    return "normal" if day.told else day.kind


@briefly
@given(st.lists(st.sampled_from(PARTS), unique=True, min_size=1, max_size=3))
def test_what_is_left_out_today_is_not_there(names: list[str]) -> None:
    """Parts left out of a day are not in it, and of parts alone wanted no other is."""
    without = plan(DayRequest(profile=Profile(), on=ON, wishes=Wishes(leave_out=tuple(names))))
    alone = plan(DayRequest(profile=Profile(), on=ON, minutes=12, wishes=Wishes(only=("flow", "scales", "slurs"))))

    assert not {part.name for part in without.parts} & set(names)
    assert {part.name for part in alone.parts} <= {"flow", "scales", "slurs"}


def test_a_part_has_the_tempo_wished_for() -> None:
    """The tempo of one part is wished for by its name; the others keep theirs."""
    plain, wished = (
        plan(DayRequest(profile=Profile(), on=ON, wishes=wishes)) for wishes in (Wishes(), Wishes(tempi=("flow=60",)))
    )
    (before,), (after,) = ([part for part in day.parts if part.name == "flow"] for day in (plain, wished))

    assert 60 == after.study.tempo != before.study.tempo


@pytest.mark.parametrize("text", ["flow", "flow=", "flow=9", "flow=fast", "juggling=60", "=60"])
def test_what_is_no_tempo_of_a_part_is_refused(text: str) -> None:
    """A part that there is not, or no tempo, is refused by name."""
    with pytest.raises(BadRequest, match="tempo"):
        plan(DayRequest(profile=Profile(), on=ON, wishes=Wishes(tempi=(text,))))


def test_the_name_changes_no_music() -> None:
    """Two players of other names have the same day; another seed has another."""
    one, other, drawn = (
        plan(DayRequest(profile=profile, on=ON)) for profile in (Profile(name="a"), Profile(name="b"), Profile(seed=7))
    )

    assert [part.study for part in one.parts] == [part.study for part in other.parts]
    assert [part.study for part in one.parts] != [part.study for part in drawn.parts]
