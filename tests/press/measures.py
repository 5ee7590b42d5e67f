"""What can be measured of a page as a picture: its staves, how far apart they stand, how full it is, the white at its sides."""

import io
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby, pairwise
from statistics import median

import numpy as np
from PIL import Image

# A rule of a staff is dark over so much of the width, but for holes of so many pixels; those of a staff lie evenly, to a pixel.
RULE, HOLE, EVEN = 0.18, 2, 1.5
DARK = 150


@dataclass(frozen=True, slots=True)
class Measured:
    """A page in millimetres: the top of every staff, the bottom of the last, its height, and the white at its two sides."""

    tops: tuple[float, ...]
    bottom: float
    height: float
    left: float
    right: float

    @property
    def pitches(self) -> tuple[float, ...]:
        """From the top of each staff to that of the next."""
        return tuple(below - above for above, below in pairwise(self.tops))

    @property
    def pitch(self) -> float:
        """The middle one of these; 0 with a staff or none."""
        return median(self.pitches) if self.pitches else 0.0

    @property
    def filled(self) -> float:
        """How much of the page lies above the bottom of its last staff."""
        return self.bottom / self.height


def measured(png: bytes, resolution: float) -> Measured:
    """Return the measures of a page as a picture of so many dots an inch."""
    dark = np.asarray(Image.open(io.BytesIO(png)).convert("L")) < DARK
    scale = 25.4 / resolution
    staves = list(_staves(dark))
    columns = np.flatnonzero(dark.any(axis=0))
    return Measured(
        tops=tuple(top * scale for top, _ in staves),
        bottom=staves[-1][1] * scale if staves else 0.0,
        height=dark.shape[0] * scale,
        left=float(columns[0]) * scale,
        right=float(dark.shape[1] - 1 - columns[-1]) * scale,
    )


def _staves(dark: np.ndarray) -> Iterator[tuple[float, float]]:
    """Yield the first and the last rule of every staff, in pixels from the top."""
    rules = list(_rules(dark))
    place = 0
    while place + 4 < len(rules):
        gaps = np.diff(rules[place : place + 5])
        if gaps.max() - gaps.min() <= EVEN and gaps.mean() < dark.shape[0] / 80:
            yield rules[place], rules[place + 4]
            place += 5
        else:
            place += 1


def _rules(dark: np.ndarray) -> Iterator[float]:
    """Yield the middle of every long rule."""
    rows = [y for y in range(dark.shape[0]) if _longest(dark[y]) > RULE * dark.shape[1]]
    for _, run in groupby(enumerate(rows), key=lambda pair: pair[1] - pair[0]):
        yield float(np.mean([y for _, y in run]))


def _longest(row: np.ndarray) -> int:
    """Return the longest dark run of a row, small holes forgiven."""
    at = np.flatnonzero(row)
    if not len(at):
        return 0
    ends = [0, *(np.flatnonzero(np.diff(at) > HOLE + 1) + 1), len(at)]
    return max(int(at[last - 1] - at[first]) for first, last in pairwise(ends))
