"""A class, planned: its key, its studies filled to the minute, every player's lines; a pure function of what is asked."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from generators.band.joining import ClassLine, Company, Resting, SharedStudy, lengths
from generators.band.keys import Choice, chosen_key
from generators.band.programme import PROGRAMME, ClassStudy
from generators.band.request import CLASS_STUDIES, ClassRequest, Member, members_of
from generators.errors import BadRequest, Refusal
from generators.fields import check_record
from generators.phrase.study import Study

# Seconds between two studies, at the least, at the most, and in steps that are said in words: our choice.
LEAST_PAUSE, MOST_PAUSE, PAUSE_STEP = 10, 40, 10
# The seconds in which beginners sing a tune before they play it, in a class of so many minutes: our choice.
SUNG_SECONDS, SUNG_FROM = 60, 8
# A class has another tune for so many seconds, if so many are left; the seeds of two lie apart. Our choice.
TUNE, SECONDS_A_TUNE, LEAST_TUNE, _APART = "etude", 480, 45, 1000
# To how many times its share a study grows before there is another tune, and after it: our choice.
_SHARES, _ALL = 1.0, 100.0
# What stands in for lip slurs where the horns are of different lengths, the first that is not played anyway.
_INSTEAD = ("flow", "arpeggios", "intervals")


@dataclass(frozen=True, slots=True)
class StoodIn:
    """A study that stands in for another: lip slurs ask for horns of one length, and these are not."""

    wanted: str
    instead: str
    others: tuple[int, ...]
    """The players whose horns differ from the first one's, by their places."""


@dataclass(frozen=True, slots=True)
class ClassItem:
    """A study of a class, its number, and the seconds of rest after it."""

    number: int
    shared: SharedStudy
    rest: int = 0


@dataclass(frozen=True, slots=True)
class ClassPlan:
    """A class before it is printed."""

    request: ClassRequest
    members: tuple[Member, ...]
    choice: Choice
    reading: tuple[Member, ...]
    """Those who read the key, in their order."""
    items: tuple[ClassItem, ...]
    roomless: tuple[str, ...] = ()
    """Studies that find no span that players share."""
    timeless: tuple[str, ...] = ()
    """Studies for which the minutes are too few."""
    stood_in: StoodIn | None = None
    singing: int = 0
    """The seconds left to sing the tune first."""

    @property
    def seconds(self) -> float:
        """All of its time, rests and singing included."""
        return sum(item.shared.seconds + item.rest for item in self.items) + self.singing

    def lines(self, member: Member) -> tuple[tuple[ClassItem, ClassLine | Resting], ...]:
        """Return what a player has in each study; nothing for one who does not read the key."""
        if member not in self.reading:
            return ()
        place = self.reading.index(member)
        return tuple((item, item.shared.lines[place]) for item in self.items)

    def studies(self, member: Member) -> tuple[Study, ...]:
        """Return the studies that a player plays."""
        return tuple(line.study for _, line in self.lines(member) if isinstance(line, ClassLine))


def plan_class(request: ClassRequest) -> ClassPlan:
    """Return the plan of a class; raises BadRequest where nobody reads the key or no study can be had."""
    check_record("request", request, ClassRequest)
    members_of(request)
    return _plan_class(request.whole)


@lru_cache(maxsize=8)
def _plan_class(request: ClassRequest) -> ClassPlan:
    """Return the plan; the last ones are kept, for every paper of a class asks for it again."""
    members = members_of(request)
    choice = chosen_key(members, request.concert_key)
    away = {place for place, _ in choice.unread}
    company = Company(tuple(member for member in members if member.place not in away), choice.key, request.seed)
    names, stood_in = _named(request, company)
    courses = [_Course(PROGRAMME[name], company) for name in names]
    courses = [course for course in courses if course.grow(None)]
    if not courses:
        raise BadRequest(_roomless(company, names))
    singing = SUNG_SECONDS if company.beginning and TUNE in names and request.minutes >= SUNG_FROM else 0
    seconds = request.minutes * 60 - singing
    chosen = _filled(courses, company, seconds)
    return ClassPlan(
        request,
        members,
        choice,
        company.members,
        tuple(_paused([course.taken for course in chosen], seconds)),
        roomless=tuple(name for name in names if name not in {course.row.name for course in courses}),
        timeless=tuple(course.row.name for course in courses if course not in chosen),
        stood_in=stood_in,
        singing=singing if any(course.row.name == TUNE for course in chosen) else 0,
    )


def _roomless(company: Company, names: Sequence[str]) -> Refusal:
    """Return why none of the studies can be had, and those that can."""
    narrowest = min(company.members, key=lambda one: one.limits.high.midi - one.limits.low.midi)
    span = f"{narrowest.limits.low} to {narrowest.limits.high}"
    why = f"share no span that holds what is wanted; the narrowest has {span}"
    others = (name for name in CLASS_STUDIES if name not in names and company.alike >= PROGRAMME[name].on_tubes)
    able = tuple(name for name in others if next(lengths(PROGRAMME[name], company), None))
    return Refusal("players", None, why, do="" if able else "no study would do", would_do=(("studies", able),) if able else ())


def _named(request: ClassRequest, company: Company) -> tuple[tuple[str, ...], StoodIn | None]:
    """Return the studies, another one in the place of lip slurs where the horns are of different lengths."""
    names = request.programme
    wanted = next((name for name in names if PROGRAMME[name].on_tubes), "")
    if not wanted or company.alike:
        return names, None
    instead = next((name for name in _INSTEAD if name not in names), "")
    first = company.members[0].tube % 12
    others = tuple(member.place for member in company.members if member.tube % 12 != first)
    kept = tuple(instead if name == wanted else name for name in names if instead or name != wanted)
    return kept, StoodIn(wanted, instead, others)


class _Course:
    """A study on its way to its length; longer ones are made when they are asked for."""

    def __init__(self, row: ClassStudy, company: Company) -> None:
        self.row = row
        self._longer = lengths(row, company)
        self._next: SharedStudy | None = None
        self.made: list[SharedStudy] = []

    @property
    def taken(self) -> SharedStudy:
        return self.made[-1]

    def grow(self, room: float | None) -> bool:
        """Take the next longer form if it has room; tell whether it was taken."""
        self._next = self._next or next(self._longer, None)
        more = self._next.seconds - (self.taken.seconds if self.made else 0) if self._next else 0
        if not self._next or (room is not None and more > room):
            return False
        self.made.append(self._next)
        self._next = None
        return True


def _filled(courses: Sequence[_Course], company: Company, seconds: float) -> list[_Course]:
    """Return the studies that have room, each grown towards its share of the time, then other tunes, then all they can."""
    kept = list(courses)
    while len(kept) > 1 and _least(kept) > seconds:
        kept.remove(max(kept, key=lambda course: course.row.rank))
    _grow(kept, seconds, _SHARES)
    kept = _with_tunes(kept, company, seconds)
    _grow(kept, seconds, _ALL)
    return kept


def _grow(courses: Sequence[_Course], seconds: float, most: float) -> None:
    """Let studies grow, the one that lacks most first, to so many times their shares at the most."""
    weights = sum(course.row.weight for course in courses)
    able = list(courses)
    while able:
        needy = max(able, key=lambda one: one.row.weight / weights - one.taken.seconds / seconds)
        full = needy.taken.seconds > most * seconds * needy.row.weight / weights
        if full or not needy.grow(seconds - _least(courses)):
            able.remove(needy)


def _with_tunes(courses: Sequence[_Course], company: Company, seconds: float) -> list[_Course]:
    """Return the studies with other tunes after a tune where much time is left."""
    result = list(courses)
    tunes = [place for place, course in enumerate(result) if course.row.name == TUNE]
    for number in range(1, 1 + int(seconds / SECONDS_A_TUNE)) if tunes else ():
        room = seconds - _least(result) - LEAST_PAUSE
        another = _Course(PROGRAMME[TUNE], replace(company, seed=company.seed + _APART * number))
        if room < LEAST_TUNE or not another.grow(room):
            break
        while another.grow(seconds - _least([*result, another])):
            pass
        result.insert(tunes[0] + number, another)
    return result


def _least(courses: Sequence[_Course]) -> float:
    return sum(course.taken.seconds for course in courses) + LEAST_PAUSE * (len(courses) - 1)


def _paused(studies: Sequence[SharedStudy], seconds: float) -> Iterator[ClassItem]:
    """Yield the studies numbered, what is left of the time between them."""
    gaps = len(studies) - 1
    spare = seconds - sum(study.seconds for study in studies)
    pause = int(min(MOST_PAUSE, max(LEAST_PAUSE, spare / gaps))) // PAUSE_STEP * PAUSE_STEP if gaps else 0
    for number, study in enumerate(studies, 1):
        yield ClassItem(number, study, pause if number <= gaps else 0)
