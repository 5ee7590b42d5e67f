"""From a profile to a day's or a week's pages: planned, checked, engraved, saved."""

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from generators.errors import FailedRun, Refusal
from generators.exchange.midi import midi
from generators.exchange.musicxml import musicxml
from generators.jobs.printing import FORMATS, formats_of, numbered, proved, settled, stem_of
from generators.keep.files import check_target, save
from generators.keep.log import entries
from generators.phrase.study import Study
from generators.press.binding import Facts, Laid, Prints, bound
from generators.press.code import short
from generators.press.pages import AnyPage, pages
from generators.press.routine_pages import routine_pages
from generators.proof.day_rules import check
from generators.routine.calendar import day_and_month, full_date, weekday_name
from generators.routine.context import concert_keys
from generators.routine.day import Day, plan
from generators.routine.growth import growth, top_and_ceiling
from generators.routine.growth_words import reason
from generators.routine.load import load
from generators.routine.profile import Profile
from generators.routine.week import Week, plan_week
from generators.sheets.sheet import Sheet
from generators.sheets.week import Blank, week_cover
from generators.studies.catalogue import make
from generators.studies.etude.study import EtudeRequest
from generators.theory.pitch import Pitch


@dataclass(frozen=True, slots=True)
class RoutineReport:
    """What was printed of a day or a week, and how heavy it is; times in seconds."""

    files: tuple[Path, ...]
    pages: int
    parts: tuple[dict[str, Any], ...]
    """Name, title, keys, tempo, seconds and rest of every part, in order; in a week with its day."""
    seconds_music: float
    """Notes, written rests and repeats, as the MIDI has them."""
    seconds_between: float
    """The rests printed between parts."""
    minutes: float
    lowest: str
    highest: str
    load: dict[str, float]
    growth: str
    code: str

    def as_json(self) -> str:
        """Return the report as one JSON object."""
        plain: dict[str, Any] = asdict(self) | {"files": [str(file) for file in self.files]}
        return json.dumps(plain, ensure_ascii=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class DayRequest:
    """A day's routine: whose, when, of what kind, how long, and the top that growth has reached with its reason.

    With `concert` the day's concert keys are those of every player, whatever the horn.
    """

    profile: Profile
    on: date
    kind: str = "normal"
    minutes: int | None = None
    top: Pitch | None = None
    growth: str = ""
    concert: bool = False

    def as_json(self, sheet: Sheet, what: str = "day") -> str:
        """Return the whole request as JSON."""
        plain = asdict(self) | {"on": self.on.isoformat(), "top": self.top.name if self.top else ""}
        return json.dumps({what: plain, "sheet": asdict(sheet)}, indent=1, ensure_ascii=False, sort_keys=True)


def print_day(
    request: DayRequest, out: str | Path = "", formats: Sequence[str] = ("pdf",), sheet: Sheet | None = None
) -> RoutineReport:
    """Print one day's routine and return the report.

    Raises BadRequest where the wishes leave no routine, FailedRun where a rule, the engraver or the disk says no.
    """
    page_side = _sheet(request, sheet)
    number = request.on.toordinal()
    day = checked_day(plan(request.profile, number, request.kind, request.minutes, request.top, concert=request.concert))
    stem = stem_of(out, f"day-{request.profile.horn}-{request.on.isoformat()}")
    check_target(stem)
    text = request.as_json(page_side)
    facts = Facts(_title(request.on, request.kind), page_side.player, short(text), text)
    printed = bound(lambda slack: Laid(_day_pages(day, request, page_side, facts.code, slack)), page_side, formats, facts)
    files = _saved(stem, printed, [day], formats)
    return _report(files, printed, [day], request, facts.code)


def print_week(
    request: DayRequest, out: str | Path = "", formats: Sequence[str] = ("pdf",), sheet: Sheet | None = None
) -> RoutineReport:
    """Print the seven days from a date: cover, the week's etude, and a routine for every day."""
    page_side = _sheet(request, sheet)
    profile = replace(request.profile, minutes=request.minutes or request.profile.minutes)
    week = plan_week(profile, request.on.toordinal(), request.top, concert=request.concert)
    for day in week.days:
        checked_day(day)
    stem = stem_of(out, f"week-{request.profile.horn}-{request.on.isoformat()}")
    check_target(stem)
    text = request.as_json(page_side, "week")
    facts = Facts(f"Week from {full_date(request.on)}", page_side.player, short(text), text)
    etude = _etude(week)
    proved(etude)
    printed = bound(lambda slack: _week_laid(week, etude, request, page_side, facts, slack), page_side, formats, facts)
    files = _saved(stem, printed, week.days, formats)
    return _report(files, printed, week.days, request, facts.code)


def code_of(request: DayRequest, what: str = "day") -> str:
    """Return the code that a day or a week will carry."""
    return short(request.as_json(_sheet(request, None), what))


def grown(profile: Profile, on: date) -> tuple[Pitch | None, str]:
    """Return the top that the player's log has earned on a date, and why; nothing without a log."""
    kept = entries()
    if not kept:
        return None, ""
    top, ceiling = top_and_ceiling(profile)
    earned = growth(kept, top, on, ceiling)
    return earned.top, reason(earned, on)


def _sheet(request: DayRequest, sheet: Sheet | None) -> Sheet:
    own = sheet or Sheet(paper=request.profile.paper)
    return settled(replace(own, player=own.player or request.profile.name), request.profile.grade)


def checked_day(day: Day) -> Day:
    """Return the day if every study passes its proof and the day its rules; an error stops the print."""
    for part in day.parts:
        proved(part.study)
    found = check(day)
    if found:
        raise FailedRun(Refusal("the plan of the day", why=f"fails its rules, nothing was printed: {'; '.join(found)}"))
    return day


def _title(on: date, kind: str) -> str:
    return f"{weekday_name(on)}'s routine" + ("" if kind == "normal" else f", {kind} day")


def _day_pages(day: Day, request: DayRequest, sheet: Sheet, code: str, slack: int) -> tuple[AnyPage, ...]:
    shared = f"Concert keys: {', '.join(concert_keys(day.context).all)}." if request.concert else ""
    told = (f"{day.seconds / 60:.0f} minutes.", load(day).words(), shared, _sentence(request.growth))
    summary = " ".join(filter(None, told))
    dated = replace(sheet, date=sheet.date or full_date(request.on))
    return routine_pages(day, _title(request.on, day.context.kind), summary, dated, code, slack=slack)


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def _etude(week: Week) -> Study:
    """Return the week's etude, in the week's keys and within the player's range."""
    common = week.days[0].context.common | {"seed": week.seed}
    keys = week.days[0].context.keys.majors[:2]
    return make(EtudeRequest(**common, keys=keys))


def _week_laid(week: Week, etude: Study, request: DayRequest, sheet: Sheet, facts: Facts, slack: int) -> Laid:
    """Return cover, etude and days; with duplex every day begins on a right-hand page."""
    dates = [request.on + timedelta(days=i) for i in range(len(week.days))]
    inner: list[AnyPage] = list(pages(etude, replace(sheet, title=""), facts.code, slack=slack))
    starts: list[int] = []
    for day, on in zip(week.days, dates, strict=True):
        if request.profile.duplex and len(inner) % 2 == 0:
            inner.append(Blank())
        starts.append(len(inner) + 2)
        inner += _day_pages(day, replace(request, on=on, kind=day.context.kind), sheet, facts.code, slack)
    names = [f"{weekday_name(on)} {day_and_month(on)}" for on in dates]
    cover = week_cover(week, facts.title, names, starts, (etude.title, 2), _sentence(request.growth), sheet, facts.code)
    marks = (("The week", 0), (etude.title, 1), *((name, start - 1) for name, start in zip(names, starts, strict=True)))
    return Laid((cover, *inner), marks)


def _saved(stem: Path, printed: Prints, days: Sequence[Day], formats: Sequence[str]) -> tuple[Path, ...]:
    """Save what was printed and exported, all or nothing, and return the files."""
    contents = {FORMATS[name]: parts for name, parts in printed.contents.items()}
    studies = [part.study for day in days for part in day.parts]
    horn = days[0].context.horn
    if "midi" in formats_of(formats):
        contents[FORMATS["midi"]] = (midi(studies, horn),)
    if "musicxml" in formats:
        contents |= {f"-{i}-{study.kind}{FORMATS['musicxml']}": (musicxml(study, horn),) for i, study in enumerate(studies, 1)}
    files = {numbered(stem, extra, i, len(parts)): part for extra, parts in contents.items() for i, part in enumerate(parts, 1)}
    save(files)
    return tuple(files)


def _report(files: tuple[Path, ...], printed: Prints, days: Sequence[Day], request: DayRequest, code: str) -> RoutineReport:
    pitches = [note.pitch for day in days for part in day.parts for note in part.study.notes]
    loads = [load(day) for day in days]
    between = sum(part.rest for day in days for part in day.parts)
    total = sum(day.seconds for day in days)
    return RoutineReport(
        files=files,
        pages=printed.pages,
        parts=tuple(_told(day, i) for day in days for i in range(len(day.parts))),
        seconds_music=round(total - between, 1),
        seconds_between=between,
        minutes=round(total / 60, 2),
        lowest=min(pitches).name,
        highest=max(pitches).name,
        load={
            "minutes_above_stave": round(sum(each.above for each in loads) / 60, 2),
            "longest_stretch_seconds": round(max(each.longest for each in loads), 1),
            "share_of_rest": round(sum(each.rest for each in loads) / len(loads), 3),
        },
        growth=request.growth,
        code=code,
    )


def _told(day: Day, place: int) -> dict[str, Any]:
    part = day.parts[place]
    keys = list(dict.fromkeys(strain.tube or strain.key.name for strain in part.study.strains))
    return {
        "day": date.fromordinal(day.context.day).isoformat(),
        "part": part.name,
        "title": part.study.title,
        "keys": keys,
        "tempo": part.study.tempo,
        "seconds": round(part.seconds, 1),
        "rest": part.rest,
    }
