"""The time of a day filled: how many parts, which doses of them, and how they go on their sheets."""

from collections import Counter
from collections.abc import Container, Sequence, Set
from dataclasses import replace
from math import ceil

from generators.errors import BadRequest, Refusal
from generators.routine.choice import Dosed, choices_of, in_turn
from generators.routine.part import Part, as_practised, softened
from generators.routine.profile import SHORTEST_DAY, Profile
from generators.routine.requests import DayRequest
from generators.studies.kit.occasion import Occasion

# What the music (with its written rests) may take of the time; the rest is silence between parts: our choice.
MUSIC = {"normal": 0.74, "stretch": 0.74, "concert": 0.74, "light": 0.44}
# A day has a part for so many minutes, about, and that of a child, whose parts are shorter: our choice.
PART_MINUTES, CHILD_MINUTES = 2.2, 1.8
# What every normal day of so many seconds touches; the first parts to go are those whose areas others touch too. What warms up
# and down is none of them, nor lip slurs, whose seven tubes come round in a week: our choice.
FULL_DAY = 20 * 60
DAILY = {"air", "flow", "low", "high", "fingers", "scales", "arpeggios", "slurs", "dynamics", "tonguing"}
# Who is not yet to play this has not all of these areas.
HIGH_PART = "wide-flow"
# Mouthpiece, bends and the k alone: there is room for one of them on days whose flow shows loudness.
SMALL = "small"
NEVER_SPARED = ("flow", "slurs", "warm-down", "stretch")
# The part that a day goes deep into has so much more of the time: our choice.
DEEPER = 1.8
# The parts that take turns at being gone deep into, every second of an odd number: where one is absent, its neighbour is not.
DEEP = (
    *("flow", "tonguing", "slurs", "multiple", "scales", "wide-flow"),
    *("low", "dynamics", "arpeggios", "entrances", "fingers"),
)
# How often a line is played at the most; where there is too little music for that, as for a beginner, how often then; and what
# it costs to hear the same again.
MOST_REPEATS, MORE_REPEATS, SAMENESS = 3, 5, 0.15
# After easy parts of a grown player a rest may be so much shorter than the playing: our choice.
EASY = 0.65
# What is tried in turn to fill a day: how often a line is played at the most, how long the rest after an easy part may be.
WAYS = ((MOST_REPEATS, EASY), (MOST_REPEATS, 1.0), (MORE_REPEATS, 1.0))
# Seconds of high work, the rests in its bars counted, where the top is far above the staff: our choice.
HIGH_MUSIC = 115
DROPPED = 12  # Parts of this rank and more are the first to go.
# A day goes on sheets of two pages, one for so many seconds: our choice. What two pages hold in lines of music, found by
# laying weeks on A4 and Letter, what the head of the day takes of it and the heading of a part.
SHEET_SECONDS, SHEET_LINES, HEAD_LINES, HEADING_LINES = 12.5 * 60, 23.0, 4.5, 0.8
FINGERED = 0.85  # How much less music a sheet holds with names and valves over the notes.


def chosen_parts(where: Occasion, request: DayRequest, wished: Profile, minutes: int) -> tuple[list[Dosed], list[Part]]:
    """Return every choice of a day and the parts that fill its minutes.

    Rests after easy parts are longer and lines are played oftener where a day would be too short without that, or where it
    would lose a part for want of paper.
    """
    fewer = None
    for most, easy in WAYS[:-1]:
        every = list(choices_of(where, request, most, easy))
        try:
            chosen = _filled([choice for choice in every if choice.doses], where, wished, minutes * 60)
        except BadRequest:
            continue
        if _lines_of(chosen) > _room(minutes * 60, where):
            continue
        if len(chosen) >= int(minutes / _part_minutes(where)):
            return every, chosen
        fewer = fewer or ((every, chosen) if _whole(every, chosen) else None)
    if fewer:
        return fewer
    every = list(choices_of(where, request, *WAYS[-1]))
    return every, _filled([choice for choice in every if choice.doses], where, wished, minutes * 60)


def _whole(every: Sequence[Dosed], chosen: Sequence[Part]) -> bool:
    """Tell whether a day has every part, or one of those that take turns with it, but for those that are dropped first."""
    wanted = {choice.row.group or choice.row.name for choice in every if choice.doses and choice.row.rank < DROPPED}
    return wanted <= {part.row.group or part.row.name for part in chosen}


def _filled(had: list[Dosed], where: Occasion, profile: Profile, seconds: int) -> list[Part]:
    """Return parts whose music and possible rests add up to the seconds, fewer where they would take too much paper."""
    daily = _daily(where, seconds)
    had = list(map(_at_home, had)) if daily and where.far_above else had
    choices, filled = _enough(had, where, profile, seconds)
    while _paper(filled) > _room(seconds, where) and len(choices) > 1 and _spare(choices, daily):
        choices = _without_one(choices, daily)
        try:
            filled = _fitted(choices, where, profile, seconds)
        except BadRequest:
            break
    whole = [as_practised(choice.part, where) for choice in filled]
    return list(map(softened, whole)) if where.kind == "light" else whole


def _at_home(choice: Dosed) -> Dosed:
    """Return high work without the doses that are too short for a player who is at home there; other parts as they are."""
    if "high" not in choice.row.areas:
        return choice
    long = tuple(dose for dose in choice.doses if dose.high >= HIGH_MUSIC)
    return replace(choice, doses=long or (max(choice.doses, key=lambda dose: dose.high),))


def _enough(had: list[Dosed], where: Occasion, profile: Profile, seconds: int) -> tuple[list[Dosed], list[Dosed]]:
    """Return as few parts as a day should have, or as few more as fill its time, and the same with their doses."""
    daily, more = _daily(where, seconds), int(where.swells)
    turn = list(in_turn(had, where, profile))
    for most in range(min(int(seconds / 60 / _part_minutes(where)), len(turn)), len(had) + 1):
        choices = _kept(turn if most <= len(turn) else had, seconds * MUSIC[where.kind], most, daily, more)
        try:
            return choices, _fitted(choices, where, profile, seconds)
        except BadRequest as refused:
            short = refused
    raise short


def _fitted(choices: Sequence[Dosed], where: Occasion, profile: Profile, seconds: int) -> list[Dosed]:
    """Return the choices with the doses that fill the time, and of those the ones that take least paper."""
    filled = _targeted(choices, seconds * MUSIC[where.kind], where, profile)
    while _least(filled) > seconds:
        filled = _less(filled, _daily(where, seconds))
    while _most(filled) < seconds:
        grown = _more(filled)
        if grown is None:
            raise _too_long(seconds // 60, int(_most(filled) // 60))
        filled = grown
    while _paper(filled) > _room(seconds, where) and (thinner := _thinner(filled, seconds)):
        filled = thinner
    return filled


def _paper(choices: Sequence[Dosed]) -> float:
    """Return the lines of music that parts with their headings take."""
    return _lines_of([choice.part for choice in choices])


def _lines_of(parts: Sequence[Part]) -> float:
    return sum(part.lines + HEADING_LINES for part in parts)


def _room(seconds: int, where: Occasion) -> float:
    """Return the lines of music that the paper of so long a day has, fewer where names and valves stand over them."""
    lines = SHEET_LINES * (1 if where.grade.fingered == "none" else FINGERED)
    return lines * ceil(seconds / SHEET_SECONDS) - HEAD_LINES


def _part_minutes(where: Occasion) -> float:
    return CHILD_MINUTES if where.grade.child else PART_MINUTES


def _daily(where: Occasion, seconds: int) -> Set[str]:
    """Return the areas that so long a day of its kind does not go without, of a player who has them all."""
    return DAILY if where.kind == "normal" and seconds >= FULL_DAY and HIGH_PART not in where.grade.leaves_out else frozenset()


def _without_one(choices: Sequence[Dosed], daily: Set[str]) -> list[Dosed]:
    """Return the choices without the one that is dropped first: one that can be spared, if there is one."""
    loser = max(_spare(choices, daily) or choices, key=lambda choice: choice.row.rank)
    return [choice for choice in choices if choice is not loser]


def _spare(choices: Sequence[Dosed], daily: Set[str]) -> list[Dosed]:
    """Return the choices without which the others still touch the same daily areas; small and brief ones stand in for none."""
    if not daily:
        return list(choices)
    small = [choice.row for choice in choices if choice.row.brief or choice.row.group == SMALL]
    touched = Counter(area for choice in choices if choice.row not in small for area in choice.part.areas)
    spared = [choice for choice in choices if choice.row.name not in NEVER_SPARED]
    return [
        choice for choice in spared if choice.row in small or all(touched[area] > 1 for area in daily & {*choice.part.areas})
    ]


def _too_long(asked: int, fit: int) -> BadRequest:
    """Return the refusal of minutes that the parts do not fill: with those that fit, if they make a day."""
    refusal = Refusal("minutes", asked, "are more than these parts fill")
    if fit < SHORTEST_DAY:
        return BadRequest(replace(refusal, do="leave out fewer parts, or ask for a wider range"))
    return BadRequest(replace(refusal, would_do=(("minutes", (str(fit),)),)))


def _kept(choices: list[Dosed], seconds: float, most: int, daily: Set[str], more: int) -> list[Dosed]:
    """Return the choices that have room: some are left out until they are few, if they can be spared, and their least fits.

    One of the small parts may come beside so many, if there is room for more.
    """
    while len(choices) > most and (able := _spare(choices, daily)):
        large = [choice for choice in able if not (daily and more and choice.row.group == SMALL)]
        if not large and len(choices) <= most + more:
            break
        loser = max(large or able, key=lambda choice: choice.row.rank)
        choices = [choice for choice in choices if choice is not loser]
    while len(choices) > 1 and sum(choice.doses[0].seconds for choice in choices) > seconds:
        choices = _without_one(choices, daily)
    return choices


def _targeted(choices: Sequence[Dosed], seconds: float, where: Occasion, profile: Profile) -> list[Dosed]:
    """Return each choice with its share of the time and the dose nearest to it; favoured parts get half as much again.

    One of the others, another every day, is gone deep into.
    """
    rows = [choice.row for choice in choices]
    deep = deep_of({row.name for row in rows} - set(profile.favour), where)
    weights = [row.weight * (1.5 if row.name in profile.favour else DEEPER if row.name == deep else 1) for row in rows]
    targets = [seconds * weight / sum(weights) for weight in weights]
    return [_nearest(replace(choice, target=target)) for choice, target in zip(choices, targets, strict=True)]


def deep_of(names: Container[str], where: Occasion) -> str:
    """Return which of a day's parts it goes deep into, another every day."""
    begun = 2 * where.turn(range(len(DEEP)), "deep")
    return next((name for later in range(len(DEEP)) if (name := DEEP[(begun + later) % len(DEEP)]) in names), "")


def _nearest(choice: Dosed) -> Dosed:
    places = range(len(choice.doses))
    return replace(choice, taken=min(places, key=lambda i: _distance(choice.doses[i], choice.target)))


def _distance(part: Part, target: float) -> float:
    """Return how far a part is from its time, as a share; other music is better than the same again."""
    return abs(part.seconds - target) / target + SAMENESS * (part.times - 1)


def _least(choices: Sequence[Dosed]) -> float:
    return sum(choice.part.seconds for choice in choices) + sum(choice.part.least_rest for choice in choices[:-1])


def _most(choices: Sequence[Dosed]) -> float:
    return sum(choice.part.seconds for choice in choices) + sum(choice.part.most_rest for choice in choices[:-1])


def _less(choices: list[Dosed], daily: Set[str]) -> list[Dosed]:
    """Return the choices with the most overfull part one dose smaller, or without the part that is dropped first."""
    able = [choice for choice in choices if choice.taken > 0]
    if not able:
        return _without_one(choices, daily)
    longest = min(able, key=lambda choice: choice.missing)
    return [replace(choice, taken=choice.taken - 1) if choice is longest else choice for choice in choices]


def _more(choices: list[Dosed]) -> list[Dosed] | None:
    """Return the choices with the part that lacks most one dose larger; None where nothing can grow."""
    able = [choice for choice in choices if choice.taken + 1 < len(choice.doses)]
    if not able:
        return None
    shortest = max(able, key=lambda choice: choice.missing)
    return [replace(choice, taken=choice.taken + 1) if choice is shortest else choice for choice in choices]


def _thinner(choices: list[Dosed], seconds: int) -> list[Dosed] | None:
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
