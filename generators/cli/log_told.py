"""How the practice log is told: an entry in a line, entries as a table or as JSON, and this week as a bar."""

import json
from collections.abc import Sequence
from datetime import date

from generators.cli.streams import write_json
from generators.phrase.wording import key_words
from generators.routine.calendar import in_words
from generators.routine.logbook import Entry, week_days


def said(entry: Entry, today: date) -> str:
    """Return an entry in a line."""
    top = f", top {entry.top.pretty}" if entry.top else ""
    told = f"{in_words(entry.day, today)}, {entry.minutes} minutes, felt {entry.felt}{top}, {entry.kind} day"
    played = ", ".join(filter(None, (entry.horn, entry.code, _keys(entry))))
    return f"{told}; {played}" if played else told


def _keys(entry: Entry) -> str:
    return " ".join(key_words(name) for name in entry.keys)


def week_bar(entries: Sequence[Entry], today: date) -> str:
    """Return how many days of today's week are logged, as a bar from Monday to Sunday."""
    days = week_days(entries, today)
    bar = "".join("#" if done else "." for done in days)
    return f"This week: [{bar}] {sum(days)} of {len(days)} days"


def entry_table(kept: Sequence[Entry], today: date) -> None:
    """Print entries as a table."""
    from rich.console import Console
    from rich.markup import escape
    from rich.table import Table

    table = Table(title="Last entries", title_justify="left")
    for heading in ("id", "date", "minutes", "felt", "top", "kind", "horn", "keys", "notes"):
        table.add_column(heading, justify="right" if heading in ("id", "minutes") else "left", overflow="fold")
    for e in kept:
        top = e.top.pretty if e.top else "-"
        played = (e.horn or "-", _keys(e) or "-")
        table.add_row(str(e.id), in_words(e.day, today), str(e.minutes), e.felt, top, e.kind, *played, escape(e.notes))
    Console().print(table)


def write_entries(kept: Sequence[Entry]) -> None:
    """Write entries as a JSON list."""
    rows = [
        {
            "id": e.id,
            "date": e.day.isoformat(),
            "minutes": e.minutes,
            "felt": e.felt,
            "top": e.top.name if e.top else None,
            "kind": e.kind,
            "notes": e.notes,
            "code": e.code or None,
            "horn": e.horn or None,
            "keys": list(e.keys),
            "parts": list(e.parts),
        }
        for e in kept
    ]
    write_json(json.dumps(rows, ensure_ascii=False))
