"""The commands of a player's profile: show, make, set, path; their options come from the fields of the profile."""

import inspect
import json
import sys
from collections.abc import Iterator
from dataclasses import asdict, replace
from pathlib import Path
from typing import Annotated, Any

import typer

from generators.cli.options import hint_of, option_of, parameter, unset, with_signature
from generators.cli.streams import write_json
from generators.cli.told import Commands
from generators.errors import BadRequest, Refusal
from generators.fields import slots
from generators.routine.profile import Profile

_FILE = "The profile's file; without it the one in your configuration folder."
ProfileOption = Annotated[str, typer.Option("--profile", help=_FILE, metavar="FILE", show_default=False)]
JsonOption = Annotated[bool, typer.Option("--json", help="Answer as JSON.", show_default=False)]


def log_of(profile: str) -> Path:
    """Return the place of the log of a profile, the one named or the user's own."""
    from generators.keep.folders import log_place
    from generators.keep.profile_file import profile_path

    return log_place(profile_path(profile))


player = typer.Typer(
    name="player", cls=Commands, help="Your profile: horn, range, minutes, habits. Everything also works without one."
)


@player.callback(invoke_without_command=True)
def _shown_by_default(context: typer.Context) -> None:
    if not context.invoked_subcommand:
        show()


@player.command("show")
def show(profile: ProfileOption = "", as_json: JsonOption = False) -> None:
    """Show the profile in use, field by field.

    Example: waterkey player show --json
    """
    from generators.keep.files import is_there
    from generators.keep.profile_file import load_profile, profile_path

    kept, place = load_profile(profile), profile_path(profile)
    if as_json:
        told = {"file": str(place), "kept": is_there(place), "log": str(log_of(profile)), "profile": asdict(kept)}
        write_json(json.dumps(told, ensure_ascii=False))
        return
    _table(kept, str(place) if is_there(place) else f"the default; {place} is not there yet")


def _table(kept: Profile, title: str) -> None:
    from rich.console import Console
    from rich.markup import escape
    from rich.table import Table

    from generators.cli.asking import as_text
    from generators.routine.profile_check import FIELDS

    table = Table(title=escape(f"Profile: {title}"), title_justify="left")
    for heading in ("field", "value", "meaning"):
        table.add_column(heading, overflow="fold")
    for name, entry in FIELDS.items():
        value = getattr(kept, name)
        shown = ("yes" if value else "no") if isinstance(value, bool) else as_text(value)
        table.add_row(name.replace("_", "-"), escape(shown), escape(entry.metadata["help"]))
    Console().print(table)


@player.command("path")
def path(profile: ProfileOption = "") -> None:
    """Tell the file in which the profile is kept, there or not.

    Example: waterkey player path
    """
    from generators.keep.profile_file import profile_path

    typer.echo(profile_path(profile))


def _make(**given: Any) -> None:
    from generators.cli.asking import asked
    from generators.keep.files import refuse_other
    from generators.keep.profile_file import profile_path, save_profile
    from generators.routine.profile_check import check_profile

    place = profile_path(given["profile"])
    if not given["replace"]:
        cure = "change it with `waterkey player set`, or make it anew with --replace"
        refuse_other(place, Refusal("profile", do=cure, where=str(place)))
    values = _values(given)
    made = replace(Profile(), **values)
    if sys.stdin.isatty() and sys.stdout.isatty():
        check_profile(made)
        made = asked(made, values)
    typer.echo(save_profile(made, place, anew=True))


def _set(**given: Any) -> None:
    from generators.keep.files import is_there
    from generators.keep.profile_file import load_profile, profile_path, save_profile

    values = _values(given)
    if not values:
        cure = "name at least one field, as in `waterkey player set --horn cornet --minutes 25`"
        raise BadRequest(Refusal("nothing to set", do=cure))
    place = profile_path(given["profile"])
    kept = load_profile(place) if is_there(place) else Profile()
    typer.echo(save_profile(replace(kept, **values), place))


def _values(given: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in given.items() if name in Profile.__slots__ and value is not None}


def _fields() -> Iterator[inspect.Parameter]:
    """Yield the options of all fields, each without a default, so that what was not given stays as it is."""
    for slot in map(unset, slots(Profile)):
        yield parameter(slot.name, hint_of(slot), option_of(slot))


def _file() -> inspect.Parameter:
    return parameter("profile", str, typer.Option("", "--profile", help=_FILE, metavar="FILE", show_default=False))


_replace = typer.Option(False, "--replace", help="Make it anew although there is one.", show_default=False)
_MAKE = (
    "A new profile: asked field by field on a terminal, else from the options.\n\nExample: waterkey player make --horn cornet"
)
_SET = (
    "Change fields of the profile; all others, and your comments, stay.\n\nExample: waterkey player set --minutes 25 --high G5"
)
player.command("make")(with_signature(_make, "make", _MAKE, [*_fields(), _file(), parameter("replace", bool, _replace)]))
player.command("set")(with_signature(_set, "set", _SET, [*_fields(), _file()]))
