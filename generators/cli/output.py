"""What every command that prints has in common: options of the page and of the files, and how the work is told."""

import inspect
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import typer

from generators.cli.options import comma_list, filled, panelled, parameter, parameters
from generators.cli.streams import write_json
from generators.errors import BadRequest, Refusal
from generators.jobs.formats import FORMATS
from generators.sheets.sheet import Sheet

if TYPE_CHECKING:
    from generators.jobs.kinds import AnyRequest
    from generators.jobs.report import Report


def described(summary: str, example: str) -> str:
    """Return the help of a command: what it is, and an example."""
    return f"{summary}\n\nExample: waterkey {example}"


def sheet_parameters() -> list[inspect.Parameter]:
    """Return the options of the page."""
    return panelled("Paper", parameters(Sheet))


def switch(name: str, words: str) -> inspect.Parameter:
    """Return an option that is only there or not."""
    return parameter(name, bool, typer.Option(False, f"--{name}", help=words, show_default=False))


def output_parameters() -> list[inspect.Parameter]:
    """Return the options of what is written, where, and how it is reported."""
    formats = f"What to write, several with commas: {', '.join(FORMATS)}."
    out = "Where: a stem without ending, x/flow gives x/flow.pdf; by default a telling name in out/."
    written = [
        parameter("format", str, typer.Option("pdf", "--format", help=formats, metavar="LIST")),
        parameter("out", str, typer.Option("", "--out", help=out, metavar="PATH", show_default=False)),
        switch("replace", "Replace a file although it holds other music."),
        switch("open", "Open the first file when it is done."),
        switch("json", "Report as one JSON object."),
    ]
    return panelled("Files", written)


def formats_wanted(text: str) -> list[str]:
    """Return the formats of a comma list; an empty one is refused."""
    formats = comma_list("format", text)
    if not formats:
        raise BadRequest(Refusal("format", None, "is missing", allowed=tuple(FORMATS)))
    return list(formats)


def sheet_of(given: dict[str, Any], **changes: Any) -> Sheet:
    """Return the page side of a command's options."""
    sheet: Sheet = filled(Sheet, given | changes)
    return sheet


def print_request(request: "AnyRequest", sheet: Sheet, given: dict[str, Any], words: str = "Engraving") -> None:
    """Compose and publish a request as the options say, and tell what was made."""
    from generators.jobs.compose import compose
    from generators.jobs.publish import publish

    formats = formats_wanted(given["format"])
    with working(words):
        report = publish(compose(request, sheet), given["out"], formats, replace=given["replace"])
    if given["json"]:
        write_json(report.as_json())
    else:
        tell(report)
    if given["open"]:
        typer.launch(str(report.files[0]))


def tell(report: "Report") -> None:
    """Tell what was published, a line a fact."""
    for file in report.files:
        typer.echo(file)
    typer.echo(", ".join(_facts(report)))
    growth = report.facts.get("growth", "")
    omitted = (f"Left out: {study['study']}: {study['why']}" for study in report.left_out)
    for line in (*([growth] if growth else []), *omitted, *report.remarks, *map(str, report.findings)):
        typer.echo(line)


def _facts(report: "Report") -> Iterator[str]:
    yield f"{report.pages} page{'s' if report.pages > 1 else ''}"
    if report.notes:
        yield f"{report.bars} bars, {report.notes} notes, {report.lowest} to {report.highest}"
    yield from _load(report) if "load" in report.facts else _times(report)
    yield f"music {report.code}"


def _times(report: "Report") -> Sequence[str]:
    if not report.notes:
        return ()
    return (f"{report.seconds_playing / 60:.1f} min of playing, {report.seconds_rest / 60:.1f} min of rest",)


def _load(report: "Report") -> Iterator[str]:
    load = report.facts["load"]
    yield f"{len(report.facts['parts'])} parts, {report.facts['minutes']:.1f} min"
    yield f"{load['minutes_above_stave']:.1f} min above the staff"
    yield f"longest stretch {load['longest_stretch_seconds']:.0f} s, {load['share_of_rest']:.0%} rest"


@contextmanager
def working(words: str) -> Iterator[None]:
    """Show on a terminal that work goes on, and on what; elsewhere say nothing."""
    if not sys.stderr.isatty():
        yield
        return
    from rich.console import Console

    with Console(stderr=True).status(f"{words} ..."):
        yield
