"""The paths of the lip-slur study: closed loops over the rungs of the harmonic ladder, and what each is for."""

from dataclasses import dataclass, replace

Loop = tuple[int, ...]
Stage = tuple[tuple[Loop, int], ...]
"""What one tube plays: loops with their note values from slow to quick; 12 is an eighth of a triplet."""


@dataclass(frozen=True, slots=True)
class SlurPath:
    """A path over rungs (1 the lowest): its stages from the first tubes to the last, each quicker or wider.

    Where values are asked for, the loops of the first stage take those.
    """

    name: str
    stages: tuple[Stage, ...]
    narrower: str
    """The path to take where the range is too small for this one."""
    aim: str
    level: bool = False
    """Whether it stays in one loudness: its aim asks for that."""
    small: Loop = ()
    """Its figure within three rungs or fewer, of as many notes as fill its bars, for a plain first line."""

    @property
    def plain(self) -> "SlurPath":
        """The path of its small figure alone; itself where it has none."""
        return replace(self, stages=(((self.small, _QUARTER), (self.small, _EIGHTH)),)) if self.small else self


_QUARTER, _EIGHTH = 4, 8
_PAIR, _FALL, _ROCK = (1, 2), (2, 1), (1, 2, 3, 2)
_WIDER, _WIDEST, _WHOLE = (2, 3, 2, 1), (2, 3, 4, 3, 2, 1), (2, 3, 4, 5, 4, 3, 2, 1)
_ROAD, _SKIP, _DOWN = (1, 2, 3, 4, 3, 2), (1, 3, 2, 4, 2, 3), (4, 3, 2, 1, 2, 3)
_OVER = (1, 3, 2, 1, 2, 3)
_ANCHOR, _TO_FOUR, _TO_FIVE = (1, 2, 1, 3, 1, 4, 1, 3), (1, 2, 1, 3, 1, 4), (1, 2, 1, 3, 1, 4, 1, 5)

# Every line of a path begins as slowly as the first, and no figure is cut short: six notes go in eighths and sixteenths of
# three quarters and in triplets of four, or over the bar lines of three; four and eight notes in whatever values of four.
SLUR_PATHS = {
    path.name: path
    for path in (
        SlurPath(
            "neighbours",
            (((_PAIR, 2), (_PAIR, 4), (_PAIR, 8)), ((_PAIR, 2), (_PAIR, 4), (_PAIR, 8), (_PAIR, 16))),
            "",
            "Listen for the click between notes to vanish: same air, the tongue moves as if you whistled.",
        ),
        SlurPath(
            "quicken-and-widen",
            (
                ((_FALL, 2), (_WIDER, 4), (_WIDER, 8)),
                ((_FALL, 2), (_WIDER, 4), (_WIDER, 8), (_WIDEST, 12)),
                ((_FALL, 2), (_WIDER, 8), (_WIDEST, 12), (_WHOLE, 16)),
            ),
            "neighbours",
            "Listen for every new note to arrive as easily as the two you began with; quicken without pushing.",
        ),
        SlurPath(
            "quicken-and-climb",
            (((_FALL, 2), (_WIDER, 4), (_WIDEST, 12)), ((_FALL, 2), (_WIDEST, 12), (_WHOLE, 16))),
            "quicken-and-widen",
            "Listen for every new note to arrive as easily as the two you began with; climb without pushing.",
        ),
        SlurPath(
            "rocking",
            (
                ((_ROCK, 4), (_ROCK, 8)),
                ((_ROCK, 4), (_ROCK, 8), (_ROCK, 12)),
                ((_ROCK, 4), (_ROAD, 12), (_ROCK, 16)),
            ),
            "neighbours",
            "Listen for the middle note to sound alike on the way up and on the way down.",
        ),
        SlurPath(
            "there-and-back",
            (((_ROAD, 4), (_ROAD, 8)), ((_ROAD, 4), (_ROAD, 12), (_ROAD, 16))),
            "rocking",
            "Listen for faster air towards the top, not for more loudness, and for the same road home.",
            level=True,
        ),
        SlurPath(
            "over-and-back",
            (((_SKIP, 4), (_SKIP, 8)), ((_SKIP, 4), (_SKIP, 12))),
            "rocking",
            "Listen for what you skip to stay silent: the air carries you over it, the lips stay quiet.",
            small=_OVER,
        ),
        SlurPath(
            "anchor",
            (((_ANCHOR, 4), (_ANCHOR, 8)), ((_ANCHOR, 4), (_TO_FOUR, 12)), ((_TO_FIVE, 4), (_TO_FIVE, 16))),
            "rocking",
            "Listen for the low note to keep its place while the leaps from it grow.",
            small=_PAIR,
        ),
        SlurPath(
            "falling",
            (((_DOWN, 4), (_DOWN, 8)), ((_DOWN, 4), (_DOWN, 12), (_DOWN, 16))),
            "rocking",
            "Listen for the sound to open as it falls; the lowest note is the widest of all.",
        ),
    )
}

# Widths of two-note slurs in half-steps.
SLUR_WIDTHS = {"third": (3, 4), "fourth": (5,), "fifth": (7,), "sixth": (8, 9), "octave": (12,)}
