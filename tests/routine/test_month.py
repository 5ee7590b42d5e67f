"""The last month of the log: nothing is lost, nothing is counted twice, and what was not practised is named."""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from generators.brass.grade import grade
from generators.routine.logbook import FELT, Entry
from generators.routine.month import MONTH_DAYS, Counted, month
from generators.routine.month_words import month_rows, unknown_words
from generators.routine.profile import Profile
from generators.routine.rotation import MAJORS, MINORS, day_keys
from generators.studies.catalogue import DAY_PARTS
from generators.studies.kit.kind import AREAS
from tests.keep.profiles import profiles

LAST = date(2026, 11, 25)
DAYS = (LAST, date(2026, 11, 24))
logs = st.lists(
    st.builds(
        Entry,
        day=st.dates(LAST - timedelta(days=45), LAST + timedelta(days=5)),
        minutes=st.integers(1, 120),
        felt=st.sampled_from(list(FELT)),
        keys=st.lists(st.sampled_from([*MAJORS, *MINORS]), max_size=6).map(tuple),
        parts=st.lists(st.sampled_from(list(DAY_PARTS)), max_size=8).map(tuple),
    ),
    max_size=40,
)


def counts(counted: tuple[Counted, ...]) -> dict[str, int]:
    """Return what was counted by name."""
    return {each.name: each.count for each in counted}


@given(logs, profiles)
def test_a_month_adds_up(log: list[Entry], profile: Profile) -> None:
    """Minutes, sessions and days are those of the thirty days up to the last, whoever the player is."""
    found = month(log, profile, LAST)
    heard = [entry for entry in log if 0 <= (LAST - entry.day).days < MONTH_DAYS]

    assert sum(entry.minutes for entry in heard) == found.minutes
    assert len(heard) == sum(counts(found.felt).values())
    assert len({entry.day for entry in heard}) == found.days
    assert found == month(reversed(log), profile, LAST)


@given(logs, profiles)
def test_every_key_and_area_is_practised_or_neglected(log: list[Entry], profile: Profile) -> None:
    """Each is told once, in order, with its days; what was played is never left out, nor what the player should know."""
    found = month(log, profile, LAST)
    heard = [entry for entry in log if 0 <= (LAST - entry.day).days < MONTH_DAYS]
    keys = {name: {entry.day for entry in heard if name in entry.keys} for name in (*MAJORS, *MINORS)}
    areas = {
        area: {entry.day for entry in heard if any(area in DAY_PARTS[part].areas for part in entry.parts)} for area in AREAS
    }

    for told, days in ((found.keys, keys), (found.areas, areas)):
        assert {name: len(on) for name, on in days.items() if on} == {n: many for n, many in counts(told).items() if many}
        assert [name for name in days if name in counts(told)] == [each.name for each in told]
    assert set(grade(profile.grade).keys or (*MAJORS, *MINORS)) <= counts(found.keys).keys()


def test_a_month_of_printed_days_neglects_no_key() -> None:
    """Six days of the rotation have all twenty-four keys; three of them all majors and half of the minors."""
    days = [
        Entry(day=LAST - timedelta(days=i), minutes=20, keys=day_keys((LAST - timedelta(days=i)).toordinal()).all)
        for i in range(6)
    ]
    whole, half = (month(days[:many], Profile(), LAST) for many in (6, 3))

    assert [] == [each.name for each in whole.keys if not each.count]
    assert 6 == sum(1 for each in half.keys if not each.count)


def test_a_learner_is_not_blamed_for_what_comes_later() -> None:
    """Neither keys nor areas that a grade leaves out are neglected; what was played of them counts all the same."""
    empty = month([], Profile(grade="1"), LAST)
    beyond = month([Entry(day=LAST, minutes=5, keys=("Gb",), parts=("multiple",))], Profile(grade="1"), LAST)

    assert {"C": 0, "F": 0} == counts(empty.keys)
    assert "multiple tonguing" not in counts(empty.areas)
    assert {"C": 0, "F": 0, "F#": 1} == counts(beyond.keys)
    assert 1 == counts(beyond.areas)["multiple tonguing"]


def test_the_month_in_words() -> None:
    """The page says the period, the days, the feeling, what was practised most first, and what was neglected."""
    log = [
        Entry(
            day=LAST - timedelta(days=i), minutes=20, felt="good" if i else "hard", keys=("F", "Bb")[: 1 + i], parts=("buzz",)
        )
        for i in range(2)
    ]
    told = list(month_rows(month([*log, Entry(day=LAST - timedelta(days=9), minutes=5)], Profile(grade="1"), LAST)))

    expected = ["27 October to 25 November 2026", "3 of 30 days, 45 minutes", "good 2, hard 1", "F 2, B♭ 1", "C", "air 2"]
    assert expected == [words for _, words in told[:6]]
    assert "On 1 day the log does not say what was played." == unknown_words(
        month([*log, Entry(day=LAST - timedelta(days=9), minutes=5)], Profile(), LAST)
    )
