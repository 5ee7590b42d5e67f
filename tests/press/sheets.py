"""Sheets for the tests of the press: requests of every kind, printed without a file."""

import re
from functools import cache

from generators.press.sheets import prints

from generators.phrase.study import Study
from generators.press.binding import Prints
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS, make
from generators.studies.kit.request import Request

PLAIN = Sheet(fingerings=False)


@cache
def made(request: Request) -> Study:
    """Return the study of a request, made once."""
    return make(request)


@cache
def printed(request: Request, formats: tuple[str, ...] = ("pdf", "ly"), sheet: Sheet = PLAIN) -> Prints:
    """Return one study as it is printed."""
    return prints([request], [made(request)], sheet, formats, packet=False)


@cache
def packet(formats: tuple[str, ...] = ("pdf", "ly"), sheet: Sheet = PLAIN) -> Prints:
    """Return the six oldest studies under one cover."""
    requests = [KINDS[name].request() for name in ("flow", "slurs", "low", "scales", "arpeggios", "entrances")]
    return prints(requests, [made(request) for request in requests], sheet, formats, packet=True)


def music(text: str) -> list[str]:
    """Return the music of each strain in a LilyPond source, from its key on."""
    strains = re.split(r"(?=\\key \w+ \\\w+\n)", text)[1:]
    return [re.split(r'\\bar "', strain)[0] for strain in strains]
