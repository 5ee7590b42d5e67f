"""What is said of each shape of the flow study, and the closes that may follow a line.

Closes are patterns of our own, made from scale steps and chords, in the notation of `generators.phrase.notation`.
"""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from generators.phrase.algebra import notes, on
from generators.phrase.notation import degrees, value
from generators.phrase.note import Degree, Note, Phrase

# What a teacher would say each shape is for, worded for the ear.
FLOW_AIMS = {
    "dip": "Listen for the turn at the bottom to be as round and as full as the note you left.",
    "arch": "Listen for the line to grow into its top note, with nothing changed at the lips.",
    "wave": "Listen for one colour at the top and at the bottom; nobody should hear you cross the middle.",
    "widening": "Listen for each turn to reach a little farther than the last, and for none of them to be pushed.",
    "lean": "Listen for the weight on each leaning note, and for the softer note that answers it.",
}

# The slurred closes of lines in four and in three quarters, from wide to narrow.
_IN_FOUR = (
    "[mp]1/4( 5, 1 3 | [>]5/4 3 [p]1/2)*",
    "[mp]1/4( 3 [>]5 3 | [p]1/1)*",
    "[mp>]1/4( 3 1 3 | [p]1/1)*",
)
_IN_THREE = (
    "[mp]1/4( 5, 1 | 3/4 [>]5 3 | [p]1/2.)*",
    "[mp]1/4( 3 [>]5 | 3/4 1 3 | [p]1/2.)*",
    "[mp]1/4( 3 1 | [>]3/4 1 3 | [p]1/2.)*",
)
# shape -> kind -> closes from wide to narrow. What is tongued goes the way of its shape; of leaning lines the sighs of the line
# itself come first.
FLOW_CLOSES: dict[str, dict[str, tuple[str, ...]]] = {
    "dip": {
        "slurred": _IN_FOUR,
        "tongued": (
            "[mp<]1/8 2 1 7, 6, 1 7, 6, | [mf>]5, 6, 7, 6, 7, 1 2 7, | [p]1/1*",
            "[mp<]1/8 2 1 7, 1 2 1 7, | [mf>]6, 7, 1 2 1 7, 2 7, | [p]1/1*",
            "[mp<]5/8 4 5 3 4 3 4 2 | [mf>]1 2 3 2 3 4 3 2 | [p]1/1*",
            "[mp<]3/8 2 3 2 3 1 3 2 | [mf>]1 2 3 2 1 2 3 2 | [p]1/1*",
        ),
    },
    "arch": {
        "slurred": _IN_FOUR,
        "tongued": (
            "[mp<]1/8 2 3 1 3 5 6 7 | [mf>]8 6 5 3 4 2 3 2 | [p]1/1*",
            "[mp<]1/8 2 3 1 4 3 2 3 | [mf>]5 4 3 1 4 3 1 2 | [p]1/1*",
            "[mp<]1/8 2 3 2 1 2 1 2 | [mf>]3 2 1 3 2 3 1 2 | [p]1/1*",
        ),
    },
    "wave": {
        "slurred": _IN_FOUR,
        "tongued": (
            "[mp<]1/8 2 3 4 [mf>]5 4 3 2 | 1 7, 6, 5, 6, 7, 2 7, | [p]1/1*",
            "[mp<]1/8 2 3 1 [mf>]3 2 1 2 | 1 7, 6, 7, 1 7, 2 7, | [p]1/1*",
            "[mp<]1/8 2 3 4 [mf>]5 4 3 2 | 1 2 3 4 3 2 4 2 | [p]1/1*",
            "[mp<]1/8 2 3 2 [mf>]3 2 1 2 | 1 3 2 1 2 3 1 2 | [p]1/1*",
        ),
    },
    "widening": {
        "slurred": _IN_FOUR,
        "tongued": (
            "[mp<]1/8 2 1 3 1 4 1 5 | [mf>]6 4 5 3 4 2 3 2 | [p]1/1*",
            "[mp<]1/8 2 1 3 1 3 2 4 | [mf>]5 3 4 2 3 1 3 2 | [p]1/1*",
            "[mp<]1/8 2 1 2 1 2 3 2 | [mf>]3 2 1 2 3 1 3 2 | [p]1/1*",
        ),
    },
    "lean": {
        "slurred": _IN_THREE,
        "tongued": (
            "[mp]4/8 3 2 1 [mf>]6 5 | 4/2 3/4 | [p]1/2.*",
            "[mp>]4/8 3 2 1 4 3 | 4/2 3/4 | [p]1/2.*",
        ),
    },
}
# What shows that a note leans, or is tongued long.
LONG = "tenuto"
# The values of so many sighs of two notes: quick where they fill bars, else the last one broad, its first note the longer one.
_SIGHS = {2: "2 4 2 4", 4: "8 8 8 8 8 8 2 4", 6: "8 8 8 8 8 8 8 8 8 8 8 8"}
_BAR = Fraction(3, 4)


def tongued_close(shape: str, sketch: str) -> Phrase[Degree]:
    """Return a sketch with every note long, of leaning ones the first of two."""
    *line, home = notes(degrees(sketch))
    every = 2 if shape == "lean" else 1
    return (*(note if i % every else replace(note, articulations=(LONG,)) for i, note in enumerate(line)), home)


def tongued_sighs(line: Phrase[Degree]) -> Phrase[Degree]:
    """Return the leaning notes of a line and their answers once more, to be tongued, up to the highest, home, and softer."""
    pairs = [pair for pair in pairwise(notes(line)) if LONG in pair[0].articulations]
    values = [value(text) for text in _SIGHS[len(pairs)].split()]
    sung = [Note(note.pitch, length) for note, length in zip((note for pair in pairs for note in pair), values, strict=True)]
    longer = tuple(replace(note, articulations=(LONG,)) if not i % 2 else note for i, note in enumerate(sung))
    return (*_leant(longer), Note(Degree(0), _BAR, dynamic="p", hairpin=".", breath=True))


def _leant(sighs: Phrase[Degree]) -> Phrase[Degree]:
    """Return sighs that are softer and softer, from the highest one on, which is the loudest if it is not the first."""
    places = [note.pitch.index for note in notes(sighs)]
    top = places.index(max(places))
    return on(on(sighs, 0, dynamic="mp"), top, dynamic="mf", hairpin=">") if top else on(sighs, 0, dynamic="mp", hairpin=">")
