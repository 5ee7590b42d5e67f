"""The practice log's database: its schema by versions, and the checks before it is touched."""

import sqlite3
import time
from pathlib import Path

from generators.errors import FailedRun, Refusal

# What marks a database as ours ("WKEY"), so that another program's is never written to.
APPLICATION = 0x574B4559
# One script a version; user_version counts those that have run. A script that has shipped is never changed.
MIGRATIONS: tuple[str, ...] = (
    """CREATE TABLE entry (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        day TEXT NOT NULL,
        minutes INTEGER NOT NULL,
        felt TEXT NOT NULL,
        top TEXT NOT NULL,
        kind TEXT NOT NULL,
        notes TEXT NOT NULL
    );
    CREATE INDEX entry_day ON entry (day)""",
    """ALTER TABLE entry ADD COLUMN code TEXT NOT NULL DEFAULT '';
    ALTER TABLE entry ADD COLUMN horn TEXT NOT NULL DEFAULT '';
    ALTER TABLE entry ADD COLUMN keys TEXT NOT NULL DEFAULT '';
    ALTER TABLE entry ADD COLUMN parts TEXT NOT NULL DEFAULT '';
    CREATE TABLE printed (
        day TEXT PRIMARY KEY,
        code TEXT NOT NULL,
        horn TEXT NOT NULL,
        kind TEXT NOT NULL,
        minutes INTEGER NOT NULL,
        keys TEXT NOT NULL,
        parts TEXT NOT NULL
    )""",
)
PATIENCE = 20.0
_PAUSE = 0.02
# Another process holds the database, or a table of it.
_TAKEN = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)


def prepare(connection: sqlite3.Connection, path: Path) -> None:
    """Check a database and bring it to the newest schema; raises FailedRun where it is not ours or newer than we are."""
    connection.execute(f"PRAGMA busy_timeout = {int(PATIENCE * 1000)}")
    check_database(connection, path)
    _use_wal(connection)
    connection.execute("PRAGMA synchronous = FULL")
    if not is_newest(connection):
        migrate(connection)


def is_newest(connection: sqlite3.Connection) -> bool:
    """Return whether a checked database needs no migration."""
    return _number(connection, "user_version") == len(MIGRATIONS)


def check_database(connection: sqlite3.Connection, path: Path) -> None:
    """Refuse a database that is not ours, newer than we are, or damaged; nothing is written.

    Raises FailedRun, and sqlite3.DatabaseError for a damaged one.
    """
    version, mark = _number(connection, "user_version"), _number(connection, "application_id")
    tables = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
    if mark != APPLICATION and (tables or version or mark):
        cure = "it was left as it is; move it away to begin a log"
        raise FailedRun(Refusal("the file", why="is a database, but not a practice log", do=cure, where=str(path)))
    if version > len(MIGRATIONS):
        why = f"has schema {version}, newer than this Waterkey knows (up to {len(MIGRATIONS)})"
        raise FailedRun(Refusal("the log", why=why, do="it was left as it is; install the newer Waterkey", where=str(path)))
    fault = connection.execute("PRAGMA quick_check(1)").fetchone()[0]
    if fault != "ok":
        raise sqlite3.DatabaseError(fault.splitlines()[-1])


def _number(connection: sqlite3.Connection, pragma: str) -> int:
    return int(connection.execute(f"PRAGMA {pragma}").fetchone()[0])


def _use_wal(connection: sqlite3.Connection) -> None:
    """Switch to write-ahead logging; SQLite's own patience does not cover two processes that switch at once."""
    end = time.monotonic() + PATIENCE
    while True:
        try:
            connection.execute("PRAGMA journal_mode = WAL")
            return
        except sqlite3.OperationalError as error:
            if _plain_code(error) not in _TAKEN or time.monotonic() > end:
                raise
            time.sleep(_PAUSE)


def _plain_code(error: sqlite3.Error) -> int:
    """Return what went wrong, without the detail that SQLite keeps in the higher bits of its codes."""
    return error.sqlite_errorcode & 0xFF


def migrate(connection: sqlite3.Connection) -> None:
    """Run the scripts that have not run yet, all in one transaction; another process may have been quicker."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        for script in MIGRATIONS[_number(connection, "user_version") :]:
            for statement in script.split(";"):
                connection.execute(statement)
        connection.execute(f"PRAGMA application_id = {APPLICATION}")
        connection.execute(f"PRAGMA user_version = {len(MIGRATIONS)}")
    except BaseException:
        connection.execute("ROLLBACK")
        raise
    connection.execute("COMMIT")
