"""The plan of an etude: its sentences in order, what each bar is made of, its chords, its heights and its cadence."""

from collections.abc import Sequence
from dataclasses import dataclass

from generators.chance import pick
from generators.theory.interval import parse_interval
from generators.theory.key import Key, all_keys, moved

# Chords by their scale degrees, 0 the tonic; the textbook's numerals stand for the same degrees in major and minor.
NUMERALS = {
    "I": (0, 2, 4),
    "ii": (1, 3, 5),
    "IV": (3, 5, 0),
    "V": (4, 6, 1, 3),
    "vi": (5, 0, 2),
    "VII": (6, 1, 3),
    "V/V": (1, 3, 5),
    "V/vi": (2, 4, 6),
}
# The degrees that a chord raises above the signature.
RAISED: dict[str, dict[str, tuple[int, ...]]] = {"major": {"V/V": (3,), "V/vi": (4,)}, "minor": {"V": (6,), "V/V": (3, 5)}}

# What a bar is made of: the motive whole (M), moved (S), inverted (I) or augmented over two bars (A, then -), its tail (T),
# its head twice (F) or once with an ending (G), a run (R), the cadence (C); a small letter repeats that bar of the opening.
ROLES = {
    "question": ("MTSTFGRC", "MTITFGRC", "MTSTSGRC"),
    "answer": ("abcdFGRC", "abcdSGRC", "abITFGRC"),
    "contrast": ("ITSTFSRC", "A-STFSRC", "ITITSSRC"),
    "late contrast": ("ITSTFGSC", "A-STFGSC", "ITITSGSC"),
    "return": ("abcdFGRC", "abSTFGRC", "abITSGRC"),
    "short answer": ("ITSGabRC", "A-SGabRC"),
}
# How high each bar lies, 0 the lowest note and 1 the highest: our choice.
HEIGHTS = {
    "question": (0.4, 0.45, 0.5, 0.5, 0.7, 0.75, 0.6, 0.45),
    "answer": (0.4, 0.45, 0.5, 0.5, 0.8, 0.65, 0.45, 0.3),
    "contrast": (0.5, 0.4, 0.6, 0.55, 0.8, 1.0, 0.7, 0.45),
    "late contrast": (0.45, 0.4, 0.5, 0.5, 0.7, 0.8, 1.0, 0.6),
    "return": (0.4, 0.45, 0.5, 0.5, 0.65, 0.6, 0.4, 0.3),
    "short answer": (0.5, 0.65, 1.0, 0.7, 0.4, 0.45, 0.4, 0.3),
}
# The bar of the highest note, counted from 0: about two thirds of the way through the whole etude.
CLIMAX = {"contrast": 5, "late contrast": 6, "short answer": 2}

# Chords bar by bar: the textbook's common progressions, common practice, no source.
_OPENINGS = ("I | V | V | I", "I | IV | V | I", "I | ii | V | I", "I | V | I | V", "I | vi | IV | V")
# From the fifth bar to the cadence.
CLOSINGS = {
    "question": ("vi | IV | ii V/V | V", "IV | ii | I V/V | V", "I | vi | ii V/V | V", "vi | ii | IV V/V | V"),
    "answer": ("IV | I | ii V | I", "vi | ii | I V | I", "I | IV | ii V | I", "vi | IV | I V | I"),
    "return": ("IV | ii | I V | I", "vi | IV | ii V | I", "ii | vi | IV V | I"),
}
# How the middle leads home, by the key it stands in: to the dominant of home, or to its own tonic.
MIDDLES = {
    "dominant": ("vi | IV | ii V | I", "IV | ii | I V | I"),
    "relative minor": ("vi | IV | IV | VII", "I | ii | IV | VII"),
    "relative major": ("vi | IV | IV | V/vi", "I | ii | IV | V/vi"),
    "subdominant": ("IV | ii | vi | V/V", "vi | IV | ii | V/V"),
    "home": ("vi | ii | IV V/V | V", "IV | vi | ii V/V | V"),
    "own": ("vi | IV | ii V | I", "IV | ii | I V | I"),
}
_AWAY = ("vi | ii | V | I", "IV | I | ii | V", "vi | IV | ii | V")
_SHORT = ("V | I | IV | ii V", "vi | ii | IV | V", "IV | I | vi | V")
ETUDE_FORMS = {
    "16": ("question", "short answer"),
    "24": ("question", "late contrast", "return"),
    "32": ("question", "answer", "contrast", "return"),
}
SENTENCE_NAMES = {
    "question": ("A", "question"),
    "answer": ("A′", "answer"),
    "contrast": ("B", "contrast"),
    "late contrast": ("B", "contrast"),
    "return": ("A", "return"),
    "short answer": ("A′", "answer"),
}
Harmony = tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Sentence:
    """Eight bars as they are planned, before they have a note."""

    part: str
    key: Key
    """The key its degrees count in."""
    roles: str
    chords: Harmony
    heights: tuple[float, ...]

    @property
    def climax(self) -> int:
        """The bar of the highest note, from 0; -1 for none."""
        return CLIMAX.get(self.part, -1)

    @property
    def goals(self) -> tuple[int, ...]:
        """The degrees on which it may close: the tonic, or for a half cadence the notes of the last chord."""
        last = self.chords[-1][-1]
        return (0,) if last == "I" else NUMERALS[last][:3]


def sentences(bars: str, home: Key, middle: tuple[str, Key], chromatic: bool, seed: int) -> tuple[Sentence, ...]:
    """Return the sentences of an etude, drawn by its seed; without chromatic notes the applied dominant is left out."""
    opening = pick(_OPENINGS, seed, "opening")
    parts = ETUDE_FORMS[bars]
    return tuple(_sentence(part, opening, home, middle, chromatic, seed) for part in parts)


def _sentence(part: str, opening: str, home: Key, middle: tuple[str, Key], chromatic: bool, seed: int) -> Sentence:
    first, second = _halves(part, opening, middle[0], seed)
    text = f"{first} | {second}"
    chords = _read(text if chromatic or "contrast" in part else text.replace("V/V", "ii"))
    key = middle[1] if "contrast" in part else home
    return Sentence(part, key, pick(ROLES[part], seed, "roles", part), chords, HEIGHTS[part])


def _halves(part: str, opening: str, relation: str, seed: int) -> tuple[str, str]:
    if part == "short answer":
        return pick(_SHORT, seed, "short"), " | ".join([*opening.split(" | ")[:2], "ii V", "I"])
    if "contrast" not in part:
        asked = pick(CLOSINGS["question"], seed, "closing", "question").split()[0]
        return opening, pick(
            [text for text in CLOSINGS[part] if part == "question" or text.split()[0] != asked], seed, "closing", part
        )
    start = pick(_AWAY if relation == "home" else _OPENINGS[:4], seed, "middle")
    return start, pick(MIDDLES[relation], seed, "home again")


def _read(text: str) -> Harmony:
    return tuple(tuple(bar.split()) for bar in text.split(" | "))


def knows_dominant(home: Key, allowed: Sequence[str]) -> bool:
    """Tell whether the grade knows the dominant of the key, and so the raised note of the chord that leads there."""
    return not allowed or home.mode == "minor" or moved(home, parse_interval("P5")).name in allowed


def middle_key(home: Key, given: Sequence[Key], allowed: Sequence[str], seed: int) -> tuple[str, Key]:
    """Return how the middle's key stands to home, and the key: the player's second, or a near one that the grade knows."""
    if len(given) > 1 and given[1] != home:
        return _relation(home, given[1]), given[1]
    near = [(name, key) for name, key in _near(home).items() if not allowed or key.name in allowed]
    return pick([found for found in near if found[0] != "subdominant"] or near or [("home", home)], seed, "middle key")


def _near(home: Key) -> dict[str, Key]:
    """Return the keys next to home by what they are called: a minor key goes to its relative, a major one to a fifth too."""
    relative = next((k for k in all_keys() if k.fifths == home.fifths and k.mode != home.mode), home)
    if home.mode == "minor":
        return {"relative major": relative}
    fifths = {"dominant": moved(home, parse_interval("P5")), "subdominant": moved(home, parse_interval("P4"))}
    return {"relative minor": relative} | {name: key for name, key in fifths.items() if abs(key.fifths - home.fifths) == 1}


def _relation(home: Key, other: Key) -> str:
    return next((name for name, key in _near(home).items() if key == other), "own")
