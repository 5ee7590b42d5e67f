"""The slots of a phrase: every note before it has a pitch, with all that is asked of it."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from math import pi, sin
from typing import NamedTuple

from generators.chance import Dice
from generators.studies.etude.forms import PhrasePlan
from generators.studies.etude.harmony import NUMERALS, ChordSound, tones
from generators.studies.etude.manner import Manner
from generators.studies.etude.melody import BAR, BEAT, OFF, LineCompass, NoteSlot
from generators.studies.etude.rhythm import RhythmNote, stroke_values, turn
from generators.studies.etude.sketch import Sketch
from generators.studies.etude.tune import Setup
from generators.theory.key import Key

_QUARTER, _EIGHTH, _SHORT = Fraction(1, 4), Fraction(1, 8), 0.125
# How many half-steps the highest notes lie above what other phrases reach, by how wide a tune is: our choice.
_BELOW = {12: 3, 9: 2, 7: 1}
# How many steps the highest tonic may be under the highest note that a bold tune ends on.
_REACHED = 7
# How much it is worth that a bar answers another of its rhythm, and that it is the other one moved, in a middle most of all.
_ECHO, _MOVED, _MOVED_ASIDE = 0.5, 2.4, 4.5
# What a note outside the chord costs more in the first bar of all.
_STATED = 2.0
# What one costs more in the idea of a call; the bars of a phrase from which on its close is near.
_CALL, _NEAR_CLOSE = 25.0, 3
# The bars that state the tonic and the third.
_STATING = 2
# How high a phrase lies that reaches the highest notes, the last of a bold tune, that of any other, and one that sinks.
_CROWNED = (0.45, 0.95, 0.4)
_BOLD, _SETTLING, _SINKING = (0.4, 0.75, 0.85), (0.55, 0.8, 0.1), (0.85, 0.75, 0.25)
# How far the middle of each half rises, in steps: our choice.
_ARCH = 0.7
# The degrees before the last at a full close: the second or the leading note; a call may leap up to its last note, or does.
_LEADING, _CALLED = (1, 6), (1, 6, 4)
FULL_CLOSES = ("perfect", "arrival")
# The degrees by which the dominant is heard before the last bar of all.
DOMINANT = (1, 4, 6)
# The degrees on which half a beginner's phrase asks.
_ASKING = (1, 2, 4)
# Those of his first upbeat and of any other: never the fourth, which nobody sings out of the air. Our choice.
_SUNG_FIRST, _SUNG_ON = (0, 2, 4), (0, 1, 2, 4, 5)
# Moves in steps of the staff.
_STEP, _SKIP, _OCTAVE = 1, 2, 7


class _Placed(NamedTuple):
    """A stroke of a phrase and where it stands."""

    stroke: RhythmNote
    onset: float
    """Counted from the first bar line."""
    unit: int
    """Its bar, 0 for the upbeat."""
    place: int
    """Which stroke of its bar it is."""


class _Ground(NamedTuple):
    """What the notes of a phrase have in common."""

    bar: float
    beat: float
    turn: float
    """Where in a bar its second chord begins."""
    counts: dict[tuple[int, int], int]
    last: int
    """The stroke that it closes on."""
    half: int
    """The stroke that its first half closes on."""
    second: int
    """The stroke that its second half begins with; -1 where a breath is not there."""
    upbeat: float
    height: tuple[float, float, float]
    long: float
    """How long a note is that is held, at the least."""
    home: tuple[int, int]
    """The staff place and the MIDI number of its tonic."""
    tied: list[bool]


def note_slots(sketch: Sketch, manner: Manner, *, led: bool) -> Iterator[NoteSlot]:
    """Yield the slots of a phrase, its upbeat first; the leading note may be asked for before a full close."""
    placed = list(_placed(sketch, manner))
    heard = [i for i, one in enumerate(placed) if not one.stroke.rest]
    meter, tonic = manner.setup.kind.meter, manner.setup.home.degree(0)
    second = sum(len(bar.strokes) for bar in sketch.bars[:2]) if sketch.halved else -1
    ground = _Ground(
        float(meter.bar),
        float(meter.beat),
        float(turn(meter)),
        _counted(placed),
        heard[-1 - sketch.leads],
        max((i for i in heard if i < second), default=-1),
        second,
        sum(stroke_values(manner.upbeat), 0.0),
        _height(sketch, manner),
        float(min(2 * meter.beat, _QUARTER + _EIGHTH)),
        (tonic.place, tonic.midi),
        _tied(placed),
    )
    slots = [_slot(i, placed, ground, sketch, manner, led=led) for i in heard]
    yield from _stating(slots, [placed[i] for i in heard], manner) if sketch.opening else slots


def _stating(slots: list[NoteSlot], placed: Sequence[_Placed], manner: Manner) -> list[NoteSlot]:
    """Return the slots of a first phrase, whose first two bars state the tonic and the third: one at once, then the other."""
    first, other = manner.head
    begun = next(i for i, one in enumerate(placed) if one.onset >= 0)
    later = [i for i, one in enumerate(placed) if i > begun and one.unit <= _STATING and not (slots[i].quick or slots[i].ends)]
    chordal = [i for i in later if other in NUMERALS[slots[i].sound.chord]] or later
    firm = [i for i in chordal if slots[i].weight] or chordal
    made = [slot._replace(ends=(first,)) if i == begun else slot for i, slot in enumerate(slots)]
    if firm:
        place = firm[int(manner.said * len(firm))]
        made[place] = made[place]._replace(ends=(other,))
    return made


def _placed(sketch: Sketch, manner: Manner) -> Iterator[_Placed]:
    # Every value of a tune is a sum of halves, quarters, eighths ...: in floating point it is exact, and quicker.
    onset = -sum(stroke_values(manner.upbeat), 0.0)
    for unit, bar in enumerate((sketch.upbeat, *sketch.bars)):
        for place, stroke in enumerate(bar.strokes):
            yield _Placed(stroke, onset, unit, place)
            onset += stroke.size


def _counted(placed: Sequence[_Placed]) -> dict[tuple[int, int], int]:
    """Return for the strokes that sound, by bar and place, which note of the phrase each is."""
    sounding = [one for one in placed if not one.stroke.rest]
    return {(one.unit, one.place): i for i, one in enumerate(sounding)}


def _slot(
    i: int,
    placed: Sequence[_Placed],
    ground: _Ground,
    sketch: Sketch,
    manner: Manner,
    *,
    led: bool,
) -> NoteSlot:
    one, setup, last = placed[i], manner.setup, ground.last
    compass, plan, size = setup.compass, sketch.plan, placed[i].stroke.size
    bar, early = ground.bar, len(manner.upbeat)
    unit = sketch.bars[one.unit - 1] if one.unit else sketch.upbeat
    fixed, ends = _asked(i, one, ground, sketch, manner, led=led)
    half = (one.onset + ground.upbeat) % (2 * bar) / (2 * bar)
    goal = _goal(ground.height, (one.onset + bar) / (5 * bar), compass, ground.home)
    model, came, twin = _answered(one, sketch, ground.counts)
    return NoteSlot(
        _sound(sketch.chords, one.onset, ground),
        _weight(one.onset, ground),
        size >= ground.long,
        size < _SHORT or i > last or (setup.kind.smooth and size == _SHORT),
        goal + sketch.lift + _ARCH * sin(pi * half),
        model,
        came,
        -1 if fixed or model else twin,
        unit.way,
        bool(unit.way) and one.place == 0 and not (one.unit == 1 and early),
        (_MOVED_ASIDE if plan.theme else _MOVED) if unit.way else _ECHO,
        fixed,
        ends,
        i in (0, last + 1, ground.second),
        _strict(one, sketch, manner, bar),
        plan.ornamented and not fixed and i > early,
        sketch.opening and 0 < i <= early + 2,
        i == 0 and one.onset < 0,
        sketch.toward if i > last else 0,
        ground.tied[i],
        plan is manner.climax and one.unit == manner.crest + 1 and one.place == 0,
        manner.spiced and i < last - 1 and _passing(placed, i, ground),
        one.unit >= _NEAR_CLOSE and i <= last,
        _reach(one, setup, opening=sketch.opening),
    )


def _asked(i: int, one: _Placed, ground: _Ground, sketch: Sketch, manner: Manner, *, led: bool) -> tuple[int, tuple[int, ...]]:
    """Return the staff place that a note has, 0 for any, and the degrees that it may have, none for any."""
    unit = sketch.bars[one.unit - 1] if one.unit else sketch.upbeat
    setup, last, closing = manner.setup, ground.last, sketch.plan is manner.last
    fixed = unit.fixed[one.place] if unit.fixed else 0
    ends = _ends(sketch.plan, manner, last - i, led=led) if i <= last else ()
    ends = _first_ends(i, one, ground, ends, opening=sketch.opening) if setup.beginner and not fixed else ends
    if closing and one.unit == _NEAR_CLOSE and not (ends or fixed or setup.beginner):
        ends = _dominant(one.onset, sketch, ground)
    if i == last and closing and setup.kind.bold:
        fixed = _summit(lowered(setup.compass), setup.home)
    return fixed, ends


def _strict(one: _Placed, sketch: Sketch, manner: Manner, bar: float) -> float:
    """Return what a note outside its chord costs more than elsewhere: in the idea of a call it is hardly ever there."""
    kind = manner.setup.kind
    calls = _CALL * (kind.chordal > 0 and one.unit <= _STATING and not manner.setup.beginner)
    return kind.chordal + calls + _STATED * (sketch.opening and one.onset < bar) + manner.strict * (one.onset % bar == 0)


def _first_ends(i: int, one: _Placed, ground: _Ground, ends: tuple[int, ...], *, opening: bool) -> tuple[int, ...]:
    """Return the degrees that a note of a beginner's may have: an upbeat is easy to sing, half a phrase asks."""
    if one.onset < 0:
        return _SUNG_FIRST if opening else _SUNG_ON
    if i == ground.second:
        return _SUNG_ON
    return _ASKING if i == ground.half else ends


def _reach(one: _Placed, setup: Setup, *, opening: bool) -> int:
    """Return how many steps the move to a note has at the most: of first notes, which are no quicker than quarters, a third.

    Within the first bar of all, which comes again as the fifth, they go by step.
    """
    if not setup.beginner or setup.shortest < _QUARTER:
        return _OCTAVE
    return _STEP if opening and one.unit == 1 and one.place else _SKIP


def _tied(placed: Sequence[_Placed]) -> list[bool]:
    """Tell of each stroke whether a slur goes to it."""
    found, under = list[bool](), False
    for one in placed:
        found.append(under)
        under = one.stroke.opens or (under and not (one.stroke.closes or one.stroke.rest))
    return found


def _passing(placed: Sequence[_Placed], i: int, ground: _Ground) -> bool:
    """Tell whether a stroke is short, off the beat and goes on to another."""
    short = placed[i].stroke.size <= _SHORT and _weight(placed[i].onset, ground) == OFF
    return short and 0 < i < len(placed) - 1 and not placed[i + 1].stroke.rest


def _answered(one: _Placed, sketch: Sketch, counts: dict[tuple[int, int], int]) -> tuple[int, int, int]:
    """Return the note of another phrase that a note answers and the move into it, and the one of its own phrase."""
    unit = sketch.bars[one.unit - 1] if one.unit else sketch.upbeat
    if unit.model:
        before = [place for place in (*(sketch.upbeat.model if one.unit == 1 else ()), *unit.model[: one.place]) if place]
        return unit.model[one.place], unit.model[one.place] - before[-1] if before else 0, -1
    if unit.of >= 0:
        place = unit.sources[one.place] if unit.sources else one.place
        return 0, 0, counts.get((unit.of + 1, place), -1) if one.place or unit.way else -1
    return 0, 0, -1


def _ends(plan: PhrasePlan, manner: Manner, left: int, *, led: bool) -> tuple[int, ...]:
    """Return the degrees that a note may have so many before the close of a phrase; none are asked for elsewhere."""
    if left == 0:
        return manner.goals[plan.cadence]
    # A lament sinks to its last note, past its leading note or not.
    laments = plan is manner.last and manner.setup.kind.minor
    if left == 2 and laments and led:
        return _LEADING[:1]
    if left > 1 or plan.cadence not in FULL_CLOSES:
        return ()
    if plan is manner.last and manner.setup.kind.bold and manner.setup.kind.chordal and manner.setup.home.mode == "major":
        return _CALLED[manner.called :]
    sinks = laments and not led
    return _LEADING[:1] if sinks or (plan is manner.last and manner.falls) else _LEADING[led:]


def _sound(chords: Sequence[Sequence[ChordSound]], onset: float, ground: _Ground) -> ChordSound:
    """Return the chord at a moment; an upbeat has that of the bar it leads to."""
    if onset < 0:
        return chords[0][0]
    number, within = divmod(onset, ground.bar)
    return chords[min(int(number), len(chords) - 1)][-1 if within >= ground.turn else 0]


def _dominant(onset: float, sketch: Sketch, ground: _Ground) -> tuple[int, ...]:
    """Return the degrees of a note on a strong beat before the last bar of all, where the dominant is under it; else any."""
    strong = onset % ground.bar in (0, ground.turn) and _sound(sketch.chords, onset, ground).chord == "V"
    return DOMINANT if strong else ()


def _weight(onset: float, ground: _Ground) -> int:
    within = onset % ground.bar
    return BAR if within == 0 else BEAT if within % ground.beat == 0 else OFF


def _height(sketch: Sketch, manner: Manner) -> tuple[float, float, float]:
    """Return how high a phrase lies: the last of a bold tune ends high, of any other low."""
    if sketch.plan is manner.last:
        return _BOLD if manner.setup.kind.bold else _SETTLING
    if sketch.plan is manner.climax:
        return _CROWNED
    if sketch.plan.theme:
        return manner.aside
    return _SINKING if manner.high else sketch.plan.height


def _goal(height: tuple[float, float, float], share: float, compass: LineCompass, home: tuple[int, int]) -> float:
    """Return the staff place near which a phrase goes by at a share of its way; seven places are twelve half-steps."""
    first, top, last = height
    at = first + (top - first) * share / 0.55 if share < 0.55 else top + (last - top) * (share - 0.55) / 0.45
    place, midi = home
    return place + (compass.low + at * (compass.high - compass.low) - midi) * 7 / 12


def _summit(compass: LineCompass, home: Key) -> int:
    """Return the staff place of the highest tonic of a compass; 0 where it has none near its top."""
    tonic = home.degree(0)
    under = (compass.high - tonic.midi) % 12
    high = compass.high - under
    return tonic.place + 7 * ((high - tonic.midi) // 12) if high >= compass.low and under < _REACHED else 0


def lowered(compass: LineCompass) -> LineCompass:
    """Return the compass of the phrases that do not reach the highest notes of a tune."""
    wide = compass.high - compass.low
    return replace(compass, high=compass.high - next((by for least, by in _BELOW.items() if wide >= least), 0))


def crowned(slots: Sequence[NoteSlot], compass: LineCompass, dice: Dice) -> list[NoteSlot]:
    """Return the slots of the phrase that alone reaches the highest notes, one of them where its crest is, if there is any."""
    most = lowered(compass).high
    place = next((i for i, slot in enumerate(slots) if slot.crest), -1)
    high = [tone for tone in tones(slots[place].sound) if most < tone.midi and not tone.bends]
    beyond = {tone.place for tone in high if tone.midi > compass.high}
    over = [tone for tone in high if tone.place not in beyond]
    firm = [tone for tone in over if tone.degree != _LEADING[-1]] or over
    found = [tone for tone in firm if tone.chordal] or firm
    if place < 0 or not found:
        return [slot._replace(crest=False) for slot in slots]
    top = dice.pick(found)
    return [slot._replace(fixed=top.place, ends=(top.degree,)) if slot.crest else slot for slot in slots]
