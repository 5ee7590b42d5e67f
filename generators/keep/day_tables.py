"""What a profile has other on a day of the week, as TOML tables: `[days.thursday]` with `horn = "cornet"` below it."""

import json
from collections.abc import Iterator, Mapping, MutableMapping
from typing import Any

from generators.errors import unknown
from generators.keep.mistyped import WANTED, mistyped
from generators.keep.statements import lines_of, statements
from generators.routine.other_days import check_other, other_days, plainly
from generators.routine.profile import WEEKDAYS, WrongField

# The field of a profile that is written as tables.
TABLED = "days"
TABLES_HELP = 'Here each day is a table: [days.thursday] with lines such as horn = "cornet" and minutes = 12 below it.'
_NUMBER = "minutes"


def day_tables(texts: tuple[str, ...]) -> str:
    """Return the tables of some days as TOML."""
    return "\n".join(f"[{TABLED}.{day}]\n{''.join(_lines(fields))}" for day, fields in other_days(texts).items())


def _lines(fields: Mapping[str, str]) -> Iterator[str]:
    return (f"{name} = {json.dumps(_value(name, value))}\n" for name, value in fields.items())


def _value(name: str, text: str) -> str | int:
    return int(text) if name == _NUMBER else text


def from_tables(tables: Mapping[str, Any]) -> tuple[str, ...]:
    """Return what tables say is other, as a profile keeps it; a mistake is refused with the way to it."""
    return plainly(text for day, table in tables.items() for text in _texts(day, table))


def _texts(day: str, table: Any) -> Iterator[str]:
    if not isinstance(table, Mapping):
        why, cure = "is no table", 'write [days.thursday] and below it horn = "cornet"'
        raise WrongField(mistyped(day, table, why, cure).within(TABLED), TABLED, (day,))
    if day not in WEEKDAYS:
        raise WrongField(unknown("day", day, WEEKDAYS).refusal.within(TABLED), TABLED, (day,))
    for name, value in table.items():
        if type(value) is not int and (name == _NUMBER or not isinstance(value, str)):
            refusal = mistyped(name, value, *WANTED[int if name == _NUMBER else str])
            raise WrongField(refusal.within(f"{TABLED}: {day}"), TABLED, (day, name))
        try:
            check_other(day, name, str(value))
        except WrongField as wrong:
            raise WrongField(wrong.refusal.within(TABLED), TABLED, wrong.item) from None
        yield f"{day}:{name}={value}"


def change_tables(document: MutableMapping[str, Any], texts: tuple[str, ...]) -> None:
    """Change the tables of a parsed file to what is other now; what stays the same keeps its place and its comments."""
    days, wanted = document[TABLED], other_days(texts)
    for day in [day for day in days if day not in wanted]:
        del days[day]
    for day, fields in wanted.items():
        values = {name: _value(name, text) for name, text in fields.items()}
        if day not in days:
            days[day] = values
            continue
        for name in [name for name in days[day] if name not in values]:
            del days[day][name]
        for name, value in values.items():
            if str(days[day].get(name)) != str(value):
                days[day][name] = value


def with_lines(text: str, added: str) -> str:
    """Return a TOML text with lines added at the end, or where tables begin before the first of them."""
    first = next((statement.first for statement in statements(text) if statement.heading), 0) if added else 0
    if not first:
        return ended(text) + added if added else text
    lines = lines_of(text)
    while first > 1 and lines[first - 2].lstrip().startswith("#"):
        first -= 1
    above, below = "".join(f"{line}\n" for line in lines[: first - 1]), "\n".join(lines[first - 1 :])
    return f"{above}{added.lstrip()}\n{below}"


def ended(text: str) -> str:
    """Return a text with an end of line after its last one."""
    return text if not text or text.endswith("\n") else f"{text}\n"
