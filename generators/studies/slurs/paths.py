"""The paths of the lip-slur study: closed loops over the rungs of the harmonic ladder, and what each is for."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SlurPath:
    """A path: loops over rungs (1 the lowest), one for each value of the ladder, the last for all further ones."""

    name: str
    loops: tuple[tuple[int, ...], ...]
    values: tuple[int, ...]
    narrower: str
    """The path to take where the range is too small for this one."""
    aim: str
    swell: bool = True
    """Whether the quick part grows."""

    @property
    def rungs(self) -> int:
        """How many neighbouring partials the path touches."""
        return max(max(loop) for loop in self.loops)


SLUR_PATHS = {
    path.name: path
    for path in (
        SlurPath(
            "neighbours",
            ((2, 1),),
            (2, 4, 8),
            "",
            "Listen for the click between notes to vanish: same air, the tongue moves as if you whistled.",
        ),
        SlurPath(
            "quicken-and-widen",
            ((2, 1), (2, 1), (2, 3, 2, 1)),
            (2, 4, 8),
            "neighbours",
            "Listen for the third note to arrive as easily as the second; quicken without pushing.",
        ),
        SlurPath(
            "rocking",
            ((1, 2, 3, 2),),
            (2, 4, 8),
            "neighbours",
            "Listen for the middle note to sound alike on the way up and on the way down.",
        ),
        SlurPath(
            "there-and-back",
            ((1, 2, 3, 4, 3, 2),),
            (4, 8),
            "rocking",
            "Listen for more speed towards the top, not more loudness, and for the same road home.",
            swell=False,
        ),
        SlurPath(
            "over-and-back",
            ((1, 3, 2, 4, 2, 3),),
            (4, 8),
            "rocking",
            "Listen for the note you skip to stay silent; leave it out with the air, not with the lips.",
        ),
        SlurPath(
            "anchor",
            ((1, 2, 1, 3, 1, 4, 1, 3),),
            (4, 8),
            "rocking",
            "Listen for the low note to keep its place while the leaps from it grow.",
        ),
        SlurPath(
            "falling",
            ((4, 3, 2, 1, 2, 3),),
            (4, 8),
            "rocking",
            "Listen for the sound to open as it falls; the lowest note is the widest of all.",
        ),
    )
}

# Widths of two-note slurs in half-steps.
SLUR_WIDTHS = {"third": (3, 4), "fourth": (5,), "fifth": (7,), "sixth": (8, 9), "octave": (12,)}
