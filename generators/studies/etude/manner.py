"""The manner of a tune: what all of its phrases have in common, drawn once."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from generators.chance import Dice
from generators.studies.etude.endings import Endings, endings
from generators.studies.etude.forms import PhrasePlan, TuneForm
from generators.studies.etude.kinds import TuneKind
from generators.studies.etude.rhythm import BarRhythm, duration, known, rhythm, stroke_values
from generators.studies.etude.tune import Setup

# What a note outside the chord costs more on a first beat, in one tune more than in another: our choice.
_STRICT = (0.0, 0.0, 2.0, 6.0)
# How often the first idea begins high and falls: our choice.
_HIGH = 0.6
# The degrees that its first two bars state, in their order: our choice.
_HEADS = ((0, 2), (2, 0))
# Between which shares of a tune its highest note stands where that is late, and where it is early, and how often it is; in
# which bars of a phrase, counted from 0; how many beats it lasts at the least, and of three eighths: our choice.
_LATE, _EARLY, _EARLIER, _CRESTS, _BROAD, _THREE = (0.6, 0.85), (0.1, 0.55), 0.45, (1, 2), Fraction(3, 2), Fraction(3, 8)
# How high its middle begins, is at its height, and ends: over its first idea, or under it.
_ASIDE = ((0.65, 0.9, 0.5), (0.65, 0.9, 0.5), (0.1, 0.4, 0.25))
# Whether a call ends with a leap, from tune to tune: our choice.
_LEAPING = (0, 2, 2)
# How often a tune of major that does not end high comes down to its last note by step: our choice.
_FALLING = 0.7
# How often the middles of a tune lead back to its first idea: our choice.
_RETURNS = 0.6
# How much longer the long one of a dotted pair is.
_PAIRED = 3
# How often another idea goes on as the first one does, and how often it comes to its close so: our choice.
_LIKE, _CLOSES_LIKE = 0.8, 0.75
# How many ideas a tune has beside its first one.
_OTHERS = 2
# How many rhythms a theme is drawn from, some perhaps alike.
_FEW = (2, 2, 3, 4, 6, 9)
# A tune of so many phrases rests between its sections, a beginner's of fewer: our choice.
_MANY, _FIRST_MANY = 6, 4
# How much more often a tune has rhythms of one note more or less than of another, and of one value less, at the most: our
# choice.
_BUSY, _BUSIER, _EVENER = 1.0, 1.25, 1.0
# The degrees on which the phrases of a tune close, any of these, the same in all of it: our choice.
_FIRM = {"perfect": (0,), "arrival": (0,), "phrygian": (4, 1)}
_ASKING, _RESTING, _TURNED = ((4,), (4, 1), (4, 1), (1,)), ((2,), (2, 4)), ((2,), (2,), (0,), (5,))
# How much more often one tune than another moves bars, and changes rhythms that have been heard: our choice.
_MOVING, _FRESH = (0.15, 0.25, 0.4), (0.0, 0.0, 0.0, 0.6)
# How often each half of a phrase has its own upbeat and breath, where there is one, from tune to tune: our choice.
_HALVED = (0.0, 0.0, 0.0, 0.15)
# How often an idea's second bar runs on into the third; how much chance there is in which rhythms contrast, and how few
# they may be: our choice.
_RUNNING, _EITHER, _PAIR = 0.9, 1.5, 2
# How spare of rhythms a tune is; how many rhythms lead to its closes at the most: all from
# tune to tune, our choice.
_SPARE, _LED_TO = (0.2, 0.6, 1.0), (1, 1, 2, 3)


@dataclass(frozen=True, slots=True)
class Theme:
    """An idea: its two bars `x` and `y`, and what leads to a close."""

    bars: dict[str, BarRhythm]
    broad: tuple[BarRhythm, ...]


@dataclass(frozen=True, slots=True)
class Manner:
    """What all phrases of a tune have in common."""

    setup: Setup
    upbeat: BarRhythm
    themes: tuple[Theme, ...]
    endings: Endings
    returns: bool
    """Whether its middles do lead back."""
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
    climax: PhrasePlan
    """The phrase that alone reaches the highest note."""
    crest: int
    """The bar of it that begins with that note, counted from 0."""
    broad: BarRhythm
    """The rhythm of that bar."""
    wide: tuple[BarRhythm, ...]
    """The rhythms of few notes with which a tune broadens."""
    spiced: bool
    """Whether it has neighbours outside the key."""
    head: tuple[int, int]
    """The degree that its first bar begins with, and the other one that its first two bars state."""
    said: float
    """Where in what is left of them that one stands, as a share of its places."""
    aside: tuple[float, float, float]
    """How high its middle begins, is at its height, and ends."""
    called: int
    """From which of the ways to end a call its own are: 2 for a leap alone."""
    falls: bool
    """Whether it comes down to its last note by step."""


def drawn_manner(setup: Setup, form: TuneForm, dice: Dice) -> Manner:
    """Return the manner of a tune."""
    kind = setup.kind
    upbeats = {text: share for text, share in kind.upbeats.items() if all(s.value >= setup.shortest for s in rhythm(text))}
    upbeat = rhythm(dice.weighted(upbeats)) if not form.repeated else ()
    room = kind.meter.bar - duration(upbeat)
    many = len(form.phrases) >= (_FIRST_MANY if setup.beginner else _MANY)
    rested = tuple(a for a, b in pairwise(form.phrases) if a.section != b.section and many)
    # What is varied to its end has to go beyond its theme.
    early = not (setup.beginner or form.phrases[-1].ornamented) and dice.chance(_EARLIER)
    halved = setup.winded or setup.beginner
    climax, crest = dice.pick(heights(len(form.phrases), free=not kind.pair[0], halved=halved, early=early))
    return Manner(
        setup,
        upbeat,
        _themes(setup, dice),
        endings(kind, room, setup.shortest),
        dice.chance(_RETURNS) and not setup.beginner,
        form.phrases[-1],
        rested,
        _goals(dice),
        dice.pick(_HALVED),
        dice.pick(_MOVING),
        0.0 if setup.beginner or kind.chordal else dice.pick(_FRESH),
        dice.pick(_STRICT),
        dice.chance(_HIGH),
        form.phrases[climax],
        crest,
        dice.pick(crests(setup)),
        _wide(setup),
        setup.chromatic and dice.chance(kind.spice),
        dice.pick(_HEADS),
        dice.real(),
        dice.pick(_ASIDE[: 2 if kind.lofty or kind.bold else 3]),
        dice.pick(_LEAPING),
        not (kind.bold or setup.beginner) and setup.home.mode == "major" and dice.chance(_FALLING),
    )


def _goals(dice: Dice) -> dict[str, tuple[int, ...]]:
    asking = dice.pick(_ASKING)
    drawn = {"half": asking, "away": asking, "back": asking, "imperfect": dice.pick(_RESTING), "deceptive": dice.pick(_TURNED)}
    return _FIRM | drawn


def heights(many: int, *, free: bool, halved: bool, early: bool = False) -> list[tuple[int, int]]:
    """Return the phrases, and the bars of each, where the height of so many phrases may stand: in its last too if free.

    There it stands as early as it can, for the way home is long. Early in a tune it stands in no first phrase, which comes
    again, and after two bars, which may answer one another.
    """
    bars = [(phrase, bar, Fraction(4 * phrase + bar, 4 * many)) for phrase in range(many) for bar in _CRESTS[halved:]]
    before = [(phrase, bar) for phrase, bar, share in bars if early and phrase and bar > 1 and _EARLY[0] <= share < _EARLY[1]]
    late = [(phrase, bar) for phrase, bar, share in bars if _LATE[0] <= share <= _LATE[1]]
    able = [one for one in before or late if one[0] < many - 1 or one[1] == _CRESTS[halved]]
    return [one for one in able if free or one[0] < many - 1] or able


def _wide(setup: Setup) -> tuple[BarRhythm, ...]:
    """Return the rhythms of a kind that have the fewest notes, two or three; of one that does not sing, none of its middle."""
    kind = setup.kind
    every = known((*kind.broad, *(kind.others if kind.carries else kind.bars)), setup.shortest, syncopes=setup.syncopes)
    rhythms = [one for one in every if len(one) > 1] or list(every)
    least = min(map(len, rhythms))
    return tuple(one for one in rhythms if len(one) == least)


def crests(setup: Setup) -> list[BarRhythm]:
    """Return the rhythms that begin with a broad note and go on."""
    kind = setup.kind
    every = known((*kind.bars, *kind.others), setup.shortest, syncopes=setup.syncopes)
    rhythms = [one for one in every if len(one) > 1 + setup.beginner] or every
    if setup.beginner:
        return list(rhythms)
    least = _THREE if kind.meter.beat == _THREE else _BROAD * kind.meter.beat
    longest = max(one[0].value for one in rhythms)
    return [one for one in rhythms if one[0].value >= min(least, longest)]


def _themes(setup: Setup, dice: Dice) -> tuple[Theme, ...]:
    kind = setup.kind
    own, other = (known(texts, setup.shortest, syncopes=setup.syncopes) for texts in (kind.bars, (*kind.others, *kind.bars)))
    broad = known(kind.broad, setup.shortest)
    spare = dice.pick(_SPARE)
    few = _few(own, dice)
    dotted = kind.chordal and not setup.beginner and not any(map(_dotted, few))
    made = [_theme((*few, *(one for one in own if dotted and _dotted(one))), broad, kind, spare, dice)]
    for _ in range(_OTHERS):
        theme = _theme(_contrasting(other, made, dice), broad, kind, spare, dice)
        # It may go on, and come to its close, as the first idea does.
        theme = replace(theme, bars=theme.bars | {"y": made[0].bars[dice.pick("xy")]}) if dice.chance(_LIKE) else theme
        alike = not setup.beginner and dice.chance(_CLOSES_LIKE)
        made.append(replace(theme, broad=made[0].broad) if alike else theme)
    return tuple(made)


def _few(rhythms: Sequence[BarRhythm], dice: Dice) -> tuple[BarRhythm, ...]:
    """Return some of the rhythms of a kind: a tune has few, with rather long or short notes, rather alike or not."""
    busy, even = _BUSY * (2 * dice.real() - _BUSIER), _EVENER * dice.real()
    order = sorted(rhythms, key=lambda one: dice.real() + busy * len(one) + even * len(set(stroke_values(one))))
    return tuple(dict.fromkeys(order))[: dice.pick(_FEW)]


def _contrasting(rhythms: Sequence[BarRhythm], before: Sequence[Theme], dice: Dice) -> tuple[BarRhythm, ...]:
    """Return the rhythms that no idea before has: those with rather more notes than the first one, or with rather fewer."""
    heard = {stroke_values(bar) for theme in before for bar in theme.bars.values()}
    new = tuple(dict.fromkeys(one for one in rhythms if stroke_values(one) not in heard)) or tuple(rhythms)
    busy = sum(map(len, before[0].bars.values())) / len(before[0].bars)
    order = sorted(new, key=lambda one: abs(len(one) - busy) + _EITHER * dice.real(), reverse=True)
    return tuple(order[: max(_PAIR, len(order) // 2)])


def _theme(texts: Sequence[BarRhythm], broad: Sequence[BarRhythm], kind: TuneKind, spare: float, dice: Dice) -> Theme:
    """Return a theme of some rhythms, whose first bar most often runs on; a spare one comes to its close in them too.

    A call begins dotted.
    """
    bar, called = kind.meter.bar, kind.chordal > 0
    first = dice.pick([one for one in texts if not called or _dotted(one)] or texts)
    others = [one for one in texts if stroke_values(one) != stroke_values(first)]
    onward = [one for one in others if runs(one, bar) or not dice.chance(_RUNNING)] or others
    second = dice.pick(onward or texts)
    led = [one for one in (first, second) if len(one) > 2] if dice.chance(spare) else []
    return Theme({"x": first, "y": second}, tuple(led or (dice.pick(broad) for _ in range(dice.pick(_LED_TO)))))


def _dotted(one: BarRhythm) -> bool:
    """Tell whether a rhythm has a dotted note and its short one."""
    return any(a.value == _PAIRED * b.value for a, b in pairwise(one))


def runs(one: BarRhythm, bar: Fraction) -> bool:
    """Tell whether a bar goes on into the next: it ends on a note no longer than a third of it."""
    return not one[-1].rest and 3 * one[-1].value <= bar
