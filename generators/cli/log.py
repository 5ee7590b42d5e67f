"""The practice log on the command line: one entry a session, listed, deleted, exported."""

import json
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Annotated, Any

import typer

from generators.brass.horn import Horn, horn
from generators.cli.options import annotated, number_slot, slot_of, unset
from generators.cli.player import JsonOption, ProfileOption
from generators.cli.streams import write_json
from generators.errors import BadRequest, Refusal
from generators.fields import Slot
from generators.routine.calendar import in_words, parse_day
from generators.routine.logbook import Entry, parse_top
from generators.theory.pitch import Pitch, simple

# How far above the horn's ceiling a top note may be logged, in half-steps; our choice.
ABOVE_CEILING = 12
MOST_LISTED = 10_000


def _option(name: str, words: str, metavar: str = "TEXT") -> Any:
    return typer.Option(f"--{name}", help=words, metavar=metavar, show_default=False)


def _field(name: str, words: str) -> Slot:
    return unset(slot_of(Entry, name, help=words))


DateOption = Annotated[str | None, _option("date", "The day, such as 2026-11-25; today without it.", "DATE")]
MinutesOption = Annotated[int | None, annotated(_field("minutes", "Minutes played; the profile's without it."))]
FeltOption = Annotated[str | None, annotated(_field("felt", "How it felt; good without it."))]
TopOption = Annotated[str | None, _option("top", "Highest written note reached; only days with one let the top grow.", "NOTE")]
KindOption = Annotated[str | None, annotated(_field("kind", "The kind of day; normal without it."))]
NotesOption = Annotated[str | None, _option("notes", "A line of your own.")]
CsvOption = Annotated[str | None, _option("csv", "Export the whole log as CSV to a file, - for the terminal.", "FILE")]
DeleteOption = Annotated[int | None, annotated(number_slot("delete", "Delete the entry of a number."))]
_REPLACE = typer.Option("--replace", help="Export into a file although it is no log.", show_default=False)
LastOption = Annotated[int, annotated(number_slot("last", "How many entries are listed; 10 without it.", (1, MOST_LISTED)))]


def log(
    day: DateOption = None,
    minutes: MinutesOption = None,
    felt: FeltOption = None,
    top: TopOption = None,
    kind: KindOption = None,
    notes: NotesOption = None,
    csv: CsvOption = None,
    delete: DeleteOption = None,
    last: LastOption = 10,
    replace: Annotated[bool, _REPLACE] = False,
    profile: ProfileOption = "",
    as_json: JsonOption = False,
) -> None:
    """Log a session: minutes, how it felt, the top note; without options the last entries are listed.

    Example: waterkey log --minutes 25 --felt good --top A5
    """
    given = {"day": day, "minutes": minutes, "felt": felt, "top": top, "kind": kind, "notes": notes}
    values = {name: value for name, value in given.items() if value is not None}
    if sum((bool(values), csv is not None, delete is not None)) > 1:
        raise BadRequest(Refusal("too much at once", do="log an entry, export with --csv or delete with --delete"))
    if values:
        _add(values, profile, as_json)
    elif csv is not None:
        _export(csv, replace)
    elif delete is not None:
        _delete(delete, as_json)
    else:
        _list(last, as_json)


def _add(values: dict[str, Any], profile_file: str, as_json: bool) -> None:
    from generators.keep.log import add, entries
    from generators.keep.profile_file import load_profile
    from generators.routine.growth import growth, top_and_ceiling
    from generators.routine.growth_words import reason

    profile, today = load_profile(profile_file), date.today()
    day, reached = _day(values.get("day"), today), _reached(values.get("top", ""), horn(profile.horn))
    kept = add(Entry(**({"minutes": profile.minutes} | values | {"day": day, "top": reached})))
    if as_json:
        _write([kept])
        return
    typer.echo(f"logged as entry {kept.id}: {_said(kept, today)}")
    top, ceiling = top_and_ceiling(profile)
    typer.echo(reason(growth(entries(), top, today, ceiling), today))


def _day(text: str | None, today: date) -> date:
    day = parse_day(text) if text is not None else today
    if day > today:
        raise BadRequest(Refusal("date", day, "is still to come", allowed=f"{today} and earlier"))
    return day


def _reached(text: str, instrument: Horn) -> Pitch | None:
    """Return the top note of a session; one that no player of the horn reaches is a slip of the pen."""
    top = parse_top(text)
    if top and not instrument.low.midi <= top.midi <= instrument.ceiling.midi + ABOVE_CEILING:
        highest = simple(instrument.ceiling.midi + ABOVE_CEILING, sharp=False)
        span = f"{instrument.low} to {highest}"
        raise BadRequest(Refusal("top", top, f"is out of reach on the {instrument.id}", allowed=span))
    return top


def _said(entry: Entry, today: date) -> str:
    top = f", top {entry.top.pretty}" if entry.top else ""
    return f"{in_words(entry.day, today)}, {entry.minutes} minutes, felt {entry.felt}{top}, {entry.kind} day"


def _export(target: str, replace: bool) -> None:
    from generators.keep.files import check_target, refuse_other, save, user_path
    from generators.keep.log import as_csv, entries

    content = as_csv(entries())
    if target == "-":
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
    from generators.keep.log import is_export

    return is_export(read_whole(file))


def _delete(number: int, as_json: bool) -> None:
    from generators.keep.log import delete

    gone = delete(number)
    if as_json:
        _write([gone])
    else:
        typer.echo(f"deleted entry {number}: {_said(gone, date.today())}")


def _list(last: int, as_json: bool) -> None:
    from generators.keep.log import entries

    kept = entries()[-last:]
    if as_json:
        _write(kept)
    elif kept:
        _table(kept)
    else:
        typer.echo("The log is empty. After practice: waterkey log --minutes 25 --felt good --top A5")


def _table(kept: Sequence[Entry]) -> None:
    from rich.console import Console
    from rich.markup import escape
    from rich.table import Table

    table = Table(title="Last entries", title_justify="left")
    for heading in ("id", "date", "minutes", "felt", "top", "kind", "notes"):
        table.add_column(heading, justify="right" if heading in ("id", "minutes") else "left", overflow="fold")
    for e in kept:
        top = e.top.pretty if e.top else "-"
        table.add_row(str(e.id), e.day.isoformat(), str(e.minutes), e.felt, top, e.kind, escape(e.notes))
    Console().print(table)


def _write(kept: Sequence[Entry]) -> None:
    rows = [
        {
            "id": e.id,
            "date": e.day.isoformat(),
            "minutes": e.minutes,
            "felt": e.felt,
            "top": e.top.name if e.top else None,
            "kind": e.kind,
            "notes": e.notes,
        }
        for e in kept
    ]
    write_json(json.dumps(rows, ensure_ascii=False))
