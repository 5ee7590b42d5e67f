"""The manner of a tune: what all of its phrases have in common, drawn once."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from generators.chance import Dice
from generators.studies.etude.forms import PhrasePlan, TuneForm
from generators.studies.etude.kinds import TuneKind
from generators.studies.etude.rhythm import BarRhythm, closes, duration, known, rhythm
from generators.studies.etude.tune import Setup

# What a note outside the chord costs more on a first beat, in one tune more than in another: our choice.
_STRICT = (0.0, 0.0, 2.0, 6.0)
# How often the first idea begins high and falls: our choice.
_HIGH = 0.4
# Where in a tune its highest notes are kept for, and how often they are: our choice.
_LATE, _PLANNED = (0.5, 0.65, 0.75), 0.8
# How often a bold tune keeps them for its last phrase: our choice.
_LAST = 0.4
# How many rhythms a theme is drawn from, some perhaps alike.
_FEW = (2, 3, 4, 6, 9, 12)
# A tune of so many phrases rests between its sections: our choice.
_MANY = 6
# How much more often a tune has rhythms of one note more or less than of another, at the most: our choice.
_BUSY = 0.6
# The degrees on which the phrases of a tune close, any of these, the same in all of it: our choice.
_FIRM = {"perfect": (0,), "arrival": (0,), "phrygian": (4, 1)}
_ASKING, _RESTING, _TURNED = ((4,), (1,), (4, 1), (4, 1)), ((2,), (2,), (2, 4)), ((0,), (2,), (5,))
# How much more often one tune than another moves bars, and changes rhythms that have been heard: our choice.
_MOVING, _FRESH = (0.3, 0.6, 1.0), (0.0, 0.0, 0.2, 0.6)
# How often each half of a phrase has its own upbeat and breath, where there is one, from tune to tune: our choice.
_HALVED = (0.0, 0.0, 0.0, 0.15)
# How often a middle takes up a rhythm of the first idea, and an idea's second bar runs on into the third: our choice.
_TAKEN, _RUNNING = 0.4, 0.9


@dataclass(frozen=True, slots=True)
class Theme:
    """An idea: its two bars `x` and `y`, what else may follow them, and what leads to a close."""

    bars: dict[str, BarRhythm]
    others: tuple[BarRhythm, ...]
    broad: tuple[BarRhythm, ...]


@dataclass(frozen=True, slots=True)
class Manner:
    """What all phrases of a tune have in common."""

    setup: Setup
    upbeat: BarRhythm
    themes: tuple[Theme, ...]
    closes: tuple[BarRhythm, ...]
    leads: tuple[BarRhythm, ...]
    """What may lead back to the first idea."""
    last: PhrasePlan
    rested: tuple[PhrasePlan, ...]
    """The phrases that end the sections of a long tune: a rest follows, where there is room."""
    goals: dict[str, tuple[int, ...]]
    """The degrees on which its phrases close, by their cadence; 0 the tonic."""
    halving: float
    """How often each half of a phrase has its own upbeat and breath."""
    moving: float
    """By how much more often a bar is moved than said again or new, for each that is."""
    fresh: float
    """How often a rhythm that has been heard before is changed."""
    strict: float
    """What a note outside the chord costs more on a first beat."""
    high: bool
    """Whether its first idea begins high and falls."""
    climax: PhrasePlan | None
    """The phrase that alone reaches the highest notes; None where any may."""


def drawn_manner(setup: Setup, form: TuneForm, dice: Dice) -> Manner:
    """Return the manner of a tune."""
    kind = setup.kind
    upbeats = {text: share for text, share in kind.upbeats.items() if all(s.value >= setup.shortest for s in rhythm(text))}
    upbeat = rhythm(dice.weighted(upbeats)) if not form.repeated else ()
    room = kind.meter.bar - duration(upbeat)
    rested = tuple(a for a, b in pairwise(form.phrases) if a.section != b.section) if len(form.phrases) >= _MANY else ()
    return Manner(
        setup,
        upbeat,
        _themes(setup, dice),
        closes(kind, room, setup.shortest),
        tuple(one for one in known(kind.leads, setup.shortest) if 2 * duration(one) <= room),
        form.phrases[-1],
        rested,
        _goals(dice),
        dice.pick(_HALVED),
        dice.pick(_MOVING),
        dice.pick(_FRESH),
        dice.pick(_STRICT),
        dice.chance(_HIGH),
        _climax(kind, form, dice),
    )


def _goals(dice: Dice) -> dict[str, tuple[int, ...]]:
    asking = dice.pick(_ASKING)
    drawn = {"half": asking, "away": asking, "back": asking, "imperfect": dice.pick(_RESTING), "deceptive": dice.pick(_TURNED)}
    return _FIRM | drawn


def _climax(kind: TuneKind, form: TuneForm, dice: Dice) -> PhrasePlan | None:
    share = 1.0 if kind.bold and dice.chance(_LAST) else dice.pick(_LATE)
    return form.phrases[round(share * (len(form.phrases) - 1))] if dice.chance(_PLANNED) else None


def _themes(setup: Setup, dice: Dice) -> tuple[Theme, ...]:
    kind = setup.kind
    own, other = (_few(known(texts, setup.shortest), dice) for texts in (kind.bars, (*kind.others, *kind.bars)))
    broad = known(kind.broad, setup.shortest)
    first = _theme(own, broad, kind.meter.bar, None, dice)
    return (first, *(_theme(other, broad, kind.meter.bar, first, dice) for _ in range(2)))


def _few(rhythms: Sequence[BarRhythm], dice: Dice) -> tuple[BarRhythm, ...]:
    """Return some of the rhythms of a kind: a tune has few, and rather long or rather short notes."""
    busy = _BUSY * (2 * dice.real() - 1)
    order = sorted(rhythms, key=lambda one: dice.real() + busy * len(one))
    return tuple(dict.fromkeys(order))[: dice.pick(_FEW)]


def _theme(texts: Sequence[BarRhythm], broad: tuple[BarRhythm, ...], bar: Fraction, taken: Theme | None, dice: Dice) -> Theme:
    """Return a theme of some rhythms; a later one may take up a bar of the first."""
    first = taken.bars[dice.pick("xy")] if taken and dice.chance(_TAKEN) else dice.pick(texts)
    onward = [one for one in texts if one != first and (runs(one, bar) or not dice.chance(_RUNNING))]
    return Theme({"x": first, "y": dice.pick(onward or texts)}, tuple(texts), broad)


def runs(one: BarRhythm, bar: Fraction) -> bool:
    """Tell whether a bar goes on into the next: it ends on a note no longer than a third of it."""
    return not one[-1].rest and 3 * one[-1].value <= bar
