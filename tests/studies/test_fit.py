"""Fitting: octave, breath and compass, by laws over every flow line."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.phrase.algebra import breaths, length, mapped
from generators.phrase.in_key import in_key
from generators.phrase.notation import degrees
from generators.phrase.note import Degree, Note, Phrase
from generators.phrase.study import Limits
from generators.studies.flow.courses import FLOW_METERS, Wanted
from generators.studies.flow.drawing import drawn_line
from generators.studies.kit.fit import all_seated, breathed, inside, leap, longest, middle, needed, seats
from generators.theory.key import all_keys, parse_key
from generators.theory.pitch import parse_pitch

LAWS = settings(max_examples=60)
SKETCHES = st.sampled_from([drawn_line(Wanted(shape, "octave", "8", False, True, 0), 1) for shape in FLOW_METERS])
KEYS = st.sampled_from(all_keys())
WIDE = Limits(parse_pitch("F#3"), parse_pitch("C6"), 15.0)


def whole(phrase: Phrase[Degree]) -> list[tuple[int, bool, bool]]:
    """Return each stretch as its number of notes, and whether a slur opens on its first and closes on its last."""
    return [(len(s), s[0].slur_open, s[-1].slur_close) for s in breaths(phrase)]  # type: ignore[union-attr]


@LAWS
@given(SKETCHES, st.integers(30, 240), st.floats(5, 15))
def test_breaths_leave_the_music(sketch: Phrase[Degree], tempo: int, seconds: float) -> None:
    """Taking breaths changes no note and no length, and where a breath parts a slur both halves are whole slurs."""
    taken = breathed(sketch, tempo, seconds)

    assert [(e.length, getattr(e, "pitch", None)) for e in sketch] == [(e.length, getattr(e, "pitch", None)) for e in taken]
    assert all((count > 1) == opens == closes for count, opens, closes in whole(taken))


@LAWS
@given(SKETCHES, st.integers(30, 240), st.floats(5, 15))
def test_only_where_the_air_ends(sketch: Phrase[Degree], tempo: int, seconds: float) -> None:
    """A line that lasts keeps its breaths; one that does not is cut only where it said it may be."""
    taken = breathed(sketch, tempo, seconds)
    new = [i for i, (a, b) in enumerate(zip(sketch, taken, strict=True)) if isinstance(a, Note) and a.breath != b.breath]  # type: ignore[union-attr]

    assert all(sketch[i].may_breathe for i in new)  # type: ignore[union-attr]
    assert bool(new) == (longest_seconds(sketch, tempo) > int(seconds * tempo) / tempo)


def longest_seconds(sketch: Phrase[Degree], tempo: int) -> float:
    """Return the longest stretch of a line in seconds."""
    return max(float(length(stretch) * 240 / tempo) for stretch in breaths(sketch))


@LAWS
@given(SKETCHES, KEYS)
def test_seats(sketch: Phrase[Degree], key: object) -> None:
    """Every seat is inside the range, and each is an octave above the one before it."""
    found = seats(sketch, key, WIDE)  # type: ignore[arg-type]

    assert all(inside(line, WIDE) for line in found)
    assert all(abs(middle(b) - middle(a) - 12) < 1e-9 for a, b in pairwise(found))


def test_none_for_all_if_none_for_one() -> None:
    """A line that does not fit one key is taken for none."""
    sketch = degrees("1/4 8 1 8")
    narrow = Limits(parse_pitch("C4"), parse_pitch("C5"), 15.0)

    assert all_seated(sketch, [parse_key("C")], narrow)
    assert None is all_seated(sketch, [parse_key("C"), parse_key("D")], narrow)


@pytest.mark.parametrize(
    ("sketch", "answer"), [("1/4 3 8", 8), ("1/4 8* 1", 12), ("1/4* 8", 0), ("1/4 r/4 8", 0), ("1/4", 0), ("5,/4 3", 9)]
)
def test_leap(sketch: str, answer: int) -> None:
    """The widest leap is counted between neighbours; over a breath or a rest nothing is a leap."""
    assert answer == leap(in_key(degrees(sketch), parse_key("C"), 4))


@LAWS
@given(st.integers(1, 32), st.floats(5, 15))
def test_needed_is_enough_and_no_more(quarters: int, seconds: float) -> None:
    """The tempo needed lets the longest phrase last no longer than the breath; a beat slower would not."""
    line = mapped(degrees(" ".join(["1/4"] * quarters)), lambda _: parse_pitch("C4"))
    limits = Limits(WIDE.low, WIDE.high, seconds)
    tempo = needed([line], limits)

    assert Fraction(quarters, 4) == longest(line)
    assert quarters * 60 / tempo <= seconds + 0.01
    assert tempo == 1 or quarters * 60 / (tempo - 1) >= seconds - 0.01
