"""A day's routine: compact studies one after another, with a strip at the head that shows the day at a glance."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from generators.errors import Refusal
from generators.phrase.wording import key_words, strain_words
from generators.proof.finding import Finding
from generators.proof.prove import held, prove_day, proved
from generators.routine.calendar import day_and_month, weekday_name
from generators.routine.context import concert_keys
from generators.routine.day import Day, plan
from generators.routine.load import load
from generators.routine.part import Part
from generators.routine.requests import DayRequest, RoutineRequest
from generators.sheets.document import Document, Music, OmittedStudy, Section, Stamp, horn_band, omission_words
from generators.sheets.facts import growth_words, routine_facts
from generators.sheets.panels import Paragraph
from generators.sheets.sheet import Sheet
from generators.sheets.study import file_name

# What the strip takes of the page in millimetres, measured on our own sheets: its frame, and a row of two parts.
STRIP_HEAD, STRIP_ROW = 12.0, 4.1
# So many keys of a part stand in the strip; more are counted.
MOST_STRIP_KEYS = 5


@dataclass(frozen=True, slots=True)
class StripRow:
    """One part in the strip."""

    number: int
    title: str
    keys: str
    minutes: str
    tempo: int


@dataclass(frozen=True, slots=True)
class Strip:
    """The day at a glance: number, name, keys, minutes and tempo of every part."""

    rows: tuple[StripRow, ...]
    template: str = "panels/strip.ily.j2"


def day_document(request: DayRequest, sheet: Sheet, stamp: Stamp) -> Document:
    """Return the pages of a day, every study proved and the day checked."""
    day = plan(request)
    findings = proved_day(day)
    dated = replace(sheet, date=sheet.date or request.on.isoformat())
    return Document(
        name=file_name("day", request.profile.horn, request.on.isoformat(), request.kind, stamp.code),
        title=sheet.title or day_title(day),
        sheet=dated,
        stamp=stamp,
        chapters=(day_chapter(day, request, dated),),
        findings=findings,
        left_out=day_omissions([day]),
        facts=routine_facts([day], request),
    )


def day_omissions(days: Sequence[Day]) -> tuple[OmittedStudy, ...]:
    """Return the parts that cannot be had on some of the days, each once."""
    names = dict.fromkeys(name for day in days for name in day.left_out)
    return tuple(OmittedStudy(name, Refusal(name, None, "has no room on these notes")) for name in names)


def proved_day(day: Day) -> tuple[Finding, ...]:
    """Return what the proofs of its studies warn of; an error in one, or a broken rule of the day, is a failed run."""
    findings = tuple(finding for part in day.parts for finding in proved(part.study))
    return (*held("day", prove_day(day)), *findings)


def day_title(day: Day) -> str:
    """Return what stands over a day: "Tuesday's routine, light day"."""
    return f"{weekday_name(day.on)}'s routine" + ("" if day.kind == "normal" else f", {day.kind} day")


def day_chapter(day: Day, request: RoutineRequest, sheet: Sheet, *, odd: bool = False) -> Music:
    """Return the chapter of a day."""
    rows = tuple(_row(number, part) for number, part in enumerate(day.parts, 1))
    return Music(
        sections=tuple(Section(part.study, number, part.rest) for number, part in enumerate(day.parts, 1)),
        title=sheet.title or day_title(day),
        band=horn_band(day.context.horn.id, sheet),
        glance=(Strip(rows), Paragraph(_summary(day, request), "quiet")),
        glance_height=STRIP_HEAD + STRIP_ROW * -(-len(rows) // 2),
        even=True,
        bookmark=f"{weekday_name(day.on)} {day_and_month(day.on)}",
        odd=odd,
    )


def _summary(day: Day, request: RoutineRequest) -> str:
    shared = f"Concert keys: {', '.join(map(key_words, concert_keys(day.context).all))}." if request.concert else ""
    omitted = omission_words(day_omissions([day]))
    told = (day.told, f"{day.seconds / 60:.0f} minutes.", load(day).words(), shared, growth_words(request), omitted)
    return " ".join(filter(None, told))


def _row(number: int, part: Part) -> StripRow:
    keys = list(dict.fromkeys(strain_words(strain) for strain in part.study.strains if not strain.free))
    shown = ", ".join(keys) if len(keys) <= MOST_STRIP_KEYS else f"{len(keys)} keys"
    minutes = f"{(part.seconds + part.rest) / 60:.1f} min"
    return StripRow(number, part.study.name, shown, minutes, part.study.tempo)
