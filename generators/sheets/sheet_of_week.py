"""A young player's week on one sheet: warm-up, a skill, a scale and a tune, boxes for seven days, and when each is good."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from fractions import Fraction
from typing import Any

from generators.brass.grade import grade
from generators.errors import BadRequest
from generators.phrase.rests import with_single_rests
from generators.phrase.study import Study
from generators.proof.prove import proved
from generators.routine.calendar import check_day, full_date, weekday_name
from generators.routine.context import occasion
from generators.routine.profile import grade_of
from generators.routine.profile_check import check_profile
from generators.routine.requests import DayRequest, WeekRequest
from generators.sheets.document import Document, Music, Section, Stamp, horn_band
from generators.sheets.facts import part_keys
from generators.sheets.first_tune import to_new_notes
from generators.sheets.panels import Paragraph, Ticks
from generators.sheets.sheet import Sheet
from generators.sheets.study import file_name
from generators.studies.air import AirRequest
from generators.studies.arpeggios import ArpeggiosRequest
from generators.studies.catalogue import kind, kind_of, make, nearest_tempo, no_quicker
from generators.studies.entrances import EntrancesRequest
from generators.studies.etude.naming import unlettered
from generators.studies.etude.study import EtudeRequest
from generators.studies.kit.request import Request
from generators.studies.scales import ScalesRequest
from generators.studies.tonguing.study import TonguingRequest
from generators.theory.pitch import extremes

_DAYS = 7
# The numbers that metronomes have by custom; common practice, no source.
METRONOME = (*range(40, 60, 2), *range(60, 72, 3), *range(72, 120, 4), *range(120, 144, 6), *range(144, 209, 8))
# The longest day of a week that is one sheet, and the shortest note of those who get one: our choice.
LONGEST, _SLOWEST = 15, Fraction(1, 8)
# What is new from week to week: the skill; the tempo, one number of a metronome more for some weeks; then the key. Our choice.
_SKILLS = ("tonguing", "slurs", "intervals", "flow", "arpeggios", "entrances")
_STEPS = 4
# When each has been practised enough, in a child's words: our choice.
GOOD_WHEN = {
    "air": "the note stays still to its end, two times in a row",
    "tonguing": "ten notes in a row begin alike",
    "slurs": "both times the note changes without the tongue",
    "intervals": "five jumps land at the first try",
    "flow": "each slur takes one breath, twice in a row",
    "arpeggios": "the top note comes at the first try, twice in a row",
    "entrances": "the first try is the note that you sang",
    "scales": "you play each line twice and stop only at the rests and breaths",
    "etude": "you play it twice, and somebody can sing it after you",
}
_TOLD = "Every day play each line twice, then tick the day. No more than {} minutes."
_TEACHER = "From your teacher: " + "_" * 60
# What that takes of the page, in millimetres.
_HEAD = 21.0


@dataclass(frozen=True, slots=True)
class WeekTask:
    """One thing to practise in the week: what the page calls it, and the music."""

    name: str
    request: Request
    study: Study


def is_one_sheet(request: WeekRequest) -> bool:
    """Tell whether a week is one sheet: for the first grades and a short day, unless the days are asked for."""
    of = grade(grade_of(request.profile))
    return of.child and of.shortest >= _SLOWEST and _minutes(request) <= LONGEST and not request.daily


def _minutes(request: WeekRequest) -> int:
    """Return the minutes of a day that were asked for, else the player's own, no more than his grade's."""
    own, of = request.profile.minutes, grade(grade_of(request.profile))
    return request.minutes or min(own, of.minutes or own)


def sheet_of_week(request: WeekRequest, sheet: Sheet, stamp: Stamp) -> Document:
    """Return the sheet, every study proved; the week after goes one step on."""
    check_day("on", request.on)
    check_profile(request.profile)
    tasks = list(tasks_of(request))
    boxes = tuple(weekday_name(request.on + timedelta(days=later))[:3] for later in range(_DAYS))
    beginner = grade(grade_of(request.profile)).beginner
    named = (unlettered(_named(task)) if beginner else _named(task) for task in tasks)
    sections = tuple(Section(study, good=GOOD_WHEN[study.kind]) for study in named)
    title = sheet.title or f"Week from {full_date(request.on)}"
    return Document(
        name=file_name("week", request.profile.horn, request.on.isoformat(), stamp.code),
        title=title,
        sheet=sheet,
        stamp=stamp,
        chapters=(
            Music(
                sections=sections,
                title=title,
                band=horn_band(request.profile.horn, sheet),
                glance=(Paragraph(_TOLD.format(_minutes(request)), "quiet"), Ticks(boxes), Paragraph(_TEACHER)),
                glance_height=_HEAD,
                bookmark=title,
            ),
        ),
        findings=tuple(finding for task in tasks for finding in proved(task.study)),
        facts=_facts(tasks, request),
    )


def _named(task: WeekTask) -> Study:
    """Return the study under the name of its task, which says no more; only the home note that is played first is told."""
    told = task.study.what if isinstance(task.request, EntrancesRequest) else ""
    return replace(task.study, name=", ".join(filter(None, (task.name, told))), what="")


def tasks_of(request: WeekRequest) -> Iterator[WeekTask]:
    """Yield what is practised in the week, in order."""
    day = DayRequest(
        profile=request.profile, on=request.on, growth=request.growth, wishes=request.wishes, concert=request.concert
    )
    where, week = occasion(day.settled), request.on.toordinal() // _DAYS
    keys = where.keys.majors
    common = where.common | {"keys": (keys[week // _STEPS % len(keys)],)}
    yield _task("Warm-up", AirRequest(**common, seconds=30, widest="third"))
    scale = ScalesRequest(**common, pattern="straight")
    climb = _task("Scale", nearest_tempo(replace(scale, tempo=_quicker(make(scale).tempo, week % _STEPS))))
    yield climb
    pace = climb.study.tempo if where.grade.beginner else None
    yield _skill(week, common, pace)
    tune = EtudeRequest(**common | {"seed": week}, bars="8" if where.grade.slow else "16")
    yield _task("Tune", to_new_notes(replace(tune, tempo=no_quicker(tune, pace).tempo)) if pace else tune)


def _quicker(tempo: int, steps: int) -> int:
    """Return a tempo so many numbers of a metronome farther on."""
    later = [number for number in METRONOME if number > tempo]
    return later[min(steps, len(later)) - 1] if steps and later else tempo


def _task(name: str, request: Request) -> WeekTask:
    study = with_single_rests(make(request))
    return WeekTask(f"{name}: {study.name[:1].lower()}{study.name[1:]}" if name in ("Skill", "Tune") else name, request, study)


def _skill(week: int, common: dict[str, Any], pace: int | None) -> WeekTask:
    """Return the skill whose turn it is, of those that the player can have; chords no quicker than a pace."""
    had = list(_skills(common, pace))
    return had[week % len(had)]


def _skills(common: dict[str, Any], pace: int | None) -> Iterator[WeekTask]:
    for name in _SKILLS:
        few = {"count": 2} if name == "entrances" else {"registers": ("middle",)} if name == "tonguing" else {}
        try:
            asked = _a_week(kind(name).request(**common, **few))
            yield _task("Skill", no_quicker(asked, pace) if pace and isinstance(asked, ArpeggiosRequest) else asked)
        except BadRequest:
            continue


def _a_week(request: Request) -> Request:
    """Return tonguing with no more tempi to tick off, one a day, than a week has days."""
    if not isinstance(request, TonguingRequest):
        return request
    ladder = make(request).ladder
    return replace(request, goal=ladder[_DAYS - 1]) if len(ladder) > _DAYS else request


def _facts(tasks: list[WeekTask], request: WeekRequest) -> dict[str, Any]:
    """Return what a report tells of a week that is one sheet: seven days alike."""
    low, high = extremes(note.pitch for task in tasks for note in task.study.notes)
    seconds = sum(task.study.playing + task.study.resting for task in tasks)
    keys = list(dict.fromkeys(key for task in tasks for key in part_keys(task.study)))
    days = [(request.on + timedelta(days=later)).isoformat() for later in range(_DAYS)]
    day = {
        "kind": "sheet",
        "horn": request.profile.horn,
        "minutes": round(seconds / 60, 2),
        "lowest": low.name,
        "highest": high.name,
    }
    return {
        "days": [{"date": on, **day, "keys": keys, "told": "", "request": request} for on in days],
        "parts": [_told(task, on) for on in days for task in tasks],
        "minutes": round(_DAYS * seconds / 60, 2),
    }


def _told(task: WeekTask, on: str) -> dict[str, Any]:
    study = task.study
    return {
        "day": on,
        "part": study.kind,
        "title": study.title,
        "keys": list(part_keys(study)),
        "tempo": study.tempo,
        "seconds": round(study.playing + study.resting, 1),
        "rest": 0,
        "covers": list(kind_of(task.request).areas),
        "request": task.request,
    }
