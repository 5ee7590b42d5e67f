"""The practice log's database opened: to read without writing, or to write in one transaction; its troubles told in a line."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from generators.errors import FailedRun, Refusal
from generators.keep.files import is_there
from generators.keep.schema import PATIENCE, check_database, is_newest, migrate, prepare

# What SQLite says where it may not write beside the log, as it wishes to even for reading.
_NO_ROOM = (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN)


@contextmanager
def writing(place: Path) -> Iterator[sqlite3.Connection]:
    """Yield a connection inside one transaction, kept at the end, undone where anything goes wrong."""
    with _told(place), closing(sqlite3.connect(place, timeout=PATIENCE, isolation_level=None)) as connection:
        prepare(connection, place)
        connection.execute("BEGIN IMMEDIATE")
        try:
            yield connection
        except BaseException:
            connection.execute("ROLLBACK")
            raise
        connection.execute("COMMIT")


@contextmanager
def reading(place: Path) -> Iterator[sqlite3.Connection]:
    """Yield a connection that only reads; of a log of an older schema a copy in memory that is brought up."""
    with _told(place), closing(_readable(place)) as connection, closing(sqlite3.connect(":memory:")) as copy:
        check_database(connection, place)
        if is_newest(connection):
            yield connection
            return
        connection.backup(copy)
        copy.isolation_level = None
        migrate(copy)
        yield copy


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
