"""What a page says of how its study was fitted to the player, as values; `wording` turns them into sentences."""

from dataclasses import dataclass

from generators.phrase.label import Label
from generators.theory.key import Key
from generators.theory.pitch import Pitch

Range = tuple[Pitch, Pitch]


@dataclass(frozen=True, slots=True)
class Narrowed:
    """A smaller compass, width or path than was asked for."""

    was: str
    now: str
    within: Range
    leap: int = 0
    """The widest leap in half-steps, where that was in the way too."""
    every: bool = False
    """Whether several keys had to fit, and what one of them lacks was narrowed for all."""


@dataclass(frozen=True, slots=True)
class Fewer:
    """Less of something than was asked for: notes, cells, strains, lines, beats."""

    what: str
    count: int
    wanted: int
    within: Range | None = None
    breath: float = 0
    """Seconds of one breath, where that was in the way."""
    of: Label | None = None
    """The strain that has less; nothing for the whole study."""
    shared: bool = False
    """Whether registers share what is left."""


@dataclass(frozen=True, slots=True)
class Shortened:
    """A climb that stops below what was asked for, in one key."""

    of: Label
    top: Pitch
    why: tuple[str, ...] = ()
    """What was in the way: range, breath, leaps or pattern."""


@dataclass(frozen=True, slots=True)
class Fitting:
    """Keys or tubes that were chosen because they fit the range."""

    what: str
    within: Range
    names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LeftOut:
    """Keys that were given and are not played."""

    keys: tuple[Key, ...]


@dataclass(frozen=True, slots=True)
class Advice:
    """A sentence for the player that needs no figure."""

    text: str


Remark = Narrowed | Fewer | Shortened | Fitting | LeftOut | Advice
