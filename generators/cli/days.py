"""The commands of the day and the week."""

import inspect
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import typer

from generators.cli.options import hint_of, number_slot, option_of, parameter, slot_of, unset, with_signature
from generators.cli.output import described, output_parameters, print_request, sheet_of, sheet_parameters
from generators.cli.player import ProfileOption
from generators.cli.profiled import given_here
from generators.routine.calendar import check_day, parse_day
from generators.routine.profile import LONGEST_DAY, SHORTEST_DAY, Profile
from generators.routine.requests import DayRequest, WeekRequest
from generators.sheets.sheet import Sheet

_MINUTES = number_slot("minutes", "Minutes of a normal day; without it the profile's.", (SHORTEST_DAY, LONGEST_DAY))


def day_command() -> Callable[..., None]:
    """Return the command that prints one day's routine."""

    def day(**given: Any) -> None:
        asked = _asked(given, "date")
        print_request(DayRequest(**asked, kind=given["kind"]), _page(given, asked["profile"]), given, "Planning the day")

    kind = slot_of(DayRequest, "kind")
    own = [*_common(), parameter("kind", hint_of(kind), option_of(kind))]
    text = described("One day's routine: few, deep parts in warming order, filled to the minute.", "day --minutes 22")
    return with_signature(day, "day", text, own, sheet_parameters(), output_parameters())


def week_command() -> Callable[..., None]:
    """Return the command that prints a week's packet."""

    def week(**given: Any) -> None:
        asked = _asked(given, "first")
        print_request(WeekRequest(**asked), _page(given, asked["profile"]), given, "Planning seven days")

    words = "The first day, such as 2026-11-30; without it today."
    first = parameter("first", str, typer.Option("", "--from", help=words, metavar="DATE", show_default=False))
    own = [*_common(), first, parameter("duplex", bool | None, option_of(unset(slot_of(Profile, "duplex"))))]
    text = described("Seven days with cover, coverage chart, the week's etude and boxes to tick.", "week --from 2026-11-30")
    return with_signature(week, "week", text, own, sheet_parameters(), output_parameters())


def _common() -> list[inspect.Parameter]:
    context = inspect.Parameter("context", inspect.Parameter.KEYWORD_ONLY, annotation=typer.Context)
    return [context, parameter("profile", ProfileOption, ""), parameter("minutes", hint_of(_MINUTES), option_of(_MINUTES))]


def _asked(given: dict[str, Any], when: str) -> dict[str, Any]:
    """Return what a day and a week are both asked: whose, when (by the option of that name), how long, and how far grown."""
    from generators.jobs.listening import growth_by_log
    from generators.keep.profile_file import load_profile

    profile = load_profile(given["profile"])
    if given.get("duplex") is not None:
        profile = replace(profile, duplex=given["duplex"])
    on = date.today() if given[when] in ("", "none") else parse_day(given[when], when)
    check_day(when, on)
    return {"profile": profile, "on": on, "minutes": given["minutes"], "growth": growth_by_log(profile, on)}


def _page(given: dict[str, Any], profile: Profile) -> Sheet:
    """Return the page side: the profile's paper unless one was given, the day's own date unless none is wanted."""
    paper = given["paper"] if "paper" in given_here(given) else profile.paper
    return sheet_of(given, paper=paper, date="none" if given["date"] == "none" else "")
