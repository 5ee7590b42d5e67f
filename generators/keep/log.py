"""The practice log: entries in an SQLite database, every write one transaction."""

import csv
import io
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing, contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

from generators.errors import BadRequest, FailedRun, Refusal
from generators.keep.files import check_target, is_there
from generators.keep.folders import log_place
from generators.keep.schema import PATIENCE, check_database, is_newest, prepare
from generators.plain_text import writable
from generators.routine.calendar import parse_day
from generators.routine.logbook import Entry, parse_top

COLUMNS = ("id", "date", "minutes", "felt", "top", "kind", "notes")
_SELECT = "SELECT id, day, minutes, felt, top, kind, notes FROM entry"
# The largest number that SQLite gives.
_LAST_NUMBER = 2**63 - 1
# What SQLite says where it may not write beside the log, as it wishes to even for reading.
_NO_ROOM = (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN)
_INSERT = "INSERT INTO entry (day, minutes, felt, top, kind, notes) VALUES (?, ?, ?, ?, ?, ?)"


def add(entry: Entry, path: Path | None = None) -> Entry:
    """Keep an entry and return it with its number; when this returns, it is on the disk."""
    place = path or log_place()
    check_target(place)
    kept = replace(entry, notes=writable(entry.notes))
    with _writing(place) as connection:
        number = connection.execute(_INSERT, _row(kept)[1:]).lastrowid
    return replace(kept, id=number or 0)


def entries(path: Path | None = None) -> tuple[Entry, ...]:
    """Return all entries, by day and then as they were kept; no log, no entries."""
    place = path or log_place()
    if not is_there(place):
        return ()
    with _reading(place) as connection:
        return tuple(_entry(row, place) for row in connection.execute(f"{_SELECT} ORDER BY day, id").fetchall())


def delete(number: int, path: Path | None = None) -> Entry:
    """Take an entry out of the log and return it; an unknown number is refused."""
    place = path or log_place()
    if not is_there(place):
        raise BadRequest(Refusal("entry", number, "is not in the log, which is empty"))
    with _writing(place) as connection:
        row = connection.execute(f"{_SELECT} WHERE id = ?", (number,)).fetchone() if number <= _LAST_NUMBER else None
        if not row:
            raise BadRequest(Refusal("entry", number, "is not in the log", do="list the entries to see their numbers"))
        connection.execute("DELETE FROM entry WHERE id = ?", (number,))
    return _entry(row, place)


def as_csv(kept: Iterable[Entry]) -> bytes:
    """Return entries as CSV with a heading, in UTF-8."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(COLUMNS)
    writer.writerows(map(_row, kept))
    return text.getvalue().encode()


def is_export(content: bytes) -> bool:
    """Return whether a file begins as the log's CSV does."""
    return content.splitlines()[:1] == as_csv(()).splitlines()


def _row(entry: Entry) -> tuple[Any, ...]:
    top = entry.top.name if entry.top else ""
    return entry.id, entry.day.isoformat(), entry.minutes, entry.felt, top, entry.kind, entry.notes


def _entry(row: tuple[Any, ...], place: Path) -> Entry:
    number, day, minutes, felt, top, kind, notes = row
    if not isinstance(day, str) or not isinstance(top, str):
        why = "holds a date or a top note that is no text"
        raise FailedRun(Refusal("entry", number, why, where=str(place)))
    try:
        return Entry(day=parse_day(day), minutes=minutes, felt=felt, top=parse_top(top), kind=kind, notes=notes, id=number)
    except BadRequest as refused:
        raise FailedRun(refused.refusal.within(f"{place}, entry {number}")) from None


@contextmanager
def _opened(place: Path) -> Iterator[sqlite3.Connection]:
    """Yield a connection to a checked database of the newest schema, to write to."""
    with _told(place), closing(sqlite3.connect(place, timeout=PATIENCE, isolation_level=None)) as connection:
        prepare(connection, place)
        yield connection


@contextmanager
def _reading(place: Path) -> Iterator[sqlite3.Connection]:
    """Yield a connection that only reads; a log of an older schema is brought up first."""
    with _told(place), closing(_readable(place)) as connection:
        check_database(connection, place)
        if is_newest(connection):
            yield connection
            return
    with _opened(place) as connection:
        yield connection


def _readable(place: Path) -> sqlite3.Connection:
    """Return a connection that only reads; without room for SQLite's own files, one that needs none."""
    connection = _read_only(place, "mode=ro")
    try:
        connection.execute("SELECT count(*) FROM sqlite_master")
    except sqlite3.OperationalError as error:
        connection.close()
        if error.sqlite_errorcode & 0xFF not in _NO_ROOM or _unfinished(place):
            raise
        return _read_only(place, "mode=ro&immutable=1")
    except sqlite3.Error:
        connection.close()
        raise
    return connection


def _read_only(place: Path, how: str) -> sqlite3.Connection:
    uri = f"{place.absolute().as_uri()}?{how}"
    return sqlite3.connect(uri, uri=True, timeout=PATIENCE, isolation_level=None)


def _unfinished(place: Path) -> bool:
    """Return whether entries wait in SQLite's own file beside the log, which a reader without it would miss."""
    ahead = place.with_name(f"{place.name}-wal")
    return is_there(ahead) and ahead.stat().st_size > 0


@contextmanager
def _told(place: Path) -> Iterator[None]:
    """Tell the troubles of the database in a line; the file is left alone."""
    try:
        yield
    except sqlite3.OperationalError as error:
        raise FailedRun(Refusal("the log", why=f"cannot be used: {error}", where=str(place))) from None
    except sqlite3.DatabaseError as error:
        cure = "it was left as it is; put a copy in its place or move it away"
        raise FailedRun(Refusal("the log", why=f"is damaged ({error})", do=cure, where=str(place))) from None


@contextmanager
def _writing(place: Path) -> Iterator[sqlite3.Connection]:
    """Yield a connection inside one transaction, kept at the end, undone where anything goes wrong."""
    with _opened(place) as connection:
        connection.execute("BEGIN IMMEDIATE")
        try:
            yield connection
        except BaseException:
            connection.execute("ROLLBACK")
            raise
        connection.execute("COMMIT")
