"""Which line of a TOML text says what: tomllib reads values, but does not tell where they stand."""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from generators.errors import BadRequest, Refusal

_AT = re.compile(r"\(at line (\d+), column (\d+)\)")


@dataclass(frozen=True, slots=True)
class Statement:
    """One key with its value, or one table heading, and its lines from `first` up to before `end`."""

    keys: tuple[str, ...]
    first: int
    end: int
    heading: bool = False


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
        end, keys = _statement(lines, first)
        if keys:
            yield Statement(keys, first + 1, end + 1, heading=lines[first].lstrip().startswith("["))
        first = end


def _statement(lines: list[str], first: int) -> tuple[int, tuple[str, ...]]:
    """Return where the statement that begins on a line ends, and its keys: the fewest lines that are TOML by themselves."""
    for end in range(first + 1, len(lines)):
        try:
            return end, tuple(tomllib.loads("\n".join(lines[first:end])))
        except tomllib.TOMLDecodeError:
            continue
    return len(lines), tuple(tomllib.loads("\n".join(lines[first:])))


def line_of(text: str, key: str, item: object = None, heading: int = 0) -> int:
    """Return the line of a key, or of an item of its list, in the table after so many headings."""
    passed = 0
    lines = lines_of(text)
    for statement in statements(text):
        passed += statement.heading
        if key in statement.keys and (statement.heading or passed == heading):
            return next((n for n in range(statement.first, statement.end) if _holds(lines[n - 1], item)), statement.first)
    return 1


def _holds(line: str, item: object) -> bool:
    """Return whether a line of a list holds an item, as a text in quotes."""
    return item is not None and (f'"{item}"' in line or f"'{item}'" in line)
