"""One study as a whole class plays it: written once within what all share, then moved to each horn."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import islice

from generators.band.keys import AN_OCTAVE, written_key
from generators.band.moving import child_words, moved_study, slurring
from generators.band.plainer import heard_otherwise, plainer_study
from generators.band.programme import ClassStudy, Footing, Form, formed
from generators.band.request import Member
from generators.band.seating import Seat, octaves_to, shared_seats
from generators.band.second import second_voice
from generators.band.simpler import SECOND_AIM, playable_by, simpler_line
from generators.brass.grade import ADULT, GRADES, Grade, grade_on
from generators.brass.horn import HORNS, Horn, horn
from generators.phrase.note import Note, Phrase
from generators.phrase.study import Study
from generators.theory.key import Key
from generators.theory.pitch import Pitch, simple

# The horn that the studies of a class are written for first, wherever its grade has their key.
_HOME = "trumpet"
# A study is played so many times at the most, by beginners alone so many: our choice.
MOST_TIMES, FIRST_TIMES = 3, 2
# What is said of a tune that is played twice, and the seconds between.
TWICE, AGAIN_AFTER = "Play it twice.", 10
# The role of a note from which on a tune is slower.
SLOWING = "slowing"


@dataclass(frozen=True, slots=True)
class ClassLine:
    """What one player plays of a study."""

    study: Study
    octaves: int
    """How many octaves over what it was first written at it sounds."""
    beyond: Pitch | None = None
    """For a simpler line the first note of the whole one that is out of reach."""
    plainer: bool = False
    """Whether it is a beginner's among players who are farther on: in halves and quarters."""
    lower: bool = False
    """Whether it is a beginner's second voice, a third under the line, which would lie high for him."""

    @property
    def own(self) -> bool:
        """Whether it is another than that of most."""
        return bool(self.beyond) or self.plainer or self.lower


@dataclass(frozen=True, slots=True)
class Resting:
    """A player who cannot play even the rhythm of a study, and the first note that is out of reach."""

    beyond: Pitch


@dataclass(frozen=True, slots=True)
class SharedStudy:
    """A study as the class plays it."""

    name: str
    study: Study
    """As it was first written."""
    lines: tuple[ClassLine | Resting, ...]
    """One for each of those who read the key, in their order."""
    joined: int
    """How many of them play all of it, note for note."""
    times: int = 1
    """How often all of it is played, from beginning to end."""

    @property
    def seconds(self) -> float:
        """How long it lasts, its rests and repeats included."""
        return self.times * (self.study.playing + self.study.resting) + AGAIN_AFTER * (self.times - 1)


@dataclass(frozen=True, slots=True)
class Company:
    """Those who play together, and in which concert key."""

    members: tuple[Member, ...]
    key: Key
    seed: int

    @property
    def alike(self) -> bool:
        """Whether the open tubes of all horns sound the same note, in whatever octave."""
        return len({member.tube % AN_OCTAVE for member in self.members}) == 1

    @property
    def young(self) -> bool:
        """Whether there is a child among them: what is said aloud before a study is for all."""
        return any(member.grade.child for member in self.members)

    @property
    def beginning(self) -> bool:
        """Whether all of them are beginners."""
        return all(member.grade.beginner for member in self.members)

    @property
    def mixed(self) -> bool:
        """Whether some of them are beginners and others are not."""
        return len({member.grade.beginner for member in self.members}) > 1


def lengths(row: ClassStudy, company: Company) -> Iterator[SharedStudy]:
    """Yield a study from short to long, then repeated, all within the span that most players share; nothing without one."""
    for seat in _seats(row, company):
        footing = _footing(company, seat, on_tubes=row.on_tubes)
        last: SharedStudy | None = None
        for group in _grouped(row, footing):
            found = next((one for form in group if (one := _shared(row, form, company, seat))), None)
            last = found or last
            if found:
                yield found
        if last:
            most = FIRST_TIMES if company.beginning else MOST_TIMES
            if row.repeatable:
                yield from (_again(last, times) for times in range(2, most + 1))
            if row.twice and company.beginning:
                yield _twice(last)
            return


def _seats(row: ClassStudy, company: Company) -> list[Seat]:
    """Return the spans to try: the best for each company of players, that of the fewest too, as many as there is time for."""
    seats = shared_seats(company.members, company.key, on_tubes=row.on_tubes)
    wide = [seat for seat in seats if seat.width >= row.narrowest]
    best = list({seat.joining: seat for seat in reversed(wide)}.values())[::-1]
    tried = best if len(best) <= row.seats else [*best[: row.seats - 1], best[-1]]
    return [*tried, *(seat for seat in wide if seat not in best)][: row.seats]


def _grouped(row: ClassStudy, footing: Footing) -> Iterator[list[Form]]:
    """Yield the forms of each length."""
    forms = row.forms(footing)
    while group := list(islice(forms, row.drafts)):
        yield group


def _shared(row: ClassStudy, form: Form, company: Company, seat: Seat) -> SharedStudy | None:
    """Return a form as the class plays it; nothing where one who has its span cannot play it."""
    study = formed(form)
    if study is None:
        return None
    whole = [_joined(study, member, company.key, on_tubes=row.on_tubes) for member in company.members]
    joined = sum(1 for line in whole if line)
    if joined < len(seat.joining):
        return None
    pairs = zip(whole, company.members, strict=True)
    lines = tuple(
        _fair(_lying(line, member) if line else _easier(study, member, company.key), member, company) for line, member in pairs
    )
    alike = sum(1 for line in lines if isinstance(line, ClassLine) and not line.own)
    return SharedStudy(row.name, study, lines, alike)


def _joined(study: Study, member: Member, key: Key, *, on_tubes: bool) -> ClassLine | None:
    """Return what a player plays if he reaches all of a study and can be asked all of it."""
    away = horn(study.horn).sounding_half_steps
    heights = [note.pitch.midi + away for note in study.notes]
    possible = octaves_to(min(heights), max(heights), member)
    if on_tubes:
        own = (member.tube - horn(study.horn).fundamental.midi - away) // AN_OCTAVE
        possible = tuple(octaves for octaves in possible if octaves == own)
    moved = ((octaves, moved_study(study, member, key, octaves)) for octaves in possible)
    return next((ClassLine(one, octaves) for octaves, one in moved if playable_by(one)), None)


def _lying(line: ClassLine, member: Member) -> ClassLine:
    """Return what a player plays of a line that he reaches: a second voice under it where it lies high for him."""
    lower = second_voice(line.study, member)
    return replace(line, study=lower, lower=True) if lower else line


def _easier(study: Study, member: Member, key: Key) -> ClassLine | Resting:
    found = simpler_line(study, member, key)
    return ClassLine(found.study, found.octaves, found.beyond) if found.study else Resting(found.beyond)


def _fair(line: ClassLine | Resting, member: Member, company: Company) -> ClassLine | Resting:
    """Return the line of a player in the words of all; that of a beginner among others in plain values."""
    if isinstance(line, Resting):
        return line
    aim = slurring(SECOND_AIM, line.study, member) if line.beyond else child_words(line.study, member)
    line = replace(line, study=replace(line.study, aim=aim)) if company.young else line
    if not company.mixed or not member.grade.beginner:
        return line
    plainer = plainer_study(line.study, member)
    return replace(line, study=plainer, plainer=heard_otherwise(plainer, line.study))


def _again(shared: SharedStudy, times: int) -> SharedStudy:
    """Return a study that is played so many times."""
    lines = tuple(replace(e, study=_repeated(e.study, times)) if isinstance(e, ClassLine) else e for e in shared.lines)
    return replace(shared, study=_repeated(shared.study, times), lines=lines)


def _twice(shared: SharedStudy) -> SharedStudy:
    """Return a tune that is played twice, which every player is told."""
    lines = tuple(
        replace(line, study=_told_twice(line.study)) if isinstance(line, ClassLine) else line for line in shared.lines
    )
    return replace(shared, study=_told_twice(shared.study), times=2, lines=lines)


def _told_twice(study: Study) -> Study:
    """Return a tune whose players are told to play it twice, so that nothing before its end is slower."""
    strains = tuple(replace(strain, music=_in_time(strain.music)) for strain in study.strains)
    return replace(study, aim=" ".join(filter(None, (study.aim, TWICE))), strains=strains)


def _in_time(music: Phrase[Pitch]) -> Phrase[Pitch]:
    return tuple(replace(e, role="") if isinstance(e, Note) and e.role == SLOWING else e for e in music)


def _repeated(study: Study, times: int) -> Study:
    return replace(study, strains=tuple(replace(strain, repeats=strain.repeats * times) for strain in study.strains))


def _footing(company: Company, seat: Seat, *, on_tubes: bool) -> Footing:
    """Return what a study is written for: a horn on which the youngest read the key, and the limits that all share."""
    youngest = min((member.grade for member in company.members), key=_age)
    name = "" if youngest.id == ADULT.id else youngest.id
    home = company.members[0].horn if on_tubes else _home(company, name)
    low, high = _written(seat, home, on_tubes=on_tubes)
    breath = min(member.limits.breath for member in company.members)
    speed = min(member.limits.speed for member in company.members)
    common = {
        "horn": home.id,
        "grade": name,
        "keys": (written_key(company.key, home).name,),
        "low": low.name,
        "high": high.name,
        "seed": company.seed,
        "breath": int(breath) if breath < youngest.breath else None,
        "tongue": int(speed * 15) if speed < youngest.speed else None,
    }
    return Footing(home, grade_on(name, home), common, company.seed)


def _age(grade: Grade) -> int:
    return list(GRADES).index(grade.id) if grade.id in GRADES else len(GRADES)


def _home(company: Company, grade_id: str) -> Horn:
    """Return a horn on which the grade has the key: the usual one, one of the class, or any."""
    horns = (HORNS[_HOME], *(member.horn for member in company.members), *HORNS.values())
    return next((one for one in horns if grade_on(grade_id, one).knows(written_key(company.key, one).name)), HORNS[_HOME])


def _written(seat: Seat, home: Horn, *, on_tubes: bool) -> tuple[Pitch, Pitch]:
    """Return a span as the horn writes it, in the octave that lies best on it, cut where the horn ends."""
    low, high = seat.low - home.sounding_half_steps, seat.high - home.sounding_half_steps
    middle = (home.comfort[0].midi + home.comfort[1].midi) / 2
    if not on_tubes:
        octaves = round((middle - (low + high) / 2) / AN_OCTAVE)
        low, high = low + AN_OCTAVE * octaves, high + AN_OCTAVE * octaves
    return simple(max(low, home.low.midi), sharp=False), simple(min(high, home.ceiling.midi), sharp=False)
