"""Laws of a week as a player reads it: what is high is led up to and changes, days open and end anew, rests are even."""

from collections import Counter
from datetime import date

import pytest

from generators.phrase.study import Strain
from generators.routine.day import Day
from generators.routine.load import load
from generators.routine.part import Part
from generators.routine.profile import Profile
from generators.routine.requests import WeekRequest
from generators.routine.week import plan_week
from generators.sheets.week import CELL_WIDTH, FILLED_TONE, FULL_CELL, coverage_chart
from tests.routine.test_day_laws import FIRSTS, HIGH, each_week, strains_of, week

# Half-steps of a fourth, and of about a fourth.
FOURTH, ABOUT = 5, 6


def top(strain: Strain) -> int:
    """Return the highest note of a strain, in half-steps."""
    return max(note.pitch.midi for note in strain.notes)


def parts_of(first: date, *names: str) -> list[Part]:
    """Return the parts of a week that have one of some names."""
    return [part for day in week(first) for part in day.parts if part.name in names]


@each_week
def test_high_slurs_and_high_flow_have_a_bridge(first: date) -> None:
    """Chords or tonguing just before high slurs or flow come within a fourth of G5, or of the top of the first row."""
    found = [(day, rows) for day in week(first) if (rows := strains_of(day, "high-slurs", "wide-flow"))]
    before = [max(top(strain) for strain in strains_of(day, "arpeggios", "tonguing", "multiple")) for day, _ in found]

    assert all(bridge >= min(79, top(rows[0])) - FOURTH for bridge, (_, rows) in zip(before, found, strict=True))
    assert found


@each_week
def test_rows_of_chords_rise(first: date) -> None:
    """Of a day's chords each row goes as high as the one before it or higher, the last beyond the low octave."""
    rows = [[top(strain) for strain in part.study.strains] for part in parts_of(first, "arpeggios")]

    assert rows == [sorted(each) for each in rows]
    assert all(each[-1] > 72 for each in rows)


@each_week
def test_tonguing_does_not_lie_low(first: date) -> None:
    """No row of a day's tonguing goes under B3, and one of every light day stays between C4 and E5."""
    rows = [strain for part in parts_of(first, "tonguing", "multiple", "k-first") for strain in part.study.strains]
    light = [strain for day in week(first) if day.kind == "light" for strain in strains_of(day, "tonguing")]

    assert all(min(note.pitch.midi for note in strain.notes) >= 59 for strain in rows)
    assert any(min(note.pitch.midi for note in strain.notes) >= 60 and top(strain) <= 76 for strain in light)


@pytest.mark.parametrize("later", range(0, 63, 9))
def test_high_slurs_come_twice_a_week(later: int) -> None:
    """High slurs come on two of seven days at the most, each time on another path; no form comes more than four times."""
    days = week(date.fromordinal(FIRSTS[0].toordinal() + later))
    slurs = [part.request.path or part.request.width for day in days for part in day.parts if part.name == "high-slurs"]
    forms = Counter(part.name for day in days for part in day.parts if part.name in HIGH)

    assert len(set(slurs)) == len(slurs) <= 2
    assert len(forms) >= 2
    assert max(forms.values()) <= 4


@each_week
def test_the_first_lines_do_not_leap_above_the_air(first: date) -> None:
    """The second row of a day's flow stays within about a fourth over the top of its air."""
    for day in week(first):
        airs = max(map(top, strains_of(day, "air")))

        assert all(top(strain) <= airs + ABOUT for strain in strains_of(day, "flow")[1:])


@each_week
def test_lip_slurs_to_g5_end_on_the_open_tube(first: date) -> None:
    """Where lip slurs reach G5 the open tube is the last, after a longer one."""
    found = [part.study.strains for part in parts_of(first, "slurs") if max(map(top, part.study.strains)) >= 79]

    assert ["0"] * len(found) == [strains[-1].tube for strains in found]
    assert all("0" != strains[0].tube for strains in found)
    assert found


@each_week
def test_no_chords_stand_on_the_same_roots_by_the_same_pattern(first: date) -> None:
    """In a week no two days climb chords by one pattern from the same notes."""
    figures = [
        (part.request.pattern, frozenset(strain.notes[0].pitch.midi % 12 for strain in part.study.strains))
        for part in parts_of(first, "arpeggios")
    ]

    assert len(set(figures)) == len(figures)


@pytest.mark.parametrize("later", range(0, 63, 9))
def test_no_day_opens_like_another_of_its_week(later: int) -> None:
    """In seven days no two airs begin with the same line, and all begin in the middle register, on E4 or above it."""
    days = week(date.fromordinal(FIRSTS[0].toordinal() + later))
    firsts = [strains_of(day, "air")[0] for day in days]
    openings = [tuple(note.pitch.midi for note in strain.notes) for strain in firsts]

    assert len(set(openings)) == len(openings) == 7
    assert all(64 <= strain.notes[0].pitch.midi <= 71 for strain in firsts)


@each_week
def test_warm_downs_have_many_shapes(first: date) -> None:
    """In a week three warm-downs or more have another shape or width, and none comes more than twice."""
    told = Counter(part.study.what for part in parts_of(first, "warm-down"))

    assert len(told) >= 3
    assert max(told.values()) <= 3


@each_week
def test_after_much_high_work_one_warms_down_for_about_a_minute(first: date) -> None:
    """Where a day has high work, mostly about three minutes of it, its warm-down lasts fifty seconds or more."""
    days = [(load(day).high, day.parts[-1].seconds) for day in week(first)]

    assert all(seconds >= 50 for high, seconds in days if high)
    assert any(high for high, _ in days)


@each_week
def test_waits_of_a_light_day_are_even(first: date) -> None:
    """On a light day one rests more than on others, and no wait is longer than 75 seconds or about as long as all of them."""
    light = [day for day in week(first) if day.kind == "light"]
    rests = [part.rest for day in light for part in day.parts[:-1]]

    assert max(rests) <= max(75, sum(rests) / len(rests) + 3)
    assert min(load(day).rest for day in light) >= max(load(day).rest for day in week(first) if day.kind == "normal")


@each_week
def test_the_head_tells_the_high_parts(first: date) -> None:
    """The high work of a day is the time of its high parts, as its strip tells them."""
    for day in week(first):
        assert sum(_minutes(part) for part in day.parts if "high" in part.row.areas) == pytest.approx(load(day).high / 60)


def _minutes(part: Part) -> float:
    return (part.seconds + part.rest) / 60


@each_week
def test_the_cover_counts_no_part_twice(first: date) -> None:
    """A column of the chart holds the minutes of its day and no more, those of a full cell cut."""
    made = plan_week(WeekRequest(profile=Profile(), on=first))
    filled = [box for box in coverage_chart(made).boxes if box.tone == FILLED_TONE]
    lefts = sorted({box.left for box in filled})
    drawn = [sum(box.right - box.left for box in filled if box.left == left) / CELL_WIDTH * FULL_CELL for left in lefts]

    assert all(minutes <= _total(day) + 0.01 for minutes, day in zip(drawn, made.days, strict=True))


def _total(day: Day) -> float:
    return day.seconds / 60
