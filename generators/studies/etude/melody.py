"""The line of a phrase: the cheapest of many ways through its chords and rhythm, with a little chance at every note."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import log
from typing import NamedTuple

from generators.chance import Dice
from generators.studies.etude.harmony import ChordSound, Tone, neighbours, tones, tones_between

# Every cost in this file is our choice, without a source: set by ear against the tunes that came of it. Only their order means
# anything; NEVER is past any sum of the others.
NEVER = 1000.0
# Melodic intervals that sing: steps of the staff with the half-steps they may have.
SINGING = {0: (0,), 1: (1, 2), 2: (3, 4), 3: (5,), 4: (7,), 5: (8, 9), 7: (12,)}
OFF, BEAT, BAR = 0, 1, 2
# How many ways are followed at once; how much chance has to say; how strongly a line is drawn to its height.
_FOLLOWED, _CHANCE, _PULL = 9, 0.15, 0.14
# What a note outside the chord costs off the beat, on it and on the bar, and if it is long.
_OUTSIDE, _LONG = (0.5, 1.7, 4.0), 2.5
# What it costs to come straight back to a note, and to leave one that is foreign to home but by step; what it is worth that the
# leading note sounds over a dominant of minor, and that a tune begins with a leap up.
_BACK, _FOREIGN, _SHARP, _RISING = 0.8, 2.5, 0.7, 0.8
# What it costs to move a bar by so many steps the way that is meant, and otherwise; what each step costs by which notes that
# lead into a phrase stay from its first one.
_SHIFTED, _UNMOVED, _LEADS = {1: 0.0, 2: 0.0, 3: 0.7, 4: 1.4}, 8.0, 2.0
# What it costs that a minor line has both its sevenths within a few notes.
_CROSSED = 6.0
# What it costs to leave the seventh degree, come to from below, but by step up, and to strike two pairs in a row; what a
# neighbour outside the key is worth.
_HUNG, _PAIRED, _SPICE = 2.5, 1.8, 0.6
# What it costs to close on the note before.
_ARRIVED = 1.5
# What it costs to strike a note again on a beat.
_STRUCK = 0.2
_SEVENTH, _SIXTH, _FIFTH = 6, 5, 4
# What a leading note before a breath costs at the most that is not led on.
_HELD = 6.0
_FOURTH, _WIDE = 3, 5
# Past every MIDI number.
_MIDI = 128


class NoteSlot(NamedTuple):
    """A note before it has a pitch."""

    sound: ChordSound
    weight: int
    """Off the beat, on it, or on the first of the bar."""
    long: bool
    """Whether it is held: no dissonance rests there."""
    quick: bool
    """Whether it is too quick for a leap."""
    goal: float
    """The staff place near which the line goes by."""
    model: int = 0
    """The staff place of the note in another phrase that it answers; 0 for none."""
    came: int = 0
    """The move that led to that one."""
    twin: int = -1
    """The note, counted in its own phrase, that it answers."""
    way: int = 0
    """Whether its bar is another one moved up, 1, or down, -1."""
    begins: bool = False
    """Whether that bar begins with it: it is how far the bar is moved."""
    echo: float = 0.5
    """How much it is worth that its move is that of the note it answers."""
    fixed: int = 0
    """The staff place that it has, if it is said again; 0 for any."""
    ends: tuple[int, ...] = ()
    """The degrees that it may have; empty for any."""
    fresh: bool = False
    """Whether a breath comes before it."""
    strict: float = 0.0
    """What a note outside the chord costs more than elsewhere."""
    new: bool = False
    """Whether it is an ornament: it does not strike the note before it again."""
    rises: bool = False
    """Whether a tune is begun here, best by a leap up."""
    calls: bool = False
    """Whether it is an upbeat that a phrase begins with: the fifth is best."""
    toward: int = 0
    """The staff place that it leads to, if it leads into another phrase; 0 for none."""
    tied: bool = False
    """Whether a slur goes to it: it is another note than the one before."""
    crest: bool = False
    """Whether it is the highest note of the tune: the line rises to it."""
    spiced: bool = False
    """Whether it may be a neighbour outside the key."""
    near: bool = False
    """Whether a close is near: nothing falls by a sixth or more."""
    reach: int = 7
    """How many steps the move to it has at the most, where no breath comes before it."""


@dataclass(frozen=True, slots=True)
class LineCompass:
    """Where a line may move: its lowest and highest MIDI number, its widest leap in half-steps, what its moves cost."""

    low: int
    high: int
    leap: int
    signature: tuple[int, ...]
    """What home does to each step, from C to B."""
    moves: tuple[float, ...]
    """By steps of the staff, from an octave down to an octave up; NEVER for what it does not do."""
    gentle: bool = False
    """Whether it leaps as a beginner does."""


LineWay = tuple[float, tuple[Tone, ...]]
_Step = tuple[float, Tone, int]


def costs(shares: dict[int, float]) -> tuple[float, ...]:
    """Return what moves cost that are made so often: steps rather fall, leaps rather rise."""
    whole = {steps: -log(share / (2 if steps else 1)) for steps, share in shares.items() if share}
    return tuple(whole.get(abs(move), NEVER) + _leaning(move) for move in range(-7, 8))


def drawn(slots: Sequence[NoteSlot], compass: LineCompass, before: Tone | None, dice: Dice) -> tuple[Tone, ...]:
    """Return a line through the slots, after the last note of the phrase before; nothing where there is none that sings."""
    ways: list[LineWay] = [(0.0, ())]
    for slot in slots:
        offers = _offers(slot, compass, dice)
        reached: dict[int, list[_Step]] = {}
        # By the last two notes of a way.
        best: dict[int, LineWay] = {}
        for cost, path in ways:
            came = _came(path, before)
            last = came[-1] if came else None
            key = last.midi if last else 0
            if key not in reached:
                reached[key] = _steps(last, offers, slot, compass) if last else [(alone, tone, 0) for alone, tone in offers]
            after, base = _after(came, path, slot, gentle=compass.gentle), _MIDI * key if path else 0
            for step, tone, move in reached[key]:
                ends = base + tone.midi
                total = cost + step + after[move] + (_crossed(came) if tone.sinks else 0.0)
                if ends not in best or total < best[ends][0]:
                    best[ends] = total, (*path, tone)
        ways = sorted(best.values(), key=_cost)[:_FOLLOWED]
    return ways[0][1] if ways and ways[0][0] < NEVER / 2 else ()


def _cost(way: LineWay) -> float:
    return way[0]


def _came(path: tuple[Tone, ...], before: Tone | None) -> tuple[Tone, ...]:
    """Return the last five notes; the phrase before is heard but as its last note."""
    return path[-5:] if path else (before,) if before else ()


def _crossed(came: tuple[Tone, ...]) -> float:
    return _CROSSED * any(one.raised for one in came)


def _after(came: tuple[Tone, ...], path: tuple[Tone, ...], slot: NoteSlot, *, gentle: bool) -> dict[int, float]:
    """Return what each move costs after those before it: where no leap follows another, that much."""
    row = _wished(came, path, slot)
    leapt = gentle and len(came) > 1 and abs(came[-1].place - came[-2].place) >= _FOURTH
    return {move: NEVER if abs(move) >= _FOURTH else cost for move, cost in row.items()} if leapt else row


def _wished(came: tuple[Tone, ...], path: tuple[Tone, ...], slot: NoteSlot) -> dict[int, float]:
    """Return what each move costs after the one before, and where a note answers another, whose move is best."""
    if slot.fresh or len(came) < 2:
        row = _ANYWHERE
    else:
        swings, paired = len(came) > 2 and came[-3].place == came[-1].place, len(came) > 2 and came[-3].place == came[-2].place
        hung = came[-1].degree == _SEVENTH and came[-1].place != came[-2].place - 1
        row = _ONWARD[swings, paired, hung, came[-1].place - came[-2].place]
    if not came or not (slot.model or slot.twin >= 0):
        return row
    if slot.begins:
        level = came[-1].place - (slot.model or path[slot.twin].place)
        return {move: cost + _SHIFTED.get((level + move) * slot.way, _UNMOVED) for move, cost in row.items()}
    if slot.fresh or (slot.twin < 1 and not slot.model):
        return row
    answer = slot.came if slot.model else path[slot.twin].place - path[slot.twin - 1].place
    return {move: cost + (-slot.echo if move == answer else slot.echo / 3) for move, cost in row.items()}


def _offers(slot: NoteSlot, compass: LineCompass, dice: Dice) -> list[tuple[float, Tone]]:
    """Return the notes that a slot may have with what each costs by itself."""
    found = []
    for tone in tones(slot.sound) if slot.crest else tones_between(slot.sound, compass.low, compass.high):
        if (slot.fixed and tone.place != slot.fixed) or (slot.ends and tone.degree not in slot.ends):
            continue
        found.append((_alone(tone, slot) - _CHANCE * _luck(dice), tone))
    if slot.spiced and not slot.fixed:
        found += [
            (_alone(tone, slot) - _SPICE - _CHANCE * _luck(dice), tone)
            for tone in neighbours(slot.sound)
            if compass.low <= tone.midi < compass.high
        ]
    return found


def _luck(dice: Dice) -> float:
    """Return a draw of Gumbel's distribution: the best of ways that cost alike is then each as often."""
    return -log(-log((dice.real() + 1e-9) / (1 + 2e-9)))


def _alone(tone: Tone, slot: NoteSlot) -> float:
    outside = 0.0 if tone.chordal else slot.strict + _OUTSIDE[slot.weight] + (_LONG if slot.long else 0.0)
    resting = 6.0 if slot.long and tone.degree == _SEVENTH else 1.0 if slot.long and tone.degree == _SIXTH else 0.0
    resting -= 1.2 if slot.calls and tone.degree == _FIFTH else 0.0
    resting -= _SHARP if tone.raised and tone.chordal else 0.0
    resting += _HELD if slot.toward and (tone.raised or tone.bends) and slot.toward != tone.place + 1 else 0.0
    led = _LEADS * abs(abs(tone.place - slot.toward) - 1) if slot.toward else 0.0
    return outside + resting + led + _PULL * (tone.place - slot.goal) ** 2


def _steps(last: Tone, offers: Sequence[tuple[float, Tone]], slot: NoteSlot, compass: LineCompass) -> list[_Step]:
    """Return the notes that may follow the last one, with what each costs whatever came before, and its move."""
    sung, found = _sung(compass.leap), []
    for alone, tone in offers:
        move = tone.place - last.place
        if tone.midi - last.midi in sung.get(move, ()):
            cost = alone + _move(last, tone, slot, compass)
            # A move that may never be made costs that much, whatever it gains elsewhere.
            if cost < NEVER / 2:
                found.append((cost, tone, move))
    return found


@cache
def _sung(leap: int) -> dict[int, tuple[int, ...]]:
    """Return the half-steps of the moves that sing and are no wider, up and down, by their steps."""
    ways = {steps: tuple(wide for wide in half_steps if wide <= leap) for steps, half_steps in SINGING.items()}
    both = {steps: (*half_steps, *(-wide for wide in half_steps)) for steps, half_steps in ways.items()}
    return both | {-steps: half_steps for steps, half_steps in both.items()}


def _move(last: Tone, tone: Tone, slot: NoteSlot, compass: LineCompass) -> float:
    """Return what it costs to go on from the last note to the next."""
    move = tone.place - last.place
    if compass.gentle and _rough(last, tone, slot):
        return NEVER
    usual = compass.moves[move + 7]
    if slot.fresh:
        return usual * 0.5 + (min(_leading(last, move), _HELD) if slot.fixed == 0 else 0.0)
    if (slot.crest and move < 1) or (slot.near and move <= -_WIDE) or (slot.tied and move in (-7, 0, 7)):
        return NEVER
    if tone.bends and not tone.chordal and move not in (-1, -2):
        return NEVER
    if move in (-1, 1):
        return usual + _leading(last, move)
    total = _leapt(usual, last, tone, slot) if move else _struck(usual, last, slot)
    total += _FOREIGN * (last.pitch.alter != compass.signature[last.place % 7] and not last.raised)
    return total + _leading(last, move)


def _rough(last: Tone, tone: Tone, slot: NoteSlot) -> bool:
    """Tell whether a beginner is spared a move: wide ones but from chord to chord, or to a close, a note after its breath."""
    wide = abs(tone.place - last.place) >= _FOURTH
    far = not slot.fresh and abs(tone.place - last.place) > slot.reach
    return far or (wide and not (last.chordal and tone.chordal and not slot.ends)) or (slot.fresh and last.place == tone.place)


def _leapt(total: float, last: Tone, tone: Tone, slot: NoteSlot) -> float:
    """Return what it costs to leap: more to a note outside the chord, and from one."""
    total += 0.0 if last.chordal else 4.0
    total += 0.0 if tone.chordal else 3.0
    total += 1.5 if slot.quick else 0.0
    return total - _RISING if slot.rises and tone.place > last.place else total


def _struck(total: float, last: Tone, slot: NoteSlot) -> float:
    """Return what it costs to strike a note again."""
    total += _ARRIVED if slot.ends and not slot.fixed else 0.0
    total += 0.0 if last.chordal else 4.0
    total += 2.0 + 4.0 * slot.new if slot.long or slot.new else 0.0
    total += _STRUCK if slot.weight else 0.0
    return total + 1.0 if slot.rises else total


def _leaning(move: int) -> float:
    """Return what the direction of a move costs: steps rather fall, leaps rather rise."""
    if abs(move) >= _FOURTH:
        return -0.3 if move > 0 else 0.4
    return 0.1 if move == 1 else -0.1 if move == -1 else 0.0


def _leading(last: Tone, move: int) -> float:
    """Return the cost of a leading note that does not lead, and of a minor seventh that goes up, or a sixth that does not."""
    if last.bends:
        return 0.0 if move == last.bends else 1.0 if move == 0 and last.chordal else NEVER
    if last.raised:
        return 0.0 if move == 1 else 3.0 if move == 0 and last.degree == _SEVENTH else NEVER
    if last.sinks and move == 1:
        return NEVER
    if last.degree == _SEVENTH:
        return 4.0 if move == 0 else 0.8 if move < -1 else 0.0
    return 0.0


def _onward(before: int, move: int, *, swings: bool, paired: bool, hung: bool) -> float:
    """Return what it costs to go on so after the move before: leaps turn back, no note is struck for ever, nothing swings.

    It swings where the move before came back to the note before it, or struck it for the third time; it is paired where the
    note before was struck again, and hung where the last note is a seventh degree that has to go up.
    """
    pairs, hangs = paired and before != 0 == move, hung and move not in (0, 1)
    return _turning(before, move, swings=swings) + _PAIRED * pairs + _HUNG * hangs


def _turning(before: int, move: int, *, swings: bool) -> float:
    """Return what it costs to turn so after the move before."""
    wide, same = abs(before), before * move > 0
    if before == 0 and move == 0:
        return 20.0 if swings else 2.5
    if wide >= _WIDE:
        return 6.0 if same or move == 0 else 0.0 if abs(move) == 1 else 1.0
    if wide >= _FOURTH:
        return (3.0 if abs(move) > 1 else 0.8) if same else 0.0
    if wide == 2 and same and abs(move) >= _FOURTH:
        return 2.5
    if move == -before:
        return 3.0 if swings else _BACK * wide
    return 0.0


_REACH = range(-7, 8)
_ANYWHERE = dict.fromkeys(_REACH, 0.0)
_ONWARD = {
    (swings, paired, hung, before): {move: _onward(before, move, swings=swings, paired=paired, hung=hung) for move in _REACH}
    for swings in (False, True)
    for paired in (False, True)
    for hung in (False, True)
    for before in _REACH
}
