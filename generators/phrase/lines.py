"""Printed lines: how many bars stand on each, so that none is cramped and none is alone."""

from collections.abc import Sequence

from generators.phrase.bars import Bar
from generators.phrase.note import P

BARS_A_LINE = 4
NOTES_A_LINE = 32


def line_up(bars: Sequence[Bar[P]], notes_a_line: int = NOTES_A_LINE) -> tuple[int, ...]:
    """Return bars on each line: four or three where they fit, as even as can be, never one left over if two share a line."""
    count = len(bars)
    for lines in range(-(-count // BARS_A_LINE) or 1, count + 1):
        layout = _even(count, lines)
        if _fits(bars, layout, notes_a_line):
            return layout
    return (1,) * count


def _even(count: int, lines: int) -> tuple[int, ...]:
    base, more = divmod(count, lines)
    return tuple(base + (i < more) for i in range(lines))


def _fits(bars: Sequence[Bar[P]], layout: Sequence[int], most: int) -> bool:
    start = 0
    for width in layout:
        if sum(max(2, len(bar)) for bar in bars[start : start + width]) > most:
            return False
        start += width
    return True
