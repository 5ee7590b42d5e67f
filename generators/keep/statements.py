"""Which line of a TOML text says what: tomllib reads values, but does not tell where they stand."""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import takewhile
from typing import Any

from generators.errors import BadRequest, Refusal

_AT = re.compile(r"\(at line (\d+), column (\d+)\)")


@dataclass(frozen=True, slots=True)
class Statement:
    """One key with its value, or one table heading with its whole path, and its lines from `first` up to before `end`."""

    keys: tuple[str, ...]
    first: int
    end: int
    heading: bool = False
    way: tuple[str, ...] = ()
    """The way that a dotted key leads: `days.thursday.horn` in three steps."""

    @property
    def opens(self) -> bool:
        """Whether it is the heading of a table that lies in no other."""
        return self.heading and len(self.keys) == 1


def toml_values(text: str, what: str) -> dict[str, Any]:
    """Return the values of a TOML text; a mistake is refused with the file and its line."""
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise BadRequest(Refusal("the text", why="is nested without end", where=what)) from None
    except ValueError as error:  # TOML's own errors, and numbers of more digits than Python reads
        found = _AT.search(str(error))
        line = int(found[1]) if found else len(lines_of(text))
        reason = _AT.sub("", str(error)).replace("(at end of document)", "").strip()
        why = f"is not TOML: {reason[:1].lower()}{reason[1:]}"
        raise BadRequest(Refusal("the text", why=why, where=place_of(what, line))) from None


def place_of(what: str, line: int) -> str:
    """Return a line of a file as it is told."""
    return f"{what}, line {line}"


def lines_of(text: str) -> list[str]:
    """Return the lines of a TOML text as its reader counts them."""
    return text.replace("\r\n", "\n").split("\n")


def statements(text: str) -> Iterator[Statement]:
    """Yield the statements of a valid TOML text in order; a value may run over several lines."""
    lines = lines_of(text)
    first = 0
    while first < len(lines):
        end, table = _statement(lines, first)
        heading = lines[first].lstrip().startswith("[")
        if table:
            keys = _path(table) if heading else tuple(table)
            yield Statement(keys, first + 1, end + 1, heading=heading, way=_path(table))
        first = end


def _path(table: dict[str, Any]) -> tuple[str, ...]:
    """Return the keys that lead into a table, as far as there is one way: `[[player.a]]` gives player and a."""
    keys: list[str] = []
    below: Any = table
    while isinstance(below, dict) and below:
        key, below = next(iter(below.items()))
        keys.append(key)
        below = below[0] if isinstance(below, list) and below else below
    return tuple(keys)


def _statement(lines: list[str], first: int) -> tuple[int, dict[str, Any]]:
    """Return where the statement that begins on a line ends, and its table: the fewest lines that are TOML by themselves."""
    for end in range(first + 1, len(lines)):
        try:
            return end, tomllib.loads("\n".join(lines[first:end]))
        except tomllib.TOMLDecodeError:
            continue
    return len(lines), tomllib.loads("\n".join(lines[first:]))


def line_of(text: str, key: str, item: object = None, heading: int = 0) -> int:
    """Return the line of a key, or of an item of its list, in the table after so many headings; nested ones do not count.

    An item that is a tuple is the way to it through tables below the key; where it is not said, the nearest table is told.
    """
    if isinstance(item, tuple):
        return _line_below(text, (key, *item), heading)
    passed, nested = 0, False
    lines = lines_of(text)
    for statement in statements(text):
        passed += statement.opens
        nested = len(statement.keys) > 1 if statement.heading else nested
        if passed == heading and not nested and not statement.heading:
            said = key in statement.keys
        else:  # a heading says its own key, at the top of the text or in the table where it is nested
            said = statement.heading and (passed == heading or not heading) and key in statement.keys[bool(heading) :][:1]
        if said:
            return next((n for n in range(statement.first, statement.end) if _holds(lines[n - 1], item)), statement.first)
    return 1


def _holds(line: str, item: object) -> bool:
    """Return whether a line of a list holds an item, as a text in quotes."""
    return item is not None and (f'"{item}"' in line or f"'{item}'" in line)


def _line_below(text: str, way: tuple[str, ...], heading: int) -> int:
    """Return the line of the statement that goes farthest on a way, in the table after so many headings."""
    passed, best, line = 0, 0, 1
    table: tuple[str, ...] = ()
    for statement in statements(text):
        passed += statement.opens
        if statement.heading:
            table = statement.keys
        if passed == heading:
            said = (table if statement.heading else (*table, *statement.way))[bool(heading) :]
            common = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(said, way, strict=False)))
            best, line = (common, statement.first) if common > best else (best, line)
    return line
