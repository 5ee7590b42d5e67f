"""The commands of the studies, one for each row of the catalogue, and of the packet."""

import inspect
from collections.abc import Callable
from datetime import date
from typing import Any

import typer

from generators.cli.options import comma_list, filled, panelled, parameter, parameters, typed, with_signature
from generators.cli.output import described, output_parameters, print_request, sheet_of, sheet_parameters
from generators.cli.profiled import OF_PLAYER, profile_parameters, profiled
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS
from generators.studies.kit.kind import Kind
from generators.studies.kit.request import Request


def study_command(kind: Kind) -> Callable[..., None]:
    """Return the command of one kind of study."""

    def command(**given: Any) -> None:
        known = profiled(given)
        print_request(filled(kind.request, known), _dated(known), known)

    own = [*profile_parameters(), *_parameters(kind.request)]
    text = described(f"{kind.summary} {kind.aim}", f"{kind.name} {typed(kind.example)}")
    return with_signature(command, kind.name, text, own, sheet_parameters(), output_parameters())


def packet_command() -> Callable[..., None]:
    """Return the command that binds several studies under one cover."""

    def packet(**given: Any) -> None:
        from generators.sheets.packet import packet_of

        known = profiled(given)
        common = filled(Request, known)
        names = comma_list("studies", given["studies"])
        request = packet_of(names, **{name: getattr(common, name) for name in Request.__slots__})
        print_request(request, _dated(known), known)

    studies = parameter("studies", str, typer.Option("", help=f"Which studies, in order: {', '.join(KINDS)}.", metavar="LIST"))
    summary = "Several studies under one cover, with contents, bookmarks and cautions."
    text = described(summary, "packet --studies flow,scales,entrances --keys Eb,D,Db,C")
    own = [*profile_parameters(), *panelled("Music", [studies]), *_parameters(Request)]
    return with_signature(packet, "packet", text, own, sheet_parameters(), output_parameters())


def _parameters(record: type[Request]) -> list[inspect.Parameter]:
    """Return the options of a request, those that a player's profile may fill in apart from those of the music."""
    every = list(parameters(record))
    own = [item for item in every if item.name in OF_PLAYER]
    return [*panelled("Music", [item for item in every if item not in own]), *panelled("Player", own)]


def _dated(given: dict[str, Any]) -> Sheet:
    """Return the page side, with today's date where none was given."""
    return sheet_of(given, date=given["date"] or date.today().isoformat())
