"""The wizard: every field of a profile asked on a terminal, a wrong answer asked again."""

from collections.abc import Collection
from dataclasses import replace
from typing import Any

import typer

from generators.cli.options import choices, read, slot_of
from generators.errors import BadRequest, plain
from generators.routine.profile import Profile
from generators.routine.profile_check import FIELDS, check_profile
from generators.routine.returning import with_proposal

EMPTYING = "-"
# What is proposed, the first of it asked first; no pause has more weeks.
_RANGE, _MOST = ("low", "high", "grade"), 5000


def asked(profile: Profile, known: Collection[str] = ()) -> Profile:
    """Return the profile with the player's answers, asking for all fields but the known ones."""
    typer.echo(f"Enter keeps what stands in brackets; {EMPTYING} empties a field.")
    for name in FIELDS:
        if name == _RANGE[0] and not set(_RANGE) & set(known):
            profile = _proposed(profile)
        if name not in known:
            profile = _answered(profile, name)
    return profile


def _proposed(profile: Profile) -> Profile:
    """Return the profile with a grade and a range by how long one has played, and when last; as it is where that is skipped."""
    typer.echo("\nA grade and a range are proposed by how long you have played; Enter skips that.")
    years = _number("years of playing")
    if years is None:
        return profile
    return with_proposal(profile, years, round(_number("weeks since you last played, 0 for this week") or 0))


def _number(label: str) -> float | None:
    """Return the number that is answered, None for an empty answer; another one is asked for again."""
    while answer := str(typer.prompt(label, default="", show_default=False)).strip().replace(",", "."):
        try:
            value = float(answer)
        except ValueError:
            value = -1.0
        if 0 <= value <= _MOST:
            return value
        typer.echo(f"{label} is a number from 0 to {_MOST}.")
    return None


def _answered(profile: Profile, name: str) -> Profile:
    """Return the profile with one field answered; a refusal is told, and the question comes again."""
    typer.echo(f"\n{_question(name)}")
    while True:
        try:
            candidate = replace(profile, **{name: _answer(name, getattr(profile, name))})
            check_profile(candidate)
            return candidate
        except BadRequest as refusal:
            typer.echo(str(refusal))


def _question(name: str) -> str:
    slot = slot_of(Profile, name)
    told = f" One of: {', '.join(choices(slot))}." if choices(slot) else ""
    return f"{slot.help}{told}"


def _answer(name: str, value: Any) -> Any:
    """Return the value that the player answers; a wrong one is refused."""
    label = plain(name)
    if isinstance(value, bool):
        return bool(typer.confirm(label, default=value))
    text = as_text(value)
    answer = str(typer.prompt(label, default=text, show_default=bool(text))).strip()
    return read(slot_of(Profile, name), "" if answer == EMPTYING else answer)


def as_text(value: Any) -> str:
    """Return a field's value as it is typed on the command line."""
    return ",".join(map(str, value)) if isinstance(value, tuple) else str(value)
