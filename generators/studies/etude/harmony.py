"""The ground of a tune: chords by function, progressions by cadence, the keys of a middle, the notes of each chord."""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache, lru_cache
from typing import NamedTuple

from generators.theory.interval import parse_interval
from generators.theory.key import Key, all_keys, moved
from generators.theory.pitch import STEPS, Pitch

# Chords by scale degrees, 0 the tonic; the textbook's numerals stand for the same degrees in major and minor.
NUMERALS = {
    "I": (0, 2, 4),
    "ii": (1, 3, 5),
    "iii": (2, 4, 6),
    "IV": (3, 5, 0),
    "iv": (3, 5, 0),
    "V": (4, 6, 1, 3),
    "vi": (5, 0, 2),
    "VII": (6, 1, 3),
    "V/V": (1, 3, 5),
}
# The degrees that a chord alters, and by how many half-steps.
ALTERED: dict[str, dict[str, dict[int, int]]] = {
    "major": {"V/V": {3: 1}},
    "minor": {"V": {6: 1}, "V/V": {3: 1, 5: 1}},
}
# What stands for an applied dominant where notes outside the key are not asked for.
UNBORROWED = {"V/V": "ii"}
_SIXTH, _SEVENTH = 5, 6
_PLACES = range(7, 56)
_WHOLE = 2
# How many signs the signature of a middle may have, unless home has as many, and that of the parallel key.
_MOST, _PARALLEL = 6, 4

# Four bars by the cadence that they come to, common practice, no source; `^` is a chord of home in another key.
PROGRESSIONS: dict[str, tuple[str, ...]] = {
    "away": (
        "IV | I | ii | V",
        "vi | iii | IV | V",
        "vi | ii | V/V | V",
        "IV | V | vi | V",
        "vi | V | IV | V",
        "V | I | ii | V",
    ),
    "half": (
        "I | V | I | V",
        "I | IV | ii | V",
        "I | I | IV | V",
        "I | I | I | V",
        "I | I | ii | V",
        "I | vi | ii | V",
        "I | IV | I | V",
        "I | V | vi V/V | V",
    ),
    "perfect": (
        "I | IV | V | I",
        "I | V | ii V | I",
        "I | I | ii V | I",
        "I | I | V | I",
        "I | V | I V | I",
        "I | vi | ii V | I",
        "IV | I | V | I",
        "I | IV | I V | I",
    ),
    "imperfect": ("I | IV | V | I", "I | V | V | I", "I | ii | V | I", "I | I | V | I", "I | I | IV V | I"),
    "deceptive": ("I | IV | V | vi", "I | I | V | vi", "I | ii | V | vi", "vi | IV | V | vi"),
    "phrygian": ("I | VII | vi | V", "I | I | iv | V", "I | VII | iv | V"),
}
# How a middle begins, by its key, from a chord that home has too; how it comes to a close there; how it goes back to home.
PIVOTS = {
    "dominant": ("IV | V", "IV | I", "I | V"),
    "subdominant": ("V | I", "I | IV", "V | IV"),
    "relative minor": ("vi | iv", "I | iv", "I | V"),
    "relative major": ("vi | V", "ii | V", "I | V"),
    "supertonic": ("VII | V", "I | iv", "I | V"),
    "minor dominant": ("IV | V", "iv | I", "I | V"),
    "submediant": ("iii | IV", "vi | V", "I | V"),
    "parallel": ("I | iv", "I | V", "I | IV"),
    "home": ("vi | iii", "IV | I", "vi | ii", "V | I"),
}
ARRIVALS = ("ii V | I", "IV V | I", "V | I")
RETURNS = ("ii^ | V^", "IV^ | V^", "V/V^ | V^", "I^ | V^", "vi^ | V^")
# The keys of a middle by how far their tonic stands over that of home, and their mode.
RELATED = {
    "major": {
        "dominant": ("P5", "major"),
        "subdominant": ("P4", "major"),
        "relative minor": ("M6", "minor"),
        "supertonic": ("M2", "minor"),
        "parallel": ("", "minor"),
    },
    "minor": {
        "relative major": ("m3", "major"),
        "minor dominant": ("P5", "minor"),
        "subdominant": ("P4", "minor"),
        "submediant": ("m6", "major"),
    },
}


class ChordSound(NamedTuple):
    """A chord in a key."""

    key: Key
    chord: str


class Tone(NamedTuple):
    """A note that may sound over a chord."""

    place: int
    """Its staff place, as of `Pitch.place`."""
    midi: int
    degree: int
    """Its degree in the key of the chord, 0 the tonic."""
    pitch: Pitch
    chordal: bool
    raised: bool
    """Whether minor raises it against its signature."""
    bends: int
    """Which way a note that a chord alters wants to go on: 1 up, -1 down, 0 for one that may go anywhere."""
    sinks: bool
    """Whether it is the natural seventh of minor, which does not lead to the tonic."""


@cache
def tones(sound: ChordSound) -> tuple[Tone, ...]:
    """Return every note over a chord, from low to high; in minor the sixth and seventh come raised too, where they may lead."""
    return tuple(tone for place in _PLACES for tone in _tones_at(sound, place))


@lru_cache(maxsize=4096)
def tones_between(sound: ChordSound, low: int, high: int) -> tuple[Tone, ...]:
    """Return the notes over a chord between two MIDI numbers, these included."""
    return tuple(tone for tone in tones(sound) if low <= tone.midi <= high)


@cache
def neighbours(sound: ChordSound) -> tuple[Tone, ...]:
    """Return the notes outside the key a half-step below the notes of a chord."""
    return tuple(_neighbour(tone) for tone in tones(sound) if tone.chordal and _whole_step_below(tone, sound.key))


def _whole_step_below(tone: Tone, key: Key) -> bool:
    """Tell whether a whole step is under a note in a key, the same in every key: what sounds alike is written alike."""
    step = STEPS[(tone.place - 1) % 7]
    return tone.midi - Pitch(step, key.alteration(step), (tone.place - 1) // 7).midi == _WHOLE


def _neighbour(tone: Tone) -> Tone:
    place = tone.place - 1
    natural = Pitch(STEPS[place % 7], 0, place // 7)
    pitch = replace(natural, alter=tone.midi - 1 - natural.midi)
    return Tone(place, pitch.midi, (tone.degree - 1) % 7, pitch, chordal=False, raised=False, bends=1, sinks=False)


def _tones_at(sound: ChordSound, place: int) -> list[Tone]:
    key, chord = sound
    step = STEPS[place % 7]
    degree = (place - STEPS.index(key.step)) % 7
    plain = key.alteration(step)
    by = ALTERED[key.mode].get(chord, {}).get(degree, 0)
    ways = [by] if by or key.mode == "major" or not _leads(chord, degree) else [0, 1]
    chordal = degree in NUMERALS[chord]
    made = [(Pitch(step, plain + way, place // 7), way) for way in ways if abs(plain + way) <= 2]
    return [
        Tone(place, pitch.midi, degree, pitch, chordal and way == by, *_tends(sound, degree, way, by)) for pitch, way in made
    ]


def _tends(sound: ChordSound, degree: int, way: int, by: int) -> tuple[bool, int, bool]:
    """Tell whether a note is raised in minor, which way it is bent, and whether it sinks."""
    minor = sound.key.mode == "minor" and degree in (_SIXTH, _SEVENTH)
    return minor and way == 1, 0 if minor else by, minor and way == 0 and degree == _SEVENTH


def _leads(chord: str, degree: int) -> bool:
    """Tell whether minor may raise a degree over a chord that does not ask for it: on the way up to the tonic."""
    return (degree == _SEVENTH and chord in ("I", "ii", "IV", "iv", "vi")) or (degree == _SIXTH and chord == "V")


@lru_cache(maxsize=4096)
def ground(text: str, key: Key, home: Key, chromatic: bool) -> tuple[tuple[ChordSound, ...], ...]:
    """Return the chords of a progression bar by bar."""
    return tuple(tuple(_sound(chord, key, home, chromatic) for chord in bar.split()) for bar in text.split("|"))


def _sound(text: str, key: Key, home: Key, chromatic: bool) -> ChordSound:
    own = home if text.endswith("^") else key
    chord = text.rstrip("^")
    return ChordSound(own, chord if chromatic else UNBORROWED.get(chord, chord))


def related(home: Key, given: Sequence[Key], allowed: Sequence[str]) -> dict[str, Key]:
    """Return the keys that a middle may stand in, by their relation: the player's among them if there are any, else all.

    Where a grade knows none of them the middle stays at home.
    """
    near = {name: key for name, key in _near(home).items() if not allowed or key.name in allowed}
    wished = {name: key for name, key in near.items() if key in given[1:]}
    return wished or near or {"home": home}


def _near(home: Key) -> dict[str, Key]:
    made = {name: _moved(home, *way) for name, way in RELATED[home.mode].items()}
    most = max(_MOST, abs(home.fifths))
    written = set(all_keys())
    return {
        name: key
        for name, key in made.items()
        if key in written and abs(key.fifths) <= (_PARALLEL if name == "parallel" else most)
    }


def _moved(home: Key, interval: str, mode: str) -> Key:
    tonic = moved(Key(home.step, home.alter), parse_interval(interval)) if interval else home
    return Key(tonic.step, tonic.alter, mode)
