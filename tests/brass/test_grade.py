from fractions import Fraction
from itertools import pairwise

import pytest

from generators.brass.grade import ADULT, GRADES, Grade, grade, limits
from generators.brass.horn import HORNS
from generators.errors import BadRequest
from generators.theory.key import parse_key
from generators.theory.pitch import Pitch, parse_pitch

EVERY = pytest.mark.parametrize("a_grade", GRADES.values(), ids=GRADES)
LOW, HIGH = parse_pitch("G3"), parse_pitch("G5")


def _wider(a: Grade, b: Grade) -> bool:
    return all(
        (
            b.low <= a.low,
            b.high >= a.high,
            not b.keys or set(a.keys) <= set(b.keys),
            not b.meters or set(a.meters) <= set(b.meters),
            b.shortest <= a.shortest,
            b.leap >= a.leap,
            b.tempo > a.tempo,
            b.breath >= a.breath,
            b.speed > a.speed,
        )
    )


def test_ids() -> None:
    """The grades are 1 to 6, each found by its id."""
    assert list("123456") == list(GRADES)
    assert [grade(i) for i in "123456"] == list(GRADES.values())


def test_unknown() -> None:
    """Another grade is refused with the list."""
    with pytest.raises(BadRequest, match='grade "7" is not known; allowed: 1, 2, 3, 4, 5, 6'):
        grade("7")


def test_each_grade_contains_the_one_before() -> None:
    """What a grade may be asked, the next may be asked too, and the adult more than all."""
    assert all(_wider(a, b) for a, b in pairwise([*GRADES.values(), ADULT]))


@EVERY
def test_keys_are_keys(a_grade: Grade) -> None:
    """Every key is written as keys are named, none twice."""
    assert [parse_key(name).name for name in a_grade.keys] == list(dict.fromkeys(a_grade.keys))


@EVERY
def test_row_is_complete(a_grade: Grade) -> None:
    """Every row says what is published and what was chosen."""
    assert a_grade.source
    assert a_grade.choice


def test_adult_leaves_the_range_to_the_horn() -> None:
    """The adult's range holds every horn's, pedals and ceiling included."""
    assert Pitch("F", 1, 2) == ADULT.low
    assert max(horn.ceiling for horn in HORNS.values()) == ADULT.high


@pytest.mark.parametrize("of", [None, *GRADES.values()])
def test_limits(of: Grade | None) -> None:
    """Limits carry the habits of the grade, or of an adult, between the notes given."""
    found = limits(of, LOW, HIGH, pedals=True)
    by = of or ADULT

    assert (found.low, found.high, found.pedals, found.partials) == (LOW, HIGH, True, False)
    assert (by.breath, by.leap, by.tempo, by.shortest) == (found.breath, found.leap, found.tempo, found.shortest)
    assert (by.speed, by.keys) == (found.speed, found.keys)


def test_adult_limits() -> None:
    """An adult has 15 s of breath, leaps two octaves, reaches 240 bpm and tongues 8.8 sixteenths a second."""
    habits = (ADULT.breath, ADULT.leap, ADULT.tempo, ADULT.speed, ADULT.shortest)

    assert (15.0, 24, 240, 8.8, Fraction(1, 16)) == habits
