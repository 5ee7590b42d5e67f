"""A written pitch: step, alteration and octave, in scientific pitch notation (C4 is middle C)."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import total_ordering

from generators.errors import BadRequest, Refusal

STEPS = "CDEFGAB"
HALF_STEPS = (0, 2, 4, 5, 7, 9, 11)
_ABOVE_C = dict(zip(STEPS, HALF_STEPS, strict=True))
ACCIDENTALS = {-2: "bb", -1: "b", 0: "", 1: "#", 2: "##"}
_PITCH = re.compile(r"([A-Ga-g])(##|bb|#|b|x|♯♯|♭♭|♯|♭|♮)?(-?\d{1,2})")
_ALTER = {"": 0, "♮": 0, "#": 1, "♯": 1, "##": 2, "♯♯": 2, "x": 2, "b": -1, "♭": -1, "bb": -2, "♭♭": -2}


@dataclass(frozen=True, slots=True)
@total_ordering
class Pitch:
    """One spelled pitch, `Pitch("F", 1, 3)` for F#3; ordered by sound, then by staff position."""

    step: str
    alter: int
    octave: int

    @property
    def midi(self) -> int:
        """The MIDI number; C4 is 60."""
        return 12 * (self.octave + 1) + _ABOVE_C[self.step] + self.alter

    @property
    def place(self) -> int:
        """The staff position: diatonic steps above C0, whatever the accidental."""
        return 7 * self.octave + STEPS.index(self.step)

    @property
    def name(self) -> str:
        """The name as players write it, such as F#3."""
        return f"{self.step}{ACCIDENTALS[self.alter]}{self.octave}"

    @property
    def pretty(self) -> str:
        """The name with a real sharp or flat sign, for the page."""
        return self.name.replace("#", "♯").replace("b", "♭")

    def __lt__(self, other: "Pitch") -> bool:
        return (self.midi, self.place) < (other.midi, other.place)

    def __str__(self) -> str:
        return self.name


def at_place(place: int, midi: int) -> Pitch:
    """Return the pitch on a staff position that sounds as a MIDI number; refuses more than two accidentals."""
    natural = Pitch(STEPS[place % 7], 0, place // 7)
    alter = midi - natural.midi
    if abs(alter) > 2:
        why = f"spelled on {natural.step} would need {abs(alter)} accidentals"
        raise BadRequest(Refusal("MIDI note", midi, why, allowed="up to two", do=f"write {simple(midi)}"))
    return Pitch(natural.step, alter, natural.octave)


def parse_pitch(text: str) -> Pitch:
    """Read "F#3", "Bb4" or "E♭5"; anything else is refused with an example."""
    found = _PITCH.fullmatch(text.strip()) if isinstance(text, str) else None
    if not found:
        do = "write a letter A to G, # or b, and an octave, as in F#3 or Bb4"
        raise BadRequest(Refusal("note", text if isinstance(text, str) else repr(text), "is not a written pitch", do=do))
    letter, accidental, octave = found.groups()
    return Pitch(letter.upper(), _ALTER[accidental or ""], int(octave))


def extremes(pitches: Iterable[Pitch]) -> tuple[Pitch, Pitch]:
    """Return the lowest and the highest of some pitches, plainly spelled."""
    ordered = sorted(pitches)
    low, high = (simple(pitch.midi, pitch.alter >= 0) for pitch in (ordered[0], ordered[-1]))
    return low, high


def simple(midi: int, sharp: bool = True) -> Pitch:
    """Return the plain spelling of a MIDI number, sharps or flats, never more than one accidental."""
    name = ("C C# D D# E F F# G G# A A# B" if sharp else "C Db D Eb E F Gb G Ab A Bb B").split()[midi % 12]
    return parse_pitch(f"{name}{midi // 12 - 1}")
