"""Grades against published charts.

NMP Grading System (band publisher's chart; octaves inferred), nemusicpub.com, read 2026-11-25, grades 1 and 2, in concert
keys; a university's site on trumpet pedagogy, "Range development"; Georgia Music Educators Association, district and all-state
chromatic requirements (handout); a music retailer's page "Our Grading System" (keys a grade); a brass-ensemble publisher's
grading page; NZMEB, Trumpet Grade 8 syllabus, and a US all-state audition sheet (sixteenths); a practice article on tonguing.
Addresses were not kept but where one is given. The breaths are estimates from lung volume and flow (UNSW Music Acoustics, "Air
speed and blowing pressure").
"""

from fractions import Fraction

import pytest

from generators.brass.grade import ADULT, grade
from generators.brass.horn import horn
from generators.theory.interval import transpose
from generators.theory.pitch import Pitch

RANGE = {
    "1": ("C4", "C5"),  # band publisher
    "2": ("A3", "E5"),  # band publisher
    "5": ("F#3", "C6"),  # Georgia, concert and symphonic
}
TOP = {"1": "C5", "2": "E5", "3": "G5"}  # pedagogy site: after the first, second and third year
CONCERT_KEYS = {"1": {"Bb", "Eb"}, "2": {"Bb", "Eb", "F", "Ab", "C"}}
METERS = {"1": {"2/4", "3/4", "4/4"}, "2": {"2/4", "3/4", "4/4", "6/8", "2/2"}}
NUMBER_OF_KEYS = {"3": 6, "4": 8, "5": 10}
SHORTEST = {"1": 8, "2": 8, "3": 16}
SIXTEENTHS = {"3": 72, "4": 80}
GRADE_2_TEMPO = 126
ADULT_SIXTEENTHS = 132
BEGINNER_BREATH, ADULT_BREATH = (5, 12), (15, 30)


def _majors(id_: str) -> list[str]:
    return [key for key in grade(id_).keys if not key.endswith("m")]


def _concert(key: str) -> str:
    written = Pitch(key[0], -1 if key.endswith("b") else 0, 4)
    return transpose(written, horn("trumpet").interval).name[:-1]


@pytest.mark.parametrize("id_", RANGE)
def test_range(id_: str) -> None:
    """The range is the chart's, in written notes."""
    assert RANGE[id_] == (grade(id_).low.name, grade(id_).high.name)


@pytest.mark.parametrize("id_", TOP)
def test_top(id_: str) -> None:
    """The top is what a student reaches in as many years."""
    assert TOP[id_] == grade(id_).high.name


@pytest.mark.parametrize("id_", CONCERT_KEYS)
def test_keys(id_: str) -> None:
    """The written major keys sound as the chart's concert keys on a B♭ horn."""
    assert CONCERT_KEYS[id_] == {_concert(key) for key in _majors(id_)}


@pytest.mark.parametrize("id_", METERS)
def test_meters(id_: str) -> None:
    """The meters are the chart's."""
    assert METERS[id_] == set(grade(id_).meters)


@pytest.mark.parametrize("id_", NUMBER_OF_KEYS)
def test_number_of_keys(id_: str) -> None:
    """As many major keys are known as published for the grade."""
    assert NUMBER_OF_KEYS[id_] == len(_majors(id_))


@pytest.mark.parametrize("id_", SHORTEST)
def test_shortest(id_: str) -> None:
    """Grades 1 and 2 play nothing shorter than eighths; sixteenths come with grade 3."""
    assert Fraction(1, SHORTEST[id_]) == grade(id_).shortest


@pytest.mark.parametrize("id_", SIXTEENTHS)
def test_speed(id_: str) -> None:
    """Single tonguing reaches the published test speeds in sixteenths."""
    assert pytest.approx(SIXTEENTHS[id_] * 4 / 60, abs=0.01) == grade(id_).speed


def test_tempo() -> None:
    """Grade 2 usually does not go past 126."""
    assert grade("2").tempo == GRADE_2_TEMPO


def test_adult_speed() -> None:
    """A grown player single-tongues sixteenths at 132."""
    assert pytest.approx(ADULT_SIXTEENTHS * 4 / 60) == ADULT.speed


def test_breath() -> None:
    """A beginner's breath is within the beginners' estimate, an adult's within the adults'."""
    assert BEGINNER_BREATH[0] <= grade("1").breath <= BEGINNER_BREATH[1]
    assert ADULT_BREATH[0] <= ADULT.breath <= ADULT_BREATH[1]
