"""Notes and rests: what they are, and the marks they carry. Lengths are exact fractions of a whole note."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Generic, TypeVar

P = TypeVar("P")


@dataclass(frozen=True, slots=True)
class Degree:
    """A scale degree before its key is known: 0 the tonic, 7 its octave, with a chromatic alteration."""

    index: int
    alter: int = 0


@dataclass(frozen=True, slots=True)
class Note(Generic[P]):
    """One note on a pitch of any kind (a `Degree` while a line is drawn, a `Pitch` once its key is known)."""

    pitch: P
    length: Fraction
    slur_open: bool = False
    slur_close: bool = False
    tie: bool = False
    """Tied to the next note."""
    articulations: tuple[str, ...] = ()
    """Any of staccato, tenuto, accent, marcato, fermata."""
    dynamic: str = ""
    hairpin: str = ""
    """"<", ">", or "o<" from silence, where one begins; "." where the last one ends."""
    breath: bool = False
    """A breath is taken after this note."""
    may_breathe: bool = False
    """A breath may be taken after this note if the air does not last."""
    syllable: str = ""
    """t or k, printed under the note."""
    valves: str = ""
    """The valve set to print and to use, such as 1-3; empty for the usual fingering, unprinted."""
    glide: bool = False
    """A glissando line leads to the next note."""
    role: str = ""
    """Nothing; landing, bent, sudden or slowing."""
    beats: int = 0
    """The beats of its hairpin, where they are printed."""


@dataclass(frozen=True, slots=True)
class Rest:
    """Silence of a given length."""

    length: Fraction


Event = Note[P] | Rest
Phrase = tuple[Note[P] | Rest, ...]
