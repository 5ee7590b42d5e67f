"""A key: tonic and mode, its signature, and its notes by scale degree."""

import re
from dataclasses import dataclass

from generators.errors import BadRequest, Refusal
from generators.theory.interval import Interval, transpose
from generators.theory.pitch import ACCIDENTALS, STEPS, Pitch

FIFTHS = {"F": -1, "C": 0, "G": 1, "D": 2, "A": 3, "E": 4, "B": 5}
SHARP_ORDER = "FCGDAEB"
# The most accidentals that a signature has.
SEVEN = len(SHARP_ORDER)
# How many fifths the signature of a mode lies from the major key on the same tonic.
MODES = {"major": 0, "lydian": 1, "mixolydian": -1, "dorian": -2, "minor": -3, "phrygian": -4, "locrian": -5}
# Octaves that lie between any two horns, at the most.
_FARTHEST = 5
_KEY = re.compile(r"([A-Ga-g])(#|♯|b|♭)?(?: ?(m|min|minor|maj|major))?")


@dataclass(frozen=True, slots=True)
class Key:
    """A key such as `Key("E", -1, "major")`; `fifths` is its signature, sharps positive."""

    step: str
    alter: int
    mode: str = "major"

    @property
    def fifths(self) -> int:
        """The signature: sharps positive, flats negative."""
        return FIFTHS[self.step] + 7 * self.alter + MODES[self.mode]

    @property
    def tonic(self) -> str:
        """The tonic without octave or mode, such as Eb."""
        return self.step + ACCIDENTALS[self.alter]

    @property
    def name(self) -> str:
        """The key as it is typed: Eb, Cm; a church mode in words."""
        return self.tonic + {"major": "", "minor": "m"}.get(self.mode, f" {self.mode}")

    @property
    def pretty(self) -> str:
        """The key in words for the page, such as E♭ major."""
        return self.step + {0: "", 1: "♯", -1: "♭"}.get(self.alter, "") + f" {self.mode}"

    def alteration(self, step: str) -> int:
        """Return what the signature does to a step: 1 sharp, -1 flat, 0 nothing."""
        order = SHARP_ORDER.index(step)
        return (self.fifths - order + 6) // 7

    def degree(self, index: int, octave: int = 4) -> Pitch:
        """Return a degree, 0 the tonic of the given octave, 7 the tonic above it."""
        place = 7 * octave + STEPS.index(self.step) + index
        step = STEPS[place % 7]
        return Pitch(step, self.alteration(step), place // 7)


def _written(key: Key) -> bool:
    return abs(key.fifths) <= SEVEN


def all_keys(*modes: str) -> tuple[Key, ...]:
    """Return every key of the given modes (default major and minor) whose signature has at most seven accidentals."""
    tonics = [Key(step, alter, mode) for mode in modes or ("major", "minor") for alter in (-1, 0, 1) for step in STEPS]
    return tuple(key for key in tonics if _written(key))


def parse_key(text: str) -> Key:
    """Read "Eb", "F#m", "C minor" or "E♭ major"; a key with more than seven accidentals is refused with its neighbour."""
    found = _KEY.fullmatch(text.strip())
    if not found:
        do = "write a letter A to G, # or b, and m for minor, as in Eb, D or F#m"
        raise BadRequest(Refusal("key", text, "is not known", do=do))
    step, accidental, mode = found.groups()
    alter = {"": 0, "#": 1, "♯": 1, "b": -1, "♭": -1}[accidental or ""]
    key = Key(step.upper(), alter, "minor" if mode in ("m", "min", "minor") else "major")
    if not _written(key):
        why = f"would need {abs(key.fifths)} accidentals"
        raise BadRequest(Refusal("key", text, why, allowed="up to seven", do=f"write {respelled(key).name}"))
    return key


def respelled(key: Key) -> Key:
    """Return the same key with at most seven accidentals, the fewest that do."""
    return key if _written(key) else _fewest(key)


def plainer(key: Key) -> Key:
    """Return the key, or instead of one with seven accidentals the one that sounds alike with five."""
    return key if abs(key.fifths) < SEVEN else _fewest(key)


def _fewest(key: Key) -> Key:
    midi = key.degree(0).midi % 12
    return min((k for k in all_keys(key.mode) if k.degree(0).midi % 12 == midi), key=lambda k: abs(k.fifths))


def with_mode(key: Key, mode: str) -> Key:
    """Return the key on the same tonic in another mode, respelled where the signature would pass seven."""
    return respelled(Key(key.step, key.alter, mode))


def moved(key: Key, interval: Interval) -> Key:
    """Return the key an interval away, respelled where the signature would pass seven."""
    tonic = transpose(Pitch(key.step, key.alter, 4), interval)
    return respelled(Key(tonic.step, tonic.alter, key.mode))


def half_steps_away(key: Key, half_steps: int) -> Key:
    """Return the key of the same mode so many half-steps away, with the fewest accidentals; six flats, not six sharps."""
    tonic = (key.degree(0).midi + half_steps) % 12
    return min((k for k in all_keys(key.mode) if k.degree(0).midi % 12 == tonic), key=lambda k: (abs(k.fifths), k.fifths))


def way(key: Key, there: Key, half_steps: int) -> Interval:
    """Return the interval of so many half-steps, up or down, that leads from one key to another, spelling included."""
    letters = STEPS.index(there.step) - STEPS.index(key.step)
    octaves = range(-_FARTHEST, _FARTHEST + 1)
    return Interval(min((letters + 7 * octave for octave in octaves), key=lambda n: abs(12 * n - 7 * half_steps)), half_steps)
