"""The commands that print: one for each study, and the packet; built from the table of studies."""

import inspect
import sys
from collections.abc import Callable
from datetime import date
from typing import Any

import typer

from generators.cli.options import comma_list, filled, parameter, parameters, with_signature
from generators.cli.profiled import profile_parameters, profiled
from generators.errors import BadRequest, Refusal
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS, Kind
from generators.studies.kit.request import Request

EXAMPLES = {
    "flow": "waterkey flow --keys Eb,D,Db,C --shape arch --compass octave",
    "slurs": "waterkey slurs --path there-and-back --values 4,8 --high G5",
    "low": "waterkey low --pedals --depth C3",
    "scales": "waterkey scales --keys A,Am,F#m --pattern thirds --articulation slurred-pairs",
    "arpeggios": "waterkey arpeggios --kind dominant-seventh --keys F,Bb,Eb,Ab --octaves 1",
    "entrances": "waterkey entrances --count 16 --rests 6-20 --seed 7 --dynamics pp,ff",
    "etude": "waterkey etude --keys Eb,Cm --bars 32 --articulation slur-two-tongue-two --seed 5",
    "air": "waterkey air --note G4 --widest fifth --seconds 90",
    "buzz": "waterkey buzz --seconds 40 --shapes siren,steps",
    "bends": "waterkey bends --notes G4,F4,E4",
    "fingers": 'waterkey fingers --changes "1-2>3,2>2-3" --keys D',
    "intervals": "waterkey intervals --keys Bb,Gm --direction both --widest fifth",
    "dynamics": "waterkey dynamics --shapes swell,fade,sudden --beats 4 --registers low,high",
    "tonguing": "waterkey tonguing --kind triple-tkt --patterns one-note,arpeggio --tempo 72 --goal 100",
    "day": "waterkey day --minutes 22 --kind normal",
    "week": "waterkey week --from 2026-11-30",
    "studio": "waterkey studio --demo",
    "packet": "waterkey packet --studies flow,scales,entrances --keys Eb,D,Db,C",
}


def study_command(kind: Kind) -> Callable[..., None]:
    """Return the command of one kind of study."""

    def command(**given: Any) -> None:
        known = profiled(given)
        _print([filled(kind.request, known)], known, packet=False)

    own = [*profile_parameters(), *parameters(kind.request)]
    return with_signature(command, kind.name, described(kind.summary, kind.name), own, sheet_parameters(), output_parameters())


def packet_command() -> Callable[..., None]:
    """Return the command that binds several studies under one cover."""

    def packet(**given: Any) -> None:
        from generators.jobs.printing import packet_requests

        known = profiled(given)
        common = filled(Request, known)
        names = comma_list("studies", given["studies"])
        _print(packet_requests(names, **{name: getattr(common, name) for name in Request.__slots__}), known, packet=True)

    studies = parameter("studies", str, typer.Option("", help=f"Which studies, in order: {','.join(KINDS)}.", metavar="LIST"))
    text = described("Several studies under one cover, with contents, bookmarks and cautions.", "packet")
    own = [*profile_parameters(), studies, *parameters(Request)]
    return with_signature(packet, "packet", text, own, sheet_parameters(), output_parameters())


def described(summary: str, name: str) -> str:
    """Return the help of a command: what it is, and an example."""
    return f"{summary}\n\nExample: {EXAMPLES[name]}"


def sheet_parameters() -> list[inspect.Parameter]:
    """Return the options of the page."""
    return list(parameters(Sheet))


def output_parameters() -> list[inspect.Parameter]:
    """Return the options of what is written, where, and how it is reported."""
    formats = "What to write, several with commas: pdf, ly, musicxml, midi, svg, png."
    out = "Where: a stem without ending, x/flow gives x/flow.pdf; by default a telling name in out/."
    return [
        parameter("format", str, typer.Option("pdf", "--format", help=formats, metavar="LIST")),
        parameter("out", str, typer.Option("", "--out", help=out, metavar="PATH", show_default=False)),
        parameter("open", bool, typer.Option(False, "--open", help="Open the first file when it is done.", show_default=False)),
        parameter("json", bool, typer.Option(False, "--json", help="Report as one JSON object.", show_default=False)),
    ]


def _print(requests: list[Request], given: dict[str, Any], *, packet: bool) -> None:
    from generators.jobs.printing import print_pages

    sheet = filled(Sheet, given | {"date": given["date"] or date.today().isoformat()})
    report = print_pages(requests, given["out"], wanted(given["format"]), sheet, packet=packet)
    if given["json"]:
        sys.stdout.write(report.as_json() + "\n")
    else:
        _tell(report)
    if given["open"]:
        typer.launch(str(report.files[0]))


def wanted(text: str) -> list[str]:
    """Return the formats of a comma list; an empty one is refused."""
    formats = comma_list("format", text)
    if not formats:
        raise BadRequest(Refusal("no format given", allowed="pdf, ly, musicxml, midi, svg, png"))
    return list(formats)


def _tell(report: Any) -> None:
    for file in report.files:
        typer.echo(file)
    minutes = f"{report.seconds_playing / 60:.1f} min of playing, {report.seconds_rest / 60:.1f} min of rest"
    pages = f"{report.pages} page{'s' if report.pages > 1 else ''}"
    typer.echo(
        f"{pages}, {report.bars} bars, {report.notes} notes, {report.lowest} to {report.highest}, "
        f"{minutes}, request {report.code}"
    )
    for line in (*report.remarks, *map(str, report.findings)):
        typer.echo(line)
