"""A profile as TOML text and back: every field with its help as a comment, every mistake with its line."""

import json
import re
from collections.abc import Mapping
from dataclasses import replace
from textwrap import wrap
from typing import Any

import tomlkit
from tomlkit.items import Array, Item

from generators.errors import BadRequest, Refusal, plain, unknown
from generators.keep.day_tables import TABLED, TABLES_HELP, change_tables, day_tables, ended, from_tables, with_lines
from generators.keep.mistyped import WANTED, mistyped
from generators.keep.statements import line_of, place_of, toml_values
from generators.routine.profile import Profile, WrongField
from generators.routine.profile_check import FIELDS, TABLES, check_profile

COMMENT_WIDTH = 110
PROFILE_HEAD = """\
# A player's profile for Waterkey. Change a value here or with `waterkey player set`; what is left out keeps its default.
# Pitches and keys are as written for the horn; "" is the horn's or the grade's own.
"""
# The texts of a TOML value, so that what is left of it is comments.
_TEXT_OR_COMMENT = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}' r"|'''.*?'{3,5}" r'|"(?:\\.|[^"\\\n])*"' r"|'[^'\n]*'" r"|#(?P<comment>[^\r\n]*)", re.DOTALL
)


def as_toml(profile: Profile) -> str:
    """Return the text of a profile, every field with its help and what it may hold."""
    return PROFILE_HEAD + "".join(f"\n{_block(name, getattr(profile, name))}" for name in FIELDS)


def _commented(told: str) -> str:
    return "".join(f"# {line}\n" for line in wrap(told, COMMENT_WIDTH, break_on_hyphens=False))


def _block(name: str, value: Any) -> str:
    """Return a field with its help above it."""
    meta = FIELDS[name].metadata
    allowed = ", ".join(meta["allowed"] or TABLES.get(name, ()))
    told = f"{meta['help']} Allowed: {allowed}." if allowed else meta["help"]
    if name == TABLED:
        return _commented(f"{told} {TABLES_HELP}") + day_tables(value)
    return f"{_commented(told)}{plain(name)} = {_value(value)}\n"


def _value(value: Any) -> str:
    """Return a TOML value; JSON's strings, numbers, booleans and lists are TOML's, but for one control character."""
    return json.dumps(list(value) if isinstance(value, tuple) else value, ensure_ascii=False).replace("\x7f", "\\u007f")


def edited(text: str, profile: Profile, what: str) -> str:
    """Return the text of a file with the values of a profile; all else, to the comments and line ends, stays as it is."""
    old = from_toml(text, what)
    wanted = {name: getattr(profile, name) for name in FIELDS if getattr(old, name) != getattr(profile, name)}
    document = tomlkit.parse(text)
    keys = {_field(key): key for key in document}
    for name in wanted.keys() & keys.keys():
        if name == TABLED and not isinstance(document[keys[name]], Array):
            change_tables(document, wanted[name])
        else:
            document[keys[name]] = _item(wanted[name], document[keys[name]])
    missing = {name: f"\n{_block(name, value)}" for name, value in wanted.items() if name not in keys}
    tables = missing.pop(TABLED, "")
    written = with_lines(tomlkit.dumps(document), "".join(missing.values()))
    return _with_ends(ended(written) + tables if tables else written, text)


def _item(value: Any, old: object) -> Item:
    """Return a value for tomlkit; comments inside the list whose place it takes go into the new one."""
    kept = _comments(old.as_string()) if isinstance(old, Array) else []
    if not kept:
        return tomlkit.value(_value(value))
    array = tomlkit.array()
    for comment in kept:
        array.add_line(comment=comment.strip(), add_comma=False)
    for item in value:
        array.add_line(_item(item, None))
    array.add_line(indent="")
    return array


def _comments(value: str) -> list[str]:
    """Return the comments inside a TOML value."""
    return [found["comment"] for found in _TEXT_OR_COMMENT.finditer(value) if found["comment"] is not None]


def _with_ends(text: str, like: str) -> str:
    """Return a text with the line ends of another, where that has but one kind."""
    windows = "\r\n" in like and "\n" not in like.replace("\r\n", "")
    return text.replace("\r\n", "\n").replace("\n", "\r\n") if windows else text


def from_toml(text: str, what: str) -> Profile:
    """Read a profile; a mistake is refused with the name of the file, the line, the value and what is allowed."""
    table = toml_values(text, what)
    try:
        return profile_of(table)
    except WrongField as wrong:
        given = next((key for key in table if _field(key) == wrong.field), wrong.field)
        raise BadRequest(wrong.refusal.within(place_of(what, line_of(text, given, wrong.item)))) from None


def profile_of(table: Mapping[str, Any]) -> Profile:
    """Return the profile that a TOML table holds, its keys spelled with hyphens or underscores; raises WrongField."""
    values: dict[str, Any] = {}
    for key, value in table.items():
        name = _field(key)
        if name not in FIELDS:
            raise WrongField(unknown("entry", key, map(plain, FIELDS)).refusal, key)
        if name in values:
            why = "is given twice, with a hyphen and with an underscore"
            raise WrongField(Refusal(f"entry {plain(name)}", why=why, do="keep one"), name)
        values[name] = _typed(name, value)
    profile = replace(Profile(), **values)
    check_profile(profile)
    return profile


def _field(key: str) -> str:
    name = key.replace("-", "_")
    return name if name in FIELDS else key


def _typed(name: str, value: Any) -> Any:
    """Return a value as its field keeps it; a number is taken for a text such as the grade, nothing else is guessed."""
    if name == TABLED and isinstance(value, Mapping):
        return from_tables(value)
    default = FIELDS[name].default
    if isinstance(default, tuple):
        if isinstance(value, list) and all(isinstance(item, str) for item in value):
            return tuple(value)
        why, cure = "is not a list", 'write texts in brackets, as in ["a", "b"]'
        raise WrongField(mistyped(name, value, why, cure), name)
    if isinstance(default, str) and isinstance(value, str | int) and not isinstance(value, bool):
        return str(value)
    if type(value) is type(default):
        return value
    raise WrongField(mistyped(name, value, *WANTED[type(default)]), name)
