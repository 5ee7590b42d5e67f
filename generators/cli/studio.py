"""The command of the studio: every player's packet, and the teacher's summary."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from typing import TYPE_CHECKING, Annotated

import typer

from generators.cli.stopping import Stopped
from generators.cli.streams import write_json
from generators.errors import BadRequest, Refusal
from generators.routine.calendar import parse_day
from generators.routine.studio import FAILED, Packet

if TYPE_CHECKING:
    from generators.jobs.studio import StudioReport, StudioRequest

_FILE = typer.Argument(help="The studio's file: shared settings, and one player table for each player.", metavar="FILE.toml")
_WEEK = typer.Option("--week", help="A week's packet for each player; without it the one day.", show_default=False)
_FROM = typer.Option("--from", help="The first day, such as 2026-11-30; without it the file's, or today.", metavar="DATE")
_OUT = typer.Option("--out", help="The folder to print into; by default a telling name in out/.", metavar="FOLDER")
_CONCERT = typer.Option("--concert-keys", help="The same concert keys for everyone, whatever the horn.", show_default=False)
_ANEW = typer.Option("--anew", help="Print every packet again, changed or not.", show_default=False)
_DEMO = typer.Option("--demo", help="Show a demo file, the Saltmarsh Town Band; with FILE write it there.", show_default=False)
_JSON = typer.Option("--json", help="Report as one JSON object.", show_default=False)


def studio(
    file: Annotated[str, _FILE] = "",
    week: Annotated[bool, _WEEK] = False,
    first: Annotated[str, _FROM] = "",
    out: Annotated[str, _OUT] = "",
    concert: Annotated[bool, _CONCERT] = False,
    anew: Annotated[bool, _ANEW] = False,
    demo: Annotated[bool, _DEMO] = False,
    as_json: Annotated[bool, _JSON] = False,
) -> None:
    """Print a week or a day for every player of a file, and a summary for the teacher; a rerun prints only what changed.

    Example: waterkey studio --demo
    """
    if demo:
        _show_demo(file)
        return
    if not file:
        cure = "`waterkey studio band.toml --demo` writes one to begin with"
        raise BadRequest(Refusal("no studio file given", do=cure))
    request = _request(file, first, week=week, concert=concert)
    report = _printed(request, out, anew=anew, quiet=as_json)
    _finish(report, as_json=as_json)


def _show_demo(file: str) -> None:
    """Print the demo file, or write it where no file is yet."""
    from generators.keep.studio_file import demo_text, write_demo

    if file:
        typer.echo(write_demo(file))
    else:
        sys.stdout.write(demo_text())


def _request(file: str, first: str, *, week: bool, concert: bool) -> "StudioRequest":
    from generators.jobs.studio import StudioRequest
    from generators.keep.studio_file import load_studio

    loaded = load_studio(file)
    start = first or loaded.shared.first
    asked = loaded.with_concert() if concert else loaded
    return StudioRequest(studio=asked, on=parse_day(start, "first") if start else date.today(), week=week)


def _printed(request: "StudioRequest", out: str, *, anew: bool, quiet: bool) -> "StudioReport":
    """Print the studio under a progress bar, or with a line a player where there is no terminal to draw one on."""
    from generators.jobs.studio import print_studio

    players = len(request.studio.chairs)
    done: list[Packet] = []
    try:
        with _telling(players, done, quiet=quiet) as tell:
            return print_studio(request, out, anew=anew, tell=tell)
    except Stopped as stop:
        sys.stderr.write(
            f"waterkey: stopped; {len(done)} of {players} players are done and stay, a rerun goes on from there.\n"
        )
        raise typer.Exit(stop.exit_code) from None


@contextmanager
def _telling(players: int, done: list[Packet], *, quiet: bool) -> Iterator[Callable[[Packet], None]]:
    """Yield what tells of a packet that is done: a bar on standard error if that is a terminal, a line on standard output."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn())
    console = Console(stderr=True)
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as bar:
        task = bar.add_task("printing", total=players)

        def tell(packet: Packet) -> None:
            done.append(packet)
            bar.update(task, advance=1, description=packet.name)
            if not quiet:
                typer.echo(_line(packet))

        yield tell


def _line(packet: Packet) -> str:
    if packet.state == FAILED:
        return f"{packet.name}: failed"
    return f"{packet.name}: {packet.file}, {packet.pages} pages, {packet.lowest} to {packet.highest}, {packet.state}"


def _finish(report: "StudioReport", *, as_json: bool) -> None:
    """Tell what was printed, and at the end what failed; a failure ends with code 1."""
    if as_json:
        write_json(report.as_json())
    else:
        typer.echo(f"{report.folder}: {len(report.packets)} players, summary {report.summary}")
    for packet in report.failures:
        sys.stderr.write(f"waterkey: {packet.name}: {' '.join(packet.reason.split())}\n")
    if report.failures:
        raise typer.Exit(1)
