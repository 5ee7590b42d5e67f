"""The practice log as CSV, out and in: UTF-8, a heading, a line a session; lists with commas, dates as 2026-11-25.

The columns are id, date, minutes, felt, top, kind, notes, code, horn, keys, parts. What goes out comes in again the same; in
may come any order of them, without all but date and minutes, with commas, semicolons or tabs between.
"""

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from generators.errors import BadRequest, Refusal, unknown
from generators.keep.statements import place_of
from generators.routine.calendar import check_day, parse_day
from generators.routine.logbook import Entry, check_top, parse_top

COLUMNS = ("id", "date", "minutes", "felt", "top", "kind", "notes", "code", "horn", "keys", "parts")
NEEDED = ("date", "minutes")
_SEPARATORS = (",", ";", "\t")
# A longer number is none of ours; it is not even read.
_DIGITS = 18


def as_csv(kept: Iterable[Entry]) -> bytes:
    """Return entries as CSV with a heading, in UTF-8."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(COLUMNS)
    writer.writerows(map(_row, kept))
    return text.getvalue().encode()


def _row(entry: Entry) -> tuple[Any, ...]:
    top, lists = entry.top.name if entry.top else "", (",".join(entry.keys), ",".join(entry.parts))
    told = (entry.id, entry.day.isoformat(), entry.minutes, entry.felt, top, entry.kind, entry.notes)
    return (*told, entry.code, entry.horn, *lists)


def is_export(content: bytes) -> bool:
    """Return whether a file begins as the log's CSV does, or did when it had fewer columns."""
    first = content.removeprefix(b"\xef\xbb\xbf").split(b"\n", 1)[0].decode(errors="replace").strip()
    names = first.split(",")
    return set(NEEDED) <= set(names) <= set(COLUMNS)


def from_csv(text: str, what: str, latest: date) -> tuple[Entry, ...]:
    """Return the entries of a CSV; what cannot be one is refused with the name of the file and its line."""
    rows = list(_rows(text, what))
    if not rows:
        raise BadRequest(Refusal("the file", why="has no heading", allowed=COLUMNS, where=what))
    (line, first), *below = rows
    names = _columns(first, place_of(what, line))
    return tuple(_entry(names, row, place_of(what, line), latest) for line, row in below)


def _rows(text: str, what: str) -> Iterator[tuple[int, list[str]]]:
    """Yield every row that holds anything, with the line on which it begins."""
    heading = text.lstrip().split("\n", 1)[0]
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=max(_SEPARATORS, key=heading.count), strict=True)
    while True:
        line = reader.line_num + 1
        try:
            row = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise BadRequest(Refusal("the text", why=f"is not CSV: {error}", where=place_of(what, line))) from None
        if any(cell.strip() for cell in row):
            yield line, row


def _columns(heading: Sequence[str], where: str) -> list[str]:
    """Return the names of the columns; unknown, doubled and missing ones are refused."""
    names = [cell.strip().lower() for cell in heading]
    strange = [name for name in names if name not in COLUMNS]
    if strange:
        raise BadRequest(unknown("column", strange[0], COLUMNS).refusal.within(where))
    twice = [name for name in names if names.count(name) > 1]
    if twice:
        raise BadRequest(Refusal("column", twice[0], "is there twice", do="keep one", where=where))
    missing = [name for name in NEEDED if name not in names]
    if missing:
        raise BadRequest(Refusal("column", missing[0], "is missing", allowed=COLUMNS, where=where))
    return names


def _entry(names: Sequence[str], row: Sequence[str], where: str, latest: date) -> Entry:
    if len(row) != len(names):
        raise BadRequest(Refusal("the line", why=f"has {len(row)} cells", allowed=f"{len(names)}, as the heading", where=where))
    try:
        return _read(dict(zip(names, row, strict=True)), latest)
    except BadRequest as refused:
        raise BadRequest(refused.refusal.within(where)) from None


def _read(cells: Mapping[str, str], latest: date) -> Entry:
    plain = {name: cell.strip() for name, cell in cells.items()}
    day = parse_day(plain["date"])
    check_day("date", day)
    if day > latest:
        raise BadRequest(Refusal("date", day, "is still to come", allowed=f"{latest} and earlier"))
    fields: dict[str, Any] = {name: plain[name] for name in ("felt", "kind", "code", "horn") if plain.get(name)}
    fields |= {name: _listed(plain.get(name, "")) for name in ("keys", "parts")}
    fields |= {"top": parse_top(plain.get("top", "")), "notes": cells.get("notes", "")}
    number = _whole("id", plain["id"]) if plain.get("id") else 0
    entry = Entry(day=day, minutes=_whole("minutes", plain["minutes"]), id=number, **fields)
    check_top(entry.top, entry.horn)
    return entry


def _listed(text: str) -> tuple[str, ...]:
    return tuple(item.strip() for item in text.split(",") if item.strip())


def _whole(what: str, text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) <= _DIGITS):
        raise BadRequest(Refusal(what, text, "is not a whole number", do="write digits alone, as in 25"))
    return int(text)
