"""What scales and arpeggios share: fitting a pattern to the range, and making one strain a key of it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from generators.brass.speed import FINGER_SPEED, tongue_speed
from generators.errors import BadRequest, Refusal
from generators.phrase.algebra import mapped, notes, on, onsets, slurred, then
from generators.phrase.articulation import SETS, Articulation, articulated
from generators.phrase.bars import COMMON, bars
from generators.phrase.label import Label
from generators.phrase.lines import BARS_A_LINE, NOTES_A_LINE, line_up
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.remark import Advice, Remark, Shortened
from generators.phrase.study import Limits, Strain, Study
from generators.phrase.wording import brief_label, full_label
from generators.studies.kit.climb import RHYTHMS, Compass, Pattern, Rung, climbed, pattern_words
from generators.studies.kit.climb_task import Task, knows
from generators.studies.kit.fit import NoFit, breathed, leap, needed, out_of_breath
from generators.studies.kit.rungs import Rungs
from generators.studies.kit.setting import ALL_KEYS, Setting
from generators.theory.interval import parse_interval, transpose
from generators.theory.key import Key
from generators.theory.pitch import Pitch, at_place

# More notes than these from the root home are a line of their own, and how soft it ends: our choice.
_STEP_HOME, _HOME_SOFT = 2, "mp"
# How a dominant seventh goes from its root up to its seventh, to the third of the tonic chord and home, by how long the root
# would last to the end of its bar: third or home on the first beat of the last bar.
_HOMEWARD = {
    Fraction(0): (*[COMMON.beat] * 4, COMMON.strong, COMMON.strong),
    COMMON.strong: (COMMON.strong, *[COMMON.beat] * 4, COMMON.bar),
}
# What a label calls the beginning of a scale of seven notes.
_WHOLE, _FIVE, _SIX, _NUMBERS = 7, 4, 5, {2: "three", 4: "five", 5: "six"}
# How much slower than its goal a climb begins, not below a slow beat, in steps of a metronome: our choice.
_BEGINNING, _SLOW_BEAT, _LITTLE, _SLOWEST, _STEP = 0.7, 60, 0.8, 48, 4
_PATTERN, _LONG_FIRST = "pattern", "long notes first"
_OCTAVE = 12
_MINOR_SEVENTH, _FOURTH = "minor-seventh", parse_interval("P4")
# What a label calls a first note longer than the others.
_FIRST = {COMMON.strong: "a half", COMMON.beat: "a quarter"}
_TURNING_AIM = "Listen for the beat to stay where it is while the rhythm over it changes from key to key."


# The compass of the first six notes of a scale that has no more.
_SIXTH = Compass(_SIX, 0, 0, _SIX)


@dataclass(frozen=True, slots=True)
class _Seat:
    """A climb where it lies on the horn."""

    rungs: Rungs
    compass: Compass
    octave: int
    """The octave of its root."""
    music: Phrase[Pitch]
    barred: tuple[str, ...] = ()
    """What was in the way of climbs that go farther and would have had room."""


@dataclass(frozen=True, slots=True)
class _Short:
    """A climb that outlasts the breath at the tempo of the setting, and the tempo at which it may not."""

    name: str
    tempo: int


def climbing_study(job: Task, each: Sequence[Rungs], setting: Setting, name: str, chosen: str) -> Study:
    """Return the study of a task, one strain a scale or chord; `chosen` is the scale or chord that was asked for on all.

    A set of its own that finds nothing to slur in so small a compass gives way to plain tonguing; one asked for is refused.
    """
    music, pace, remarks = strains(job, each, setting)
    if _slurs(job) and not any(note.slur_open for strain in music for note in strain.notes):
        if not job.own:
            why = "finds nothing to slur in so small a compass"
            raise NoFit(Refusal("articulation", job.row.name, why, would_do=(("articulation", ("tongued",)),)))
        return climbing_study(replace(job, row=SETS["tongued"]), each, setting, name, chosen)
    turning = "turning rhythms" if job.turning else ""
    named = pattern_words(job.pattern.name, child=setting.grade.child)
    tongued = job.gradual and job.row == SETS["tongued"]
    words = (_LONG_FIRST, "" if tongued else job.row.words) if job.gradual else (named, turning, job.row.words)
    what = ", ".join(filter(None, (chosen.replace("-", " "), *words)))
    horn, turns = setting.horn, job.turning and not job.gradual
    lesson, aim = horn.said(f"Listen too for {job.row.lesson}."), horn.said(_TURNING_AIM if turns else job.pattern.aim)
    begun = _begun(pace, music, setting)
    goal = pace if begun < pace else 0
    return Study(job.kind, name, what, aim, horn.id, begun, music, setting.limits, goal=goal, remarks=remarks, also=lesson)


def _begun(pace: int, music: Sequence[Strain], setting: Setting) -> int:
    """Return the tempo at which a climb begins that grows to a pace where none was asked for; a beginner's stays.

    Under a slow beat begins what a learner plays little quicker than that.
    """
    if setting.tempo_asked or setting.grade.beginner:
        return pace
    least = max(_SLOWEST, int(_LITTLE * pace)) if setting.limits.keys else _SLOW_BEAT
    slow = max(
        int(_BEGINNING * pace),
        min(_SLOW_BEAT, least),
        needed([strain.music for strain in music], setting.limits),
    )
    return min(pace, -(-slow // _STEP) * _STEP)


def _slurs(job: Task) -> bool:
    return any(map(str.isalpha, job.row.slots))


def strains(job: Task, each: Sequence[Rungs], setting: Setting) -> tuple[tuple[Strain, ...], int, tuple[Remark, ...]]:
    """Return one strain a scale or chord, the tempo, and the remarks; NoFit where one finds no room at all."""
    for rhythm in job.turning or (job.rhythm,):
        setting = _in_reach(replace(job, rhythm=rhythm), setting)
    steps = list(_steps(job, each, setting.limits))
    found = [_widest(step, rungs, setting) for step, rungs in steps]
    short = next((climb for climb in found if isinstance(climb, _Short)), None)
    if short:
        out_of_breath(short.name, short.tempo, setting)
        return strains(job, each, replace(setting, tempo=short.tempo))
    seats = [climb for climb in found if isinstance(climb, _Seat)]
    alike = _common(seats)
    # Where no octaves were asked for, few keys do not go farther than most: they are sought once more.
    if not job.octaves_asked and 0 < alike < max(map(_octaves, seats)):
        return strains(replace(job, octaves=str(alike)), each, setting)
    remarks = (*(remark for seat in seats for remark in _shortened(job, seat, alike, setting)), *_jumps(seats, setting))
    rhythms = [step.rhythm.name if job.turning else "" for step, _ in steps]
    music = (_strain(seat, job, setting, rhythm) for seat, rhythm in zip(seats, rhythms, strict=True))
    return tuple(music), setting.tempo, remarks


def _steps(job: Task, each: Sequence[Rungs], limits: Limits) -> Iterator[tuple[Task, Rungs]]:
    """Yield what is climbed, one after another: each scale or chord once, or in rhythms one after another.

    What is quickest in the first key waits for what is slower in the second. Then comes the sixth note of a scale, where it is
    the last that there is, in the longest notes, for it is new.
    """
    late = list[tuple[Task, Rungs]]()
    for place, rungs in enumerate(each):
        *slower, quickest = [(job.at(turn), rungs) for turn in job.turns(place)]
        waits = job.gradual and len(slower) > 1 and len(each) > 1
        yield from slower
        yield from late if slower else ()
        late = [quickest] if waits else []
        yield from () if waits else (quickest,)
        farther = replace(rungs, rests=(*rungs.rests, _SIX))
        if job.gradual and rungs.count == _WHOLE and next(_compasses(job, farther, limits), (None, 0))[0] == _SIXTH:
            yield job.at(0), farther


def _octaves(seat: _Seat) -> int:
    """Return how many whole octaves a climb has."""
    return seat.compass.top // seat.rungs.count


def _common(seats: Sequence[_Seat]) -> int:
    """Return how many octaves most climbs have; of numbers that are as frequent, the greatest."""
    found = [_octaves(seat) for seat in seats]
    return max(found, key=lambda octaves: (found.count(octaves), octaves))


def _in_reach(job: Task, setting: Setting) -> Setting:
    """Return the setting capped to what the tongue can do in the rhythm; refuse a rhythm the grade does not know."""
    known = tuple(rhythm.name for rhythm in RHYTHMS.values() if knows(rhythm, setting))
    if job.rhythm.name not in known:
        raise BadRequest(Refusal("rhythm", job.rhythm.name, "is too quick for the grade", allowed=known))
    quickest = job.rhythm.unit / 2 if job.rhythm.lean else job.rhythm.unit
    speed = tongue_speed(job.row.syllables, setting.limits.speed) if job.row.slots else FINGER_SPEED
    return setting.capped(speed * 240 * quickest, f'"{job.row.name}" in {job.rhythm.name}')


def _strain(seat: _Seat, job: Task, setting: Setting, rhythm: str) -> Strain:
    rest = (Rest(COMMON.bar),)
    lines = _lines(then(seat.music, rest))
    longer = len(lines) > 1 or len(setting.keys) >= len(ALL_KEYS)
    music = then(seat.music, rest, rest if longer else ())
    label = _label(seat.rungs, setting)
    label = replace(
        label,
        detail=_values(rhythm, seat.music) if job.gradual else rhythm,
        part=label.part or _few(seat),
    )
    return Strain(label, seat.rungs.signature, music, COMMON, (lines[0] + longer,) if len(lines) == 1 else _lines(music))


def _values(rhythm: str, music: Phrase[Pitch]) -> str:
    """Return what a beginner's label says of note values: a longer first note before the others."""
    first, second, *_ = notes(music)
    return f"{_FIRST[first.length]}, {rhythm}" if first.length > second.length and first.length in _FIRST else rhythm


def _few(seat: _Seat) -> str:
    """Return what a label says of a scale that is no scale yet: how many notes of it there are."""
    short = seat.rungs.count == _WHOLE and seat.compass.top < seat.rungs.count
    return f"{_NUMBERS[seat.compass.top]} notes" if short and seat.compass.top in _NUMBERS else ""


def _label(rungs: Rungs, setting: Setting) -> Label:
    """Return the label of a scale or chord; a dominant seventh is called as players call it, C7, and by where it goes."""
    if not rungs.falls or not rungs.root:
        return setting.label(rungs.key, scale=rungs.label, root=rungs.root)
    return Label(name=f"{rungs.root.pretty[:-1]}7", root=rungs.root, part=f"to {brief_label(setting.label(rungs.key))[0]}")


def _lines(music: Phrase[Pitch]) -> tuple[int, ...]:
    """Return bars on each line: all on one where that is not crowded, else the way up and the way down on their own."""
    measures = bars(music, COMMON)
    if len(measures) <= BARS_A_LINE + 1 and sum(len(bar) for bar in measures) <= NOTES_A_LINE:
        return (len(measures),)
    breaths = [i for i, bar in enumerate(measures, 1) if any(isinstance(event, Note) and event.breath for event in bar)]
    turns = [i for i in breaths[:-1] if any(isinstance(event, Rest) for event in (*measures[i - 1], measures[i][0]))]
    turn = min(turns or breaths, key=lambda i: abs(2 * i - len(measures)))
    turn += not any(isinstance(event, Note) for event in measures[turn])
    ways = (measures[:turn], measures[turn:]) if turn < len(measures) - 1 else (measures,)
    return tuple(width for way in ways for width in line_up(way))


def _widest(job: Task, rungs: Rungs, setting: Setting) -> _Seat | _Short:
    """Return the widest climb inside range, breath and leap, on the lowest root that allows it.

    For a whole octave, or the first five notes, the tempo may be quicker than it would be, where none was asked for.
    """
    limits, short, wide = setting.limits, 0, 0
    barred: dict[str, int] = {}
    worth = _FIVE if setting.grade.slow and rungs.count == _WHOLE else rungs.count
    for compass, octave in _compasses(job, rungs, limits):
        climb = climbed(job.pattern, compass, job.rhythm, job.row, whole=job.gradual)
        homes = rungs.homes(octave, limits)
        if climb is None or (rungs.root and not homes):
            barred.setdefault(_PATTERN, compass.top)
            continue
        music = _aired(_on(rungs, octave, climb), rungs.key, job, setting)
        if rungs.root or rungs.name == _MINOR_SEVENTH:
            music = _home(music, homes, rungs, limits, job.row) if rungs.root else _resolved(music, rungs, limits, job.row)
        wide, quick = leap(music), needed([music], limits)
        if wide <= limits.leap and quick <= setting.tempo:
            return _Seat(rungs, compass, octave, music, tuple(why for why, top in barred.items() if top > compass.top))
        fits = wide <= limits.leap
        barred.setdefault("breath" if fits else "leaps", compass.top)
        short = quick if fits else short
        if fits and short and compass.top in (worth, _SIX) and not setting.tempo_asked and short <= limits.tempo:
            break
    if short:
        return _Short(_name(rungs), short)
    raise _no_room(job, rungs, limits, wide)


def _aired(music: Phrase[Pitch], key: Key, job: Task, setting: Setting) -> Phrase[Pitch]:
    """Return a climb in long notes, or a beginner's, with a breath at the end of a bar where the air needs one.

    A beginner has the fewest that he can: his last note is shorter, or he breathes within a bar, where that spares him one.
    """
    if job.rhythm.unit < COMMON.strong and not job.gradual:
        return music
    longer = (music, _sooner_home(music)) if job.gradual else (music,)
    beats = (COMMON.bar, COMMON.strong) if job.gradual else (COMMON.bar,)
    ways = (_marked_breaths(line, key, beat) for beat in beats for line in longer)
    return min((breathed(way, setting.tempo, setting.limits.breath) for way in ways), key=_breaths)


def _breaths(music: Phrase[Pitch]) -> int:
    return sum(note.breath for note in notes(music))


def _sooner_home(music: Phrase[Pitch]) -> Phrase[Pitch]:
    """Return a climb whose last note lasts half a bar, and a rest the other half."""
    *before, last = music
    if last.length != COMMON.bar:
        return music
    return (*before, replace(last, length=COMMON.strong), Rest(COMMON.bar - COMMON.strong))


def _marked_breaths(music: Phrase[Pitch], key: Key, beat: Fraction) -> Phrase[Pitch]:
    """Return a climb with the places where it may be breathed: before such beats.

    Before the note that a way goes to there is none, nor between a leading note and its tonic.
    """
    ends = [start + event.length for start, event in zip(onsets(music), music, strict=True)]
    return tuple(
        replace(event, may_breathe=_ends(event, end, beat) and not _goal(after) and not _leads(event, after, key))
        if isinstance(event, Note)
        else event
        for event, after, end in zip(music, (*music[1:], None), ends, strict=True)
    )


def _ends(note: Note[Pitch], end: Fraction, beat: Fraction) -> bool:
    """Tell whether a note ends before such a beat, and may end a breath: no slur begins on it."""
    return end % beat == 0 and not note.slur_open


def _leads(note: Note[Pitch], after: Note[Pitch] | Rest | None, key: Key) -> bool:
    """Tell whether a note is the leading note of a key that its tonic comes after."""
    steps = after.pitch.midi - note.pitch.midi if isinstance(after, Note) else 0
    return steps == 1 and (note.pitch.midi + steps - key.degree(0).midi) % _OCTAVE == 0


def _goal(event: Note[Pitch] | Rest | None) -> bool:
    """Tell whether an event is the long note that a way goes to: no breath comes before it."""
    return isinstance(event, Note) and event.breath


def _on(rungs: Rungs, octave: int, climb: Phrase[Rung]) -> Phrase[Pitch]:
    return mapped(climb, lambda rung: rungs.pitch(rung.index, rung.rises, octave))


def _home(music: Phrase[Pitch], homes: Sequence[Pitch], rungs: Rungs, limits: Limits, row: Articulation) -> Phrase[Pitch]:
    """Return a climb on a chord that does not stand on the tonic, from its root led home there, marked as what comes before.

    The seventh of a dominant falls to the third of the tonic chord on the way: under the root, where the tonic is, or over it.
    """
    *before, root = music
    assert isinstance(root, Note)  # noqa: S101 - a climb ends on its long note
    step = replace(root, length=COMMON.strong, breath=False, slur_close=False, role="", syllable="")
    last = replace(root, dynamic="", hairpin="")
    timed = _led_home(step, last, homes, rungs, limits) if rungs.falls else ()
    end = replace(last, pitch=homes[0], length=COMMON.strong + COMMON.bar - root.length)
    return (*before, *_marked(timed or (step, end), last, row))


def _led_home(
    step: Note[Pitch], last: Note[Pitch], homes: Sequence[Pitch], rungs: Rungs, limits: Limits
) -> tuple[Note[Pitch], ...]:
    """Return the way from the root over the seventh of a dominant to the tonic; none where the range has no room for it."""
    onward = replace(step, dynamic="", hairpin="", length=COMMON.beat)
    lower = homes[0].midi < last.pitch.midi
    octave = next(octave for octave in range(10) if rungs.pitch(0, octave=octave) == last.pitch)
    climbed = [rungs.pitch(place, octave=octave) for place in ((-1,) if lower else (1, 2, 3))]
    third = rungs.key.degree(climbed[-1].place - 1 - rungs.key.degree(0).place)
    ways = [replace(onward, pitch=pitch) for pitch in (*climbed, third)]
    if not all(limits.low.midi <= way.pitch.midi <= limits.high.midi for way in ways):
        return ()
    if lower:
        return (step, *ways, replace(last, pitch=homes[0], length=COMMON.bar - last.length % COMMON.bar))
    return _over_the_bar((step, *ways), replace(last, pitch=homes[0]))


def _over_the_bar(ways: Sequence[Note[Pitch]], home: Note[Pitch]) -> tuple[Note[Pitch], ...]:
    """Return the notes of a way home up a seventh chord in their values, by where in its bar the root falls."""
    *lengths, final = _HOMEWARD[home.length % COMMON.bar]
    timed = (replace(note, length=value) for note, value in zip(ways, lengths, strict=True))
    return (*timed, replace(home, length=final))


def _resolved(music: Phrase[Pitch], rungs: Rungs, limits: Limits, row: Articulation) -> Phrase[Pitch]:
    """Return a climb on a minor seventh, from its root up to the seventh once more, which falls to the third of the next chord.

    That is the dominant a fourth above, as a second degree goes to a fifth; its root comes last. Without room it stays.
    """
    *before, root = music
    assert isinstance(root, Note)  # noqa: S101 - a climb ends on its long note
    octave = next(octave for octave in range(10) if rungs.pitch(0, octave=octave) == root.pitch)
    climbed = [rungs.pitch(place, octave=octave) for place in (1, 2, 3)]
    third = at_place(climbed[-1].place - 1, climbed[-1].midi - 1)
    if climbed[-1].midi > limits.high.midi or root.length % COMMON.bar not in _HOMEWARD:
        return music
    step = replace(root, breath=False, slur_close=False, role="", syllable="")
    last = replace(root, dynamic="", hairpin="")
    ways = (step, *(replace(step, pitch=pitch, dynamic="", hairpin="") for pitch in (*climbed, third)))
    return (*before, *_marked(_over_the_bar(ways, replace(last, pitch=transpose(root.pitch, _FOURTH))), last, row))


def _marked(notes_home: Sequence[Note[Pitch]], last: Note[Pitch], row: Articulation) -> Phrase[Pitch]:
    """Return the notes from the root home: a line under one slur that fades from its highest note, where nothing is spoken.

    Else they are under the set of the climb, one slot a note, the last no more than long.
    """
    if len(notes_home) > _STEP_HOME and not row.syllables:
        sung = slurred(tuple(notes_home)) if row.slots else tuple(notes_home)
        top = max(range(len(sung) - 1), key=lambda place: notes_home[place].pitch.midi)
        return on(on(sung, top, hairpin=">"), -1, dynamic=_HOME_SOFT, hairpin=".")
    if not row.slots:
        return tuple(notes_home)
    even = tuple(replace(note, length=COMMON.beat) for note in notes_home)
    set_out = articulated(even, row, COMMON.beat, COMMON.beat * len(row.slots))
    timed = [replace(note, length=was.length) for note, was in zip(notes(set_out), notes_home, strict=True)]
    *marked, end = (replace(note, articulations=()) if note.length >= COMMON.strong else note for note in timed)
    return (*marked, replace(end, articulations=last.articulations, syllable=last.syllable))


def _name(rungs: Rungs) -> str:
    return f"{rungs.key.tonic} {rungs.label}"


def _no_room(job: Task, rungs: Rungs, limits: Limits, wide: int) -> NoFit:
    """Return the refusal of a scale or chord that no compass of the climb suits."""
    if wide > limits.leap:
        why = f"leaps {wide} half-steps in {_name(rungs)}, past {limits.leap}"
        return NoFit(Refusal("pattern", job.pattern.name, why, would_do=(("pattern", ("straight",)),)))
    thing = "scale" if job.kind == "scales" else "chord"
    return NoFit(Refusal(thing, _name(rungs), f"does not fit between {limits.low} and {limits.high} in this pattern"))


def _compasses(job: Task, rungs: Rungs, limits: Limits) -> Iterator[tuple[Compass, int]]:
    """Yield compasses, those of whole octaves first, from the widest to the narrowest, each with the octave of its root.

    Of equally wide ones the lowest comes first.
    """
    found = [(compass, octave) for octave in range(1, 7) for compass in _in_octave(job, rungs, octave, limits)]
    most = _most(job, rungs) or max((compass.top for compass, _ in found), default=0)

    def order(item: tuple[Compass, int]) -> tuple[int, int, int, int]:
        compass, octave = item
        return -_wholeness(job.pattern, compass.top, rungs.count), -min(compass.top, most), octave, compass.bottom

    yield from sorted(found, key=order)


def _wholeness(pattern: Pattern, top: int, count: int) -> int:
    """Return how whole a climb to a rung is: 3 for whole octaves, 2 for all positions below it, 1 where the last passes it."""
    turns, octaves = pattern.turns_at(top), top % count == 0
    if turns and octaves:
        return 3
    return 2 if pattern.full and turns else int(octaves and pattern.whole_at(top))


def _most(job: Task, rungs: Rungs) -> int:
    """Return the rung to which the octaves go that were asked for, or as far as the pattern is moved at all; 0 for any."""
    return max(rungs.count * job.wanted, job.pattern.least) if job.wanted else 0


def _in_octave(job: Task, rungs: Rungs, octave: int, limits: Limits) -> Iterator[Compass]:
    low, high = rungs.reach(octave, limits)
    if low > 0:
        return
    most = min(high, _most(job, rungs) or high)
    beyond = job.pattern.reach
    # What does not stop at the top turns round its root too, on the note below, where there is one.
    bottom = 0 if job.pattern.stops else max(low, -1)
    for top in range(rungs.least, most + 1):
        # A last cell may end on its goal where an octave of cells is that of a triad.
        if top % rungs.count in rungs.rests and not (job.pattern.ends_at(top) and rungs.count != job.pattern.full):
            yield Compass(top, bottom, max(low, -beyond - 1), min(high, top + beyond + 1))


def _jumps(seats: Sequence[_Seat], setting: Setting) -> Iterator[Remark]:
    """Yield from where on all keys one after another, which go down, lie higher: the range has no lower notes for them."""
    if len(setting.keys) < len(ALL_KEYS):
        return
    for before, seat in pairwise(seats):
        if notes(seat.music)[0].pitch.midi - notes(before.music)[0].pitch.midi > _OCTAVE // 2:
            lowest = setting.limits.low.pretty
            yield Advice(f"From {full_label(_label(seat.rungs, setting))} on it starts higher, so as not to go below {lowest}.")


def _shortened(job: Task, seat: _Seat, most: int, setting: Setting) -> Iterator[Remark]:
    """Yield the remark on a climb that stops below the octaves asked for, or that others have."""
    octaves = job.wanted if job.wanted and job.octaves_asked else most
    wanted, top = seat.rungs.count * octaves, _top(job, seat)
    if not setting.grade.child and top.midi < seat.rungs.pitch(wanted, octave=seat.octave).midi:
        reach = max(compass.top for compass, _ in _compasses(job, seat.rungs, setting.limits))
        why = (*(("range",) if reach < wanted else ()), *(one for one in seat.barred if one != _PATTERN)) or seat.barred
        yield Shortened(_label(seat.rungs, setting), top, why)


def _top(job: Task, seat: _Seat) -> Pitch:
    """Return how high a climb goes: to its goal, or in a narrow range past it with the last of two cells."""
    goal = seat.rungs.pitch(seat.compass.top, octave=seat.octave)
    past = job.pattern.full and (seat.compass.top < job.pattern.least or job.pattern.whole_at(seat.compass.top))
    return max((note.pitch for note in notes(seat.music)), key=lambda pitch: pitch.midi) if past else goal
