"""The command of a class: one concert key, the same bars for every horn, a part each and the score."""

import inspect
import sys
from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING, Any

import typer

from generators.band.request import ClassRequest
from generators.cli.options import hint_of, option_of, panelled, parameter, slot_of, with_signature
from generators.cli.output import described, formats_wanted, output_parameters, sheet_of, sheet_parameters, working
from generators.cli.streams import write_json
from generators.errors import BadRequest, Refusal, worded
from generators.routine.studio import Studio

if TYPE_CHECKING:
    from generators.jobs.classes import ClassReport

_WISHED = ("concert_key", "studies", "minutes", "seed")
_NOT_HERE = ("player",)
_OUT = "The folder to print into; by default a telling name in out/."


def class_command() -> Callable[..., None]:
    """Return the command that prints a class."""

    def class_(**given: Any) -> None:
        if not given["file"]:
            cure = "`waterkey studio band.toml --demo` writes one to begin with"
            raise BadRequest(Refusal("no studio file given", do=cure))
        _print(given)

    words = "The studio's file, with one player table for each player."
    file = parameter("file", str, typer.Argument("", help=words, metavar="FILE.toml", show_default=False))
    wished = [_wish(name) for name in _WISHED]
    sheet = [item for item in sheet_parameters() if item.name not in _NOT_HERE]
    summary = (
        "The players of a file together: the same bars in one concert key, a part for every horn, a score for the teacher."
    )
    text = described(summary, "class band.toml --concert-key Bb --minutes 10 --out class")
    return with_signature(class_, "class", text, [file, *panelled("Class", wished)], sheet, _output())


def _wish(name: str) -> inspect.Parameter:
    slot = slot_of(ClassRequest, name)
    return parameter(name, hint_of(slot), option_of(slot))


def _output() -> list[inspect.Parameter]:
    """Return the options of the files, of which there are several in a folder."""
    out = parameter("out", str, typer.Option("", "--out", help=_OUT, metavar="FOLDER", show_default=False))
    return [*output_parameters(), *panelled("Files", [out])]


def _print(given: dict[str, Any]) -> None:
    from generators.jobs.classes import class_of, print_class, seated
    from generators.keep.studio_file import load_studio

    studio = seated(load_studio(given["file"]))
    request = class_of(studio, **{name: given[name] for name in _WISHED})
    sheet = sheet_of(given, player="", date=given["date"] or date.today().isoformat())
    with working("Engraving"):
        report = print_class(
            request, given["out"], formats_wanted(given["format"]), sheet=sheet, replace_files=given["replace"]
        )
    _finish(report, studio, given)


def _finish(report: "ClassReport", studio: Studio, given: dict[str, Any]) -> None:
    """Tell what was printed, and at the end whose entries in the file are wrong; these end with code 1."""
    failed = [(chair.name, worded(chair.refusal)) for chair in studio.chairs if chair.refusal]
    if given["json"]:
        write_json(report.as_json([{"name": name, "why": why} for name, why in failed]))
    else:
        _tell(report)
    if given["open"]:
        typer.launch(report.score.files[0])
    for name, why in failed:
        sys.stderr.write(f"waterkey: {name}: {' '.join(why.split())}\n")
    if failed:
        raise typer.Exit(1)


def _tell(report: "ClassReport") -> None:
    """Tell what was printed, a line a fact."""
    facts = report.facts
    typer.echo(f"{report.folder}: concert {facts['concert_key']}, {facts['minutes']:.1f} min, {len(report.papers)} parts")
    typer.echo(f"{report.score.files[0]}, {report.score.pages} pages, music {report.score.code}")
    for paper, part in zip(report.papers, facts["parts"], strict=True):
        typer.echo(f"{paper.files[0]}, {paper.pages} pages, {part['lowest']} to {part['highest']}, reads {part['reads']}")
    for line in facts["told"]:
        typer.echo(line)
