"""The wizard: every field of a profile asked on a terminal, a wrong answer asked again."""

from collections.abc import Collection
from dataclasses import replace
from typing import Any

import typer

from generators.cli.options import filled
from generators.errors import BadRequest
from generators.keep.profile_check import FIELDS, TABLES, check_profile
from generators.routine.profile import Profile

NOTHING = "-"


def asked(profile: Profile, known: Collection[str] = ()) -> Profile:
    """Return the profile with the player's answers, asking for all fields but the known ones."""
    typer.echo(f"Enter keeps what stands in brackets; {NOTHING} empties a field.")
    for name in FIELDS:
        if name not in known:
            profile = _answered(profile, name)
    return profile


def _answered(profile: Profile, name: str) -> Profile:
    """Return the profile with one field answered; a refusal is told, and the question comes again."""
    typer.echo(f"\n{_question(name)}")
    while True:
        try:
            candidate = given_values(profile, {name: _answer(name, getattr(profile, name))})
            check_profile(candidate)
            return candidate
        except BadRequest as refusal:
            typer.echo(str(refusal))


def _question(name: str) -> str:
    allowed = FIELDS[name].metadata["allowed"] or TABLES.get(name, ())
    told = f" One of: {', '.join(allowed)}." if allowed else ""
    return f"{FIELDS[name].metadata['help']}{told}"


def _answer(name: str, value: Any) -> str | bool:
    label = name.replace("_", "-")
    if isinstance(value, bool):
        return bool(typer.confirm(label, default=value))
    text = as_text(value)
    answer = str(typer.prompt(label, default=text, show_default=bool(text))).strip()
    return "" if answer == NOTHING else answer


def as_text(value: Any) -> str:
    """Return a field's value as it is typed on the command line."""
    return ",".join(map(str, value)) if isinstance(value, tuple) else str(value)


def given_values(profile: Profile, given: dict[str, Any]) -> Profile:
    """Return the profile with the values given on the command line, which are texts, or true and false."""
    read = filled(Profile, dict.fromkeys(FIELDS, "") | given)
    return replace(profile, **{name: getattr(read, name) for name in given})
