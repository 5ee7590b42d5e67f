"""The commands of the day and the week."""

import inspect
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

import typer

from generators.cli.options import filled, number_slot, option_of, parameter, slot_of, with_signature
from generators.cli.player import ProfileOption
from generators.cli.printed import described, output_parameters, sheet_parameters, wanted
from generators.routine.calendar import parse_day
from generators.routine.logbook import Entry
from generators.sheets.sheet import Sheet

if TYPE_CHECKING:
    from generators.jobs.routines import DayRequest, RoutineReport


def day_command() -> Callable[..., None]:
    """Return the command that prints one day's routine."""

    def day(**given: Any) -> None:
        from generators.jobs.routines import print_day

        request = _request(given, given["date"], given["kind"], given["minutes"])
        with _working("Planning and engraving the day"):
            report = print_day(request, given["out"], wanted(given["format"]), _sheet(given, request))
        _finish(report, given)

    own = [
        parameter("profile", ProfileOption, ""),
        parameter("kind", str, option_of(slot_of(Entry, "kind"))),
        parameter("minutes", int | None, option_of(number_slot("minutes", "Minutes; without it the profile's.", (8, 60)))),
    ]
    text = described("One day's routine: about sixteen parts in warming order, filled to the minute.", "day")
    return with_signature(day, "day", text, own, sheet_parameters(), output_parameters())


def week_command() -> Callable[..., None]:
    """Return the command that prints a week's packet."""

    def week(**given: Any) -> None:
        from generators.jobs.routines import print_week

        request = _request(given, given["first"], "normal", given["minutes"])
        with _working("Planning and engraving seven days"):
            report = print_week(request, given["out"], wanted(given["format"]), _sheet(given, request))
        _finish(report, given)

    own = [
        parameter("profile", ProfileOption, ""),
        _named("first", "from", "The first day, such as 2026-11-30; without it today.", "DATE"),
        parameter(
            "minutes",
            int | None,
            option_of(number_slot("minutes", "Minutes of a normal day; without it the profile's.", (8, 60))),
        ),
        parameter(
            "duplex", bool, typer.Option(False, "--duplex", help="Every day begins on a right-hand page.", show_default=False)
        ),
    ]
    text = described("Seven days with cover, coverage chart, the week's etude and boxes to tick.", "week")
    return with_signature(week, "week", text, own, sheet_parameters(), output_parameters())


@contextmanager
def _working(words: str) -> Iterator[None]:
    """Show on a terminal that work goes on, and on what; elsewhere say nothing."""
    if not sys.stderr.isatty():
        yield
        return
    from rich.console import Console

    with Console(stderr=True).status(f"{words} ..."):
        yield


def _named(name: str, option: str, words: str, metavar: str) -> inspect.Parameter:
    return parameter(name, str, typer.Option("", f"--{option}", help=words, metavar=metavar, show_default=False))


def _request(given: dict[str, Any], on: str, kind: str, minutes: int | None) -> "DayRequest":
    from generators.jobs.routines import DayRequest, grown
    from generators.keep.profile_file import load_profile

    profile = load_profile(given["profile"])
    if given.get("duplex"):
        profile = replace(profile, duplex=True)
    first = date.today() if not on or on == "none" else parse_day(on)
    top, reason = grown(profile, first)
    return DayRequest(profile=profile, on=first, kind=kind, minutes=minutes, top=top, growth=reason)


def _sheet(given: dict[str, Any], request: "DayRequest") -> Sheet:
    """Return the page side: the profile's paper unless one was asked for, the date in words unless none is wanted."""
    sheet: Sheet = filled(Sheet, given | {"date": "none" if given["date"] == "none" else ""})
    return replace(sheet, paper=request.profile.paper if sheet.paper == "a4" else sheet.paper)


def _finish(report: "RoutineReport", given: dict[str, Any]) -> None:
    if given["json"]:
        sys.stdout.write(report.as_json() + "\n")
    else:
        _tell(report)
    if given["open"]:
        typer.launch(str(report.files[0]))


def _tell(report: "RoutineReport") -> None:
    for file in report.files:
        typer.echo(file)
    load = report.load
    typer.echo(
        f"{report.pages} pages, {len(report.parts)} parts, {report.minutes:.1f} min, {report.lowest} to {report.highest}, "
        f"{load['minutes_above_stave']:.1f} min above the stave, longest stretch {load['longest_stretch_seconds']:.0f} s, "
        f"{load['share_of_rest']:.0%} rest, request {report.code}"
    )
    if report.growth:
        typer.echo(report.growth)
