"""The command that makes a sheet again from the PDF that carries it."""

from collections.abc import Callable
from typing import Any

import typer

from generators.cli.options import filled, parameter, parameters, with_signature
from generators.cli.output import described, output_parameters, print_request
from generators.jobs.changes import Changes, changed


def again_command() -> Callable[..., None]:
    """Return the command that prints a sheet again, unchanged or for another horn, key, range, player or paper."""

    def again(**given: Any) -> None:
        from generators.jobs.again import read_sheet

        request, sheet = changed(*read_sheet(given["sheet"]), filled(Changes, given))
        print_request(request, sheet, given)

    sheet = parameter("sheet", str, typer.Argument(help="A PDF that Waterkey printed.", metavar="SHEET.pdf"))
    summary = "Any sheet, packet, day or week again from what its PDF carries: the same, or changed as the options say."
    text = described(summary, "again out/week.pdf --horn flugelhorn")
    return with_signature(again, "again", text, [sheet, *parameters(Changes)], output_parameters())
