"""The application: its commands, and how its errors are told in a line."""

import gc
import logging
import sys
from contextlib import suppress
from functools import cache
from shutil import get_terminal_size
from typing import Annotated, Any

import typer
from typer.main import get_command

from generators.cli.again import again_command
from generators.cli.classes import class_command
from generators.cli.days import day_command, week_command
from generators.cli.log import log
from generators.cli.player import player
from generators.cli.progress import progress
from generators.cli.stopping import Stopped, unwinding
from generators.cli.streams import drop_output, prepare_output
from generators.cli.studies import packet_command, study_command
from generators.cli.studio import studio
from generators.cli.tables import fingering, grades, horns
from generators.cli.told import Commands, Misuse, command_of, explained, refused
from generators.errors import WaterkeyError
from generators.studies.catalogue import KINDS

app = typer.Typer(
    name="waterkey",
    cls=Commands,
    help="Practice pages for trumpet and its family: any key, any range, any articulation, proved playable and engraved.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
)
_DAILY, _STUDIES, _PLAYERS, _FACTS = "A day's work", "Studies", "Players and studios", "Facts"
app.command("day", rich_help_panel=_DAILY)(day_command())
app.command("week", rich_help_panel=_DAILY)(week_command())
app.command("log", rich_help_panel=_DAILY)(log)
app.command("progress", rich_help_panel=_DAILY)(progress)
for _kind in KINDS.values():
    app.command(_kind.name, rich_help_panel=_STUDIES)(study_command(_kind))
app.command("packet", rich_help_panel=_STUDIES)(packet_command())
app.command("again", rich_help_panel=_STUDIES)(again_command())
app.add_typer(player, rich_help_panel=_PLAYERS)
app.command("studio", rich_help_panel=_PLAYERS)(studio)
app.command("class", rich_help_panel=_PLAYERS)(class_command())
app.command("fingering", rich_help_panel=_FACTS)(fingering)
app.command("horns", rich_help_panel=_FACTS)(horns)
app.command("grades", rich_help_panel=_FACTS)(grades)


def _told_version(asked: bool) -> None:
    if asked:
        from importlib.metadata import version

        typer.echo(version("waterkey"))
        raise typer.Exit


@app.callback()
def _settings(
    version: Annotated[
        bool,
        typer.Option("--version", help="Tell the version and stop.", is_eager=True, callback=_told_version, show_default=False),
    ] = False,
) -> None: ...


STOPPED = "stopped."
# Columns from which help in boxes cuts nothing.
ROOM_FOR_BOXES = 80


def main() -> None:
    """Run the command line; a refusal is one line on standard error, 2 for a bad request, 1 for a failed run."""
    # Values are made by the hundred thousand and few are in circles: looking for those less often saves a tenth of the time.
    gc.set_threshold(200_000, 20, 20)
    # What is wrong with a PDF is told once, by us.
    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    prepare_output()
    try:
        code = _run()
        sys.stdout.flush()
    except OSError as error:
        if error.filename is not None:
            raise
        code = _unheard(error)
    sys.exit(code if isinstance(code, int) else 0)


@cache
def _command() -> Any:
    return get_command(app)


def _fitted(command: Any) -> None:
    """Have the help of a command in plain lines where a terminal is too narrow for boxes, which would cut names and lists."""
    below = getattr(command, "commands", {}).values()
    for each in below:
        _fitted(each)
    if not below:
        command.rich_markup_mode = "rich" if get_terminal_size().columns >= ROOM_FOR_BOXES else None


def _run() -> Any:
    command = _command()
    _fitted(command)
    try:
        with unwinding():
            return command(prog_name="waterkey", standalone_mode=False)
    except WaterkeyError as error:
        return _stopped(refused(error, command_of(command, sys.argv[1:])), error.exit_code)
    except Misuse as misuse:
        return _stopped(explained(misuse, command_of(command, sys.argv[1:])), 2)
    except (KeyboardInterrupt, typer.Abort):
        return _stopped(STOPPED, 130)
    except Stopped as stop:
        return _stopped(STOPPED, stop.exit_code)


def _unheard(error: OSError) -> int:
    """Return the code of a run whose output nobody takes; that a pipe is closed is no news to who closed it."""
    drop_output()
    reason = (error.strerror or str(error)).lower()
    return _stopped("" if isinstance(error, BrokenPipeError) else f"the output cannot be written: {reason}.", 1)


def _stopped(message: str, code: int) -> int:
    """Return the code of a run that ends early, its message told; where nobody can be told, the code tells it alone."""
    if message:
        with suppress(OSError):
            sys.stderr.write(f"waterkey: {' '.join(message.split())}\n")
    return code
