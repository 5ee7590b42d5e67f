"""The occasion of a day: a player's profile on one day, turned into what the studies need to know."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from generators.brass.grade import Grade, grade_on
from generators.brass.horn import Horn, horn
from generators.errors import BadRequest, Refusal, unknown
from generators.routine.profile import PARTS, Profile, grade_of, range_of
from generators.routine.requests import DayRequest, Wishes
from generators.routine.rotation import as_written, day_keys, sounding
from generators.studies.kit.occasion import DayKeys, Occasion
from generators.studies.kit.request import FASTEST, SLOWEST
from generators.theory.key import half_steps_away, parse_key
from generators.theory.pitch import Pitch, parse_pitch, simple

# How many half-steps lower the top of a light day lies: our choice.
LIGHTER = 4
# How many majors and minors a learner has in a day.
LEARNERS_MAJORS, LEARNERS_MINORS = 4, 2
# A longer number is no tempo; it is not even read.
_DIGITS = 4


def occasion(request: DayRequest) -> Occasion:
    """Return the occasion of a day.

    With `concert` its keys are the same concert keys for every player, turned to what each horn reads. Raises BadRequest where
    the range leaves no room for a routine.
    """
    profile, the_horn = request.profile, horn(request.profile.horn)
    grade_id = grade_of(profile)
    the_grade = grade_on(grade_id, the_horn)
    low, high = range_of(profile)
    high = request.growth.top if request.growth else high
    return Occasion(
        player=request.player,
        horn=the_horn,
        grade=the_grade,
        grade_id=grade_id,
        kind=request.kind,
        day=request.on.toordinal(),
        low=low,
        high=_lowered(low, high, the_grade.narrowest) if request.kind == "light" else high,
        stretch=_stretch(profile, the_horn, high),
        keys=_keys(request, the_horn, the_grade),
        tempo=request.wishes.tempo,
        tempi=tempi_of(request.wishes),
        own_low=bool(profile.low),
        breath=profile.breath,
        tongue=profile.tongue,
        multiple=profile.multiple,
        articulations=profile.articulations,
    )


def tempi_of(wishes: Wishes) -> Mapping[str, int]:
    """Return the tempo wished for each part that one was named for; what names no part or no tempo is refused."""
    found: dict[str, int] = {}
    for text in wishes.tempi:
        part, _, tempo = text.partition("=")
        if part not in PARTS:
            raise unknown("tempo", part, PARTS)
        if not (tempo.isascii() and tempo.isdigit() and len(tempo) <= _DIGITS and SLOWEST <= int(tempo) <= FASTEST):
            raise BadRequest(Refusal("tempo", text, "names no tempo", allowed=f"{SLOWEST} to {FASTEST}", do=f"write {part}=72"))
        found[part] = int(tempo)
    return found


def _lowered(low: Pitch, high: Pitch, narrowest: int) -> Pitch:
    """Return the top of a light day."""
    if high.midi - low.midi <= narrowest:
        return high
    return simple(max(high.midi - LIGHTER, low.midi + narrowest), sharp=False)


def _stretch(profile: Profile, the_horn: Horn, high: Pitch) -> Pitch:
    if profile.stretch:
        return parse_pitch(profile.stretch)
    return simple(min(high.midi + 2, the_horn.ceiling.midi), sharp=False)


def _keys(request: DayRequest, the_horn: Horn, the_grade: Grade) -> DayKeys:
    """Return the keys of the day: those wished for, or the rotation's that the player knows; moved if that is wished."""
    profile, day = request.profile, request.on.toordinal()
    if request.wishes.keys:
        turned = _wished(request.wishes.keys)
    elif request.concert:
        weak = sounding(_weak(profile, the_grade), the_horn.sounding_half_steps)
        turned = as_written(day_keys(day, weak=weak), the_horn.sounding_half_steps)
        turned = _known(turned, day, the_grade, together=True)
    else:
        own = str(profile.seed or "")
        turned = _known(day_keys(day, own, _weak(profile, the_grade)), day, the_grade, together=False)
    return _transposed(turned, request.wishes.transpose) if request.wishes.transpose else turned


def _weak(profile: Profile, the_grade: Grade) -> tuple[str, ...]:
    """Return the weak keys that the player reads, named as the rotation names them."""
    return tuple(name for name in sounding(profile.weak_keys, 0) if not the_grade.keys or name in the_grade.keys)


def _wished(names: Sequence[str]) -> DayKeys:
    """Return the keys that were asked for; where all are minor, what asks for a major has them too."""
    keys = [parse_key(name) for name in names]
    majors = tuple(key.name for key in keys if key.mode == "major")
    minors = tuple(key.name for key in keys if key.mode == "minor")
    return DayKeys(majors or minors, minors, ())


def _transposed(keys: DayKeys, steps: int) -> DayKeys:
    def moved(names: Sequence[str]) -> tuple[str, ...]:
        return tuple(half_steps_away(parse_key(name), steps).name for name in names)

    return DayKeys(moved(keys.majors), moved(keys.minors), moved(keys.weak))


def _known(keys: DayKeys, day: int, the_grade: Grade, *, together: bool) -> DayKeys:
    """Return the day's keys; a learner's are turned round within the grade, beginning with the group's that it knows."""
    if not the_grade.keys:
        return keys
    shared = [name for name in (*keys.majors, *keys.minors) if together and name in the_grade.keys]
    known = the_grade.own_keys if the_grade.slow else the_grade.keys
    majors = [name for name in known if not name.endswith("m")]
    minors = [name for name in known if name.endswith("m")]
    return replace(
        keys,
        majors=_round(majors, day, LEARNERS_MAJORS, shared),
        minors=_round(minors, day, LEARNERS_MINORS, shared),
        weak=tuple(name for name in keys.weak if name in the_grade.keys),
    )


def _round(names: Sequence[str], day: int, count: int, shared: Sequence[str]) -> tuple[str, ...]:
    """Return the shared names and then the next of a series that goes on from day to day, so many in all."""
    many = min(count, len(names))
    turning = (names[(day * many + i) % len(names)] for i in range(len(names)))
    return tuple(dict.fromkeys((*(name for name in shared if name in names), *turning)))[:many]


def concert_keys(where: Occasion) -> DayKeys:
    """Return the day's keys as they sound."""
    keys, half_steps = where.keys, where.horn.sounding_half_steps
    return replace(keys, majors=sounding(keys.majors, half_steps), minors=sounding(keys.minors, half_steps))
