"""The practice log on disk: what is kept comes back, and what is not ours or not whole is left alone."""

import csv
import io
import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.errors import BadRequest, FailedRun
from generators.keep import log, schema
from generators.keep.log_csv import as_csv
from generators.routine.calendar import parse_day
from generators.routine.logbook import Entry, PrintedDay
from generators.theory.pitch import parse_pitch

DAY = date(2026, 11, 3)
PLAYED = {"code": "K3F7-Q2MD", "horn": "cornet", "keys": ("Eb", "Cm"), "parts": ("air", "flow")}
FULL = Entry(day=DAY, minutes=25, felt="hard", top=parse_pitch("Bb5"), kind="concert", notes='lip "cold", stand\n§ ♭', **PLAYED)
PAGE = PrintedDay(day=DAY, kind="light", minutes=15, **PLAYED)
# The log as the first Waterkey made it.
FIRST = (
    "PRAGMA application_id = 1464550745",
    "PRAGMA user_version = 1",
    "CREATE TABLE entry (id INTEGER PRIMARY KEY AUTOINCREMENT, day TEXT NOT NULL, minutes INTEGER NOT NULL,"
    " felt TEXT NOT NULL, top TEXT NOT NULL, kind TEXT NOT NULL, notes TEXT NOT NULL)",
    "CREATE INDEX entry_day ON entry (day)",
    "INSERT INTO entry VALUES (1, '2026-11-03', 25, 'hard', 'Bb5', 'concert', 'lip cold')",
    "INSERT INTO entry VALUES (7, '2026-11-04', 8, 'easy', '', 'normal', '')",
)


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """Return the place of a log in a folder that is not there yet."""
    return tmp_path / "data" / "log.sqlite"


def test_no_log_no_entries(place: Path) -> None:
    """Reading where nothing was kept gives nothing and makes nothing."""
    assert () == log.entries(place)
    assert not place.parent.exists()


def test_an_entry_comes_back(place: Path) -> None:
    """An entry is read as it was kept, with its number."""
    kept = log.add(FULL, place)

    assert (kept,) == log.entries(place)
    assert 1 == kept.id


def test_half_a_character_in_the_notes_is_no_trouble(place: Path) -> None:
    """A byte that is no text is kept as a question mark, the rest of the line as it is."""
    kept = log.add(Entry(day=DAY, minutes=5, notes="a\udcffb"), place)

    assert ("a?b", (kept,)) == (kept.notes, log.entries(place))


def test_entries_come_by_day(place: Path) -> None:
    """Entries are listed by day, those of a day as they were kept."""
    for day, minutes in ((5, 1), (3, 2), (5, 3), (4, 4)):
        log.add(Entry(day=date(2026, 11, day), minutes=minutes), place)

    assert [2, 4, 1, 3] == [entry.minutes for entry in log.entries(place)]


def test_a_deleted_entry_is_gone_and_its_number_with_it(place: Path) -> None:
    """A number is never given twice."""
    log.add(FULL, place)
    second = log.add(FULL, place)

    assert second == log.delete(2, place)
    assert 3 == log.add(FULL, place).id


@pytest.mark.parametrize("kept", [0, 1])
def test_deleting_what_is_not_there_is_refused(place: Path, kept: int) -> None:
    """An unknown number is refused, in an empty log too."""
    for _ in range(kept):
        log.add(FULL, place)

    with pytest.raises(BadRequest, match="entry 9 is not in the log"):
        log.delete(9, place)


def test_csv_reads_back(place: Path) -> None:
    """The export is read by any CSV reader, whatever the notes hold."""
    rows = list(csv.DictReader(io.StringIO(as_csv([log.add(FULL, place)]).decode(), newline="")))

    expected = {"id": "1", "date": "2026-11-03", "minutes": "25", "felt": "hard", "top": "Bb5", "kind": "concert"}
    expected |= {"notes": FULL.notes, "code": "K3F7-Q2MD", "horn": "cornet", "keys": "Eb,Cm", "parts": "air,flow"}
    assert [expected] == rows


def test_the_database_is_in_wal(place: Path) -> None:
    """The log is written ahead, and marked as ours with the version of its schema."""
    log.add(FULL, place)
    database = sqlite3.connect(place)
    found = [database.execute(f"PRAGMA {name}").fetchone()[0] for name in ("journal_mode", "application_id", "user_version")]
    database.close()

    assert ["wal", schema.APPLICATION, len(schema.MIGRATIONS)] == found


def test_an_older_schema_is_brought_up(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A log of an older schema is migrated when it is opened, and keeps its entries."""
    kept = log.add(FULL, place)
    monkeypatch.setattr(
        schema, "MIGRATIONS", (*schema.MIGRATIONS, "ALTER TABLE entry ADD COLUMN mood TEXT NOT NULL DEFAULT ''")
    )

    assert (kept,) == log.entries(place)
    assert 2 == log.add(FULL, place).id


def test_a_failed_migration_changes_nothing(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A migration that fails in the middle leaves the log as it was."""
    kept = log.add(FULL, place)
    with monkeypatch.context() as patch:
        patch.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS, "DELETE FROM entry; NONSENSE"))
        with pytest.raises(FailedRun, match="the log cannot be used: "):
            log.entries(place)

    assert (kept,) == log.entries(place)


def _first(place: Path) -> Path:
    """Return the place of a log as the first Waterkey made it, after making it."""
    place.parent.mkdir(exist_ok=True)
    database = sqlite3.connect(place)
    for statement in FIRST:
        database.execute(statement)
    database.commit()
    database.close()
    return place


@pytest.fixture
def first(place: Path) -> Path:
    """Return the place of a log that the first Waterkey made."""
    return _first(place)


def test_the_first_log_is_read_and_not_touched(first: Path) -> None:
    """A log of the first schema is read as it is, byte for byte the same afterwards."""
    before = first.read_bytes()
    kept = [Entry(day=DAY, minutes=25, felt="hard", top=parse_pitch("Bb5"), kind="concert", notes="lip cold", id=1)]

    assert [*kept, Entry(day=date(2026, 11, 4), minutes=8, felt="easy", id=7)] == list(log.entries(first))
    assert None is log.printed_for(DAY, first)
    assert before == first.read_bytes()
    assert [first] == list(first.parent.iterdir())


def test_the_first_log_is_migrated_when_it_is_written(first: Path) -> None:
    """A first write brings the log up; its entries and their numbers stay, and a number is still never given twice."""
    kept = log.entries(first)

    assert 8 == log.add(FULL, first).id
    assert kept == tuple(entry for entry in log.entries(first) if entry.id != 8)
    assert FULL == replace(log.entries(first)[1], id=0)


def test_what_was_printed_is_remembered_by_date(place: Path) -> None:
    """Of two pages for a date the last one counts; another date knows of none, and the entries of nothing."""
    log.remember([replace(PAGE, code="AAAA-AAAA"), replace(PAGE, day=date(2026, 11, 4))], place)
    log.remember([PAGE], place)

    assert (PAGE, None) == (log.printed_for(DAY, place), log.printed_for(date(2026, 11, 5), place))
    assert () == log.entries(place)


@given(st.sampled_from(["minutes", "felt", "top", "kind", "notes", "code", "horn", "keys", "parts", "day"]))
def test_an_amended_entry_is_new_where_it_was_changed(field: str) -> None:
    """What is changed is new, all else stays, and so do the other entries."""
    new = Entry(day=date(2026, 11, 1), minutes=30, felt="sore", kind="light", notes="new")
    with TemporaryDirectory() as folder:
        place = Path(folder) / "log.sqlite"
        other, kept = log.add(FULL, place), log.add(FULL, place)
        amended = log.amend(kept.id, lambda entry: replace(entry, **{field: getattr(new, field)}), place)

        assert replace(kept, **{field: getattr(new, field)}) == amended
        assert {other, amended} == set(log.entries(place))


def test_a_part_that_is_no_more_bricks_no_log(place: Path) -> None:
    """A part of a day that a later Waterkey has dropped is left out when the entry is read, and stays where it is kept."""
    log.add(FULL, place)
    database = sqlite3.connect(place)
    database.execute("UPDATE entry SET parts = 'air,juggling'")
    database.commit()

    assert ("air",) == log.entries(place)[0].parts
    log.amend(1, lambda entry: replace(entry, felt="easy"), place)
    assert "air,juggling" == database.execute("SELECT parts FROM entry").fetchone()[0]
    database.close()


def test_amending_what_is_not_there_is_refused(place: Path) -> None:
    """An unknown number is refused, in an empty log too."""
    with pytest.raises(BadRequest, match="entry 9 is not in the log, which is empty"):
        log.amend(9, lambda entry: entry, place)
    log.add(FULL, place)
    with pytest.raises(BadRequest, match="entry 9 is not in the log"):
        log.amend(9, lambda entry: entry, place)


def test_a_newer_schema_is_refused(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A log of a newer Waterkey is refused in a line and not touched."""
    with monkeypatch.context() as patch:
        patch.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS, "SELECT 1"))
        log.add(FULL, place)
    before = place.read_bytes()

    with pytest.raises(FailedRun, match=r"has schema 3, newer than this Waterkey knows \(up to 2\); it was left as it is"):
        log.add(FULL, place)
    assert before == place.read_bytes()


@pytest.mark.parametrize("content", [b"not a database, surely", b"SQLite format 3\0" + b"\xff" * 4000])
def test_a_file_that_is_no_database_is_left_alone(place: Path, content: bytes) -> None:
    """What is no database is refused in a line; the file stays, and nothing is put beside it."""
    place.parent.mkdir()
    place.write_bytes(content)

    with pytest.raises(FailedRun, match=r"is damaged .* it was left as it is"):
        log.add(FULL, place)
    assert content == place.read_bytes()
    assert [place] == list(place.parent.iterdir())


def test_a_damaged_log_is_left_alone(place: Path) -> None:
    """A log with a spoiled page is refused before anything is written to it."""
    for _ in range(300):
        log.add(FULL, place)
    spoiled = bytearray(place.read_bytes())
    spoiled[4096 * 2 : 4096 * 3] = b"\xaa" * 4096
    place.write_bytes(spoiled)

    with pytest.raises(FailedRun, match="is damaged"):
        log.add(FULL, place)
    assert bytes(spoiled) == place.read_bytes()


def test_another_programs_database_is_left_alone(place: Path) -> None:
    """A database that is not a practice log is never written to."""
    place.parent.mkdir()
    database = sqlite3.connect(place)
    database.execute("CREATE TABLE loans (chair TEXT)")
    database.close()
    before = place.read_bytes()

    with pytest.raises(FailedRun, match="not a practice log"):
        log.add(FULL, place)
    assert before == place.read_bytes()


def test_a_wrong_row_is_told(place: Path) -> None:
    """A row that was changed by hand into nonsense is named."""
    log.add(FULL, place)
    database = sqlite3.connect(place)
    database.execute("UPDATE entry SET felt = 'great'")
    database.commit()
    database.close()

    with pytest.raises(FailedRun, match=r'log.sqlite, entry 1: felt "great" is not known'):
        log.entries(place)


def test_a_log_that_cannot_be_made(tmp_path: Path) -> None:
    """A file where the folder should be is told in a line."""
    (tmp_path / "data").write_text("in the way")

    with pytest.raises(FailedRun, match="cannot be written: "):
        log.add(FULL, tmp_path / "data" / "log.sqlite")


def test_a_number_past_all_numbers_is_not_in_the_log(place: Path) -> None:
    """A number larger than any that SQLite gives is refused as any other that is not there."""
    log.add(FULL, place)

    with pytest.raises(BadRequest, match="is not in the log"):
        log.delete(10**20, place)


@pytest.mark.parametrize("change", ["UPDATE entry SET day = x'00ff'", "UPDATE entry SET top = x'00ff'"])
def test_a_foreign_value_is_told(place: Path, change: str) -> None:
    """Bytes where a text should be are told with the entry."""
    log.add(FULL, place)
    database = sqlite3.connect(place)
    database.execute(change)
    database.commit()
    database.close()

    with pytest.raises(FailedRun, match=r"log\.sqlite: entry 1 holds a date, a top note or a list that is no text"):
        log.entries(place)


@pytest.mark.parametrize("read", [log.entries, lambda place: log.delete(1, place)])
def test_a_log_of_an_impossible_name_is_refused(tmp_path: Path, read: Callable[[Path], object]) -> None:
    """A place that no file can have is a line, not an empty log."""
    with pytest.raises(FailedRun, match="cannot be read: file name too long"):
        read(tmp_path / ("x" * 300) / "log.sqlite")


@pytest.fixture
def guarded() -> Iterator[Path]:
    """Return the place of a log in a folder that can be read and not written, by root neither."""
    with TemporaryDirectory() as name:
        yield Path(name) / "log.sqlite"
        Path(name).chmod(0o700)


@contextmanager
def _without_leave(place: Path) -> Iterator[None]:
    """Take the leave to write from file and folder; root works as nobody in the meantime."""
    for file in place.parent.iterdir():
        file.chmod(0o444)
    place.parent.chmod(0o555)
    # Python loads what reads a day when it first reads one, perhaps from a place where nobody may look.
    parse_day("2026-11-03")
    user = os.geteuid()
    if user == 0:
        os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(user)


@pytest.mark.skipif(not hasattr(os, "seteuid"), reason="no users to change to")
@pytest.mark.parametrize("read_before", [False, True])
def test_a_log_that_may_only_be_read_is_read(guarded: Path, read_before: bool) -> None:
    """Without leave to write, the entries are read and a new one is refused in a line."""
    kept = log.add(FULL, guarded)
    if read_before:
        log.entries(guarded)
    with _without_leave(guarded):
        assert (kept,) == log.entries(guarded)
        with pytest.raises(FailedRun):
            log.add(FULL, guarded)


@pytest.mark.skipif(not hasattr(os, "seteuid"), reason="no users to change to")
def test_the_first_log_is_read_without_leave_to_write(guarded: Path) -> None:
    """A log of the first schema is read where it cannot be brought up; what was printed is not remembered, in a line."""
    _first(guarded)
    with _without_leave(guarded):
        assert [1, 7] == [entry.id for entry in log.entries(guarded)]
        with pytest.raises(FailedRun, match="cannot be written"):
            log.remember([PAGE], guarded)


@pytest.mark.skipif(not hasattr(os, "seteuid"), reason="no users to change to")
def test_entries_still_on_their_way_are_never_left_out(guarded: Path) -> None:
    """What another process has kept and not yet moved into the database is read too, without leave to write."""
    log.add(FULL, guarded)
    other = sqlite3.connect(guarded)
    other.execute("INSERT INTO entry SELECT 2, day, minutes, felt, top, kind, notes, code, horn, keys, parts FROM entry")
    other.commit()
    with _without_leave(guarded):
        assert [1, 2] == [entry.id for entry in log.entries(guarded)]
    other.close()


def test_reading_writes_nothing_to_the_log(place: Path) -> None:
    """The database is the same, byte for byte, after it was read."""
    log.add(FULL, place)
    before = place.read_bytes()
    log.entries(place)

    assert before == place.read_bytes()
