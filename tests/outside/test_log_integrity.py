"""The practice log against SQLite's own integrity check, after killed writers and with two writers at once."""

import sqlite3
import subprocess
import sys
from datetime import date
from itertools import islice
from pathlib import Path

from generators.keep.log import add, entries
from generators.routine.logbook import Entry

ROOT = Path(__file__).resolve().parents[2]
# Keeps entries until it has kept enough, and tells each only after it was kept.
WRITER = """
import sys
from datetime import date
from pathlib import Path
from generators.keep.log import add
from generators.routine.logbook import Entry
for i in range(int(sys.argv[3])):
    note = f"{sys.argv[2]}-{i}"
    add(Entry(day=date(2026, 11, 3), minutes=20, notes=note), Path(sys.argv[1]))
    print(note, flush=True)
"""
ROUNDS, ENOUGH = 10, 100000


def _writer(place: Path, name: str, count: int) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", WRITER, str(place), name, str(count)], cwd=ROOT, stdout=subprocess.PIPE, text=True
    )


def _integrity(place: Path) -> list[tuple[str]]:
    database = sqlite3.connect(place)
    found = database.execute("PRAGMA integrity_check").fetchall()
    database.close()
    return found


def _told(process: subprocess.Popen[str], count: int) -> list[str]:
    """Return the first lines of a writer, then kill it and return what it still told."""
    assert process.stdout
    first = list(islice(process.stdout, count))
    process.kill()
    rest = process.stdout.read()
    process.wait()
    process.stdout.close()
    return [line for line in "".join([*first, rest]).split("\n")[:-1] if line]


def test_a_killed_writer_loses_nothing(tmp_path: Path) -> None:
    """Writers killed at any moment leave a whole database that holds every entry they told as kept, and few more."""
    place = tmp_path / "log.sqlite"
    told: list[str] = []
    for i in range(ROUNDS):
        told += _told(_writer(place, f"writer {i}", ENOUGH), 1 + 7 * i % 23)
        assert [("ok",)] == _integrity(place)
    kept = [entry.notes for entry in entries(place)]

    assert set() == set(told) - set(kept)
    assert len(set(kept)) == len(kept)
    assert len(kept) - len(told) <= ROUNDS
    assert len(kept) + 1 == add(Entry(day=date(2026, 11, 4), minutes=5), place).id


def test_two_writers_lose_nothing(tmp_path: Path) -> None:
    """Two writers that begin at once on a log that is not there yet keep every entry of both."""
    place = tmp_path / "new" / "log.sqlite"
    writers = [_writer(place, name, 60) for name in ("first", "second")]
    outputs = [writer.communicate()[0].split("\n")[:-1] for writer in writers]

    assert [0, 0] == [writer.returncode for writer in writers]
    assert sorted(note for lines in outputs for note in lines) == sorted(entry.notes for entry in entries(place))
    assert 120 == len(entries(place))
    assert [("ok",)] == _integrity(place)
