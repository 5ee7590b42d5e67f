"""The practice log on the command line: one entry a session, listed, amended, deleted, exported and imported."""

import sys
from collections.abc import Mapping
from dataclasses import replace as other
from datetime import date
from pathlib import Path
from typing import Annotated, Any

import typer

from generators.cli.log_told import entry_table, said, week_bar, write_entries
from generators.cli.options import annotated, number_slot, slot_of, unset
from generators.cli.player import JsonOption, ProfileOption, log_of
from generators.errors import BadRequest, Refusal
from generators.routine.calendar import check_day, parse_day
from generators.routine.logbook import Entry, check_top, parse_top
from generators.routine.other_days import other_on, profile_of_day
from generators.routine.profile import Profile
from generators.theory.key import parse_key

MOST_LISTED = 10_000
# The largest CSV that is taken in, in bytes: a session a day for some centuries.
LARGEST_LOG = 50_000_000
_SESSION, _WHOLE = "Session", "The log"
TERMINAL = "-"


def _option(name: str, words: str, metavar: str = "TEXT", panel: str = _SESSION) -> Any:
    return typer.Option(f"--{name}", help=words, metavar=metavar, show_default=False, rich_help_panel=panel)


def _field(name: str, words: str, **changes: Any) -> Any:
    return annotated(unset(slot_of(Entry, name, help=words, **changes)), panel=_SESSION)


def _number(name: str, words: str, span: tuple[int, int] | None = None) -> Any:
    return annotated(number_slot(name, words, span), panel=_WHOLE)


DateOption = Annotated[str | None, _option("date", "The day, such as 2026-11-25; today without it.", "DATE")]
MinutesOption = Annotated[int | None, _field("minutes", "Minutes played; without it those printed, or the profile's.")]
FeltOption = Annotated[str | None, _field("felt", "How it felt; good without it.")]
TopOption = Annotated[str | None, _option("top", "Highest written note reached; only days with one let the top grow.", "NOTE")]
KindOption = Annotated[str | None, _field("kind", "The kind of day; without it the one printed, or normal.")]
NotesOption = Annotated[str | None, _option("notes", "A line of your own.")]
CodeOption = Annotated[str | None, _option("code", "The code of the page; without it that of the day printed.", "CODE")]
PlayedHornOption = Annotated[str | None, _field("horn", "The horn; without it that of the day printed, or the profile's.")]
KeysOption = Annotated[Any, _field("keys", "The keys played, such as Eb,Cm; without it those of the day printed.")]
PartsOption = Annotated[Any, _field("parts", "The parts played; without it those of the day printed.")]
EditOption = Annotated[int | None, _number("edit", "Amend the entry of a number: what is given is new, all else stays.")]
DeleteOption = Annotated[int | None, _number("delete", "Delete the entry of a number.")]
_CSV = "Export the whole log as CSV to a file, - for the terminal."
_IMPORT = "Take in sessions from such a CSV, - for standard input; those that are there already are left out."
CsvOption = Annotated[str | None, _option("csv", _CSV, "FILE", _WHOLE)]
ImportOption = Annotated[str | None, _option("import", _IMPORT, "FILE", _WHOLE)]
_REPLACE = typer.Option(
    "--replace", help="Export into a file although it is no log.", show_default=False, rich_help_panel=_WHOLE
)
LastOption = Annotated[int, _number("last", "How many entries are listed; 10 without it.", (1, MOST_LISTED))]


def log(
    day: DateOption = None,
    minutes: MinutesOption = None,
    felt: FeltOption = None,
    top: TopOption = None,
    kind: KindOption = None,
    notes: NotesOption = None,
    code: CodeOption = None,
    horn: PlayedHornOption = None,
    keys: KeysOption = None,
    parts: PartsOption = None,
    edit: EditOption = None,
    delete: DeleteOption = None,
    csv: CsvOption = None,
    import_: ImportOption = None,
    last: LastOption = 10,
    replace: Annotated[bool, _REPLACE] = False,
    profile: ProfileOption = "",
    as_json: JsonOption = False,
) -> None:
    """Log a session: minutes, how it felt, the top note; what was printed for the day is taken up. Alone: the last entries.

    Example: waterkey log --minutes 25 --felt good --top A5
    """
    given = {"day": day, "minutes": minutes, "felt": felt, "top": top, "kind": kind, "notes": notes}
    given |= {"code": code, "horn": horn, "keys": keys, "parts": parts}
    values = {name: value for name, value in given.items() if value is not None}
    _check_one(edit is None and bool(values), edit is not None, delete is not None, csv is not None, import_ is not None)
    place = log_of(_there(profile))
    if edit is not None:
        _amend(edit, values, place, as_json)
    elif values:
        _add(values, profile, place, as_json)
    elif csv is not None:
        _export(csv, place, replace)
    elif import_ is not None:
        _take_in(import_, place)
    elif delete is not None:
        _delete(delete, place, as_json)
    else:
        _list(last, place, as_json)


def _check_one(*asked: bool) -> None:
    if sum(asked) > 1:
        do = "log an entry, amend one with --edit, delete one with --delete, export with --csv or import with --import"
        raise BadRequest(Refusal("too much at once", do=do))


def _there(profile: str) -> str:
    """Return the file of a profile; one that is named and not there is refused."""
    from generators.keep.profile_file import load_profile

    if profile:
        load_profile(profile)
    return profile


def _add(values: dict[str, Any], profile_file: str, place: Path, as_json: bool) -> None:
    from generators.keep.log import add, entries
    from generators.keep.profile_file import load_profile
    from generators.routine.growth import growth, top_and_ceiling
    from generators.routine.growth_words import reason

    profile, today = load_profile(profile_file), date.today()
    day = _day(values.get("day"), today)
    kept = add(_checked(Entry(**(_played(profile, day, place) | _read(values) | {"day": day})), values), place)
    if as_json:
        write_entries([kept])
        return
    typer.echo(f"logged as entry {kept.id}: {said(kept, today)}")
    top, ceiling = top_and_ceiling(profile)
    every = entries(place)
    typer.echo(week_bar(every, today))
    typer.echo(reason(growth(every, top, today, ceiling), today))


def _played(profile: Profile, day: date, place: Path) -> dict[str, Any]:
    """Return what was printed for a day, or what the profile says of it where nothing was."""
    from generators.keep.log import printed_for

    page = printed_for(day, place)
    if page:
        return {name: getattr(page, name) for name in ("minutes", "kind", "code", "horn", "keys", "parts")}
    own = profile_of_day(profile, day)
    return {"minutes": own.minutes, "horn": own.horn, "kind": other_on(profile.days, day.weekday()).kind or "normal"}


def _read(values: Mapping[str, Any]) -> dict[str, Any]:
    """Return what was given as an entry has it."""
    read = dict(values)
    if "top" in read:
        read["top"] = parse_top(read["top"])
    if "keys" in read:
        read["keys"] = tuple(parse_key(name).name for name in read["keys"])
    return read


def _checked(entry: Entry, given: Mapping[str, Any]) -> Entry:
    """Return an entry, its top checked where it, or the horn, was given."""
    if {"top", "horn"} & given.keys():
        check_top(entry.top, entry.horn)
    return entry


def _day(text: str | None, today: date) -> date:
    day = parse_day(text) if text is not None else today
    check_day("date", day)
    if day > today:
        raise BadRequest(Refusal("date", day, "is still to come", allowed=f"{today} and earlier"))
    return day


def _amend(number: int, values: dict[str, Any], place: Path, as_json: bool) -> None:
    from generators.keep.log import amend

    today = date.today()
    if not values:
        raise BadRequest(Refusal("nothing to amend", do=f"name a field, as in `waterkey log --edit {number} --felt hard`"))
    changes = _read(values) | ({"day": _day(values["day"], today)} if "day" in values else {})

    def changed(entry: Entry) -> Entry:
        return _checked(other(entry, **changes), values)

    _tell("amended", amend(number, changed, place), as_json)


def _tell(done: str, entry: Entry, as_json: bool) -> None:
    if as_json:
        write_entries([entry])
    else:
        typer.echo(f"{done} entry {entry.id}: {said(entry, date.today())}")


def _export(target: str, place: Path, replace: bool) -> None:
    from generators.keep.files import check_target, refuse_other, save, user_path
    from generators.keep.log import entries
    from generators.keep.log_csv import as_csv

    content = as_csv(entries(place))
    if target == TERMINAL:
        sys.stdout.buffer.write(content)
        sys.stdout.flush()
        return
    file = user_path(target, "csv")
    check_target(file)
    if not replace:
        do = "choose another place"
        refuse_other(file, Refusal("csv", str(file), "and is no log", do=do, would_do=(("replace", ("",)),)), _is_ours)
    save({file: content})
    typer.echo(file)


def _is_ours(file: Path) -> bool:
    """Return whether a file is an export of the log."""
    from generators.keep.files import read_whole
    from generators.keep.log_csv import is_export

    return is_export(read_whole(file))


def _take_in(source: str, place: Path) -> None:
    from generators.keep.log import take_in
    from generators.keep.log_csv import from_csv

    text, what = _text(source)
    brought = from_csv(text, what, date.today())
    count = take_in(brought, place)
    typer.echo(f"{count} of {len(brought)} sessions are new; the others were in the log already")


def _text(source: str) -> tuple[str, str]:
    """Return the text of a file, or of standard input, and what it is called."""
    from generators.keep.files import read_limited, text_of, user_path

    if source == TERMINAL:
        return text_of(sys.stdin.buffer.read(), "standard input"), "standard input"
    file = user_path(source, "import")
    return text_of(read_limited(file, LARGEST_LOG), str(file)), str(file)


def _delete(number: int, place: Path, as_json: bool) -> None:
    from generators.keep.log import delete

    _tell("deleted", delete(number, place), as_json)


def _list(last: int, place: Path, as_json: bool) -> None:
    from generators.keep.log import entries

    every, today = entries(place), date.today()
    if as_json:
        write_entries(every[-last:])
    elif every:
        entry_table(every[-last:], today)
        typer.echo(week_bar(every, today))
    else:
        typer.echo("The log is empty. After practice: waterkey log --minutes 25 --felt good --top A5")
