"""One day: parts in warming order, filled to the minute; a pure function of what is asked of it."""

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from functools import lru_cache
from math import ceil

from generators.brass.grade import grade
from generators.errors import BadRequest, Refusal
from generators.fields import checked
from generators.phrase.note import Note, Rest
from generators.phrase.remark import Fewer, Narrowed
from generators.phrase.study import Strain, Study
from generators.routine.calendar import check_day
from generators.routine.context import occasion
from generators.routine.profile import LONGEST_DAY, SHORTEST_DAY, Profile, grade_of
from generators.routine.profile_check import check_profile
from generators.routine.requests import MINUTES_KEPT, DayRequest
from generators.routine.rests import rests_between, with_bars_off
from generators.routine.taper import share
from generators.studies.catalogue import DAY_PARTS, make, nearest_tempo
from generators.studies.kit.kind import DayPart
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.theory.pitch import Pitch, extremes

# What the music (with its written rests) may take of the time; the rest is silence between parts: our choice.
MUSIC = {"normal": 0.74, "stretch": 0.74, "concert": 0.74, "light": 0.44}
# What would do where a stretch is refused.
_GENTLER = (("kind", ("light", "normal")),)
# A rest after a part lasts at least so many seconds, and at the most as long as the part was played, or half a minute ("rest as
# much as you play", a brass teacher's article; advice described as well known).
LEAST_REST, FREE_REST = 5, 30
# On a light day a rest may be so much longer than the playing, after easy parts of a grown player so much shorter: our choice.
EASED, EASY = 1.6, 0.65
# What a part above the staff is worth of rest beside others, how much longer than the playing its rest may be, and what an easy
# part is worth: our choice.
HIGH_EFFORT, HIGH_EASE, EASY_EFFORT = 1.6, 1.5, 0.75
# What a light day has instead of each dynamic, in parts that reach one of the louder ones and not the softest: our choice.
SOFTER = {"ff": "f", "f": "mf", "mf": "mp", "mp": "p", "p": "pp"}
LOUDER, QUIETEST = ("mf", "f", "ff"), "pp"
# A day has a part for so many minutes, about: our choice.
PART_MINUTES = 1.8
# None but the brief ones and the last is shorter than a minute with its rest; none plays for less than so many seconds, if it
# can play longer. Our choice.
LEAST_SECONDS, LEAST_MUSIC = 60, 30
# The part that a day goes deep into has so much more of the time: our choice.
DEEPER = 1.8
# The parts that take turns at being gone deep into, every second of an odd number: where one is absent, its neighbour is not.
DEEP = (
    *("flow", "tonguing", "slurs", "multiple", "scales", "wide-flow"),
    *("low", "dynamics", "arpeggios", "entrances", "fingers"),
)
# How often a line is played at the most, one of so many seconds once less; where there is too little music for that, as for a
# beginner, how often then; and what it costs to hear the same again.
MOST_REPEATS, MORE_REPEATS, LONG_LINE, SAMENESS = 3, 5, 8.0, 0.15
# What is tried in turn to fill a day: how often a line is played at the most, how long the rest after an easy part may be.
WAYS = ((MOST_REPEATS, EASY), (MOST_REPEATS, 1.0), (MORE_REPEATS, 1.0))
DROPPED = 12  # Parts of this rank and more are the first to go.
# A day goes on sheets of two pages, one for so many seconds: our choice. What two pages hold in lines of music, found by
# laying weeks on A4 and Letter, what the head of the day takes of it and the heading of a part; the notes and bars of a line.
SHEET_SECONDS, SHEET_LINES, HEAD_LINES, HEADING_LINES = 12.5 * 60, 23.0, 4.5, 0.8
LINE_NOTES, LINE_BARS = 32, 7
FINGERED = 0.85  # How much less music a sheet holds with names and valves over the notes.


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a day: its row, its request and study, and the seconds of rest after it."""

    row: DayPart
    request: Request
    study: Study
    seconds: float
    """Seconds of notes and written rests, repeats counted, without the rest after it."""
    playing: float
    """Seconds of sound."""
    lines: int
    """Lines of music on paper, about."""
    times: int = 1
    """How often every strain is played."""
    rest: int = 0
    ease: float = 1.0
    """How long it may be rested after, beside how long it was played: longer on a light day, shorter after easy parts."""

    @property
    def name(self) -> str:
        """Its name, as in a profile."""
        return self.row.name

    @property
    def areas(self) -> tuple[str, ...]:
        """What playing it touches."""
        return self.row.areas

    @property
    def effort(self) -> float:
        """How much rest it is worth, beside the others: most above the staff, least what is soft and in the middle."""
        return HIGH_EFFORT if "high" in self.areas else EASY_EFFORT if self.row.easy else 1.0

    @property
    def least_rest(self) -> int:
        """Seconds of rest that follow it at the least."""
        return LEAST_REST if self.row.brief else max(LEAST_REST, ceil(LEAST_SECONDS - self.seconds))

    @property
    def most_rest(self) -> int:
        """Seconds of rest that may follow it."""
        return max(round(max(FREE_REST * min(1.0, self.ease), self.playing * self.ease)), self.least_rest)


def part_of(row: DayPart, request: Request, study: Study) -> Part:
    """Return a part, measured once for the many comparisons of a plan."""
    playing = study.playing
    return Part(row, request, study, playing + study.resting, playing, sum(map(_lines, study.strains)))


def _lines(strain: Strain) -> int:
    """Return about how many lines a strain takes; a rest of several bars takes the room of one."""
    bar = strain.meter.bar
    counted = sum((min(event.length, bar) if isinstance(event, Rest) else event.length for event in strain.music), Fraction(0))
    return max(ceil(counted / bar / LINE_BARS), ceil(len(strain.notes) / LINE_NOTES))


def _again(part: Part, times: int) -> Part:
    """Return a part that is to be played so many times; its study is written so when it is taken."""
    return replace(part, times=times, seconds=part.seconds * times, playing=part.playing * times)


def _written(part: Part, where: Occasion) -> Part:
    """Return a part with the repeats in its study, under the name that the day has for it."""
    strains = tuple(replace(strain, repeats=strain.repeats * part.times) for strain in part.study.strains)
    row, study = part.row, part.study
    aim = where.horn.said(where.turn(row.aims, "aim")) if row.aims else study.aim
    return replace(part, study=replace(study, strains=strains, name=row.title or study.name, aim=aim))


def _softened(part: Part) -> Part:
    """Return a part of a light day a step softer, where it goes as far as mezzo-forte and no softer than piano."""
    told = {note.dynamic for note in part.study.notes if note.dynamic}
    if not told & {*LOUDER} or QUIETEST in told:
        return part
    strains = tuple(replace(strain, music=tuple(map(_softer, strain.music))) for strain in part.study.strains)
    return replace(part, study=replace(part.study, strains=strains))


def _softer(event: Note[Pitch] | Rest) -> Note[Pitch] | Rest:
    return replace(event, dynamic=SOFTER.get(event.dynamic, event.dynamic)) if isinstance(event, Note) else event


@dataclass(frozen=True, slots=True)
class Day:
    """A planned day."""

    request: DayRequest
    context: Occasion
    minutes: int
    parts: tuple[Part, ...]
    told: str = ""
    """Why it is lighter than asked for, or what speaks against it."""
    left_out: tuple[str, ...] = ()
    """The parts of its kind of day that this player cannot have on these notes."""

    @property
    def on(self) -> date:
        """The day on which it is played."""
        return self.request.on

    @property
    def kind(self) -> str:
        """The kind of day: normal, light, concert or stretch."""
        return self.request.kind

    @property
    def reach(self) -> tuple[Pitch, Pitch]:
        """The lowest and the highest note of all its parts, as written."""
        return extremes(note.pitch for part in self.parts for note in part.study.notes)

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys of the day that some part of it is played in."""
        strains = (strain for part in self.parts for strain in part.study.strains)
        played = {strain.label.key.name for strain in strains if strain.label.key}
        return tuple(name for name in self.context.keys.all if name in played)

    @property
    def deep(self) -> str:
        """The part that it goes deep into; nothing where it has none of those that may be."""
        wanted = {*self.request.profile.favour, *self.request.wishes.favour, *self.request.wishes.only}
        return _deep({part.name for part in self.parts} - wanted, self.context)

    @property
    def seconds(self) -> float:
        """All of its time: notes, written rests, repeats, and the rests between parts."""
        return sum(part.seconds + part.rest for part in self.parts)


def plan(request: DayRequest) -> Day:
    """Return the day of a player; raises BadRequest where the minutes or the profile leave no routine, with what would fit."""
    checked(request)
    check_day("on", request.on)
    check_profile(request.profile)
    request = request.settled
    if request.against and not request.anyway:
        do = "or ask for it anyway"
        raise BadRequest(Refusal("kind", "stretch", f"is not for today: {request.against}", would_do=_GENTLER, do=do))
    return replace(_planned(request.heard), told=request.told)


@lru_cache(maxsize=32)
def _planned(request: DayRequest) -> Day:
    """Return the day; the last ones are kept, for it is asked again for its pages, its files and its report."""
    minutes, where = _minutes(request), occasion(request)
    own = request.wishes
    wished = replace(request.profile, favour=(*request.profile.favour, *own.favour, *own.only))
    every, chosen = _chosen(where, request, wished, minutes)
    groups = {choice.row.group for choice in every if choice.doses and choice.row.group}
    left_out = tuple(choice.row.name for choice in every if not choice.doses and choice.row.group not in groups)
    return Day(request, where, minutes, tuple(_rested(chosen, minutes * 60)), left_out=left_out)


def _chosen(where: Occasion, request: DayRequest, wished: Profile, minutes: int) -> tuple[list["_Choice"], list[Part]]:
    """Return every choice of a day and the parts that fill its minutes.

    Rests after easy parts are longer and lines are played oftener where a day would be too short without that, or where it
    would lose a part for want of paper.
    """
    fewer = None
    for most, easy in WAYS[:-1]:
        every = list(_choices(where, request, most, easy))
        try:
            chosen = _filled([choice for choice in every if choice.doses], where, wished, minutes * 60)
        except BadRequest:
            continue
        if _lines_of(chosen) > _room(minutes * 60, where):
            continue
        if len(chosen) >= int(minutes / PART_MINUTES):
            return every, chosen
        fewer = fewer or ((every, chosen) if _whole(every, chosen) else None)
    if fewer:
        return fewer
    every = list(_choices(where, request, *WAYS[-1]))
    return every, _filled([choice for choice in every if choice.doses], where, wished, minutes * 60)


def _whole(every: Sequence["_Choice"], chosen: Sequence[Part]) -> bool:
    """Tell whether a day has every part, or one of those that take turns with it, but for those that are dropped first."""
    wanted = {choice.row.group or choice.row.name for choice in every if choice.doses and choice.row.rank < DROPPED}
    return wanted <= {part.row.group or part.row.name for part in chosen}


def _minutes(request: DayRequest) -> int:
    """Return the minutes asked for, or what the kind of day and the days left to a recital leave of the profile's."""
    if request.minutes is not None:
        return request.minutes
    kept, own, most = MINUTES_KEPT[request.kind], request.profile.minutes, grade(grade_of(request.profile)).minutes
    working = share(request.on, request.towards) if kept == 1.0 else 1.0
    return min(LONGEST_DAY, max(SHORTEST_DAY, round(min(own, most or own) * kept * working)))


@dataclass(frozen=True, slots=True)
class _Choice:
    """A part with all its doses from short to long, and the one taken."""

    row: DayPart
    doses: tuple[Part, ...]
    target: float = 1.0
    taken: int = 0

    @property
    def part(self) -> Part:
        return self.doses[self.taken]

    @property
    def missing(self) -> float:
        """What the part lacks of its target, as a share."""
        return (self.target - self.part.seconds) / self.target


def _filled(had: list[_Choice], where: Occasion, profile: Profile, seconds: int) -> list[Part]:
    """Return parts whose music and possible rests add up to the seconds, fewer where they would take too much paper."""
    choices, filled = _enough(had, where, profile, seconds)
    while _paper(filled) > _room(seconds, where) and len(choices) > 1:
        choices = _without_one(choices)
        try:
            filled = _fitted(choices, where, profile, seconds)
        except BadRequest:
            break
    written = [_written(choice.part, where) for choice in filled]
    return list(map(_softened, written)) if where.kind == "light" else written


def _enough(had: list[_Choice], where: Occasion, profile: Profile, seconds: int) -> tuple[list[_Choice], list[_Choice]]:
    """Return as few parts as a day should have, or as few more as fill its time, and the same with their doses."""
    turn = list(_in_turn(had, where, profile))
    for most in range(min(int(seconds / 60 / PART_MINUTES), len(turn)), len(had) + 1):
        choices = _kept(turn if most <= len(turn) else had, seconds * MUSIC[where.kind], most)
        try:
            return choices, _fitted(choices, where, profile, seconds)
        except BadRequest as refused:
            short = refused
    raise short


def _fitted(choices: Sequence[_Choice], where: Occasion, profile: Profile, seconds: int) -> list[_Choice]:
    """Return the choices with the doses that fill the time, and of those the ones that take least paper."""
    filled = _targeted(choices, seconds * MUSIC[where.kind], where, profile)
    while _least(filled) > seconds:
        filled = _less(filled)
    while _most(filled) < seconds:
        grown = _more(filled)
        if grown is None:
            raise _too_long(seconds // 60, int(_most(filled) // 60))
        filled = grown
    while _paper(filled) > _room(seconds, where) and (thinner := _thinner(filled, seconds)):
        filled = thinner
    return filled


def _paper(choices: Sequence[_Choice]) -> float:
    """Return the lines of music that parts with their headings take."""
    return _lines_of([choice.part for choice in choices])


def _lines_of(parts: Sequence[Part]) -> float:
    return sum(part.lines + HEADING_LINES for part in parts)


def _room(seconds: int, where: Occasion) -> float:
    """Return the lines of music that the paper of so long a day has, fewer where names and valves stand over them."""
    lines = SHEET_LINES * (1 if where.grade.fingered == "none" else FINGERED)
    return lines * ceil(seconds / SHEET_SECONDS) - HEAD_LINES


def _without_one(choices: Sequence[_Choice]) -> list[_Choice]:
    """Return the choices without the one that is dropped first."""
    loser = max(choices, key=lambda choice: choice.row.rank)
    return [choice for choice in choices if choice is not loser]


def _too_long(asked: int, fit: int) -> BadRequest:
    """Return the refusal of minutes that the parts do not fill: with those that fit, if they make a day."""
    refusal = Refusal("minutes", asked, "are more than these parts fill")
    if fit < SHORTEST_DAY:
        return BadRequest(replace(refusal, do="leave out fewer parts, or ask for a wider range"))
    return BadRequest(replace(refusal, would_do=(("minutes", (str(fit),)),)))


def _choices(where: Occasion, request: DayRequest, most: int, easy: float) -> Iterator[_Choice]:
    """Yield every part that belongs into this day of this player, without doses where it cannot be had."""
    wishes = request.wishes
    left = (*request.profile.leave_out, *where.grade.leaves_out, *wishes.leave_out)
    for row in DAY_PARTS.values():
        if row.name in left or where.kind not in row.days or (wishes.only and row.name not in wishes.only):
            continue
        doses = sorted(
            _compact(_unnarrowed(list(_doses(row, where, most, easy))), row.most_lines), key=lambda part: part.seconds
        )
        yield _Choice(row, tuple(doses))


def _in_turn(had: Sequence[_Choice], where: Occasion, profile: Profile) -> Iterator[_Choice]:
    """Yield of each group the part whose turn it is, and those that the player favours."""
    for choice in had:
        group = choice.row.group
        if not group or choice.row.name in profile.favour or choice.row.name == _turn_of(group, had, where):
            yield choice


def _turn_of(group: str, had: Sequence[_Choice], where: Occasion) -> str:
    """Return the part of a group whose turn it is; where it cannot be had, the next of them."""
    rows = (row for row in DAY_PARTS.values() if row.group == group and where.kind in row.days)
    names = [row.name for row in rows for _ in range(row.turns)]
    begun = where.turn(range(len(names)), group)
    able = {choice.row.name for choice in had}
    return next(name for name in (*names[begun:], *names) if name in able)


def _unnarrowed(doses: list[Part]) -> list[Part]:
    """Return the doses that are as wide, and have as much, as they were asked for; those as wide, or all, where none is."""
    for short in (Narrowed | Fewer, Narrowed):
        whole = [dose for dose in doses if not any(isinstance(said, short) for said in dose.study.remarks)]
        if whole:
            return whole
    return doses


def _compact(doses: Sequence[Part], most: int) -> list[Part]:
    """Return the doses that take few enough lines on paper and play long enough, or the nearest to that."""
    few = [part for part in doses if part.lines <= most] or sorted(doses, key=lambda part: part.lines)[:1]
    return [part for part in few if part.row.brief or part.seconds >= LEAST_MUSIC] or few


def _doses(row: DayPart, where: Occasion, most: int, easy: float) -> Iterator[Part]:
    """Yield what can be played of a part: every request that fits the player, at the tempo wished for or near it, repeated."""
    own = replace(where, tempo=where.tempi.get(row.name, where.tempo))
    for asked in dict.fromkeys(row.requests(own)):
        try:
            request = nearest_tempo(asked)
            study = with_bars_off(make(request), row.bars_off)
        except BadRequest:
            continue
        once = replace(part_of(row, request, study), ease=_ease(row, where, easy))
        # Up a ladder of tempi it is another thing every time, but the same notes.
        long = bool(study.ladder) or once.seconds / len(study.strains) > LONG_LINE
        # Of lines with a long rest each is played once.
        again = min(most - long, 1 + (len(study.strains) == 1)) if row.bars_off else most - long
        yield from (_again(once, times) for times in range(1, again + 1 if row.repeatable else 2))


def _ease(row: DayPart, where: Occasion, easy: float) -> float:
    """Return how long a part may be rested after, beside how long it was played."""
    if where.kind == "light":
        return EASED
    return HIGH_EASE if "high" in row.areas else easy if row.easy and not where.grade.child else 1.0


def _kept(choices: list[_Choice], seconds: float, most: int) -> list[_Choice]:
    """Return the choices that have room: those dropped first are left out until they are few and their shortest doses fit."""
    while len(choices) > 1 and (len(choices) > most or sum(choice.doses[0].seconds for choice in choices) > seconds):
        choices = _without_one(choices)
    return choices


def _targeted(choices: Sequence[_Choice], seconds: float, where: Occasion, profile: Profile) -> list[_Choice]:
    """Return each choice with its share of the time and the dose nearest to it; favoured parts get half as much again.

    One of the others, another every day, is gone deep into.
    """
    rows = [choice.row for choice in choices]
    deep = _deep({row.name for row in rows} - set(profile.favour), where)
    weights = [row.weight * (1.5 if row.name in profile.favour else DEEPER if row.name == deep else 1) for row in rows]
    targets = [seconds * weight / sum(weights) for weight in weights]
    return [_nearest(replace(choice, target=target)) for choice, target in zip(choices, targets, strict=True)]


def _deep(names: Container[str], where: Occasion) -> str:
    """Return which of a day's parts it goes deep into, another every day."""
    begun = 2 * where.turn(range(len(DEEP)), "deep")
    return next((name for later in range(len(DEEP)) if (name := DEEP[(begun + later) % len(DEEP)]) in names), "")


def _nearest(choice: _Choice) -> _Choice:
    places = range(len(choice.doses))
    return replace(choice, taken=min(places, key=lambda i: _distance(choice.doses[i], choice.target)))


def _distance(part: Part, target: float) -> float:
    """Return how far a part is from its time, as a share; other music is better than the same again."""
    return abs(part.seconds - target) / target + SAMENESS * (part.times - 1)


def _least(choices: Sequence[_Choice]) -> float:
    return sum(choice.part.seconds for choice in choices) + sum(choice.part.least_rest for choice in choices[:-1])


def _most(choices: Sequence[_Choice]) -> float:
    return sum(choice.part.seconds for choice in choices) + sum(choice.part.most_rest for choice in choices[:-1])


def _less(choices: list[_Choice]) -> list[_Choice]:
    """Return the choices with the most overfull part one dose smaller, or without the part that is dropped first."""
    able = [choice for choice in choices if choice.taken > 0]
    if not able:
        return _without_one(choices)
    longest = min(able, key=lambda choice: choice.missing)
    return [replace(choice, taken=choice.taken - 1) if choice is longest else choice for choice in choices]


def _more(choices: list[_Choice]) -> list[_Choice] | None:
    """Return the choices with the part that lacks most one dose larger; None where nothing can grow."""
    able = [choice for choice in choices if choice.taken + 1 < len(choice.doses)]
    if not able:
        return None
    shortest = max(able, key=lambda choice: choice.missing)
    return [replace(choice, taken=choice.taken + 1) if choice is shortest else choice for choice in choices]


def _thinner(choices: list[_Choice], seconds: int) -> list[_Choice] | None:
    """Return the choices with one part on fewer lines, the nearest to its time that still fills the day; None without one."""
    swaps = [
        (_distance(dose, choice.target), swapped)
        for choice in choices
        for i, dose in enumerate(choice.doses)
        if dose.lines < choice.part.lines
        and _least(swapped := [replace(other, taken=i) if other is choice else other for other in choices]) <= seconds
        and seconds <= _most(swapped)
    ]
    return min(swaps, key=lambda swap: swap[0])[1] if swaps else None


def _rested(parts: Sequence[Part], seconds: int) -> Iterator[Part]:
    """Yield the parts with what is left of the time as rests between them, by how hard each was."""
    total = seconds - sum(part.seconds for part in parts)
    top = max((part.most_rest for part in parts[:-1]), default=0)
    bounds = [(part.least_rest, top if "high" in part.areas else part.most_rest) for part in parts[:-1]]
    rests = rests_between(total, bounds, [part.effort for part in parts[:-1]])
    yield from (replace(part, rest=rest) for part, rest in zip(parts, (*rests, 0), strict=True))
