from fractions import Fraction
from itertools import pairwise

import pytest

from generators.brass.grade import ADULT, GRADES, Grade, first_with, grade, grade_on, span_on
from generators.brass.horn import HORNS, horn
from generators.errors import BadRequest
from generators.theory.key import parse_key

EVERY = pytest.mark.parametrize("a_grade", GRADES.values(), ids=GRADES)


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
    """The grades are 0 to 6, each found by its id."""
    assert list("0123456") == list(GRADES)
    assert [grade(i) for i in "0123456"] == list(GRADES.values())


def test_unknown() -> None:
    """Another grade is refused with the list."""
    with pytest.raises(BadRequest, match='grade "7" is not known; allowed: 0, 1, 2, 3, 4, 5, 6'):
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
    """The adult's range holds every horn's in treble clef, pedals and ceiling included; his own is the comfortable one."""
    trebles = [each for each in HORNS.values() if not each.home.steps]

    assert {ADULT.low} == {each.pedal_floor for each in trebles}
    assert max(each.ceiling for each in trebles) == ADULT.high
    assert all(span_on(grade_on("", each), each) == each.comfort for each in HORNS.values())


@pytest.mark.parametrize("id_", GRADES)
def test_a_grade_is_the_same_on_every_treble_horn(id_: str) -> None:
    """In treble clef a grade reads as it is written in the table."""
    assert {grade(id_)} == {grade_on(id_, each) for each in HORNS.values() if not each.home.steps}


def test_a_grade_in_bass_clef() -> None:
    """The first grade on trombone is B flat and E flat, from the B flat in first position to its octave."""
    first = grade_on("1", horn("trombone"))

    assert ("Bb2", "Bb3", ("Bb", "Eb")) == (first.low.name, first.high.name, first.keys)


@pytest.mark.parametrize("id_", GRADES)
def test_no_key_of_seven_accidentals_comes_of_a_move(id_: str) -> None:
    """A key that would move to seven flats is written with five sharps."""
    assert all(abs(parse_key(name).fifths) < 7 for name in grade_on(id_, horn("trombone")).keys)


def test_habits_grow() -> None:
    """What a grade does, the next does too: notes, rhythms, tongues, pedals, parts of the day."""
    rows = [*GRADES.values(), ADULT]
    for habit in ("chromatic", "triplets", "syncopes", "off_the_beat", "threes", "pedals"):
        has = [getattr(row, habit) for row in rows]

        assert has == sorted(has)
    # A tune belongs to a beginner's day alone.
    assert all(set(after.leaves_out) - {"tune"} <= set(before.leaves_out) for before, after in pairwise(rows))
    assert all(
        after.tongues_with(kind) >= before.tongues_with(kind)
        for kind in ("single", "double")
        for before, after in pairwise(rows)
    )
    assert all(set(before.tubes) <= set(after.tubes) for before, after in pairwise(rows))


def test_first_with_a_habit() -> None:
    """Pedals begin with the fourth grade."""
    assert "4" == first_with(lambda each: each.pedals)


def test_adult_limits() -> None:
    """An adult has 15 s of breath, leaps two octaves, reaches 240 bpm and tongues 8.8 sixteenths a second."""
    habits = (ADULT.breath, ADULT.leap, ADULT.tempo, ADULT.speed, ADULT.shortest)

    assert (15.0, 24, 240, 8.8, Fraction(1, 16)) == habits
