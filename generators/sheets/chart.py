"""The panels of the progress chart: top note, minutes and load by week over one axis of weeks."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from generators.routine.calendar import MONTHS
from generators.routine.logbook import Practice
from generators.sheets.drawing import (
    CENTERED,
    DARK,
    FROM_LEFT,
    FROM_RIGHT,
    MIDDLE,
    RULE,
    Dot,
    Drawing,
    FilledBox,
    Stroke,
    Words,
)
from generators.theory.pitch import Pitch, simple

# Millimetres: what the labels of an axis take at the left, and how far above its panel a heading stands.
GUTTER, OVER = 15.0, 5.0
FEWEST_SLOTS, FEWEST_STEPS = 8, 8
# So many rules at the most stand over the ground of a panel of bars.
MOST_RULES = 5
# The end of an axis with nothing on it.
USUAL = 100
WIDEST_BAR = 9.0
# Room that the name of a month or a date takes on the axis, so few weeks that each has its date, and how
# far below the axis they stand.
MONTH_ROOM, DATED, DROP = 9.0, 10, 4.0
HAIR, THIN, THICK = 0.15, 0.25, 0.6
_STEPS = (1, 2, 5, 10, 20, 25, 50, 100, 200, 250, 500, 1000, 2000, 5000)


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a panel lies, in millimetres from the lower left corner, and how many weeks stand side by side."""

    width: float
    bottom: float
    height: float
    slots: int

    @property
    def slot(self) -> float:
        """The width of a week."""
        return (self.width - GUTTER) / self.slots

    def x(self, week: float) -> float:
        """Return the place of a week, 0.5 the middle of the first."""
        return GUTTER + week * self.slot

    def y(self, share: float) -> float:
        """Return the height of a share of the axis."""
        return self.bottom + share * self.height


def axis_slots(weeks: Sequence[Practice]) -> int:
    """Return how many weeks the axis has: a few more than were practised at first, room to fill."""
    return max(FEWEST_SLOTS, len(weeks))


def panel_heading(frame: Frame, title: str, text: str) -> Drawing:
    """Return the heading of a panel and what it shows, left and right above it."""
    y = frame.y(1) + OVER
    return Drawing(
        words=(Words(0, y, title, FROM_LEFT, 0, bold=True), Words(frame.width, y, text, FROM_RIGHT, -3, italic=True))
    )


def _axis(frame: Frame, rules: Sequence[tuple[float, str]]) -> Drawing:
    """Return a rule and its label for every share of the height."""
    lines = tuple(Stroke(((GUTTER, frame.y(share)), (frame.width, frame.y(share))), HAIR, RULE) for share, _ in rules)
    return Drawing(
        strokes=lines, words=tuple(Words(GUTTER - 2, frame.y(share) - 0.9, text, FROM_RIGHT) for share, text in rules)
    )


def _ground(frame: Frame) -> Drawing:
    return Drawing(strokes=(Stroke(((GUTTER, frame.bottom), (frame.width, frame.bottom)), THIN, DARK),))


def bar_panel(
    frame: Frame, weeks: Sequence[Practice], value: Callable[[Practice], float], dark: Callable[[Practice], float]
) -> Drawing:
    """Return a panel of bars, a week each, the lower part of each dark."""
    step, end = _scale(max((max(value(week), dark(week)) for week in weeks), default=USUAL))
    ruled = _axis(frame, [(i * step / end, str(i * step)) for i in range(end // step + 1)])
    return (
        Drawing(boxes=tuple(_bars(frame, weeks, lambda week: value(week) / end, lambda week: dark(week) / end)))
        + ruled
        + _ground(frame)
    )


def _bars(
    frame: Frame, weeks: Sequence[Practice], value: Callable[[Practice], float], dark: Callable[[Practice], float]
) -> Iterator[FilledBox]:
    half = min(WIDEST_BAR, 0.72 * frame.slot) / 2
    for i, week in enumerate(weeks):
        middle = frame.x(i + 0.5)
        if value(week):
            yield FilledBox(middle - half, middle + half, frame.bottom, frame.y(value(week)), MIDDLE)
        if dark(week):
            yield FilledBox(middle - half, middle + half, frame.bottom, frame.y(dark(week)), DARK)


def _scale(most: float) -> tuple[int, int]:
    """Return the step and the end of an axis from 0 that holds a value in at most five steps."""
    step = next((step for step in _STEPS if step * MOST_RULES >= most), math.ceil(most / MOST_RULES))
    return max(step, 10), max(step, 10) * max(1, math.ceil(most / max(step, 10)))


def top_panel(frame: Frame, weeks: Sequence[Practice], planned: Sequence[Pitch]) -> Drawing:
    """Return the panel of top notes: a dot for the note reached in a week, a step line for the top of its ordinary days."""
    reached = [(i, week.top) for i, week in enumerate(weeks) if week.top]
    notes = [*(top for _, top in reached), *planned]
    low, high = _span([note.midi for note in notes])
    spelled = {note.midi: note for note in notes}

    def y(midi: int) -> float:
        return frame.y((midi - low) / (high - low))

    rules = [((midi - low) / (high - low), _label(midi, spelled)) for midi in range(low, high + 1) if _shown(midi, high - low)]
    steps = tuple((frame.x(i + side), y(note.midi)) for i, note in enumerate(planned) for side in (0, 1))
    dots = tuple(Dot(frame.x(i + 0.5), y(top.midi), min(1.3, 0.36 * frame.slot)) for i, top in reached)
    return _axis(frame, rules) + Drawing(strokes=(Stroke(steps, THICK, MIDDLE),), dots=dots)


def _span(heights: Sequence[int]) -> tuple[int, int]:
    """Return the ends of an axis that holds all heights with a half-step to spare, and so many half-steps at the least."""
    low, high = min(heights) - 1, max(heights) + 1
    lacking = max(0, FEWEST_STEPS - (high - low))
    return low - lacking // 2, high + lacking - lacking // 2


def _shown(midi: int, span: int) -> bool:
    """Every half-step has its rule where they are few, else the naturals, else C and G alone."""
    return span <= 14 or midi % 12 in ((0, 2, 4, 5, 7, 9, 11) if span <= 26 else (0, 7))


def _label(midi: int, spelled: dict[int, Pitch]) -> str:
    return spelled.get(midi, simple(midi, sharp=midi % 12 in (1, 6))).pretty


def week_dates(frame: Frame, weeks: Sequence[Practice]) -> Drawing:
    """Return what stands under the axis of weeks: each Monday where they are few, else the months."""
    return _mondays(frame, weeks) if len(weeks) <= DATED else _months(frame, weeks)


def _mondays(frame: Frame, weeks: Sequence[Practice]) -> Drawing:
    y = frame.bottom - DROP
    return Drawing(
        words=tuple(Words(frame.x(i + 0.5), y, _short(week, day=True), CENTERED, -3) for i, week in enumerate(weeks))
    )


def _months(frame: Frame, weeks: Sequence[Practice]) -> Drawing:
    """Return a tick and a name at the first week of each month, fewer where they are narrow, and the year at January."""
    every = max(1, math.ceil(MONTH_ROOM / (frame.slot * 52 / 12)))
    changes = [i for i in range(1, len(weeks)) if weeks[i].start.month != weeks[i - 1].start.month]
    named = [i for i in changes if (weeks[i].start.month - 1) % every == 0]
    y = frame.bottom - DROP
    ticks = tuple(Stroke(((frame.x(i), frame.bottom), (frame.x(i), y)), THIN, DARK) for i in named)
    names = tuple(Words(frame.x(i) + 1, y, _short(weeks[i]), FROM_LEFT, -3) for i in named)
    years = tuple(
        Words(frame.x(i) + 1, y - DROP, str(weeks[i].start.year), FROM_LEFT, -3) for i in named if weeks[i].start.month == 1
    )
    return Drawing(strokes=ticks, words=names + years)


def _short(week: Practice, *, day: bool = False) -> str:
    month = MONTHS[week.start.month - 1][:3]
    return f"{week.start.day} {month}" if day else month


def legend(frame: Frame) -> Drawing:
    """Return what light and dark bars mean, above a panel of bars."""
    y = frame.y(1) + OVER
    pairs = ((frame.width - 54, MIDDLE, "easy or good"), (frame.width - 23.5, DARK, "hard or sore"))
    squares = tuple(FilledBox(x, x + 2.6, y, y + 2.2, tone) for x, tone, _ in pairs)
    return Drawing(boxes=squares, words=tuple(Words(x + 4, y, text, FROM_LEFT, -3) for x, _, text in pairs))
