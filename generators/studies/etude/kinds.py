"""Kinds of tune: each sets its meter, upbeats, rhythms with their slurs, moves, tempo, loudness and close."""

from dataclasses import dataclass

from generators.phrase.bars import Meter

# Everything in this table is our choice, from the common stock of the trade, without a source. A rhythm is one bar of values:
# `(` and `)` slur, `>` is an accent; what stands twice is drawn twice. Dots come of the kind's short values.


@dataclass(frozen=True, slots=True)
class TuneKind:
    """A kind of tune."""

    name: str
    meter: Meter
    tempo: tuple[int, int]
    """Quarters a minute, the slowest and the quickest."""
    upbeats: dict[str, float]
    """What may stand before the first bar, and how often."""
    bars: tuple[str, ...]
    others: tuple[str, ...]
    """Rhythms of its middle."""
    closes: tuple[str, ...]
    """What stands in the last bar of a phrase before its long note."""
    broad: tuple[str, ...]
    """Rhythms that lead to a close."""
    leads: tuple[str, ...]
    """What may lead from the close of a middle back to the first idea."""
    moves: dict[int, float]
    """How often a line repeats a note, steps, skips a third and so on, by steps of the staff."""
    span: tuple[int, int]
    """How many notes of the scale it goes over."""
    dynamics: tuple[str, str, str]
    """Of its beginning, of a middle that is softer or louder, and of its height."""
    aim: str
    minor: bool = False
    """Whether it is best in minor."""
    slows: bool = False
    """Whether its end slows."""
    lofty: bool = False
    """Whether it lies rather high, and its middle no lower."""
    rests: float = 0.0
    """How often a phrase closes on a short note and a rest."""
    bold: bool = False
    """Whether it ends high and loud."""
    loud: bool = False
    """Whether it ends loud for beginners too."""
    chordal: float = 0.0
    """What a note outside its chord costs more than elsewhere."""
    carries: bool = False
    """Whether slurs of its middle go over a bar line."""
    slurred: bool = False
    """Whether every two bars of it have a slur."""
    smooth: bool = False
    """Whether its eighths go by step."""
    spice: float = 0.0
    """How often a tune of it has neighbours outside the key."""
    short: tuple[str, ...] = ()
    """The values that are struck short where no slur has them."""
    swings: bool = False
    """Whether its first beats are never struck short."""
    walk: int = 0
    """The quarters a minute under which it loses its step, however slow a beginner's scales are; 0 for what is sung."""
    pair: tuple[str, str] = ("", "")
    """Two bars that its closing phrases have: two against three."""


_COMMON, _WALTZ, _TWO, _SIX = Meter(4, 4), Meter(3, 4), Meter(2, 4), Meter(6, 8)
_SINGING = {0: 0.19, 1: 0.61, 2: 0.13, 3: 0.045, 4: 0.025, 5: 0.02, 7: 0.01}
_MARCHING = {0: 0.18, 1: 0.55, 2: 0.15, 3: 0.07, 4: 0.03, 5: 0.03, 7: 0.01}
_CALLING = {0: 0.18, 1: 0.19, 2: 0.3, 3: 0.2, 4: 0.09, 5: 0.03, 7: 0.02}
_SKIPPING = {0: 0.04, 1: 0.55, 2: 0.22, 3: 0.09, 4: 0.05, 5: 0.03, 7: 0.02}
_DANCING = {0: 0.15, 1: 0.57, 2: 0.16, 3: 0.06, 4: 0.03, 5: 0.02, 7: 0.02}

TUNE_KINDS = {
    row.name: row
    for row in (
        TuneKind(
            "song",
            _COMMON,
            (84, 104),
            {"4": 0.65, "8( 8)": 0.2, "": 0.15},
            (
                "4 4 4 4",
                "4 4 4( 4)",
                "4( 4) 4 4",
                "4.( 8) 4 4",
                "4.( 8) 4( 4)",
                "4( 8 8) 4 4",
                "2 4 4",
                "2( 4 4)",
                "4. 8 2",
                "2 4. 8",
                "4. 8 4 4",
                "4 2 4",
                "4 4 2",
            ),
            (
                "2 4( 4)",
                "4( 4 4) 4",
                "8( 8 8 8) 4 4",
                "4.( 8) 4.( 8)",
                "2.( 4)",
                "2.( 8 8)",
                "4 8( 8) 8( 8) 4",
                "2 2",
                "4( 8 8 8 8) 4",
            ),
            ("", "4 4", "4( 4)", "4.( 8)"),
            ("4 4 4( 4)", "4.( 8) 4 4", "4 8( 8) 4 4", "8( 8) 4 4( 4)", "4( 4) 4. 8", "4 4 4. 8"),
            ("8( 8)", "4"),
            _SINGING,
            (9, 11),
            ("mp", "p", "f"),
            "for a tune that could have words, and sing each phrase to its last note",
            spice=0.15,
            carries=True,
            smooth=True,
            slurred=True,
            slows=True,
            lofty=True,
        ),
        TuneKind(
            "hymn",
            _COMMON,
            (76, 92),
            {"4": 0.8, "": 0.2},
            (
                "4 4 4 4",
                "4 4 4( 4)",
                "2 4 4",
                "4 4 2",
                "4. 8 4 4",
                "2( 4) 4",
                "4 4 4. 8",
                "4( 4) 4 4",
                "2 4. 8",
                "4. 8 2",
                "4 8( 8) 4 4",
            ),
            ("2 2", "4( 4) 4( 4)", "2 4( 4)", "2.( 4)", "4. 8 2", "4( 4 4) 4", "4.( 8) 4 4"),
            ("", "4", "4 4", "4( 4)"),
            ("4 4 4 4", "4 4 4( 4)", "2 4 4", "4 8( 8) 4 4"),
            ("4", "8( 8)"),
            {0: 0.1, 1: 0.67, 2: 0.17, 3: 0.06},
            (9, 10),
            ("mf", "mp", "f"),
            "for chords that are not there: every note is full to its end, and the breath takes no time from the next",
            carries=True,
            smooth=True,
            slows=True,
            lofty=True,
        ),
        TuneKind(
            "march",
            _TWO,
            (104, 116),
            {"8": 0.6, "16 16": 0.15, "": 0.25},
            (
                "8. 16 4",
                "8. 16 8 8",
                "8. 16 8. 16",
                "8 8 8. 16",
                "4 8 8",
                "8 8 4",
                "4 8. 16",
                "4. 8",
                "8 16 16 8 8",
                "8. 16 16 16 8",
                "8 16 16 4",
            ),
            ("4.( 8)", "8( 8 8 8)", "4( 4)", "8( 8) 4", "8( 8) 8 8", "16( 16 16 16) 4"),
            ("", "4", "8 8"),
            ("8 8 8 8", "8( 8) 8 8", "8. 16 8 8", "4 8 8", "8( 8) 8. 16", "8 16 16 8 8"),
            ("8( 8)", "8 8"),
            _MARCHING,
            (10, 13),
            ("mf", "mp", "ff"),
            "for a step that never hurries: short notes are as steady as the long ones",
            spice=0.25,
            short=("8", "16"),
            rests=0.5,
            bold=True,
            loud=True,
            walk=80,
        ),
        TuneKind(
            "waltz",
            _WALTZ,
            (132, 160),
            {"4": 0.65, "8( 8)": 0.15, "": 0.2},
            (
                "2( 4)",
                "4 4 4",
                "4. 8 4",
                "2 4",
                "4( 8 8) 4",
                "4.( 8) 4",
                "4( 4) 4",
                "2 8( 8)",
                "4 8( 8) 4",
                "4 4 8( 8)",
                "8( 8) 4 4",
                "4. 8 8( 8)",
                "4 2",
            ),
            ("8( 8 8 8) 4", "2.", "4( 4 4)", "8( 8) 4 4", "2( 4)", "8( 8 8 8 8 8)", "4 2", "4. 8 4"),
            ("", "4"),
            ("4 4 4", "8( 8) 4 4", "4( 4) 4", "4 4 8( 8)", "8( 8 8 8) 4", "4. 8 8( 8)"),
            ("4", "8( 8)"),
            _DANCING,
            (10, 13),
            ("mp", "p", "f"),
            "for one beat in a bar: the first note swings, the others are light",
            spice=0.4,
            short=("4",),
            swings=True,
            carries=True,
            walk=84,
        ),
        TuneKind(
            "gigue",
            _SIX,
            (150, 174),
            {"8": 0.75, "8( 8 8)": 0.05, "": 0.2},
            (
                "4( 8) 4( 8)",
                "4 8 8 8 8",
                "4 8 8( 8 8)",
                "8( 8) 8 4 8",
                "4( 8) 8 8 8",
                "4 8 4 8",
                "8 8 8 4 8",
                "8. 16 8 4 8",
                "4 8 8. 16 8",
                "4. 8. 16 8",
                "8. 16 8 8 8 8",
            ),
            ("4.( 4 8)", "8( 8 8) 4 8", "4( 8) 8( 8 8)", "4. 8 8 8", "8( 8 8) 4( 8)", "4 8 4.", "8( 8 8 8 8 8)"),
            ("", "4 8", "8 8 8"),
            ("4 8 8( 8 8)", "8( 8) 8 4 8", "8( 8 8) 4 8", "8 8 8 8( 8 8)", "8 8 8 4 8"),
            ("8 8 8", "8( 8 8)"),
            _SKIPPING,
            (10, 13),
            ("mf", "mp", "f"),
            "for two beats in a bar, each a long and a short that skip and never limp",
            spice=0.25,
            short=("8",),
            carries=True,
            bold=True,
        ),
        TuneKind(
            "fanfare",
            _COMMON,
            (104, 120),
            {"8 8": 0.35, "4": 0.3, "8. 16": 0.1, "": 0.25},
            (
                "4.> 8 4 4",
                "4> 8. 16 4 4",
                "2> 8. 16 4",
                "8. 16 4> 4 4",
                "4.> 8 8. 16 4",
                "4> 8 8 4 4",
                "2> 4 4",
                "4> 8 16 16 4 4",
            ),
            ("4. 8 4. 8", "2 8. 16 4", "8. 16 8. 16 2", "4. 8 2", "4 4 8. 16 4", "2 4. 8", "4.( 8) 4 4"),
            ("", "4", "4 8 8", "4. 8"),
            ("4 4 4 4", "4> 8 8 4 4", "2> 4 4", "4 8 8 4 4"),
            ("8 8", "4"),
            _CALLING,
            (10, 13),
            ("f", "mf", "ff"),
            "for a call that is heard across a square: repeated notes alike, leaps straight to the middle of the note",
            short=("8", "16"),
            rests=0.4,
            bold=True,
            loud=True,
            chordal=3.0,
            walk=80,
        ),
        TuneKind(
            "lament",
            _WALTZ,
            (60, 72),
            {"4": 0.4, "8( 8)": 0.3, "": 0.3},
            (
                "2( 4)",
                "4( 4 4)",
                "4.( 8 4)",
                "4( 8 8 4)",
                "2 4",
                "4. 8 4",
                "4. 8( 8 8)",
                "4 8( 8) 4",
                "8( 8) 4 4",
                "2 8. 16",
                "4 2",
            ),
            ("2.", "4( 8 8 8 8)", "2( 8 8)", "4. 8( 8 8)", "4.( 8 4)", "8( 8 8 8) 4"),
            ("", "4"),
            ("4( 4 4)", "4. 8 4", "4( 8 8) 4", "4 8( 8) 4", "4 4. 8"),
            ("4", "8( 8)"),
            _SINGING,
            (8, 11),
            ("mp", "p", "f"),
            "for the weight of each first beat, and for the sound that goes on when the line falls",
            spice=0.2,
            carries=True,
            minor=True,
            smooth=True,
            slurred=True,
            slows=True,
        ),
        TuneKind(
            "scherzo",
            _WALTZ,
            (152, 176),
            {"4": 0.6, "8( 8)": 0.15, "": 0.25},
            ("4 4 4", "8( 8) 4 4", "4 8 8 4", "4 8( 8) 4", "8 8 8 8 4", "2 4", "4 4 8( 8)", "4 2", "8 8 4 4"),
            ("4( 4) 4", "2( 4)", "4( 4 4)", "8( 8 8 8 8 8)", "8( 8 8 8) 4", "4 8( 8 8 8)", "8( 8) 8( 8) 4"),
            ("", "4"),
            ("4 4 4", "8( 8) 4 4", "4 8( 8) 4", "8( 8 8 8) 4", "4 8 8 8 8"),
            ("8 8", "4"),
            _DANCING,
            (10, 13),
            ("p", "mp", "f"),
            "for short notes that bounce, soft as they are, and at the end for the two against three",
            spice=0.4,
            short=("4", "8"),
            rests=0.5,
            bold=True,
            pair=("4> 4 4>", "4 4> 4"),
            walk=84,
        ),
        TuneKind(
            "dance",
            _TWO,
            (92, 108),
            {"8": 0.6, "16( 16)": 0.15, "": 0.25},
            (
                "8 8 8 8",
                "8( 8) 8 8",
                "8 8 4",
                "4 8 8",
                "8 16( 16) 8 8",
                "16( 16 16 16) 8 8",
                "8( 8) 4",
                "8. 16 8 8",
                "8 8 16( 16) 8",
                "8 4 8",
                "4. 8",
                "16( 16) 8 4",
            ),
            ("4( 4)", "8( 8 8 8)", "4.( 8)", "8 16( 16) 4", "8 4 8", "16( 16 16 16) 4"),
            ("", "4", "8( 8)"),
            ("8 8 8 8", "16( 16 16 16) 8 8", "8( 8) 8 8", "8 16( 16) 8 8", "8. 16 8 8"),
            ("8( 8)", "16( 16 16 16)"),
            _DANCING,
            (9, 13),
            ("mf", "mp", "f"),
            "for feet, not for lungs: light, even, and each beat where the last one promised it",
            spice=0.25,
            short=("8", "16"),
            rests=0.3,
            bold=True,
            walk=80,
        ),
    )
}
