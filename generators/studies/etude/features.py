"""Technical ideas that may run through a tune: what each changes of its kind."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from generators.chance import Dice
from generators.studies.etude.kinds import TuneKind
from generators.studies.etude.rhythm import duration, rhythm

# By how much a tune does a thing oftener or more seldom than its kind, at the most: our choice.
_TEMPER = 6.0
# What a leap is, and by how much more seldom it comes in all tunes together: our choice.
_LEAP, _SELDOM = 3, 1.35
# What a kind hardly ever does: our choice.
_HARDLY = 0.05
# How a beginner's line moves, and the values that he reads: our choice.
_FIRST_MOVES = {0: 0.08, 1: 0.7, 2: 0.2, 3: 0.015, 4: 0.005}
_QUARTER = Fraction(1, 4)
_FIRST_VALUES = re.compile(r"(?!4 2 4)((2\.|2|4|8 8)( |$))*")


@dataclass(frozen=True, slots=True)
class Feature:
    """A technical idea: how it weighs the moves of a line, where the tune lies, and rhythms of its own."""

    aim: str
    moves: dict[int, float]
    """By how much each move comes oftener or more seldom."""
    height: float = 0.0
    """Where the tune lies: 1 at the top of the range, -1 at its bottom, 0 anywhere."""
    strokes: str = ""
    """How every bar is played: slurred, tongued, or as its kind has it."""
    foreign: tuple[str, ...] = ()
    """The kinds that it does not suit, which have it where they are asked for."""


# The kinds that live by their slurs, and those that live by their tonguing high up: our choice, as all that follows.
_SUNG, _CALLED = ("song", "hymn", "lament"), ("fanfare", "march")
FEATURES = {
    "leaps": Feature("Leaps land in the middle of the note.", {1: 0.5, 3: 2.2, 4: 2.5, 5: 3.0, 7: 3.0}),
    "scales": Feature("Steps are all alike, up and down.", {0: 0.5, 1: 2.0, 2: 0.5, 3: 0.6}),
    "arpeggios": Feature("Notes of a chord ring into one another.", {0: 0.6, 1: 0.4, 2: 2.2, 3: 2.2}),
    "tonguing": Feature("Notes struck again are as clear as the first.", {0: 3.5}, strokes="tongued", foreign=_SUNG),
    "slurs": Feature("Slurs go by air alone, wide ones too.", {0: 0.3, 3: 1.6, 4: 1.6}, strokes="slurred", foreign=_CALLED),
    "high": Feature("High notes are no louder than the low ones.", {}, height=1.0),
    "low": Feature("Low notes are as full as the high ones.", {}, height=-1.0, foreign=_CALLED),
}


def featured(kind: TuneKind, name: str) -> TuneKind:
    """Return a kind with a technical idea running through it; as it is without one."""
    if not name:
        return kind
    return _weighed(kind, FEATURES[name].moves)


def for_beginners(kind: TuneKind) -> TuneKind:
    """Return a kind as a beginner plays it: by step, in halves, quarters and pairs of eighths, and at one speed.

    He slurs nothing but those pairs, in kinds that sing, so that what is alike is slurred alike.
    """
    bars, others, closes, broad, leads = (
        _in_pairs(texts, kind.carries) for texts in (kind.bars, kind.others, kind.closes, kind.broad, kind.leads)
    )
    plain = " ".join(["4"] * kind.meter.beats)
    # A phrase ends on a half or longer, so that there is time to breathe: where a bar has no more than that there is no upbeat.
    landing = [text for text in closes if 2 * duration(rhythm(text)) <= kind.meter.bar - 2 * _QUARTER]
    upbeats = kind.upbeats if kind.meter.bar > 2 * _QUARTER else {"": 1.0}
    return replace(
        kind,
        upbeats={text: share for old, share in upbeats.items() for text in _in_pairs([old], kind.carries)},
        bars=tuple(dict.fromkeys((*bars, plain))),
        others=(*others, plain),
        closes=tuple(landing) or ("",),
        broad=(*broad, plain),
        leads=leads,
        moves=_FIRST_MOVES,
        smooth=True,
        slows=False,
        bold=False,
        carries=False,
        slurred=False,
        spice=0.0,
        pair=("", ""),
    )


def _in_pairs(texts: Iterable[str], slurred: bool) -> tuple[str, ...]:
    """Return the rhythms that have eighths in pairs alone and nothing quicker, or dotted but a half."""
    plain = (re.sub("[()>]", "", text) for text in texts)
    found = dict.fromkeys(text for text in plain if _FIRST_VALUES.fullmatch(text))
    return tuple(text.replace("8 8", "8( 8)") if slurred else text for text in found)


def tempered(kind: TuneKind, dice: Dice) -> TuneKind:
    """Return a kind as one tune of it is: some repeat more, some leap more."""
    factors = {steps: _TEMPER ** (2 * dice.real() - (_SELDOM if steps >= _LEAP else 1)) for steps in kind.moves}
    # What a kind hardly ever strikes again no tune of it does oftener.
    return _weighed(kind, factors | ({0: min(1.0, factors[0])} if kind.moves[0] < _HARDLY else {}))


def _weighed(kind: TuneKind, factors: Mapping[int, float]) -> TuneKind:
    weighed = {steps: share * factors.get(steps, 1.0) for steps, share in kind.moves.items()}
    whole = sum(weighed.values())
    return replace(kind, moves={steps: share / whole for steps, share in weighed.items()})
