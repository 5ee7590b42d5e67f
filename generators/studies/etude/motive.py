"""The motive of an etude, its rhythm and shape, and what becomes of it: moved, inverted, augmented, broken to a fragment."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from generators.chance import pick, shuffled
from generators.phrase.bars import Meter
from generators.phrase.notation import value

# Where eighths are the quickest that the tongue goes, nothing is syncopated either: our choice.
EASY = Fraction(1, 8)
Contour = tuple[int, ...]
Values = tuple[Fraction, ...]

# One-bar rhythms of three to five notes, a stroke where the bar may be cut; by meter and manner.
MOTIVES: dict[int, dict[str, tuple[str, ...]]] = {
    4: {
        "calm": ("4. 8 / 4 4", "2 / 4 4", "4. 8 / 2", "4 8 8 / 2", "2 / 4. 8", "4 4 / 4. 8", "4 8 8 / 4 4"),
        "light": ("8 8 4 / 4 4", "4 8 8 / 4 4", "8 8 4 / 2", "4 4 / 8 8 4", "8 4 8 / 2", "8 4 8 / 4 4", "4. 8 / 8 8 4"),
        "dotted": ("8. 16 4 / 4 4", "4 8. 16 / 2", "8. 16 4 / 2", "4 4 / 8. 16 4", "4. 8 / 4 4", "8. 16 8 8 / 2"),
        "leaning": ("8 4 8 / 2", "4. 8 / 2", "2 / 8 4 8", "8 4. / 4 4", "4. 8 / 4. 8", "8 4 8 / 4 4"),
    },
    3: {
        "calm": ("4. 8 / 4", "2 / 8 8", "4 8 8 / 4", "4 4 / 8 8", "4 4 / 4"),
        "light": ("8 8 4 / 4", "4 8 8 / 4", "8 8 4 / 8 8", "4 4 / 8 8", "4. 8 / 8 8"),
        "dotted": ("8. 16 4 / 4", "4 8. 16 / 4", "4. 8 / 4", "8. 16 8 8 / 4"),
        "leaning": ("4. 8 / 4", "8 4. / 4", "8 4 8 / 4", "4. 8 / 8 8"),
    },
}
TAILS = {
    4: ("2 / 2", "4 4 / 2", "4. 8 / 2", "4 8 8 / 2", "8 8 8 8 / 2", "8 8 4 / 2"),
    3: ("4 4 / 4", "2 / 4", "4. 8 / 4", "8 8 8 8 / 4", "4 8 8 / 4"),
}
RUNS: dict[int, dict[str, tuple[str, ...]]] = {
    4: {
        "calm": ("4 4 / 4 4", "4. 8 / 4 4", "4 8 8 / 4 4", "4 4 / 4 8 8", "8 8 8 8 / 4 4"),
        "light": ("8 8 8 8 / 4 4", "8 8 8 8 / 8 8 4", "8 8 8 8 / 8 8 8 8", "4 8 8 / 8 8 8 8", "4 8 8 / 4 8 8"),
        "flowing": ("16 16 16 16 / 4 / 4 4", "8 8 8 8 / 16 16 16 16 / 4", "8 16 16 / 8 16 16 / 4 4", "4 / 16 16 16 16 / 8 8 4"),
        "dotted": ("8. 16 / 8 8 / 8 16 16 / 4", "8 16 16 / 4 / 8. 16 / 4", "8. 16 / 8. 16 / 8 8 4", "8 16 16 / 8 8 / 4 4"),
    },
    3: {
        "calm": ("4 4 / 4", "4. 8 / 4", "4 8 8 / 4", "4 4 / 8 8"),
        "light": ("8 8 8 8 / 8 8", "8 8 8 8 / 4", "4 8 8 / 8 8", "4 8 8 / 4"),
        "flowing": ("16 16 16 16 / 4 / 4", "8 8 / 16 16 16 16 / 4", "8 16 16 / 8 16 16 / 4", "4 / 16 16 16 16 / 8 8"),
        "dotted": ("8. 16 / 8 8 / 4", "8 16 16 / 4 / 4", "8. 16 / 8. 16 / 4", "8 16 16 / 8 8 / 8 8"),
    },
}
ENDINGS = {4: ("2", "4 4"), 3: ("4",)}
HALF_CLOSES = {4: ("2.", "2.", "4 4 / 2"), 3: ("2", "2")}
CLOSES = {4: ("2.",), 3: ("2",)}

# Shapes in scale steps from the first note. The opening ones are worth a tune of their own.
OPENERS: dict[int, tuple[Contour, ...]] = {
    3: (
        *((0, 1, 2), (0, 2, 1), (0, -1, 0), (0, 2, 4), (0, 4, 3), (0, 3, 2), (0, -1, 1), (0, -2, -1)),
        *((0, -3, -2), (0, 5, 4), (0, 7, 6), (0, 1, -1), (0, -1, -2), (0, 3, 4)),
    ),
    4: (
        *((0, 2, 1, 0), (0, 2, 4, 3), (0, -1, 0, 2), (0, 1, 2, 1), (0, 0, 1, 2), (0, 0, 2, 1), (0, 4, 3, 2), (0, 3, 2, 1)),
        *((0, -1, -2, 0), (0, 2, 3, 4), (0, -2, -1, 0), (0, 1, -1, 0), (0, -3, -2, -1), (0, 5, 4, 3), (0, 7, 6, 5)),
        *((0, -1, 0, 3), (0, 1, 0, -1), (0, -1, 1, 0), (0, 1, 2, 4), (0, -1, 0, 1), (0, -1, -2, -1), (0, 3, 2, 4)),
    ),
    5: (
        *((0, -1, 0, 1, 2), (0, 2, 4, 3, 2), (0, 1, 2, 1, 0), (0, 0, 2, 1, 0), (0, 3, 2, 1, 0), (0, -1, 0, 2, 1)),
        *((0, 2, 1, 0, -1), (0, 4, 3, 2, 1), (0, 1, 0, 2, 1), (0, 2, 1, 3, 2), (0, -1, -2, 0, -1), (0, 5, 4, 3, 2)),
        *((0, 1, 2, 4, 3), (0, -2, -1, 0, 1), (0, 0, 1, 2, 1), (0, 2, 3, 2, 1), (0, 7, 6, 5, 4), (0, 1, 2, 0, -1)),
    ),
}
# Figures that fill part of a bar between one strong beat and the next.
FILLERS: dict[int, tuple[Contour, ...]] = {
    1: ((0,),),
    2: ((0, 1), (0, -1), (0, 2), (0, -2), (0, 3), (0, -3)),
    3: ((0, 1, 2), (0, -1, -2), (0, 1, 0), (0, -1, 0), (0, 2, 1), (0, -2, -1), (0, 2, 4), (0, -2, -4), (0, 3, 2), (0, -1, 1)),
    4: (
        *((0, 1, 2, 3), (0, -1, -2, -3), (0, 1, 0, -1), (0, -1, 0, 1), (0, 1, 2, 1), (0, -1, -2, -1), (0, 2, 1, 0)),
        *(
            (0, -2, -1, 0),
            (0, 2, 4, 3),
            (0, 1, -1, 0),
            (0, -1, 1, 0),
            (0, 2, 1, -1),
            (0, 2, 0, 1),
            (0, 1, 2, 0),
            (0, -2, 0, -1),
        ),
    ),
}


@dataclass(frozen=True, slots=True)
class Motive:
    """A one-bar idea: values and shape, and how many of its notes stand before the cut."""

    values: Values
    shape: Contour
    head: int

    @property
    def widest(self) -> int:
        """The widest leap in scale steps."""
        return max(abs(b - a) for a, b in pairwise(self.shape))


@dataclass(frozen=True, slots=True)
class BarCell:
    """Part of a line before it is placed: its values and the shapes it may take."""

    values: Values
    shapes: tuple[Contour, ...]

    @property
    def length(self) -> Fraction:
        """The length in whole notes."""
        return sum(self.values, Fraction(0))


def read_rhythm(text: str) -> tuple[Values, ...]:
    """Read a rhythm such as "4. 8 / 4 4", one tuple a part."""
    return tuple(tuple(value(token) for token in part.split()) for part in text.split("/"))


def too_quick(text: str, shortest: Fraction) -> bool:
    """Tell whether a rhythm holds a note shorter than allowed."""
    return any(v < shortest for part in read_rhythm(text) for v in part)


def off_beat(text: str) -> bool:
    """Tell whether a rhythm ties a note over a beat, which a beginner does not read yet."""
    return any(part.split()[:2] in (["8", "4"], ["8", "4."]) for part in text.split("/"))


def motives(meter: Meter, manner: str, shortest: Fraction, syncopes: bool, wide: bool, reach: int, seed: int) -> list[Motive]:
    """Return every motive of a manner in a drawn order; the ones that leap most first where leaps were asked for."""
    easy = not syncopes or shortest >= EASY
    rhythms = [text for text in MOTIVES[meter.beats][manner] if not too_quick(text, shortest) and not (easy and off_beat(text))]
    drawn = [_motive(text, shape) for text in rhythms for shape in OPENERS[len(sum(read_rhythm(text), ()))]]
    fit = [motive for motive in drawn if motive.widest <= reach and _speaks(motive)]
    order: list[Motive] = shuffled(fit, seed, "motive")
    return sorted(order, key=lambda motive: motive.widest < min(reach, 3)) if wide else order


def _motive(text: str, shape: Contour) -> Motive:
    parts = read_rhythm(text)
    return Motive(sum(parts, ()), shape, len(parts[0]))


def _speaks(motive: Motive) -> bool:
    """Tell whether a motive sings: no sixteenth is left by a leap, and only a quarter or longer by more than a fifth."""
    steps = [abs(b - a) for a, b in pairwise(motive.shape)]
    leapt = all(step <= 1 or length > Fraction(1, 16) for step, length in zip(steps, motive.values, strict=False))
    return leapt and all(step <= 4 or length >= Fraction(1, 4) for step, length in zip(steps, motive.values, strict=False))


def stated(motive: Motive) -> list[BarCell]:
    """Return the motive as it is."""
    return [BarCell(motive.values, (motive.shape,))]


def in_inversion(motive: Motive) -> list[BarCell]:
    """Return the motive mirrored."""
    return [BarCell(motive.values, (_mirror(motive.shape),))]


def in_augmentation(motive: Motive) -> list[BarCell]:
    """Return the motive in double values, over two bars."""
    return [BarCell(tuple(2 * v for v in motive.values), (motive.shape, _mirror(motive.shape)))]


def heightened(motive: Motive) -> list[BarCell]:
    """Return the motive, or its rhythm on another shape without a wide leap, for the highest note to find its place in."""
    others = tuple(shape for shape in OPENERS[len(motive.shape)] if max(map(abs, shape)) <= 4)
    return [BarCell(motive.values, (motive.shape, *others))]


def fragment(motive: Motive) -> list[BarCell]:
    """Return the head of the motive twice, the second time moved; a short end of the bar keeps its own rhythm."""
    head, rest = motive.values[: motive.head], motive.values[motive.head :]
    if sum(head) == sum(rest) and len(head) > 1:
        return [BarCell(head + head, tuple(_twice(motive)))]
    return [BarCell(motive.values, tuple(_bent(motive)))]


def _twice(motive: Motive) -> Iterator[Contour]:
    head = motive.shape[: motive.head]
    yield from (head + tuple(step + by for step in head) for by in (-3, -2, -1, 1, 2, 3))


def _bent(motive: Motive) -> Iterator[Contour]:
    """Yield the head with another end."""
    head, count = motive.shape[: motive.head], len(motive.shape) - motive.head
    yield from (head + tuple(head[-1] + by * (i + 1) for i in range(count)) for by in (-1, 1, -2, 2))


def with_ending(motive: Motive, ending: str) -> list[BarCell]:
    """Return the head of the motive and a calm end of the bar, where a breath may follow."""
    head = motive.shape[: motive.head]
    if len(head) == 1:
        return [BarCell(motive.values, tuple(_bent(motive)))]
    return [BarCell(motive.values[: motive.head], (head, _mirror(head))), *free(ending)]


def free(text: str) -> list[BarCell]:
    """Return the parts of a rhythm, each to be filled with figures."""
    return [BarCell(values, FILLERS[len(values)]) for values in read_rhythm(text)]


def drawn(rhythms: Sequence[str], shortest: Fraction, seed: int, *place: object) -> str:
    """Return one rhythm of those that are slow enough."""
    return pick([text for text in rhythms if not too_quick(text, shortest)], seed, *place)


def runs(beats: int, manner: str, shortest: Fraction) -> tuple[str, ...]:
    """Return the rhythms of a run in a manner; in eighths where the manner is too quick."""
    own = tuple(text for text in RUNS[beats][manner] if not too_quick(text, shortest))
    return own or RUNS[beats]["light"]


def _mirror(shape: Contour) -> Contour:
    return tuple(-step for step in shape)
