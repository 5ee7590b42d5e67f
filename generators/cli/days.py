"""The commands of the day and the week."""

import inspect
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import typer

from generators.cli.options import (
    comma_list,
    hint_of,
    number_slot,
    option_of,
    panelled,
    parameter,
    read,
    slot_of,
    unset,
    with_signature,
)
from generators.cli.output import described, output_parameters, print_request, sheet_of, sheet_parameters
from generators.cli.player import ProfileOption, log_of
from generators.cli.profiled import given_here
from generators.errors import WaterkeyError
from generators.fields import Slot
from generators.jobs.changes import Changes, changed
from generators.jobs.kinds import AnyRequest, AnyRoutine
from generators.routine.calendar import check_day, parse_day
from generators.routine.logbook import FELT
from generators.routine.profile import LONGEST_DAY, SHORTEST_DAY, Profile
from generators.routine.requests import DayRequest, RoutineRequest, WeekRequest, Wishes
from generators.routine.week import kind_on
from generators.sheets.sheet import Sheet

# What stands for the player's own, with its words, and what is wished for beside it.
_PLAYER = {
    "horn": "Another horn than the profile's.",
    "low": "Another lowest written note than the profile's.",
    "high": "Another highest written note than the profile's.",
    "grade": "Another grade than the profile's, 0 to 6.",
}
_WISHED = ("keys", "leave_out", "only", "favour", "seed")
_TEMPO_HELP = "The tempo of a part, such as scales=96, or a number for every part that can be had at it; may be repeated."
_KIND_HELP = "The kind of day; without it what the day is in its week: light on the rest day, once a week for stretching."
_MINUTES = number_slot("minutes", "Minutes of a normal day; without it the profile's.", (SHORTEST_DAY, LONGEST_DAY))


def day_command() -> Callable[..., None]:
    """Return the command that prints one day's routine."""

    def day(**given: Any) -> None:
        asked = _asked(given, "date")
        kind = given["kind"] or kind_on(asked["profile"], asked["on"], asked["lately"], asked["felt"])
        own = DayRequest(**asked, kind=kind, anyway=given["anyway"]).settled
        request = _steered(replace(own, kind=kind), given)
        print_request(request, _page(given, asked["profile"]), given, "Planning the day")
        _remembered(request, given)

    kind = replace(unset(slot_of(DayRequest, "kind", help=_KIND_HELP)), kind=str)
    own = [*_common(), *panelled("Today", [_slot(kind), _slot(slot_of(DayRequest, "anyway"))])]
    text = described("One day's routine: few, deep parts in warming order, filled to the minute.", "day --minutes 22")
    return with_signature(day, "day", text, own, sheet_parameters(), output_parameters())


def week_command() -> Callable[..., None]:
    """Return the command that prints a week's packet."""

    def week(**given: Any) -> None:
        from generators.jobs.listening import done_by_log

        asked = _asked(given, "first")
        own = {"days": tuple(given["days"] or ()), "daily": given["daily"]}
        done = done_by_log(asked["on"], log_of(given["profile"]))
        request = _steered(WeekRequest(**asked, **own, done=done), given)
        print_request(request, _page(given, asked["profile"]), given, "Planning seven days")
        _remembered(request, given)

    words = "The first day, such as 2026-11-30; without it today."
    first = parameter("first", str, typer.Option("", "--from", help=words, metavar="DATE", show_default=False))
    other = "What is other on a day, such as thursday:horn=cornet,minutes=12; may be repeated."
    days = typer.Option(None, "--day", help=other, metavar="DAY:FIELD=VALUE", show_default=False)
    daily = typer.Option(False, "--daily", help="Seven days where a young player's week would be one sheet.")
    own = [
        *_common(),
        first,
        *panelled("Today", [parameter("days", list[str], days), parameter("daily", bool, daily)]),
        parameter("duplex", bool | None, option_of(unset(slot_of(Profile, "duplex")))),
    ]
    text = described(
        "Seven days with cover, chart, etude and boxes to tick; for a young player one sheet.", "week --from 2026-11-30"
    )
    return with_signature(week, "week", text, own, sheet_parameters(), output_parameters())


def _common() -> list[inspect.Parameter]:
    context = inspect.Parameter("context", inspect.Parameter.KEYWORD_ONLY, annotation=typer.Context)
    tempo = typer.Option(None, "--tempo", help=_TEMPO_HELP, metavar="PART=N", show_default=False)
    player = panelled("Player", [_slot(slot_of(Changes, name, help=words)) for name, words in _PLAYER.items()])
    wished = [_slot(_MINUTES), *(_slot(slot_of(Wishes, name)) for name in _WISHED), parameter("tempo", list[str], tempo)]
    words = "A recital to build towards and taper before, such as 2026-12-12; without it the profile's."
    towards = parameter("towards", str, typer.Option("", "--towards", help=words, metavar="DATE", show_default=False))
    felt = _slot(slot_of(RoutineRequest, "felt", allowed=tuple(FELT)))
    return [context, parameter("profile", ProfileOption, ""), *player, *panelled("Today", [*wished, felt, towards])]


def _slot(slot: Slot) -> inspect.Parameter:
    return parameter(slot.name, hint_of(slot), option_of(slot))


def _wishes(given: dict[str, Any]) -> Wishes:
    """Return what is wished for: a tempo is one for all parts, or PART=N for one."""
    texts = [item for text in given["tempo"] or () for item in comma_list("tempo", text)]
    whole_day = [text for text in texts if "=" not in text]
    tempo = read(slot_of(Wishes, "tempo"), whole_day[-1]) if whole_day else None
    tempi = tuple(text for text in texts if "=" in text)
    return Wishes(tempo=tempo, tempi=tempi, **{name: given[name] for name in _WISHED})


def _remembered(request: AnyRequest, given: dict[str, Any]) -> None:
    """Have the log of the profile remember what was printed; where it cannot, say so in a line: the page is there."""
    from generators.jobs.listening import pages_of
    from generators.keep.log import remember

    if not isinstance(request, DayRequest | WeekRequest):
        return
    try:
        remember(pages_of(request), log_of(given["profile"]))
    except WaterkeyError as error:
        sys.stderr.write(f"waterkey: what was printed is not remembered for the log: {error}\n")


def _steered(request: AnyRoutine, given: dict[str, Any]) -> AnyRequest:
    """Return a routine for another horn or range than the profile's, where one is asked for."""
    return changed(request, Sheet(), Changes(**{name: given[name] for name in _PLAYER}))[0]


def _asked(given: dict[str, Any], when: str) -> dict[str, Any]:
    """Return what a day and a week are both asked: whose, when (by the option of that name), how, by what log."""
    from generators.jobs.listening import growth_by_log, lately_by_log
    from generators.keep.profile_file import load_profile

    profile, log = load_profile(given["profile"]), log_of(given["profile"])
    if given.get("duplex") is not None:
        profile = replace(profile, duplex=given["duplex"])
    on = date.today() if given[when] in ("", "none") else parse_day(given[when], when)
    check_day(when, on)
    aim = given["towards"] or profile.towards
    return {
        "profile": profile,
        "on": on,
        "minutes": given["minutes"],
        "growth": growth_by_log(profile, on, log),
        "lately": lately_by_log(on, log),
        "felt": given["felt"],
        "towards": parse_day(aim, "towards") if aim else None,
        "wishes": _wishes(given),
    }


def _page(given: dict[str, Any], profile: Profile) -> Sheet:
    """Return the page side: the profile's paper unless one was given, the day's own date unless none is wanted."""
    paper = given["paper"] if "paper" in given_here(given) else profile.paper
    return sheet_of(given, paper=paper, date="none" if given["date"] == "none" else "")
