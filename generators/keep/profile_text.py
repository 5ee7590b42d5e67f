"""A profile as TOML text and back: every field with its help as a comment, every mistake with its line."""

import json
from collections.abc import Mapping
from dataclasses import replace
from textwrap import wrap
from typing import Any

from generators.errors import BadRequest, unknown
from generators.keep.profile_check import FIELDS, TABLES, WrongField, check_profile
from generators.keep.statements import line_of, lines_of, parsed, statements
from generators.routine.profile import Profile

WIDTH = 110
HEAD = """\
# A player's profile for Waterkey. Change a value here or with `waterkey player set`; what is left out keeps its default.
# Pitches and keys are as written for the horn; "" is the horn's or the grade's own.
"""


def as_toml(profile: Profile) -> str:
    """Return the text of a profile, every field with its help and what it may hold."""
    return HEAD + "".join(f"\n{_comment(name)}{_line(name, getattr(profile, name))}\n" for name in FIELDS)


def _comment(name: str) -> str:
    meta = FIELDS[name].metadata
    allowed = ", ".join(meta["allowed"] or TABLES.get(name, ()))
    told = f"{meta['help']} Allowed: {allowed}." if allowed else meta["help"]
    return "".join(f"# {line}\n" for line in wrap(told, WIDTH, break_on_hyphens=False))


def _line(name: str, value: Any) -> str:
    return f"{_key(name)} = {_value(value)}"


def _key(name: str) -> str:
    return name.replace("_", "-")


def _value(value: Any) -> str:
    """Return a TOML value; JSON's strings, numbers, booleans and lists are TOML's, but for one control character."""
    return json.dumps(list(value) if isinstance(value, tuple) else value, ensure_ascii=False).replace("\x7f", "\\u007f")


def changed(text: str, profile: Profile, what: str) -> str:
    """Return the text of a file with the values of a profile; comments and lines that need no change stay as they are."""
    old = from_toml(text, what)
    lines = lines_of(text)
    missing = []
    for name in FIELDS:
        if getattr(old, name) != getattr(profile, name):
            lines, found = _put(lines, name, getattr(profile, name))
            missing += [] if found else [f"{_comment(name)}{_line(name, getattr(profile, name))}\n"]
    return "\n".join(lines).rstrip("\n") + "\n" + "".join(f"\n{block}" for block in missing)


def _put(lines: list[str], name: str, value: Any) -> tuple[list[str], bool]:
    """Return the lines with another value of a field, and whether it had one."""
    for statement in statements("\n".join(lines)):
        if not statement.heading and _field(statement.keys[0]) == name:
            line = _line(name, value) + _remark(lines[statement.end - 2])
            return [*lines[: statement.first - 1], line, *lines[statement.end - 1 :]], True
    return lines, False


def _remark(line: str) -> str:
    """Return the comment behind the value that ends on a line; a # inside quotes begins none."""
    _, *parts = line.split("#")
    rest = "#".join(parts)
    return f"  # {rest.strip()}" if parts and not any(quote in rest for quote in "\"'") else ""


def from_toml(text: str, what: str) -> Profile:
    """Read a profile; a mistake is refused with the name of the file, the line, the value and what is allowed."""
    table = parsed(text, what)
    try:
        return profile_of(table)
    except WrongField as refusal:
        given = next((key for key in table if _field(key) == refusal.field), refusal.field)
        raise BadRequest(f"{what}, line {line_of(text, given, refusal.item)}: {refusal}") from None


def profile_of(table: Mapping[str, Any]) -> Profile:
    """Return the profile that a TOML table holds, its keys spelled with hyphens or underscores; raises WrongField."""
    values: dict[str, Any] = {}
    for key, value in table.items():
        name = _field(key)
        if name not in FIELDS:
            raise WrongField(str(unknown("entry", key, map(_key, FIELDS))), key)
        if name in values:
            raise WrongField(f"entry {_key(name)} is given twice, with a hyphen and with an underscore; keep one.", name)
        values[name] = _typed(name, value)
    profile = replace(Profile(), **values)
    check_profile(profile)
    return profile


def _field(key: str) -> str:
    name = key.replace("-", "_")
    return name if name in FIELDS else key


def _typed(name: str, value: Any) -> Any:
    """Return a value as its field keeps it; a number is taken for a text such as the grade, nothing else is guessed."""
    default = FIELDS[name].default
    if isinstance(default, tuple):
        if isinstance(value, list) and all(isinstance(item, str) for item in value):
            return tuple(value)
        raise WrongField(f'{_key(name)} {_value_shown(value)} is not a list; write texts in brackets, as in ["a", "b"].', name)
    if isinstance(default, str) and isinstance(value, str | int) and not isinstance(value, bool):
        return str(value)
    if type(value) is type(default):
        return value
    raise WrongField(f"{_key(name)} {_value_shown(value)} is {_WANTED[type(default)]}", name)


_WANTED = {
    str: 'not a text; write it in quotes, as in "C5".',
    int: "not a whole number; write digits without quotes, as in 22.",
    bool: "neither true nor false; write one of them without quotes.",
}


def _value_shown(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, default=str)
