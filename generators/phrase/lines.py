"""Printed lines: how many bars stand on each, so that none is cramped or alone and breaks fall where the player breathes."""

from collections.abc import Iterator, Sequence

from generators.phrase.bars import Bar
from generators.phrase.note import Note, P, Rest

BARS_A_LINE = 4
NOTES_A_LINE = 32
# What a line costs: every bar less than four, a break where nobody breathes, a bar alone.
_SHORT, _BREATHLESS, _ALONE = 1.0, 2.5, 20.0


def line_up(bars: Sequence[Bar[P]], notes_a_line: int = NOTES_A_LINE, bars_a_line: int = BARS_A_LINE) -> tuple[int, ...]:
    """Return bars on each line: about four, broken after breaths; rests that fill the last bars share the line before them."""
    sounding = len(bars)
    while sounding > 1 and _silent(bars[sounding - 1]):
        sounding -= 1
    best: dict[int, tuple[float, tuple[int, ...]]] = {0: (0.0, ())}
    for end in range(1, sounding + 1):
        ways = _ways(end, sounding, bars, (notes_a_line, bars_a_line), best)
        best[end] = min(ways, key=lambda way: (way[0], [-width for width in way[1]]))
    layout = best[sounding][1] if bars else ()
    return (*layout[:-1], layout[-1] + len(bars) - sounding) if layout else ()


def _ways(
    end: int, last: int, bars: Sequence[Bar[P]], most: tuple[int, int], best: dict[int, tuple[float, tuple[int, ...]]]
) -> Iterator[tuple[float, tuple[int, ...]]]:
    """Yield what it costs to end a line after so many bars, with the bars on each line so far."""
    for start in range(max(0, end - most[1]), end):
        cost, layout = best[start]
        width = end - start
        if width > 1 and sum(max(2, len(bar)) for bar in bars[start:end]) > most[0]:
            continue
        alone = _ALONE if width == 1 and last > 1 else 0.0
        breathless = 0.0 if end == last or _breathes(bars[end - 1]) else _BREATHLESS
        yield cost + 1.5 + _SHORT * (most[1] - width) ** 2 / 2 + alone + breathless, (*layout, width)


def _silent(bar: Bar[P]) -> bool:
    return all(isinstance(event, Rest) for event in bar)


def _breathes(bar: Bar[P]) -> bool:
    end = bar[-1]
    return isinstance(end, Rest) or (isinstance(end, Note) and end.breath)
