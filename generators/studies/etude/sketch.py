"""A phrase before it has a line: its bars, said again, moved or new, and the chords under them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import accumulate

from generators.chance import Dice
from generators.phrase.bars import Meter
from generators.studies.etude.course import Link, PhraseBar, drawn_course, linked
from generators.studies.etude.endings import Close, Endings
from generators.studies.etude.forms import PhrasePlan
from generators.studies.etude.harmony import ARRIVALS, PIVOTS, PROGRESSIONS, RETURNS, ChordSound, ground
from generators.studies.etude.manner import Manner
from generators.studies.etude.rhythm import (
    BarRhythm,
    ornamented,
    rhythm,
    stroke_values,
    turn,
    varied,
)
from generators.studies.etude.tune import Setup, TunePhrase

OPEN = ("half", "away", "back")
# How often a half close of minor falls to the dominant, and in a kind that is best in minor: our choice.
_PHRYGIAN = (0.3, 0.8)
# How far a phrase lies higher or lower than its plan, in steps: our choice.
_LIFT = 1.5
# The sections that may lead back into the next one.
_LEADING = ("B", "C")

# A rhythm heard so often may have one of its values changed when it comes again: our choice.
_WORN = 2
# How often a phrase that does not come home closes on a note after the bar line, and a last note gives way to a rest.
_WEAK, _RESTS = 0.85, 0.9
# How often a full close within a tune comes to its long note in the bar itself: our choice.
_SEVERAL = 0.8
# How often a long note that asks gives way to a rest: our choice.
_ASKED = 0.7

_Values = tuple[float, ...]
Chords = tuple[tuple[ChordSound, ...], ...]


@dataclass(frozen=True, slots=True)
class Sketch:
    """Four bars before they have a line."""

    plan: PhrasePlan
    upbeat: PhraseBar
    bars: tuple[PhraseBar, ...]
    chords: Chords
    halved: bool
    leads: int
    """How many notes after its close lead into the next phrase."""
    toward: int
    """The staff place that they lead to; 0 for none."""
    lift: float
    opening: bool
    """Whether it begins the tune."""


def sketched(plan: PhrasePlan, manner: Manner, before: Sequence[TunePhrase], dice: Dice) -> Sketch:
    """Return a phrase after those before it, without its line."""
    source = before[plan.like] if plan.like >= 0 else None
    course = drawn_course(
        plan.course, manner.moving, dice, literal=plan.ornamented, rising=plan is manner.last and manner.setup.kind.bold
    )
    paired = plan is manner.last is not manner.climax and bool(manner.setup.kind.pair[0])
    whole = paired or (plan is manner.climax and not manner.setup.winded)
    halved = not whole and _halved(manner, source, course, dice)
    bars: list[PhraseBar] = []
    heard = [values for one in before for values, _ in one.told]
    for number in range(len(course)):
        crest = plan is manner.climax and number == manner.crest and not paired
        bar = PhraseBar(manner.broad) if crest else _bar(number, course, plan, manner, source, bars, dice)
        # The close of a half keeps its long note, for a breath follows it; what returns begins as it was.
        kept = crest or (halved and number == 1) or (number == 0 and bool(bar.fixed or bar.model))
        bars.append(bar if kept else _freshened(bar, heard, manner, dice, contrasts=plan.theme > 0))
        heard.append(stroke_values(bars[-1].strokes))
    if paired:
        bars[1:] = [PhraseBar(rhythm(text)) for text in manner.setup.kind.pair]
    if halved and not bars[1].fixed:
        bars[1] = PhraseBar((*dice.pick(manner.endings.closes).strokes, *manner.upbeat))
    close, leads = _close(plan, manner, dice)
    literal = [bool(bar.fixed) for bar in bars]
    broad = plan is manner.last and not _turned(bars[-1].strokes, manner.setup.kind.meter)
    chords = _chords(plan, manner.setup, dice, broad=broad)
    said = tuple(source.chords[i] if source and again else chords[i] for i, again in enumerate(literal))
    return Sketch(
        plan,
        _upbeat(manner.upbeat, course[0], source),
        (*bars, PhraseBar(close)),
        (*said, *chords[len(said) :]),
        halved,
        leads,
        before[0].places[0] if leads else 0,
        _LIFT * (2 * dice.real() - 1),
        not before,
    )


def _halved(manner: Manner, source: TunePhrase | None, course: Sequence[Link], dice: Dice) -> bool:
    """Tell whether both halves of a phrase have an upbeat and a breath."""
    if source and course[1] == Link("2", 0):
        return source.halved
    return manner.setup.winded or (bool(manner.upbeat) and dice.chance(manner.halving))


def _bar(
    number: int,
    course: Sequence[Link],
    plan: PhrasePlan,
    manner: Manner,
    source: TunePhrase | None,
    made: Sequence[PhraseBar],
    dice: Dice,
) -> PhraseBar:
    """Return one of the first three bars of a phrase after those made before it."""
    link, of = course[number], linked(course, number)
    if of >= 0:
        return PhraseBar(made[of].strokes, of=of, way=link.way)
    if not link.figured or source is None:
        return PhraseBar(_rhythm(course, number, plan, manner, dice))
    bar, places = source.bars[int(link.name) - 1], source.barwise[int(link.name)]
    if link.way:
        return PhraseBar(bar, model=places, way=link.way)
    if plan.ornamented and not (source.halved and link.name == "2"):
        slurred = any("(" in text for text in manner.setup.kind.bars)
        divided, sources = ornamented(bar, manner.setup.shortest, slurred)
        if stroke_values(divided) == stroke_values(bar):
            divided, sources = varied(bar, manner.setup.shortest, dice)
        return PhraseBar(divided, _taken(places, sources))
    return PhraseBar(bar, places)


def _freshened(bar: PhraseBar, heard: Sequence[_Values], manner: Manner, dice: Dice, *, contrasts: bool) -> PhraseBar:
    """Return a bar with one of its values changed where its rhythm has been heard often; a middle keeps its own."""
    worn = heard.count(stroke_values(bar.strokes))
    if worn < _WORN or contrasts or not dice.chance(manner.fresh) or any(stroke.rest for stroke in bar.strokes):
        return bar
    strokes, sources = varied(bar.strokes, manner.setup.shortest, dice)
    return replace(bar, strokes=strokes, fixed=_taken(bar.fixed, sources), model=_taken(bar.model, sources), sources=sources)


def _taken(places: Sequence[int], sources: Sequence[int]) -> tuple[int, ...]:
    return tuple(places[source] if source >= 0 else 0 for source in sources) if places else ()


def _rhythm(course: Sequence[Link], number: int, plan: PhrasePlan, manner: Manner, dice: Dice) -> BarRhythm:
    theme, name = manner.themes[plan.theme], course[number].name
    if name == "w":
        return dice.pick(manner.wide)
    return theme.bars[name] if name in theme.bars else dice.pick(theme.broad)


def _upbeat(strokes: BarRhythm, first: Link, source: TunePhrase | None) -> PhraseBar:
    """Return the upbeat of a phrase, which belongs to its first bar."""
    if source is None or not first.figured:
        return PhraseBar(strokes)
    places = source.barwise[0]
    return PhraseBar(strokes, model=places, way=first.way) if first.way else PhraseBar(strokes, places)


def _close(plan: PhrasePlan, manner: Manner, dice: Dice) -> tuple[BarRhythm, int]:
    """Return the last bar of a phrase, and how many of its notes lead on into the next."""
    kind, ends = manner.setup.kind, manner.endings
    if plan is manner.last:
        return ends.last_rested if ends.last_rested and dice.chance(max(kind.rests, _RESTS)) else ends.last, 0
    leads = plan.section in _LEADING and plan.cadence in OPEN and not manner.setup.winded
    if leads and ends.leads and manner.returns:
        lead = dice.pick(ends.leads)
        return (*(lead.held_rested if plan in manner.rested else lead.held), *lead.strokes), len(lead.strokes)
    close = _inner(plan, manner, dice)
    return (_asked(close, ends, dice) if plan.cadence in OPEN else close.strokes), 0


def _asked(close: Close, ends: Endings, dice: Dice) -> BarRhythm:
    """Return a close that asks: on a note of half a bar or more, where the upbeat leaves room for one."""
    if close.asks:
        return close.rested if close.single and dice.chance(_ASKED) else close.strokes
    return dice.pick(ends.held) if ends.held else ends.last


def _inner(plan: PhrasePlan, manner: Manner, dice: Dice) -> Close:
    """Return the close of a phrase within a tune."""
    ends = manner.endings
    if plan in manner.rested:
        return ends.shortened[dice.pick(ends.giving)]
    firm = ends.several if ends.several and dice.chance(_SEVERAL) else ends.firm
    place = dice.pick(ends.weak if ends.weak and plan.cadence != "perfect" and dice.chance(_WEAK) else firm)
    shortens = ends.closes[place].single and dice.chance(manner.setup.kind.rests)
    return ends.shortened[place] if shortens else ends.closes[place]


def _turned(bar: BarRhythm, meter: Meter) -> bool:
    """Tell whether a note begins where the second chord of a bar does."""
    onsets = accumulate([0.0, *stroke_values(bar)])
    return any(onset == float(turn(meter)) and not stroke.rest for onset, stroke in zip(onsets, bar, strict=False))


def _chords(plan: PhrasePlan, setup: Setup, dice: Dice, *, broad: bool) -> Chords:
    """Return the chords of a phrase; in a broad close the dominant is under the whole bar before the last."""
    relation, key = setup.middle
    if plan.area == "home":
        cadence = plan.cadence
        if setup.home.mode == "minor" and cadence == "half" and dice.chance(_PHRYGIAN[setup.kind.minor]):
            cadence = "phrygian"
        known = _progressions(cadence, setup.kind.chordal > 0, setup.beginner, broad)
        return ground(dice.pick(known), setup.home, setup.home, setup.chromatic)
    ends = RETURNS if plan.area == "back" else ARRIVALS
    pivots = _called(PIVOTS[relation], setup.kind.chordal > 0, setup.beginner)
    return ground(f"{dice.pick(pivots)} | {dice.pick(ends)}", key, setup.home, setup.chromatic)


@cache
def _progressions(cadence: str, calls: bool, beginner: bool, broad: bool) -> tuple[str, ...]:
    """Return the progressions to a cadence, of a broad one with the dominant alone before its end.

    A beginner's halves ask over a chord that has a note to ask on.
    """
    known = [text for text in _called(PROGRESSIONS[cadence], calls, beginner) if not beginner or text.split(" | ")[1] != "IV"]
    return tuple(text for text in known if not broad or text.split(" | ")[2] == "V")


def _called(texts: tuple[str, ...], calls: bool, beginner: bool) -> tuple[str, ...]:
    """Return the progressions of a call, which begin on tonic and dominant alone, if there are any; else all of them."""
    called = tuple(text for text in texts if calls and set(text.split(" | ")[:2]) <= {"I", "V"})
    return texts if beginner else called or texts
