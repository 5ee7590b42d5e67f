"""The rotation of keys: its laws, on any run of days, for any player."""

from collections import Counter
from datetime import date
from itertools import chain, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.brass.horn import HORNS, horn
from generators.routine.context import concert_keys, occasion
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest, Wishes
from generators.routine.rotation import MAJORS, MINORS, as_written, day_keys, sounding
from generators.studies.kit.occasion import DayKeys, Occasion
from generators.theory.key import moved, parse_key
from tests.routine.players import MONDAY, days, names, weak_keys

# Keys a day: common practice, no source.
MAJORS_A_DAY, MINORS_A_DAY = 4, 2
# The twenty-four keys by the half-steps of their tonics from C.
TONICS = set(range(12))


def run(day: int, count: int, player: str = "", weak: tuple[str, ...] = ()) -> list[DayKeys]:
    """Return the keys of some days on end."""
    return [day_keys(day + i, player, weak) for i in range(count)]


def tonic(name: str) -> int:
    """Return the half-steps of a key's tonic above C."""
    return parse_key(name).degree(0).midi % 12


def apart(one: str, other: str) -> int:
    """Return how far two tonics lie apart, in half-steps, round the circle."""
    return min((tonic(one) - tonic(other)) % 12, (tonic(other) - tonic(one)) % 12)


def test_the_names_are_the_twelve_keys_twice() -> None:
    """Majors and minors each have all twelve tonics, from C upwards."""
    assert list(range(12)) == [tonic(name) for name in MAJORS] == [tonic(name) for name in MINORS]


@given(days, names)
def test_three_days_hold_every_major_once(day: int, player: str) -> None:
    """In any three days on end each of the twelve majors comes once."""
    assert sorted(MAJORS) == sorted(chain(*(keys.majors for keys in run(day, 3, player))))


@given(days, names)
def test_six_days_hold_every_minor_once(day: int, player: str) -> None:
    """In any six days on end each of the twelve minors comes once, so all twenty-four keys have come."""
    six = run(day, 6, player)

    assert sorted(MINORS) == sorted(chain(*(keys.minors for keys in six)))
    assert {*MAJORS, *MINORS} == set(chain(*(keys.all for keys in six)))


@given(days, names)
def test_a_day_has_four_majors_and_two_minors(day: int, player: str) -> None:
    """Scales and arpeggios go through four majors a day, with two minors beside them."""
    keys = day_keys(day, player)

    assert (MAJORS_A_DAY, MINORS_A_DAY) == (len(set(keys.majors)), len(set(keys.minors)))


@given(days, names)
def test_no_major_comes_two_days_running(day: int, player: str) -> None:
    """What was played yesterday rests today."""
    assert all(set(today.majors).isdisjoint(tomorrow.majors) for today, tomorrow in pairwise(run(day, 7, player)))


@given(days, names)
def test_the_keys_of_a_day_lie_far_apart(day: int, player: str) -> None:
    """The majors of a day are spread evenly, a minor third or more apart; the minors a tritone, on other tonics."""
    keys = day_keys(day, player)

    assert 3 == min(apart(a, b) for a in keys.majors for b in keys.majors if a != b)
    assert 6 == apart(*keys.minors)
    assert {tonic(key) for key in keys.majors}.isdisjoint({tonic(key) for key in keys.minors})


@given(days, names, weak_keys)
def test_weak_keys_come_as_often_as_they_are_named(day: int, player: str, weak: tuple[str, ...]) -> None:
    """In 24 days each weak key comes half as often again or oftener; the laws of the others hold as without them."""
    plain, period = run(day, 24, player), run(day, 24, player, weak)
    before, after = (Counter(chain(*(keys.all for keys in some))) for some in (plain, period))

    assert all(after[key] >= 1.5 * before[key] for key in weak)
    assert [(keys.majors, keys.minors) for keys in plain] == [(keys.majors, keys.minors) for keys in period]


@given(days, names)
def test_a_key_named_twice_comes_oftener(day: int, player: str) -> None:
    """A weak key has the more weight the oftener it is named."""
    found = Counter(chain(*(keys.weak for keys in run(day, 24, player, ("Db", "B", "Db")))))

    assert found["Db"] > found["B"] > 0


@given(days, names, weak_keys)
def test_the_same_player_and_day_have_the_same_keys(day: int, player: str, weak: tuple[str, ...]) -> None:
    """The rotation is a function of player and day alone."""
    assert day_keys(day, player, weak) == day_keys(day, player, weak)


@given(days, names)
def test_the_rotation_goes_on_over_weeks(day: int, player: str) -> None:
    """Six days on the same keys are due, whatever week it is; they may come in another order."""
    assert [set(keys.all) for keys in run(day, 6, player)] == [set(keys.all) for keys in run(day + 6 * 60, 6, player)]


@given(days, st.sampled_from(list(HORNS)))
def test_written_and_sounding_are_inverse(day: int, id_: str) -> None:
    """Concert keys turned to written and back are themselves."""
    keys, half_steps = day_keys(day), horn(id_).sounding_half_steps
    there = as_written(keys, half_steps)

    assert (keys.majors, keys.minors) == (sounding(there.majors, half_steps), sounding(there.minors, half_steps))


@given(days, st.sampled_from(list(HORNS)))
def test_written_keys_sound_the_concert_key(day: int, id_: str) -> None:
    """A written key moved by the horn's own interval has the tonic of the concert key, as the theory has it."""
    keys = day_keys(day)
    there = as_written(keys, horn(id_).sounding_half_steps)
    heard = [tonic(moved(parse_key(name), horn(id_).interval).name) for name in (*there.majors, *there.minors)]

    assert [tonic(name) for name in (*keys.majors, *keys.minors)] == heard


@pytest.mark.parametrize(
    ("id_", "reads"),
    [
        ("trumpet-c", "Bb"),
        ("cornet", "C"),
        ("tenor-horn", "G"),
        ("soprano-cornet", "G"),
        ("euphonium", "C"),
        ("piccolo-a", "Db"),
    ],
)
def test_concert_b_flat(id_: str, reads: str) -> None:
    """Concert B flat is C on B flat horns, G on E flat horns, B flat in C, as any band has it."""
    assert (reads,) == as_written(DayKeys(("Bb",), (), ()), horn(id_).sounding_half_steps).majors


@pytest.mark.parametrize(
    ("written", "concert"), [("Gb", "E"), ("F#", "E"), ("C#", "B"), ("Cb", "A"), ("D#m", "C#m"), ("Abm", "F#m"), ("C", "Bb")]
)
def test_any_spelling_has_its_concert_key(written: str, concert: str) -> None:
    """Keys that the rotation spells otherwise, as players may wish for or move to, sound as their other name does."""
    assert (concert,) == sounding((written,), horn("trumpet").sounding_half_steps)


@pytest.mark.parametrize("wishes", [Wishes(transpose=2), Wishes(keys=("Gb", "C#m")), Wishes(keys=("D#m",), transpose=-5)])
def test_concert_days_take_any_wish(wishes: Wishes) -> None:
    """A day of concert keys can be moved, or asked for in any keys, and tells its concert keys."""
    day = date.fromordinal(MONDAY)
    where = occasion(DayRequest(profile=Profile(), on=day, concert=True, wishes=wishes))

    assert [tonic(name) for name in where.keys.all] == [(tonic(name) + 2) % 12 for name in concert_keys(where).all]


def _occasion(day: int, *, concert: bool, **profile: str) -> Occasion:
    return occasion(DayRequest(profile=Profile(**profile), on=date.fromordinal(day), concert=concert))


@given(days, names, names, st.sampled_from(list(HORNS)), st.sampled_from(list(HORNS)))
def test_a_group_shares_its_concert_keys(day: int, one: str, other: str, first: str, second: str) -> None:
    """With concert keys any two players have the same keys in the same order, each as the horn reads them."""
    both = [_occasion(day, concert=True, name=n, horn=h) for n, h in ((one, first), (other, second))]

    assert concert_keys(both[0]) == concert_keys(both[1])


@given(days, st.sampled_from(["1", "2", "3", "4", "5"]), st.booleans())
def test_a_learner_stays_within_the_grade(day: int, grade: str, concert: bool) -> None:
    """A learner's keys are the grade's; with concert keys those of the group that the grade knows are among them."""
    where = _occasion(day, concert=concert, grade=grade, horn="cornet")
    known = set(where.grade.keys)
    shared = set(as_written(day_keys(day), horn("cornet").sounding_half_steps).majors) & known

    assert set(where.keys.all) <= known
    assert not concert or shared <= set(where.keys.majors)


def test_a_day_written_out() -> None:
    """Monday, 30 November 2026, for a player without a name: the keys stay what they were."""
    assert {"B", "D", "F", "Ab"} == set(day_keys(MONDAY).majors)
