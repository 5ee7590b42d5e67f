"""The application: its commands, and how its errors are told in a line."""

import gc
import os
import sys
from difflib import get_close_matches
from typing import Annotated

import typer

from generators.cli.log import log
from generators.cli.player import player
from generators.cli.printed import described, packet_command, study_command
from generators.cli.progress import progress
from generators.cli.routine import day_command, week_command
from generators.cli.stopping import Stopped, unwinding
from generators.cli.studio import STUDIO, studio
from generators.cli.tables import fingering, horns
from generators.errors import WaterkeyError
from generators.studies.catalogue import KINDS

app = typer.Typer(
    name="waterkey",
    help="Practice pages for trumpet and its family: any key, any range, any articulation, proved playable and engraved.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)
for _kind in KINDS.values():
    app.command(_kind.name)(study_command(_kind))
app.command("day")(day_command())
app.command("week")(week_command())
app.command("studio", help=described(STUDIO, "studio"))(studio)
app.command("packet")(packet_command())
app.command("fingering")(fingering)
app.command("horns")(horns)
app.add_typer(player)
app.command("log")(log)
app.command("progress")(progress)


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


STOPPED = "stopped; nothing was changed."
# Typer carries click under another name from release to release; its errors are found through the one it exports.
_Misuse: type[Exception] = next(kind for kind in typer.BadParameter.__mro__ if kind.__name__ == "ClickException")


def main() -> None:
    """Run the command line; a refusal is one line on standard error, 2 for a bad request, 1 for a failed run."""
    # Values are made by the hundred thousand and few are in circles: looking for those less often saves a tenth of the time.
    gc.set_threshold(200_000, 20, 20)
    try:
        with unwinding():
            code = app(prog_name="waterkey", standalone_mode=False)
    except WaterkeyError as refusal:
        code = _refused(str(refusal), refusal.exit_code)
    except _Misuse as misuse:
        code = _refused(_explained(misuse), 2)
    except (KeyboardInterrupt, typer.Abort):
        code = _refused(STOPPED, 130)
    except Stopped as stop:
        code = _refused(STOPPED, stop.exit_code)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        code = 1
    sys.exit(code if isinstance(code, int) else 0)


def _explained(misuse: Exception) -> str:
    """Return typer's message with the nearest command or option, and where to read on."""
    message = str(getattr(misuse, "format_message", misuse.__str__)())
    if not message:
        return ""
    context = getattr(misuse, "ctx", None)
    known = [option for item in context.command.params for option in item.opts] if context else []
    known += list(getattr(context.command, "commands", {})) if context else []
    wrong = next(
        (word.strip("'.:") for word in message.split() if word.strip("'.:") not in known and word.strip(".:")[:1] in "-'"), ""
    )
    near = get_close_matches(wrong, known, n=1) if "Did you mean" not in message else []
    hint = f" Did you mean {near[0]}?" if near else ""
    return f"{message}{hint} See `{context.command_path if context else 'waterkey'} --help`."


def _refused(message: str, code: int) -> int:
    if message:
        sys.stderr.write(f"waterkey: {' '.join(message.split())}\n")
    return code
