"""What a day may choose from: every part that belongs into it, in all its doses from short to long."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from generators.errors import BadRequest
from generators.phrase.remark import Fewer, Narrowed
from generators.routine.part import Part, again, closing, part_of
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest
from generators.routine.rests import with_bars_off
from generators.studies.catalogue import DAY_PARTS, make, nearest_tempo
from generators.studies.kit.kind import DayPart
from generators.studies.kit.occasion import Occasion

# On a light day a rest may be so much longer than the playing, and after a part above the staff: our choice.
EASED, HIGH_EASE = 1.6, 1.5
# No part but a brief one plays for less than so many seconds, if it can play longer: our choice.
LEAST_MUSIC = 30
# Every part has so many lines of music, if it can: our choice.
LEAST_LINES = 2
# A line of so many seconds is played once less than others at the most: our choice.
LONG_LINE = 8.0
# The small parts, which come every second day, stay for two: so each comes in its turn.
STAYS = {"small": 2}
# Where parts do not simply come one after another: high slurs come twice a week at the most; our choice.
ROUNDS: Mapping[str, tuple[str, ...]] = {"high": ("wide-flow", "high-slurs", "wide-flow", "wide-flow", "high")}


@dataclass(frozen=True, slots=True)
class Dosed:
    """A part with all its doses from short to long, and the one taken."""

    row: DayPart
    doses: tuple[Part, ...]
    target: float = 1.0
    taken: int = 0

    @property
    def part(self) -> Part:
        """The dose that is taken."""
        return self.doses[self.taken]

    @property
    def missing(self) -> float:
        """What the part lacks of its target, as a share."""
        return (self.target - self.part.seconds) / self.target


def choices_of(where: Occasion, request: DayRequest, most: int, easy: float) -> Iterator[Dosed]:
    """Yield every part that belongs into this day of this player, without doses where it cannot be had."""
    wishes = request.wishes
    left = (*request.profile.leave_out, *where.grade.leaves_out, *wishes.leave_out)
    for row in DAY_PARTS.values():
        if row.name in left or where.kind not in row.days or (wishes.only and row.name not in wishes.only):
            continue
        doses = sorted(
            _compact(_unnarrowed(list(_doses(row, where, most, easy))), row.most_lines), key=lambda part: part.seconds
        )
        yield Dosed(row, tuple(doses))


def in_turn(had: Sequence[Dosed], where: Occasion, profile: Profile) -> Iterator[Dosed]:
    """Yield of each group the part whose turn it is, and those that the player favours."""
    for choice in had:
        group = choice.row.group
        if not group or choice.row.name in profile.favour or choice.row.name == _turn_of(group, had, where):
            yield choice


def _turn_of(group: str, had: Sequence[Dosed], where: Occasion) -> str:
    """Return the part of a group whose turn it is; where it cannot be had, the next of them."""
    rows = (row for row in DAY_PARTS.values() if row.group == group and where.kind in row.days)
    names = list(ROUNDS.get(group, ())) or [row.name for row in rows for _ in range(row.turns)]
    begun = where.turn(range(len(names)), group, STAYS.get(group, 1))
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
    """Return the doses that take few enough lines on paper, but two, and play long enough, or the nearest to that."""
    few = [part for part in doses if part.lines <= most] or sorted(doses, key=lambda part: part.lines)[:1]
    tall = [part for part in few if part.lines >= LEAST_LINES or part.study.strains[0].free] or few
    return [part for part in tall if part.row.brief or part.seconds >= LEAST_MUSIC] or tall


def _doses(row: DayPart, where: Occasion, most: int, easy: float) -> Iterator[Part]:
    """Yield what can be played of a part: every request that fits the player, at the tempo wished for or near it, repeated."""
    own = replace(where, tempo=where.tempi.get(row.name, where.tempo))
    for asked in dict.fromkeys(row.requests(own)):
        try:
            request = nearest_tempo(asked)
            study = with_bars_off(make(request), row.bars_off)
            study = closing(study) if row.closes and not where.grade.child else study
        except BadRequest:
            continue
        once = replace(part_of(row, request, study), ease=_ease(row, where, easy))
        # Up a ladder of tempi it is another thing every time, but the same notes.
        long = bool(study.ladder) or once.seconds / len(study.strains) > LONG_LINE
        # Of lines with a long rest each is played once, but one alone, or two of a player who is at home above the staff.
        few = len(study.strains) <= (2 if where.far_above else 1)
        most_often = min(most - long, 1 + few) if row.bars_off else most - long
        yield from (again(once, times) for times in range(1, most_often + 1 if row.repeatable else 2))


def _ease(row: DayPart, where: Occasion, easy: float) -> float:
    """Return how long a part may be rested after, beside how long it was played."""
    if where.kind == "light":
        return EASED
    return HIGH_EASE if "high" in row.areas else easy if row.easy and not where.grade.child else 1.0
