"""The practice log: entries in an SQLite database, and what was printed for each day; every write is one transaction."""

import sqlite3
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from generators.errors import BadRequest, FailedRun, Refusal
from generators.keep.files import check_target, is_there
from generators.keep.folders import log_place
from generators.keep.log_database import reading, writing
from generators.plain_text import writable
from generators.routine.calendar import parse_day
from generators.routine.logbook import Entry, PrintedDay, parse_top
from generators.studies.catalogue import DAY_PARTS
from generators.theory.pitch import Pitch

# What an entry has in the database beside its number, and what is remembered of a page; texts where it is no number.
_FIELDS = ("day", "minutes", "felt", "top", "kind", "notes", "code", "horn", "keys", "parts")
_PRINTED = ("day", "code", "horn", "kind", "minutes", "keys", "parts")
_TEXTS = ("day", "top", "keys", "parts")
_SELECT = "SELECT id, day, minutes, felt, top, kind, notes, code, horn, keys, parts FROM entry"
_INSERT = (
    "INSERT INTO entry (id, day, minutes, felt, top, kind, notes, code, horn, keys, parts)"
    " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
)
_UPDATE = (
    "UPDATE entry SET day = ?, minutes = ?, felt = ?, top = ?, kind = ?, notes = ?, code = ?, horn = ?, keys = ?, parts = ?"
    " WHERE id = ?"
)
_FIND = "SELECT day, code, horn, kind, minutes, keys, parts FROM printed WHERE day = ?"
_REMEMBER = "INSERT OR REPLACE INTO printed (day, code, horn, kind, minutes, keys, parts) VALUES (?, ?, ?, ?, ?, ?, ?)"
# The largest number that SQLite gives, and the largest that an entry may bring along from elsewhere; the second our choice.
_LAST_NUMBER, _LAST_BROUGHT = 2**63 - 1, 10**9


def add(entry: Entry, path: Path | None = None) -> Entry:
    """Keep an entry and return it with its number; when this returns, it is on the disk."""
    place = path or log_place()
    check_target(place)
    with writing(place) as connection:
        return _added(connection, replace(entry, id=0))


def entries(path: Path | None = None) -> tuple[Entry, ...]:
    """Return all entries, by day and then as they were kept; no log, no entries."""
    place = path or log_place()
    if not is_there(place):
        return ()
    with reading(place) as connection:
        return tuple(_entry(row, place) for row in connection.execute(f"{_SELECT} ORDER BY day, id").fetchall())


def amend(number: int, change: Callable[[Entry], Entry], path: Path | None = None) -> Entry:
    """Change an entry and return it; what does not change stays as it is kept. An unknown number is refused."""
    place = path or log_place()
    with writing(_known(number, place)) as connection:
        row = _found(connection, number)
        was = _entry(row, place)
        now = replace(change(was), id=number)
        fields = zip(_FIELDS, row[1:], strict=True)
        values = [old if getattr(now, name) == getattr(was, name) else _value(getattr(now, name)) for name, old in fields]
        connection.execute(_UPDATE, (*values, number))
    return now


def delete(number: int, path: Path | None = None) -> Entry:
    """Take an entry out of the log and return it; an unknown number is refused."""
    place = path or log_place()
    with writing(_known(number, place)) as connection:
        row = _found(connection, number)
        connection.execute("DELETE FROM entry WHERE id = ?", (number,))
    return _entry(row, place)


def take_in(brought: Iterable[Entry], path: Path | None = None) -> int:
    """Keep those entries that are not in the log yet, all or none, and return how many.

    An entry is there already if all but its number is the same, as often as it is. It keeps its number where that is free.
    """
    place = path or log_place()
    check_target(place)
    with writing(place) as connection:
        kept = [_entry(row, place) for row in connection.execute(_SELECT).fetchall()]
        there, numbers = Counter(replace(entry, id=0) for entry in kept), {entry.id for entry in kept}
        count = 0
        for entry in brought:
            plain = replace(entry, id=0)
            if there[plain]:
                there[plain] -= 1
                continue
            numbers.add(_added(connection, plain if entry.id in numbers or entry.id > _LAST_BROUGHT else entry).id)
            count += 1
    return count


def remember(pages: Iterable[PrintedDay], path: Path | None = None) -> None:
    """Remember what was printed for some days; what was printed for one of them before is forgotten."""
    place = path or log_place()
    check_target(place)
    with writing(place) as connection:
        connection.executemany(_REMEMBER, [[_value(getattr(page, name)) for name in _PRINTED] for page in pages])


def printed_for(day: date, path: Path | None = None) -> PrintedDay | None:
    """Return what was printed last for a day; None where nothing was."""
    place = path or log_place()
    if not is_there(place):
        return None
    with reading(place) as connection:
        row = connection.execute(_FIND, (day.isoformat(),)).fetchone()
    return PrintedDay(**_fields(_PRINTED, row, place)) if row else None


def _known(number: int, place: Path) -> Path:
    """Return the place of a log that may hold a number."""
    if not is_there(place):
        raise BadRequest(Refusal("entry", number, "is not in the log, which is empty"))
    return place


def _found(connection: sqlite3.Connection, number: int) -> Sequence[Any]:
    row: Sequence[Any] | None = None
    if number <= _LAST_NUMBER:
        row = connection.execute(f"{_SELECT} WHERE id = ?", (number,)).fetchone()
    if not row:
        raise BadRequest(Refusal("entry", number, "is not in the log", do="list the entries to see their numbers"))
    return row


def _added(connection: sqlite3.Connection, entry: Entry) -> Entry:
    kept = replace(entry, notes=writable(entry.notes))
    row = [kept.id or None, *(_value(getattr(kept, name)) for name in _FIELDS)]
    return replace(kept, id=connection.execute(_INSERT, row).lastrowid or 0)


def _value(value: Any) -> str | int:
    """Return a value as the database has it."""
    if isinstance(value, tuple):
        return ",".join(value)
    if isinstance(value, str):
        return writable(value)
    return value if isinstance(value, int) else _text(value)


def _text(value: date | Pitch | None) -> str:
    return value.isoformat() if isinstance(value, date) else value.name if value else ""


def _entry(row: Sequence[Any], place: Path) -> Entry:
    try:
        return Entry(**_fields(_FIELDS, row[1:], place, f"entry {row[0]}"), id=row[0])
    except BadRequest as refused:
        raise FailedRun(refused.refusal.within(f"{place}, entry {row[0]}")) from None


def _fields(names: Sequence[str], row: Sequence[Any], place: Path, what: str = "a printed day") -> dict[str, Any]:
    """Return a row of the database as fields; a part that there is no more is left out."""
    found = dict(zip(names, row, strict=True))
    if not all(isinstance(found[name], str) for name in names if name in _TEXTS):
        raise FailedRun(Refusal(what, why="holds a date, a top note or a list that is no text", where=str(place)))
    found |= {"day": parse_day(found["day"]), "keys": _listed(found["keys"])}
    found["parts"] = tuple(name for name in _listed(found["parts"]) if name in DAY_PARTS)
    return found | {"top": parse_top(found["top"])} if "top" in found else found


def _listed(text: str) -> tuple[str, ...]:
    return tuple(text.split(",")) if text else ()
