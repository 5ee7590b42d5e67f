"""Ink upon ink: the outline of every mark on an engraved page, and the pairs of marks that should be apart but are not.

The engraver reports no collision; `outlines.ily` makes it tell the lower and upper edge of every mark, and this compares them.
"""

import re
import subprocess
import tempfile
from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from math import ceil, floor
from pathlib import Path
from typing import NamedTuple

from generators.press.lilypond import engraver

HOOK = Path(__file__).with_name("outlines.ily")
# In staff spaces: how finely an outline is looked at, and how much ink two marks may share before the eye sees them touch.
STEP, TOUCH = 0.1, 0.05
# Words, numbers and signs that must stand free of all other ink.
FREE = {
    *(
        "Words",
        "InstrumentName",
        "SectionLabel",
        "TextScript",
        "DynamicText",
        "LyricText",
        "BreathingSign",
        "Script",
        "Hairpin",
    ),
    *("Hairpin", "OttavaBracket", "BarNumber", "MultiMeasureRestNumber", "TupletNumber", "TupletBracket"),
}
# The ink of notes and staff, which touches itself rightly.
BODY = {
    *("NoteHead", "Accidental", "AccidentalCautionary", "Stem", "Flag", "Beam", "Slur", "Tie", "Dots"),
    *("Rest", "MultiMeasureRest", "Clef", "KeySignature", "TimeSignature"),
}
# Marks that belong to each other.
TOGETHER = {frozenset(("TupletNumber", "TupletBracket"))}
Edge = list[tuple[float, float]]


class Mark(NamedTuple):
    """One mark: its page, its name and its lower and upper edge, in staff spaces from the top left, y upwards."""

    page: int
    name: str
    low: Edge
    high: Edge


class Overlap(NamedTuple):
    """Two marks that lie on each other: page, names, staff spaces from the left and from the top."""

    page: int
    over: str
    under: str
    left: float
    down: float


def ink(source: str) -> list[Mark]:
    """Return every mark of a LilyPond source, engraved for its outlines alone."""
    head, _, rest = re.sub(r"^ *page-post-process = .*\n", "", source, flags=re.MULTILINE).partition("\n")
    with tempfile.TemporaryDirectory(prefix="ink-") as folder:
        Path(folder, "page.ly").write_text(f"{head}\n{HOOK.read_text(encoding='utf-8')}\n{rest}", encoding="utf-8")
        command = [engraver(), "-lWARNING", "-dno-point-and-click", "-dbackend=cairo", "page.ly"]
        subprocess.run(command, cwd=folder, env={"HOME": folder, "GC_DONT_GC": "1"}, capture_output=True, check=True)
        told = Path(folder, "ink.txt").read_text(encoding="utf-8").splitlines()
    return [_mark(*line.split(" ;")) for line in told]


def _mark(head: str, low: str, high: str) -> Mark:
    page, name = head.split()
    return Mark(int(page), name, _edge(low), _edge(high))


def _edge(text: str) -> Edge:
    numbers = list(map(float, text.split()))
    return sorted(zip(numbers[::2], numbers[1::2], strict=True), key=lambda point: point[0])


def overlaps(marks: Sequence[Mark]) -> list[Overlap]:
    """Return each pair of marks that should be apart and is not, once."""
    columns: dict[tuple[int, int], list[tuple[float, float, int]]] = defaultdict(list)
    for number, mark in enumerate(marks):
        if mark.name in FREE | BODY:
            high = dict(_heights(mark.high))
            for column, bottom in dict(_heights(mark.low)).items():
                if column in high:
                    columns[mark.page, column].append((bottom, high[column], number))
    found: dict[tuple[int, int], Overlap] = {}
    for (page, column), slices in columns.items():
        for (bottom, top, one), (under, over, other) in combinations(slices, 2):
            if min(top, over) - max(bottom, under) > TOUCH and _apart(marks[one].name, marks[other].name):
                place = round(column * STEP, 1), round(-min(top, over), 1)
                found.setdefault((one, other), Overlap(page, marks[one].name, marks[other].name, *place))
    return list(found.values())


def _heights(edge: Edge) -> Iterator[tuple[int, float]]:
    """Yield the height of an edge at every step from left to right."""
    for (x, y), (u, v) in pairwise(edge):
        for column in range(ceil(x / STEP), floor(u / STEP) + 1):
            if u > x:
                yield column, y + (v - y) * (column * STEP - x) / (u - x)


def _apart(name: str, other: str) -> bool:
    return bool({name, other} & FREE) and frozenset((name, other)) not in TOGETHER
