"""Grades as steps: each is at least the last in everything and more in something, and the README tells what."""

import re
from itertools import pairwise
from pathlib import Path

import pytest

from generators.brass.grade import GRADES, Grade
from generators.phrase.dynamics import LOUDNESS

LEARNERS = [grade for name, grade in GRADES.items() if name.isdigit()]
README = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")
ROWS = [[cell.strip() for cell in row.split("|")[1:-1]] for row in re.findall(r"^\| \d \|.*$", README, re.MULTILINE)]
steps = pytest.mark.parametrize(("lower", "higher"), list(pairwise(LEARNERS)), ids=lambda grade: grade.id)


def numbers(grade: Grade) -> tuple[float, ...]:
    """Return what rises with a grade, as numbers."""
    widest = (-grade.low.midi, grade.high.midi, grade.leap, grade.tempo, grade.breath, grade.speed, -grade.shortest)
    allowed = (grade.chromatic, grade.triplets, grade.syncopes, grade.off_the_beat, grade.threes, grade.pedals)
    counts = (len(grade.tubes), grade.entrance_count, -LOUDNESS.index(grade.soft), LOUDNESS.index(grade.loud))
    return (*map(float, widest), *map(float, allowed), *map(float, counts))


def lists(grade: Grade) -> tuple[tuple[str, ...], ...]:
    """Return what a grade is allowed, by names; an empty one allows all."""
    return (grade.keys, grade.meters, grade.sets, grade.tongues, grade.moving)


@steps
def test_no_grade_asks_for_less(lower: Grade, higher: Grade) -> None:
    """No number falls, and no key, meter, articulation or kind of tonguing is taken away."""
    assert all(a <= b for a, b in zip(numbers(lower), numbers(higher), strict=True))
    assert all(not more or set(less) <= set(more) for less, more in zip(lists(lower), lists(higher), strict=True))
    assert set(higher.leaves_out) - {"tune"} <= set(lower.leaves_out)


@steps
def test_no_plateau(lower: Grade, higher: Grade) -> None:
    """Range, tempo and, after the first notes, keys grow with every grade."""
    assert higher.high.midi - higher.low.midi > lower.high.midi - lower.low.midi
    assert higher.tempo > lower.tempo
    assert not higher.keys or lower.slow or len(higher.keys) > len(lower.keys)


def test_the_readme_tells_what_each_grade_adds() -> None:
    """The table of the README has a row a grade, with its range and the keys that the grade before it lacks."""
    before: tuple[str, ...] = ()
    for row, grade in zip(ROWS, LEARNERS, strict=True):
        added = [key for key in grade.keys if key not in before]

        assert [grade.id, f"{grade.low.name} to {grade.high.name}"] == row[:2]
        assert (", ".join(added) or ("" if grade.keys else "all others")) == row[2]
        before = grade.keys
