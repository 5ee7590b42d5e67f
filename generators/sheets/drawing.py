"""A drawing as plain values in millimetres: bars, lines, dots and words; the template turns each into one LilyPond markup."""

from dataclasses import dataclass

# Black, the tones of ink, and the rules behind them; 0 is black, 1 is paper.
BLACK, DARK, MIDDLE, RULE = 0.0, 0.25, 0.62, 0.85
FROM_LEFT, CENTERED, FROM_RIGHT = -1, 0, 1


@dataclass(frozen=True, slots=True)
class FilledBox:
    """A filled box."""

    left: float
    right: float
    bottom: float
    top: float
    tone: float


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through some points."""

    points: tuple[tuple[float, float], ...]
    width: float
    tone: float


@dataclass(frozen=True, slots=True)
class Dot:
    """A filled circle."""

    x: float
    y: float
    radius: float
    tone: float = BLACK


@dataclass(frozen=True, slots=True)
class Words:
    """A text at a point, set to its right (FROM_LEFT), around it (CENTERED) or to its left (FROM_RIGHT)."""

    x: float
    y: float
    text: str
    side: int = FROM_LEFT
    size: float = -2
    bold: bool = False
    italic: bool = False


@dataclass(frozen=True, slots=True)
class Drawing:
    """Everything on it, back to front."""

    boxes: tuple[FilledBox, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    dots: tuple[Dot, ...] = ()
    words: tuple[Words, ...] = ()

    def __add__(self, other: "Drawing") -> "Drawing":
        return Drawing(self.boxes + other.boxes, self.strokes + other.strokes, self.dots + other.dots, self.words + other.words)
