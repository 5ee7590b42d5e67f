"""Intervals: their names and the laws of transposition."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.theory.interval import Interval, between, interval_name, parse_interval, transpose
from generators.theory.pitch import STEPS, Pitch, parse_pitch

LAWS = settings(max_examples=80)
# Plain pitches and these intervals never need more than two accidentals.
PITCHES = st.builds(Pitch, st.sampled_from(STEPS), st.integers(-1, 1), st.integers(2, 6))
NAMES = [
    "P1",
    "m2",
    "M2",
    "m3",
    "M3",
    "P4",
    "A4",
    "d5",
    "P5",
    "m6",
    "M6",
    "m7",
    "M7",
    "P8",
    "m9",
    "M9",
    "m10",
    "M10",
    "P11",
    "P12",
    "P15",
]
INTERVALS = st.sampled_from([parse_interval(sign + name) for sign in ("", "-") for name in NAMES])


@pytest.mark.parametrize(
    ("name", "steps", "half_steps"),
    [
        ("P1", 0, 0),
        ("A1", 0, 1),
        ("d2", 1, 0),
        ("m2", 1, 1),
        ("M2", 1, 2),
        ("A2", 1, 3),
        ("m3", 2, 3),
        ("M3", 2, 4),
        ("d4", 3, 4),
        ("P4", 3, 5),
        ("A4", 3, 6),
        ("d5", 4, 6),
        ("P5", 4, 7),
        ("A5", 4, 8),
        ("m6", 5, 8),
        ("M6", 5, 9),
        ("A6", 5, 10),
        ("d7", 6, 9),
        ("m7", 6, 10),
        ("M7", 6, 11),
        ("P8", 7, 12),
        ("M9", 8, 14),
        ("m10", 9, 15),
        ("P12", 11, 19),
        ("P15", 14, 24),
        ("-M2", -1, -2),
        ("-A1", 0, -1),
        ("-P8", -7, -12),
    ],
)
def test_names(name: str, steps: int, half_steps: int) -> None:
    """An interval's name gives its steps and its half-steps, as the textbooks have them."""
    interval = parse_interval(name)

    assert Interval(steps, half_steps) == interval


@pytest.mark.parametrize("name", ["", "third", "M", "3", "+M3", "m3 ", "dd5", "M100"])
def test_an_unknown_interval_is_refused(name: str) -> None:
    """The refusal of an unknown interval names it, tells what to write and gives an example."""
    with pytest.raises(BadRequest) as refusal:
        parse_interval(name)

    assert [True] * 3 == [part in str(refusal.value) for part in (f'"{name}"', "P M m A d", "-m3")]


@pytest.mark.parametrize("name", ["P0", "M1", "P2", "P3", "m4", "M5", "P6", "P7", "m8", "P9", "M11"])
def test_a_quality_that_does_not_exist_is_refused(name: str) -> None:
    """Perfect thirds and major fifths are refused with the qualities that exist and an example."""
    with pytest.raises(BadRequest) as refusal:
        parse_interval(name)

    assert [True] * 3 == [part in str(refusal.value) for part in (f'"{name}"', "P A d for others", "P5")]


@LAWS
@given(PITCHES, INTERVALS)
def test_up_then_down_is_the_identity(pitch: Pitch, interval: Interval) -> None:
    """A pitch moved by an interval and back again is the same pitch, spelling included."""
    moved = transpose(transpose(pitch, interval), -interval)

    assert pitch == moved


@LAWS
@given(PITCHES, INTERVALS)
def test_between_is_the_interval_moved(pitch: Pitch, interval: Interval) -> None:
    """The interval between a pitch and its transposition is the interval itself."""
    assert interval == between(pitch, transpose(pitch, interval))


@LAWS
@given(PITCHES, PITCHES)
def test_between_leads_there(low: Pitch, high: Pitch) -> None:
    """The interval between two pitches leads from the first to the second."""
    assert high == transpose(low, between(low, high))


@LAWS
@given(PITCHES, PITCHES, PITCHES)
def test_intervals_add(one: Pitch, two: Pitch, three: Pitch) -> None:
    """Two intervals in a row are their sum."""
    assert between(one, three) == between(one, two) + between(two, three)


@LAWS
@given(INTERVALS)
def test_an_interval_and_its_opposite_cancel(interval: Interval) -> None:
    """An interval added to its opposite is a unison."""
    assert Interval(0, 0) == interval + -interval


@pytest.mark.parametrize(
    ("written", "sounding"), [("C4", "Bb3"), ("F#4", "E4"), ("Db4", "Cb4"), ("B4", "A4"), ("E#4", "D#4"), ("F4", "Eb4")]
)
def test_b_flat_trumpet(written: str, sounding: str) -> None:
    """A B flat trumpet sounds a major second lower than written, spelled a step lower."""
    heard = transpose(parse_pitch(written), parse_interval("-M2"))

    assert sounding == heard.name


def test_transposition_out_of_spelling_is_refused() -> None:
    """A transposition that needs three accidentals is refused, not respelled in silence."""
    with pytest.raises(BadRequest, match="allowed: up to two"):
        transpose(parse_pitch("B##4"), parse_interval("A4"))


@pytest.mark.parametrize("name", ["P1", "M2", "-M2", "m3", "-M6", "-M9", "P8", "-P15", "A4", "-d5", "-M16"])
def test_a_short_name_is_read_and_told(name: str) -> None:
    """What is read from a short name is told by the same."""
    assert name == interval_name(parse_interval(name))
