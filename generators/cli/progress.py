"""How practice goes: the weeks of the log as a table, and as a chart to pin to the wall."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from generators.cli.log_told import week_bar
from generators.cli.options import annotated, number_slot
from generators.cli.player import JsonOption, ProfileOption, log_of
from generators.cli.streams import write_json
from generators.fields import Slot
from generators.jobs.formats import ENGRAVED
from generators.routine.calendar import check_day, in_words, parse_day
from generators.routine.growth import growth, planned_tops, top_and_ceiling
from generators.routine.growth_words import outlook, reason
from generators.routine.logbook import Entry, weeks
from generators.routine.month import month
from generators.routine.month_words import month_rows, unknown_words
from generators.routine.profile import Profile
from generators.sheets.facts import sentence
from generators.sheets.sheet import Sheet

if TYPE_CHECKING:
    from generators.sheets.document import Document
    from generators.sheets.progress import ProgressRequest


_FORMATS = Slot("format", str, listed=True, empty=False, default=(), help="Print the chart too.", allowed=ENGRAVED, span=None)
_WEEKS = number_slot("weeks", "How many weeks back, 1 to 104; 52 without it.", (1, 104))
FormatOption = Annotated[Any, annotated(_FORMATS)]
OutOption = Annotated[
    str,
    typer.Option(
        "--out", help="Where the chart goes, a stem without ending; by default a telling name in out/.", metavar="PATH"
    ),
]
WeeksOption = Annotated[int, annotated(_WEEKS)]
DayOption = Annotated[str, typer.Option("--date", help="The last day that counts, such as 2026-11-25; by default today.")]

_OTHERS = typer.Option("--replace", help="Replace a file although it holds other music.", show_default=False)
ReplaceOption = Annotated[bool, _OTHERS]


def progress(
    format_: FormatOption = (),
    out: OutOption = "",
    weeks_: WeeksOption = 52,
    day: DayOption = "",
    profile: ProfileOption = "",
    replace: ReplaceOption = False,
    as_json: JsonOption = False,
) -> None:
    """Your weeks: days, minutes, load and top note, why the top is where it is, and a chart of it all.

    Example: waterkey progress --format pdf,svg --out out/progress
    """
    import json

    from generators.jobs.compose import compose
    from generators.keep.log import entries
    from generators.keep.profile_file import load_profile

    formats = list(dict.fromkeys(format_)) or (["pdf"] if out else [])
    today, player = parse_day(day) if day else date.today(), load_profile(profile)
    check_day("date", today)
    kept = entries(log_of(profile))
    asked = _asked(player, kept, today, weeks_)
    document = compose(asked, Sheet(paper=player.paper, player=player.name))
    files = _printed(document, formats, out, replace)
    if as_json:
        told = dict(document.facts) | {"files": [str(file) for file in files], "request": json.loads(document.stamp.carried)}
        write_json(json.dumps(told, ensure_ascii=False))
    else:
        _tell(asked, files)
        typer.echo(week_bar(kept, today))


def _asked(profile: Profile, kept: Sequence[Entry], today: date, count: int) -> "ProgressRequest":
    from generators.sheets.progress import ProgressRequest

    top, ceiling = top_and_ceiling(profile)
    return ProgressRequest(
        horn=profile.horn,
        growth=growth(kept, top, today, ceiling),
        weeks=weeks(kept, today)[-count:],
        planned=planned_tops(kept, top, today, ceiling)[-count:],
        today=today,
        month=month(kept, profile, today),
    )


def _printed(document: "Document", formats: Sequence[str], out: str, replace: bool) -> list[Path]:
    from generators.jobs.publish import publish

    return list(publish(document, out, formats, replace=replace).files) if formats else []


def _tell(asked: "ProgressRequest", files: Sequence[Path]) -> None:
    for file in files:
        typer.echo(file)
    if asked.weeks:
        _table(asked)
        _month(asked)
    typer.echo(sentence(reason(asked.growth, asked.today)))
    typer.echo(outlook(asked.growth))


def _month(shown: "ProgressRequest") -> None:
    if not shown.month:
        return
    for label, words in month_rows(shown.month):
        typer.echo(f"{'  ' if label.islower() else ''}{label}: {words}")
    if missing := unknown_words(shown.month):
        typer.echo(missing)


def _table(shown: "ProgressRequest") -> None:
    from rich.console import Console
    from rich.table import Table

    table = Table(title="Weeks", title_justify="left")
    for heading in ("week of", "days", "minutes", "hard or sore", "load", "top note", "planned top"):
        table.add_column(heading, justify="left" if heading == "week of" else "right")
    for week, top in zip(shown.weeks, shown.planned, strict=True):
        reached = week.top.pretty if week.top else "-"
        numbers = (str(week.days), str(week.minutes), str(week.heavy_minutes), f"{week.load:.0f}")
        table.add_row(in_words(week.start, shown.today), *numbers, reached, top.pretty)
    Console().print(table)
