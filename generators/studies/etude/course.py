"""The course of a phrase: how each of its bars comes of one before it, said again, moved up or down, or made anew."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

from generators.chance import Dice
from generators.studies.etude.rhythm import BarRhythm

# Three bars before the close, and how often. A letter is a rhythm of the theme: `x` and `y` its idea, `b` one that leads to a
# close, `w` one that broadens to it. A figure is a bar of the phrase that is meant. With a sign a bar is the one of that name,
# moved up or down; middles only rise. All our choice, from what is commonly done.
COURSES: dict[str, dict[str, float]] = {
    "asks": {"x y x+": 3, "x y x-": 3, "x x+ y": 2, "x x- y": 2, "x y y+": 1, "x y y-": 1, "x y b": 5},
    "again": {"1 2 b": 4, "1 1+ b": 3, "1 2 1+": 1, "1 2 2+": 1, "1 2 2-": 1, "1 y b": 1},
    "told": {"1 2 b": 1},
    "answers": {"1+ 2+ b": 3, "1- 2- b": 2, "1 2 b": 2, "1 2- b": 2, "1 1+ b": 2, "1+ 1+ b": 1},
    "away": {"x y x+": 3, "x x+ y": 3, "x x+ x+": 2},
    "back": {"1+ 2+ b": 4, "1+ 1+ b": 2, "1+ 1+ y": 1},
    "closes": {"1+ y b": 2, "x 1+ b": 2, "1 y b": 2, "1 2- b": 2, "1+ 1- b": 1, "1+ 2- b": 1},
    "coda": {"1+ 1+ w": 3, "1+ 2+ w": 2, "1- 1- w": 2, "1- 2- w": 1},
    "crowns": {"1+ 2+ w": 2, "1+ 1+ w": 2, "1- 1+ w": 1},
    "returns": {"1 1+ w": 2, "1 2+ w": 3, "1 2 w": 1},
    "contrasts": {"x y b": 2, "x x+ b": 2, "x x- b": 2},
}
# The courses of a middle, and how much it moves at the least, whatever the manner of the tune.
_WANDERS, _WANDERING = 0.6, ("away", "back")


class Link(NamedTuple):
    """How a bar is made: the name of its model or rhythm, and whether it is moved up, 1, or down, -1."""

    name: str
    way: int

    @property
    def figured(self) -> bool:
        """Whether it means a bar of another phrase."""
        return self.name.isdigit()


@cache
def links(course: str) -> tuple[Link, ...]:
    """Read a course."""
    return tuple(Link(text[0], {"+": 1, "-": -1, "": 0}[text[1:]]) for text in course.split())


@dataclass(frozen=True, slots=True)
class PhraseBar:
    """A bar of a phrase before it has a line."""

    strokes: BarRhythm
    fixed: tuple[int, ...] = ()
    """The staff places that its notes have, for they are said again; 0 for one that may have any."""
    model: tuple[int, ...] = ()
    """The staff places of the notes, in another phrase, whose line it moves; 0 for a rest."""
    of: int = -1
    """The bar of its own phrase that it moves or answers."""
    way: int = 0
    """Whether it is moved up or down."""
    sources: tuple[int, ...] = ()
    """The strokes of that bar that its own come of, -1 for none; empty where each has its own place."""


def drawn_course(name: str, moving: float, dice: Dice, *, literal: bool, rising: bool = False) -> tuple[Link, ...]:
    """Return one of the courses of a name, of those that say two bars again, or that fall nowhere, where that is wished for."""
    return links(dice.weighted(_shares(name, moving, literal, rising)))


@cache
def _shares(name: str, moving: float, literal: bool, rising: bool) -> Mapping[str, float]:
    """Return how often each course of a name is drawn."""
    known: Mapping[str, float] = COURSES[name]
    moving = max(moving, _WANDERS) if name in _WANDERING else moving
    if rising:
        known = {text: share for text, share in known.items() if "-" not in text} or known
    if literal:
        known = {text: share for text, share in known.items() if text.startswith("1 2")} or known
    return {text: share * moving ** sum(map(text.count, "+-")) for text, share in known.items()}


def linked(course: Sequence[Link], number: int) -> int:
    """Return the bar of its own phrase that a bar moves or answers, -1 for none: the last one of its name."""
    same = [other for other in range(number) if course[other].name == course[number].name]
    return same[-1] if same and (course[number].way or not course[number].figured) else -1
