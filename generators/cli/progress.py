"""How practice goes: the weeks of the log as a table, and as a chart to pin to the wall."""

import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from generators.brass.horn import horn
from generators.cli.options import annotated, number_slot
from generators.cli.player import JsonOption, ProfileOption
from generators.fields import Slot
from generators.routine.calendar import parse_day
from generators.routine.growth import growth, planned_tops, top_and_ceiling
from generators.routine.logbook import Entry, weeks
from generators.routine.profile import Profile
from generators.sheets.chart import CHART_FORMATS

if TYPE_CHECKING:
    from generators.sheets.progress import Progress

_FORMATS = Slot(
    "format", str, listed=True, empty=False, default=(), help="Print the chart too.", allowed=CHART_FORMATS, span=None
)
_WEEKS = number_slot("weeks", "How many weeks back, 1 to 104; 52 without it.", (1, 104))
FormatOption = Annotated[Any, annotated(_FORMATS)]
OutOption = Annotated[
    str, typer.Option("--out", help="Where the chart goes, a stem without ending; out/progress without it.", metavar="PATH")
]
WeeksOption = Annotated[int, annotated(_WEEKS)]
DayOption = Annotated[str, typer.Option("--date", help="The last day that counts, such as 2026-11-25; by default today.")]
DEFAULT_CHART = Path("out") / "progress"


def progress(
    format_: FormatOption = (),
    out: OutOption = "",
    weeks_: WeeksOption = 52,
    day: DayOption = "",
    profile: ProfileOption = "",
    as_json: JsonOption = False,
) -> None:
    """Your weeks: days, minutes, load and top note, why the top is where it is, and a chart of it all.

    Example: waterkey progress --format pdf,svg --out out/progress
    """
    from generators.keep.log import entries
    from generators.keep.profile_file import load_profile

    formats = list(dict.fromkeys(format_)) or (["pdf"] if out else [])
    today = parse_day(day) if day else date.today()
    shown = _progress(load_profile(profile), entries(), today, weeks_)
    files = _print(shown, formats, Path(out).expanduser() if out else DEFAULT_CHART) if formats else []
    if as_json:
        _tell_json(shown, files)
    else:
        _tell(shown, files)


def _progress(profile: Profile, kept: Sequence[Entry], today: date, count: int) -> "Progress":
    from generators.sheets.progress import Progress

    top, ceiling = top_and_ceiling(profile)
    return Progress(
        growth=growth(kept, top, today, ceiling),
        weeks=weeks(kept, today)[-count:],
        planned=planned_tops(kept, top, today, ceiling)[-count:],
        band=horn(profile.horn).name,
        player=profile.name,
        date=today.isoformat(),
        paper=profile.paper,
    )


def _print(shown: "Progress", formats: Sequence[str], out: Path) -> list[Path]:
    from generators.keep.files import check_target, save
    from generators.sheets.progress import chart_files

    stem = out / "progress" if out.is_dir() else out.with_suffix("") if out.suffix[1:] in CHART_FORMATS else out
    check_target(stem)
    files = {stem.with_name(f"{stem.name}.{name}"): content for name, content in chart_files(shown, formats).items()}
    save(files)
    return list(files)


def _tell_json(shown: "Progress", files: Sequence[Path]) -> None:
    import json

    from generators.sheets.progress import progress_json

    sys.stdout.write(
        json.dumps(json.loads(progress_json(shown)) | {"files": [str(file) for file in files]}, ensure_ascii=False) + "\n"
    )


def _tell(shown: "Progress", files: Sequence[Path]) -> None:
    for file in files:
        typer.echo(file)
    if shown.weeks:
        _table(shown)
    typer.echo(shown.reason)
    typer.echo(shown.outlook)


def _table(shown: "Progress") -> None:
    from rich.console import Console
    from rich.table import Table

    table = Table(title="Weeks", title_justify="left")
    for heading in ("week of", "days", "minutes", "hard or sore", "load", "top note", "planned top"):
        table.add_column(heading, justify="left" if heading == "week of" else "right")
    for week, top in zip(shown.weeks, shown.planned, strict=True):
        reached = week.top.pretty if week.top else "-"
        numbers = (str(week.days), str(week.minutes), str(week.heavy_minutes), f"{week.load:.0f}")
        table.add_row(week.start.isoformat(), *numbers, reached, top.pretty)
    Console().print(table)
