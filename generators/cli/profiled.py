"""What a player's profile fills in: options that were not given take its values, and those given win."""

import inspect
from typing import Any

import typer

from generators.cli.options import parameter
from generators.cli.player import ProfileOption
from generators.routine.profile import Profile

# Profile fields that belong to a horn and a grade: another horn or grade on the command line leaves them out.
OF_PLAYER = ("horn", "grade", "low", "high", "breath", "tongue")
# The option and the field of what holds for every horn.
_FREE = {"paper": "paper", "player": "name"}


def profile_parameters() -> list[inspect.Parameter]:
    """Return the parameters by which a command takes a profile: its context and --profile."""
    context = inspect.Parameter("context", inspect.Parameter.KEYWORD_ONLY, annotation=typer.Context)
    return [context, parameter("profile", ProfileOption, "")]


def profiled(given: dict[str, Any]) -> dict[str, Any]:
    """Return the values of a command with those of the profile where the player gave none."""
    from generators.keep.profile_file import load_profile

    profile = load_profile(given["profile"])
    asked = given_here(given)
    return given | {
        name: value for name, value in _values(profile, asked).items() if name in given and name not in asked and value
    }


def given_here(given: dict[str, Any]) -> set[str]:
    """Return the names of the options that were given on the command line itself."""
    return {name for name in given if name != "context" and _source(given["context"], name) != "DEFAULT"}


def _source(context: typer.Context, name: str) -> str:
    source = context.get_parameter_source(name)
    return source.name if source else "DEFAULT"


def _values(profile: Profile, asked: set[str]) -> dict[str, Any]:
    fields = dict(_FREE)
    if not asked & {"horn", "grade"}:
        fields |= {name: name for name in OF_PLAYER}
    return {option: getattr(profile, field) for option, field in fields.items()}
