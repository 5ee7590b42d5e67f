"""Printed lines: every bar stands on one, none is cramped, and they are even."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.phrase.bars import COMMON, Bar, bars
from generators.phrase.lines import BARS_A_LINE, NOTES_A_LINE, line_up
from generators.phrase.notation import degrees
from generators.phrase.note import Degree

LAWS = settings(max_examples=80)


def page(*counts: int) -> list[Bar[Degree]]:
    """Return bars with the given numbers of notes."""
    return [degrees("1 " * count) for count in counts]


@LAWS
@given(st.lists(st.integers(1, 40), max_size=20))
def test_every_bar_stands_on_one_line(counts: list[int]) -> None:
    """The lines hold all bars, none is empty and none has more than four."""
    layout = line_up(page(*counts))

    assert len(counts) == sum(layout)
    assert all(1 <= width <= BARS_A_LINE for width in layout)


@LAWS
@given(st.lists(st.integers(1, 40), max_size=20))
def test_no_line_is_cramped(counts: list[int]) -> None:
    """No line of two bars or more has more notes than a line holds."""
    layout = line_up(page(*counts))
    starts = [sum(layout[:i]) for i in range(len(layout))]
    sums = [sum(counts[start : start + width]) for start, width in zip(starts, layout, strict=True) if width > 1]

    assert [] == [total for total in sums if total > NOTES_A_LINE]


def test_lines_break_after_breaths() -> None:
    """Six bars with a breath after the second and a rest at the end stand two and four, not three and three."""
    phrase = degrees("1 1 1 1 | 1 1 1/2* | 1/4 1 1 1 | 1 1 1 1 | 1/1 | r/1")

    assert (2, 4) == line_up(bars(phrase, COMMON))


@pytest.mark.parametrize(
    ("count", "notes", "layout"),
    [
        (0, 4, ()),
        (1, 4, (1,)),
        (4, 4, (4,)),
        (5, 4, (3, 2)),
        (8, 4, (4, 4)),
        (9, 4, (3, 3, 3)),
        (4, 16, (2, 2)),
        (2, 40, (1, 1)),
    ],
)
def test_line_up(count: int, notes: int, layout: tuple[int, ...]) -> None:
    """Plain bars stand four or three on a line, fuller ones fewer, and none is left over alone."""
    assert layout == line_up(page(*[notes] * count))
