"""A tune: phrases of one kind in a form, their rhythm from two-bar ideas, their line over a ground, some of it said again."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from itertools import pairwise
from math import pi, sin

from generators.chance import Dice
from generators.phrase.bars import Meter
from generators.studies.etude.contour import burden
from generators.studies.etude.forms import PhrasePlan, TuneForm
from generators.studies.etude.harmony import ARRIVALS, PIVOTS, PROGRESSIONS, RETURNS, ChordSound, Tone, ground
from generators.studies.etude.kinds import TuneKind
from generators.studies.etude.melody import BAR, BEAT, OFF, LineCompass, NoteSlot, drawn
from generators.studies.etude.rhythm import (
    BarRhythm,
    RhythmNote,
    closes,
    duration,
    evens,
    final,
    known,
    ornamented,
    rhythm,
    shortened,
    strong,
)
from generators.theory.key import Key

_QUARTER, _EIGHTH = Fraction(1, 4), Fraction(1, 8)
# The degrees on which a phrase may close, 0 the tonic.
_GOALS = {
    "half": (4, 1),
    "away": (4, 1),
    "phrygian": (4, 1),
    "back": (4, 1),
    "imperfect": (2, 4),
    "perfect": (0,),
    "deceptive": (0, 2),
    "arrival": (0, 2),
}
# How the four bars of a phrase are made of the two of an idea and a third rhythm; the fourth is a close.
_PATTERNS = {"xyx": 0.3, "xxy": 0.1, "xyy": 0.1, "xyz": 0.35, "xzy": 0.15}
# How often a half close of minor falls to the dominant, and in a kind that is best in minor: our choice.
_PHRYGIAN = (0.3, 0.8)
# How much it is worth that a bar answers another of its rhythm, and in a middle, which moves it from step to step.
_ECHO, _SEQUENCE = 0.5, 1.3
# How often the leading note comes before a full close; what a note outside the chord costs more in the first bar of all.
_LED, _STATED = 0.7, 2.0
# How high the last phrase of a bold tune lies.
_BOLD = (0.4, 0.75, 0.8)
# Where in a tune its highest notes are kept for, and how often they are: our choice.
_LATE, _PLANNED, _BELOW = (0.2, 0.3, 0.5, 0.7), 0.6, 3
_MOVED = ("xxx", "xyx")
# How many rhythms a theme is drawn from, some perhaps alike.
_FEW = (2, 3, 4, 6, 9)
# A tune of so many phrases rests between its sections: our choice.
_MANY = 6
# How much more often a tune has rhythms of one note more or less than of another, at the most: our choice.
_BUSY = 0.3
# What was said so many times again is ornamented so often when it comes once more: our choice.
_TWICE, _ORNAMENTED = 2, 0.9
# How many drafts of a phrase are drawn, and of one that says another again; the one with the least amiss goes on. Our choice.
_TRIES, _AGAIN = 4, 2
# Of so many notes in a row not all are of one value, if it can be helped; what each time costs that they are. Our choice.
_RUN, _EVEN = 8, 1.5
# How far a phrase lies higher or lower than its plan, and how far the middle of each half rises, in steps: our choice.
_LIFT, _ARCH = 1.5, 1.5
# The degrees before the last at a full close: the second or the leading note.
_LEADING = (1, 6)
_TONIC = (0, 2, 4)
_FULL, _OPEN = ("perfect", "arrival"), ("half", "away", "back")
# How often the questions of a tune may close on the second degree too, not on the fifth alone: our choice.
_EITHER = 0.75
# How many bars are said again at the most, in one tune more and in another fewer: our choice.
_KEPT = ((1,), (1, 2), (2,))
# How often each half of a phrase has its own upbeat and breath, where there is one, from tune to tune; how often a bold tune
# keeps its highest notes for its last phrase: our choice.
_HALVED, _HALF = (0.15, 0.45, 0.75), 0.35


@dataclass(frozen=True, slots=True)
class Setup:
    """What a tune is drawn for: its kind, home and the middle's key, its compass on the horn, and what the player reads."""

    kind: TuneKind
    home: Key
    middle: tuple[str, Key]
    compass: LineCompass
    shortest: Fraction
    chromatic: bool
    winded: bool = False
    """Whether four bars are too long for a breath."""


@dataclass(frozen=True, slots=True)
class TunePhrase:
    """Four bars with their notes."""

    plan: PhrasePlan
    upbeat: BarRhythm
    """What stands before its first bar line, in the last bar of the phrase before it."""
    bars: tuple[BarRhythm, ...]
    chords: tuple[tuple[ChordSound, ...], ...]
    line: tuple[Tone, ...]
    """The notes of upbeat and bars; rests have none."""
    halved: bool
    """Whether its halves have an upbeat and a breath each."""

    @property
    def strokes(self) -> BarRhythm:
        """Upbeat and bars in a row."""
        return (*self.upbeat, *(stroke for bar in self.bars for stroke in bar))


@dataclass(frozen=True, slots=True)
class Tune:
    """A whole tune."""

    kind: TuneKind
    form: TuneForm
    phrases: tuple[TunePhrase, ...]

    @property
    def upbeat(self) -> Fraction:
        """How long the notes before the first bar line last."""
        return duration(self.phrases[0].upbeat)

    @property
    def line(self) -> tuple[Tone, ...]:
        """All of its notes."""
        return tuple(tone for phrase in self.phrases for tone in phrase.line)


@dataclass(frozen=True, slots=True)
class _Theme:
    """An idea: its two bars, and what may follow them."""

    bars: dict[str, BarRhythm]
    others: tuple[BarRhythm, ...]


@dataclass(frozen=True, slots=True)
class _Manner:
    """What all phrases of a tune have in common."""

    setup: Setup
    upbeat: BarRhythm
    themes: tuple[_Theme, ...]
    closes: tuple[BarRhythm, ...]
    last: PhrasePlan
    rested: tuple[PhrasePlan, ...]
    """The phrases that end the sections of a long tune: a rest follows, where there is room."""
    asking: tuple[int, ...]
    """The degrees on which its questions close."""
    kept: tuple[int, ...]
    """How many bars a phrase says again at the most, any of these."""
    halving: float
    """How often each half of a phrase has its own upbeat and breath."""
    climax: PhrasePlan | None
    """The phrase that alone reaches the highest notes; None where any may."""


def composed(setup: Setup, form: TuneForm, dice: Dice) -> Tune | None:
    """Return a tune as the dice fall; None where one of its phrases finds no line that sings."""
    form = _varied(form, dice)
    manner = _manner(setup, form, dice)
    phrases: list[TunePhrase] = []
    for plan in form.phrases:
        tries = _TRIES if plan.like < 0 else _AGAIN
        drafts = [draft for _ in range(tries) if (draft := _written(plan, manner, phrases, dice)).line]
        if not drafts:
            return None
        phrases.append(min(drafts, key=partial(_amiss, before=phrases, crowns=plan is manner.climax)))
    return Tune(setup.kind, form, tuple(phrases))


def _varied(form: TuneForm, dice: Dice) -> TuneForm:
    """Return a form in which what has been said twice again is ornamented when it comes once more, most often."""
    plans = list(form.phrases)
    for place, plan in enumerate(form.phrases):
        said = sum(one.like == plan.like for one in form.phrases[:place])
        if plan.like >= 0 and said >= _TWICE and dice.chance(_ORNAMENTED):
            plans[place] = replace(plan, ornamented=True)
    return replace(form, phrases=tuple(plans))


def _amiss(phrase: TunePhrase, before: Sequence[TunePhrase], *, crowns: bool) -> float:
    """Return what is amiss with the line of a phrase, and with a rhythm that runs on in one value."""
    heard = (*(before[-1].strokes[-_RUN:] if before else ()), *phrase.strokes)
    return burden(_places(phrase), [_places(one) for one in before], crowns=crowns) + _EVEN * evens(heard, _RUN)


def _places(phrase: TunePhrase) -> list[int]:
    return [tone.place for tone in phrase.line]


def _manner(setup: Setup, form: TuneForm, dice: Dice) -> _Manner:
    kind = setup.kind
    upbeats = {text: share for text, share in kind.upbeats.items() if all(s.value >= setup.shortest for s in rhythm(text))}
    upbeat = rhythm(dice.weighted(upbeats)) if not form.repeated else ()
    own, other = (_few(known(texts, setup.shortest), dice) for texts in (kind.bars, (*kind.others, *kind.bars)))
    themes = (_theme(own, dice), _theme(other, dice), _theme(other, dice))
    ends = closes(kind, kind.meter.bar - duration(upbeat), setup.shortest)
    share = 1.0 if kind.bold and dice.chance(_HALF) else dice.pick(_LATE)
    late = form.phrases[round(share * (len(form.phrases) - 1))]
    rested = tuple(a for a, b in pairwise(form.phrases) if a.section != b.section) if len(form.phrases) >= _MANY else ()
    asking = _GOALS["half"][: 1 + dice.chance(_EITHER)]
    kept, halving = dice.pick(_KEPT), dice.pick(_HALVED)
    climax = late if dice.chance(_PLANNED) else None
    return _Manner(setup, upbeat, themes, ends, form.phrases[-1], rested, asking, kept, halving, climax)


def _few(rhythms: Sequence[BarRhythm], dice: Dice) -> tuple[BarRhythm, ...]:
    """Return some of the rhythms of a kind: a tune has few, and rather long or rather short notes."""
    busy = _BUSY * (2 * dice.real() - 1)
    order = sorted(rhythms, key=lambda one: dice.real() + busy * len(one))
    return tuple(dict.fromkeys(order))[: dice.pick(_FEW)]


def _theme(texts: Sequence[BarRhythm], dice: Dice) -> _Theme:
    first = dice.pick(texts)
    return _Theme({"x": first, "y": dice.pick([one for one in texts if one != first] or texts)}, tuple(texts))


def _written(plan: PhrasePlan, manner: _Manner, before: Sequence[TunePhrase], dice: Dice) -> TunePhrase:
    """Return a phrase after those before it; without a line where none sings."""
    source = before[plan.like] if plan.like >= 0 else None
    kept = min(plan.kept if source else 0, 2 if plan.ornamented else dice.pick(manner.kept))
    kept = min(kept, 1) if plan is manner.last and manner.setup.kind.pair[0] else kept
    halved = source.halved if source and kept > 1 else bool(manner.upbeat) and dice.chance(manner.halving)
    halved = manner.setup.winded or (halved and not (plan is manner.last and manner.setup.kind.pair[0]))
    bars, sources = _rhythm(plan, manner, source, kept, halved, dice)
    chords = _chords(plan, manner.setup, dice)
    chords = (*source.chords[:kept], *chords[kept:]) if source else chords
    fixed, lift = _fixed(manner.upbeat, sources, source), _LIFT * (2 * dice.real() - 1)
    led = dice.chance(_LED) or manner.setup.home.mode == "minor"
    compass = manner.setup.compass
    low = replace(compass, high=compass.high - _BELOW) if manner.climax and plan is not manner.climax else compass
    after = before[-1].line[-1] if before else None
    ways = (
        _slots(plan, manner, bars, chords, fixed, lift, halved, opening=not before, led=way) for way in (led, False)[not led :]
    )
    line = next((found for slots in ways if (found := drawn(list(slots), low, after, dice))), ())
    return TunePhrase(plan, manner.upbeat, bars, chords, line, halved)


def _rhythm(
    plan: PhrasePlan, manner: _Manner, source: TunePhrase | None, kept: int, halved: bool, dice: Dice
) -> tuple[tuple[BarRhythm, ...], list[list[int]]]:
    """Return the bars of a phrase and, bar by bar, the place in its source's bar that each note comes from, -1 for none."""
    theme, kind = manner.themes[plan.theme], manner.setup.kind
    firm = [one for one in manner.closes if strong(one, kind.meter) or plan.cadence in _OPEN]
    close = dice.pick(firm or manner.closes)
    close = shortened(close) if dice.chance(kind.rests) or plan in manner.rested else close
    close = final(kind.meter, kind.meter.bar - duration(manner.upbeat)) if plan is manner.last else close
    said = theme.bars | {"z": dice.pick(theme.others)}
    pattern = dice.pick(_MOVED) if plan.theme and plan.like < 0 else dice.weighted(_PATTERNS)
    bars = [*(said[letter] for letter in pattern), close]
    if plan is manner.last and kind.pair[0]:
        bars[1:3] = map(rhythm, kind.pair)
    if halved:
        bars[1] = (*dice.pick(manner.closes), *manner.upbeat)
    places = [[-1] * len(bar) for bar in bars]
    for number in range(kept if source else 0):
        old = source.bars[number] if source else ()
        if plan.ornamented and not (halved and number == 1):
            bars[number], made = ornamented(old, manner.setup.shortest, any("(" in text for text in kind.bars))
            places[number] = list(made)
        else:
            bars[number], places[number] = old, list(range(len(old)))
    return tuple(bars), places


def _chords(plan: PhrasePlan, setup: Setup, dice: Dice) -> tuple[tuple[ChordSound, ...], ...]:
    relation, key = setup.middle
    if plan.area == "home":
        cadence = plan.cadence
        if setup.home.mode == "minor" and cadence == "half" and dice.chance(_PHRYGIAN[setup.kind.minor]):
            cadence = "phrygian"
        return ground(dice.pick(PROGRESSIONS[cadence]), setup.home, setup.home, setup.chromatic)
    ends = RETURNS if plan.area == "back" else ARRIVALS
    return ground(f"{dice.pick(PIVOTS[relation])} | {dice.pick(ends)}", key, setup.home, setup.chromatic)


def _fixed(upbeat: BarRhythm, sources: Sequence[Sequence[int]], source: TunePhrase | None) -> list[int]:
    """Return the staff place of each stroke of a phrase that is said again, 0 for one that is not."""
    if source is None:
        return [0] * (len(upbeat) + sum(map(len, sources)))
    heard = iter(source.line)
    known_places = [0 if stroke.rest else next(heard).place for stroke in source.strokes]
    start, found = len(upbeat), known_places[: len(upbeat)]
    for bar, places in zip(source.bars, sources, strict=True):
        found += [known_places[start + place] if place >= 0 else 0 for place in places]
        start += len(bar)
    return found


def _slots(
    plan: PhrasePlan,
    manner: _Manner,
    bars: Sequence[BarRhythm],
    chords: Sequence[Sequence[ChordSound]],
    fixed: Sequence[int],
    lift: float,
    halved: bool,
    *,
    opening: bool,
    led: bool,
) -> Iterator[NoteSlot]:
    """Yield the slots of a phrase, its upbeat first."""
    meter, compass = manner.setup.kind.meter, manner.setup.compass
    # Every value of a tune is a sum of halves, quarters, eighths ...: in floating point it is exact, and quicker.
    bar, early_by = float(meter.bar), float(duration(manner.upbeat))
    onset = -early_by
    whole = (*manner.upbeat, *(stroke for bar in bars for stroke in bar))
    twins = _answered(whole, list(_twins(manner.upbeat, bars)))
    last = max(i for i, stroke in enumerate(whole) if not stroke.rest)
    early = len(manner.upbeat)
    middle = len(bars[0]) + len(bars[1])
    for place, stroke in enumerate(whole):
        if not stroke.rest:
            share = (onset + bar) / (5 * bar)
            arch = _ARCH * sin(pi * ((onset + early_by) % (2 * bar) / (2 * bar)))
            yield NoteSlot(
                _sound(chords, onset, meter),
                _weight(onset, meter),
                stroke.value >= min(2 * meter.beat, _QUARTER + _EIGHTH),
                stroke.value < _EIGHTH,
                _goal(_height(plan, manner), share, compass, manner.setup.home) + lift + arch,
                -1 if fixed[place] else twins[place],
                _SEQUENCE if plan.theme and plan.like < 0 else _ECHO,
                fixed[place],
                _ends(plan, manner, place, last, opening=opening and (place == early or (place == 0 and onset < 0)), led=led),
                place == 0 or (halved and place == middle),
                manner.setup.kind.chordal + _STATED * (opening and onset < bar),
                plan.ornamented and not fixed[place] and place > early,
                opening and 0 < place <= early + 2,
                place == 0 and onset < 0,
            )
        onset += float(stroke.value)


def _ends(plan: PhrasePlan, manner: _Manner, place: int, last: int, *, opening: bool, led: bool) -> tuple[int, ...]:
    """Return the degrees that a note may have where a tune begins and where a phrase closes; none are asked for elsewhere."""
    if place == last:
        return manner.asking if plan.cadence in _OPEN else _GOALS[plan.cadence]
    if opening:
        return _TONIC
    return _LEADING[led:] if place == last - 1 and plan.cadence in _FULL else ()


def _answered(strokes: Sequence[RhythmNote], twins: Sequence[int]) -> list[int]:
    """Return the answered notes counted without the rests."""
    counts = [0]
    for stroke in strokes:
        counts.append(counts[-1] + (not stroke.rest))
    return [counts[twin] if twin >= 0 else -1 for twin in twins]


def _twins(upbeat: BarRhythm, bars: Sequence[BarRhythm]) -> Iterator[int]:
    """Yield for every stroke the note that it answers: that in its place in the last bar of the same rhythm."""
    yield from (-1 for _ in upbeat)
    starts = [len(upbeat)]
    for bar in bars:
        starts.append(starts[-1] + len(bar))
    for number, bar in enumerate(bars):
        same = [other for other in range(number) if bars[other] == bar]
        yield from ((starts[same[-1]] + i if same and i else -1) for i in range(len(bar)))


def _sound(chords: Sequence[Sequence[ChordSound]], onset: float, meter: Meter) -> ChordSound:
    """Return the chord at a moment; an upbeat has that of the bar it leads to."""
    if onset < 0:
        return chords[0][0]
    number, within = divmod(onset, float(meter.bar))
    turn = float(meter.bar / 2 if meter.beats != 3 else meter.bar * Fraction(2, 3))
    return chords[min(int(number), len(chords) - 1)][-1 if within >= turn else 0]


def _weight(onset: float, meter: Meter) -> int:
    within = onset % float(meter.bar)
    return BAR if within == 0 else BEAT if within % float(meter.beat) == 0 else OFF


def _height(plan: PhrasePlan, manner: _Manner) -> tuple[float, float, float]:
    """Return how high a phrase lies: the last of a bold tune ends high."""
    return _BOLD if plan is manner.last and manner.setup.kind.bold else plan.height


def _goal(height: tuple[float, float, float], share: float, compass: LineCompass, home: Key) -> float:
    """Return the staff place near which a phrase goes by at a share of its way; seven places are twelve half-steps."""
    first, top, last = height
    at = first + (top - first) * share / 0.55 if share < 0.55 else top + (last - top) * (share - 0.55) / 0.45
    tonic = home.degree(0)
    return tonic.place + (compass.low + at * (compass.high - compass.low) - tonic.midi) * 7 / 12
