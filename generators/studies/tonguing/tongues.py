"""The kinds of tonguing and the lines they are practised on, as tables: syllables of a beat, degrees of a line."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Tongue:
    """One kind: its syllables, repeated through the beat; the tempo it begins at; what to hear."""

    name: str
    title: str
    syllables: str
    tempo: int
    goal: int
    """The tempo up to which a ladder of its own goes."""
    aim: str

    @property
    def three(self) -> bool:
        """Whether it goes in threes."""
        return len(self.syllables) == 3

    @property
    def multiple(self) -> bool:
        """Whether t and k take turns."""
        return len(set(self.syllables)) > 1


# Tempi from where to where: common practice, no source, that two syllables are for what one does not reach, and that k alone is
# slower than t, at 44 to 66; the rest is our choice: from where a single tongue is no longer easy to past where it ends, 100 to
# 144 in sixteenths, 132 to 176 in triplets. An order that begins with k, or has two in a row, is taken slower.
TONGUES = {
    tongue.name: tongue
    for tongue in (
        Tongue(
            "single",
            "single",
            "t",
            76,
            120,
            "Listen for every t to begin a full tone; the tongue touches the air, it never stops it.",
        ),
        Tongue("k", "k alone", "k", 44, 66, "Listen for the k to speak as far forward and as clean as a t; let it be slow."),
        Tongue(
            "double",
            "double",
            "tk",
            100,
            144,
            "Record yourself and listen: no one should be able to tell the k from the t.",
        ),
        Tongue(
            "double-reversed",
            "double, reversed",
            "kt",
            84,
            120,
            "Listen for the k on the beat to carry the accent, and for the t behind it to be the lighter.",
        ),
        Tongue(
            "triple-ttk", "triple, t-t-k", "ttk", 132, 176, "Listen for three even notes; the second t must not wait for the k."
        ),
        Tongue(
            "triple-tkt",
            "triple, t-k-t",
            "tkt",
            132,
            176,
            "Listen for two equal t where groups meet.",
        ),
        Tongue(
            "triple-ktt", "triple, k-t-t", "ktt", 116, 156, "Listen for the k on the beat to be the strongest of the three."
        ),
        Tongue(
            "triple-kkt",
            "triple reversed, k-k-t",
            "kkt",
            104,
            144,
            "Listen for the second k as clear as the first, and no gap before t.",
        ),
        Tongue(
            "triple-ktk", "triple reversed, k-t-k", "ktk", 116, 156, "Listen for two k in a row to be equal where groups meet."
        ),
        Tongue("triple-tkk", "triple reversed, t-k-k", "tkk", 116, 156, "Listen for both k after the t to keep its loudness."),
    )
}

# How the notes are shaped, whatever is said: the mark on each but the last.
TONGUE_STYLES = {"legato": "tenuto", "marked": "accent", "dry": "staccato"}

# How groups go -> notes in a beat -> the values of a group, of quarters two; late ones begin half a beat after the beat,
# running ones never land.
EVEN, UNEVEN = "even", ("long-first", "short-first")
TONGUE_GROUPS: dict[str, dict[int, str]] = {
    EVEN: {1: "4 4", 2: "8 8", 3: "8t 8t 8t", 4: "16 16 16 16"},
    "long-first": {2: "8. 16", 3: "8 16 16", 4: "8. 16 8. 16"},
    "short-first": {2: "16 8.", 3: "16 16 8", 4: "16 8. 16 8."},
    "late": {2: "8 8", 4: "16 16 16 16"},
    "running": {2: "8 8", 3: "8t 8t 8t", 4: "16 16 16 16"},
}

# pattern -> notes in a beat -> sketches from wide to narrow. A sketch is eight beats and a landing: a beat of notes, of
# quarters two, and a landing, twice; four beats of notes, forwards and backwards; the last note, held. Nothing lies below
# degree 1, and whatever is longer than its neighbours is a note of the tonic chord.
TONGUING_LINES: dict[str, dict[int, tuple[str, ...]]] = {
    "one-note": {
        1: ("1 1 | 1 | 1 1 | 1 || 1 1 1 1 || 1",),
        2: ("1 1 | 1 | 1 1 | 1 || 1 1 1 1 1 1 1 1 || 1",),
        3: ("1 1 1 | 1 | 1 1 1 | 1 || 1 1 1 1 1 1 1 1 1 1 1 1 || 1",),
        4: ("1 1 1 1 | 1 | 1 1 1 1 | 1 || 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 || 1",),
    },
    "two-notes": {
        1: ("1 2 | 1 | 2 2 | 1 || 1 2 1 2 || 1",),
        2: ("1 2 | 1 | 2 2 | 1 || 1 1 2 2 1 2 1 2 || 1",),
        3: ("1 2 1 | 1 | 2 2 2 | 1 || 1 1 1 2 2 2 1 2 1 2 1 2 || 1",),
        4: ("1 1 2 2 | 1 | 2 2 2 2 | 1 || 1 1 2 2 1 1 2 2 1 2 1 2 1 2 1 2 || 1",),
    },
    "five-notes": {
        1: (
            "1 2 | 3 | 3 4 | 5 || 5 4 3 2 || 1",
            "1 2 | 3 | 3 2 | 1 || 3 2 1 2 || 1",
        ),
        2: ("1 2 | 3 | 3 2 | 1 || 1 2 3 4 5 4 3 2 || 1",),
        3: ("1 2 1 | 3 | 3 4 3 | 5 || 5 4 3 4 3 2 1 2 3 4 3 2 || 1",),
        4: ("1 2 3 4 | 5 | 5 4 3 2 | 1 || 1 2 3 4 5 4 3 2 1 2 3 4 5 4 3 2 || 1",),
    },
    "scale": {
        1: (
            "1 2 | 3 | 3 4 | 5 || 5 4 3 2 || 1",
            "1 2 | 3 | 3 2 | 1 || 1 2 3 2 || 1",
        ),
        2: ("1 2 | 3 | 3 4 | 5 || 5 6 7 8 7 5 4 2 || 1",),
        3: ("1 2 3 | 5 | 5 6 7 | 8 || 8 7 6 5 4 3 2 1 2 3 4 2 || 1",),
        4: ("1 2 3 4 | 5 | 5 6 7 8 | 8 || 8 7 6 5 4 3 2 1 1 2 3 4 5 4 3 2 || 1",),
    },
    "call": {
        1: (
            "1 1 | 3 | 3 3 | 5 || 5 3 5 3 || 1",
            "1 1 | 3 | 1 1 | 3 || 3 1 1 3 || 1",
        ),
        2: ("1 1 | 3 | 5 5 | 8 || 8 5 5 3 5 5 3 3 || 1", "1 1 | 3 | 3 3 | 5 || 5 3 5 5 3 1 3 3 || 1"),
        3: (
            "1 1 1 | 3 | 3 5 5 | 8 || 8 8 8 5 5 5 3 3 5 3 3 3 || 1",
            "1 1 1 | 3 | 3 3 3 | 5 || 5 5 5 3 3 3 5 5 3 1 3 3 || 1",
        ),
        4: (
            "1 1 1 1 | 3 | 3 3 5 5 | 8 || 8 8 8 8 5 5 5 5 3 3 5 5 3 3 3 3 || 1",
            "1 1 1 1 | 3 | 3 3 3 3 | 5 || 5 5 5 5 3 3 3 3 1 1 3 3 5 5 3 3 || 1",
        ),
    },
    "tune": {
        1: (
            "1 1 | 3 | 2 2 | 5 || 5 4 3 2 || 1",
            "1 1 | 3 | 2 2 | 3 || 3 2 1 2 || 1",
        ),
        2: ("1 1 | 3 | 2 2 | 5 || 6 6 5 5 4 4 2 2 || 1", "1 1 | 3 | 2 2 | 3 || 5 5 4 4 3 3 2 2 || 1"),
        3: ("1 1 1 | 3 | 2 2 2 | 5 || 6 6 6 5 5 5 4 4 4 2 2 2 || 1", "1 1 1 | 3 | 2 2 2 | 3 || 5 5 5 4 4 4 3 3 3 2 2 2 || 1"),
        4: (
            "1 1 1 1 | 3 | 2 2 3 4 | 5 || 6 6 6 6 5 5 5 5 4 4 3 3 2 2 2 2 || 1",
            "1 1 1 1 | 3 | 2 2 2 2 | 3 || 5 5 5 5 4 4 4 4 3 3 3 3 2 2 2 2 || 1",
        ),
    },
    "arpeggio": {
        1: (
            "1 3 | 5 | 5 3 | 1 || 1 3 5 3 || 1",
            "1 3 | 3 | 1 3 | 1 || 3 1 3 3 || 1",
        ),
        2: ("1 3 | 5 | 5 3 | 1 || 1 3 5 8 5 3 5 3 || 1", "1 3 | 5 | 5 3 | 1 || 1 3 5 3 1 3 5 3 || 1"),
        3: (
            "1 3 5 | 8 | 8 5 3 | 1 || 1 3 5 8 5 3 1 3 5 8 5 3 || 1",
            "1 3 5 | 5 | 3 5 3 | 1 || 1 3 5 3 5 3 1 3 5 3 5 3 || 1",
        ),
        4: (
            "1 3 5 8 | 8 | 8 5 3 1 | 1 || 1 3 5 8 5 3 1 3 5 8 5 3 1 3 5 3 || 1",
            "1 3 5 3 | 5 | 5 3 1 3 | 1 || 1 3 5 3 5 3 1 3 5 5 3 3 5 3 5 3 || 1",
        ),
    },
    "march": {
        1: ("1 1 | 5 | 4 4 | 3 || 2 3 4 2 || 1", "1 1 | 3 | 2 2 | 3 || 2 1 2 2 || 1"),
        2: ("1 1 | 5 | 4 4 | 3 || 2 2 3 3 4 4 2 2 || 1", "1 1 | 3 | 4 4 | 3 || 2 2 3 3 4 4 2 2 || 1"),
        3: ("1 1 1 | 5 | 4 4 4 | 3 || 2 2 2 3 3 3 4 4 4 2 2 2 || 1", "1 1 1 | 3 | 4 4 4 | 3 || 2 2 2 3 3 3 4 4 4 2 2 2 || 1"),
        4: (
            "1 1 1 1 | 5 | 4 4 4 4 | 3 || 2 2 2 2 3 3 3 3 4 4 4 4 2 2 2 2 || 1",
            "1 1 1 1 | 3 | 4 4 4 4 | 3 || 2 2 2 2 3 3 3 3 4 4 4 4 2 2 2 2 || 1",
        ),
    },
    "hymn": {
        1: ("1 1 | 3 | 4 4 | 5 || 6 4 3 2 || 1", "1 1 | 3 | 2 2 | 1 || 3 3 2 2 || 1"),
        2: ("1 1 | 3 | 4 4 | 5 || 6 6 4 4 3 3 2 2 || 1", "1 1 | 3 | 2 4 | 3 || 4 4 3 3 1 1 2 2 || 1"),
        3: ("1 1 1 | 3 | 4 4 4 | 5 || 6 6 6 4 4 4 3 3 3 2 2 2 || 1", "1 1 1 | 3 | 2 2 4 | 3 || 4 4 4 3 3 3 1 1 1 2 2 2 || 1"),
        4: (
            "1 1 1 1 | 3 | 4 4 4 4 | 5 || 6 6 6 6 4 4 4 4 3 3 3 3 2 2 2 2 || 1",
            "1 1 1 1 | 3 | 2 2 4 4 | 3 || 4 4 4 4 3 3 3 3 1 1 1 1 2 2 2 2 || 1",
        ),
    },
    "signal": {
        1: ("1 5 | 5 | 5 3 | 3 || 1 5 3 3 || 1", "1 3 | 3 | 3 1 | 3 || 1 3 1 3 || 1"),
        2: ("1 5 | 5 | 5 3 | 3 || 1 5 5 3 3 5 5 3 || 1", "1 3 | 3 | 3 1 | 1 || 1 3 3 1 1 3 3 3 || 1"),
        3: ("1 1 5 | 5 | 5 5 3 | 3 || 1 1 5 5 5 3 3 3 5 5 3 3 || 1", "1 1 3 | 3 | 3 3 1 | 1 || 1 1 3 3 3 1 1 1 3 3 3 3 || 1"),
        4: (
            "1 1 1 5 | 5 | 5 5 5 3 | 3 || 1 1 1 5 5 5 5 3 3 3 3 5 5 3 3 3 || 1",
            "1 1 1 3 | 3 | 3 3 3 1 | 1 || 1 1 1 3 3 3 3 1 1 1 3 1 1 3 3 3 || 1",
        ),
    },
    "round": {
        1: ("1 2 | 1 | 3 4 | 3 || 5 4 3 2 || 1", "1 2 | 1 | 3 2 | 1 || 1 3 2 2 || 1"),
        2: ("1 2 | 3 | 1 4 | 3 || 5 6 5 4 3 4 3 2 || 1", "1 2 | 1 | 3 2 | 1 || 3 4 3 2 3 4 3 2 || 1"),
        3: ("1 2 1 | 3 | 3 4 3 | 5 || 5 6 5 4 5 4 3 4 3 2 3 2 || 1", "1 2 1 | 3 | 3 4 3 | 3 || 3 4 3 2 3 2 3 4 3 2 3 2 || 1"),
        4: (
            "1 2 1 2 | 3 | 3 4 3 4 | 5 || 5 6 5 6 4 5 4 5 3 4 3 4 2 3 2 3 || 1",
            "1 2 1 2 | 3 | 3 4 3 4 | 3 || 3 4 3 4 2 3 2 3 3 4 3 4 2 3 2 3 || 1",
        ),
    },
    "thirds": {
        1: ("1 3 | 1 | 3 5 | 3 || 4 2 3 2 || 1", "1 3 | 1 | 3 1 | 3 || 1 3 1 2 || 1"),
        2: ("1 3 | 1 | 3 5 | 3 || 6 4 5 3 4 2 3 2 || 1", "1 3 | 1 | 3 1 | 3 || 4 2 3 1 4 2 3 2 || 1"),
        3: ("1 3 2 | 3 | 3 5 4 | 5 || 6 4 5 5 3 4 4 2 3 3 4 2 || 1", "1 3 2 | 3 | 2 4 3 | 1 || 4 2 3 3 1 2 4 2 3 3 4 2 || 1"),
        4: (
            "1 3 2 4 | 3 | 3 5 4 6 | 5 || 6 4 5 3 4 2 3 1 1 3 2 4 3 5 4 2 || 1",
            "1 3 2 4 | 3 | 3 1 2 4 | 3 || 4 2 3 1 4 2 3 1 1 3 2 4 3 1 4 2 || 1",
        ),
    },
    "pairs": {
        1: ("1 2 | 3 | 5 4 | 3 || 5 4 3 2 || 1", "1 2 | 3 | 2 2 | 3 || 1 2 3 2 || 1"),
        2: ("1 2 | 3 | 5 4 | 3 || 5 6 7 8 6 4 3 2 || 1", "1 2 | 3 | 5 4 | 3 || 1 2 3 4 5 4 3 2 || 1"),
        3: ("1 1 2 | 3 | 3 3 4 | 5 || 5 5 6 5 5 4 3 3 4 3 3 2 || 1", "1 1 2 | 3 | 3 3 2 | 1 || 3 3 4 3 3 2 1 1 2 3 3 2 || 1"),
        4: (
            "1 1 2 2 | 3 | 3 3 4 4 | 5 || 5 5 6 6 5 5 4 4 3 3 4 4 3 3 2 2 || 1",
            "1 1 2 2 | 3 | 3 3 2 2 | 1 || 3 3 4 4 3 3 2 2 1 1 2 2 3 3 2 2 || 1",
        ),
    },
    "arch": {
        1: ("1 3 | 5 | 6 4 | 3 || 4 5 4 2 || 1", "1 3 | 3 | 2 2 | 3 || 1 3 2 2 || 1"),
        2: ("1 3 | 5 | 6 4 | 3 || 2 3 4 5 6 4 3 2 || 1", "1 3 | 3 | 4 2 | 1 || 2 3 4 3 2 4 3 2 || 1"),
        3: ("1 2 3 | 5 | 5 3 2 | 1 || 1 2 3 4 5 6 5 4 3 4 3 2 || 1", "1 2 3 | 3 | 4 3 2 | 1 || 1 2 3 4 3 2 1 2 3 4 3 2 || 1"),
        4: (
            "1 2 3 5 | 5 | 5 3 2 1 | 1 || 1 2 3 4 5 6 5 4 3 4 5 4 3 2 3 2 || 1",
            "1 2 3 4 | 3 | 4 3 2 1 | 1 || 1 2 3 4 3 4 3 2 1 2 3 4 3 2 3 2 || 1",
        ),
    },
    "skips": {
        1: ("1 3 | 5 | 4 2 | 1 || 3 5 4 2 || 1", "1 3 | 3 | 1 2 | 1 || 3 1 3 2 || 1"),
        2: ("1 3 | 5 | 4 2 | 1 || 3 5 4 6 5 3 4 2 || 1", "1 3 | 3 | 4 2 | 1 || 3 1 2 4 3 1 4 2 || 1"),
        3: ("1 3 5 | 5 | 4 2 4 | 5 || 3 5 3 4 6 4 3 5 3 2 4 2 || 1", "1 3 1 | 3 | 2 4 2 | 3 || 1 3 1 2 4 2 3 1 3 2 4 2 || 1"),
        4: (
            "1 3 1 3 | 5 | 5 3 5 3 | 1 || 2 4 2 4 3 5 3 5 4 6 4 6 5 3 4 2 || 1",
            "1 3 1 3 | 3 | 2 4 2 4 | 3 || 1 3 1 3 2 4 2 4 1 3 1 3 2 4 2 4 || 1",
        ),
    },
}
