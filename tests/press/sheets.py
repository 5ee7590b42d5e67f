"""Paper for the tests of the press: what is dear to make is made once, and engraved once for all who look at it."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cache
from typing import NamedTuple

from generators.errors import WaterkeyError
from generators.jobs.compose import compose
from generators.jobs.kinds import AnyRequest
from generators.jobs.render import render_all
from generators.phrase.study import Study
from generators.press.engraver import Engraved, engravers
from generators.press.laying import laid
from generators.press.source import Source
from generators.sheets.document import Document
from generators.sheets.packet import packet_of
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import make
from generators.studies.kit.request import Request

PLAIN = Sheet(fingerings="none", note_names=False)
PACKET = packet_of()


class Printing(NamedTuple):
    """A document as it was printed: the files of each format, and its pages."""

    contents: dict[str, tuple[bytes, ...]]
    pages: int


@cache
def made(request: Request) -> Study:
    """Return the study of a request, made once."""
    return make(request)


@cache
def composed(request: AnyRequest, sheet: Sheet = PLAIN) -> Document:
    """Return the document of a request, composed once."""
    return compose(request, sheet)


@cache
def printed(request: AnyRequest, formats: tuple[str, ...] = ("pdf", "ly"), sheet: Sheet = PLAIN) -> Printing:
    """Return what a request is printed as."""
    return printing(composed(request, sheet), formats)


def printing(document: Document, formats: Sequence[str] = ("pdf", "ly")) -> Printing:
    """Return what a document is printed as, engraved anew."""
    rendered, pressed = render_all(document, formats)
    return Printing({name: tuple(part.content for part in parts) for name, parts in rendered.items()}, len(pressed.pages))


def joined(requests: Sequence[Request], sheet: Sheet) -> Document:
    """Return one document with the chapters of several studies, without a cover."""
    documents = [composed(request, sheet) for request in requests]
    return replace(documents[0], chapters=tuple(chapter for one in documents for chapter in one.chapters))


def text_of(document: Document) -> str:
    """Return the text of a document as it is laid out at first, without engraving it."""
    return Source(document, laid(document, {})).whole


def is_to_be_had(request: Request, sheet: Sheet) -> bool:
    """Tell whether a study is for the grade, and its strains for the paper; where they should be, other tests hold."""
    try:
        return bool(laid(composed(request, sheet), {}))
    except WaterkeyError:
        return False


def music(text: str) -> list[str]:
    """Return the music of each strain in a LilyPond source, from its key on."""
    strains = re.split(r"(?=\\key \w+ \\\w+\n)", text)[1:]
    return [re.split(r'\\bar "', strain)[0] for strain in strains]


def engraved(sources: Iterable[str], formats: Sequence[str], count: int = 0) -> list[Engraved]:
    """Return sources engraved at the same time, each as soon as it is there; `count` is how many, if they are no list."""
    texts = sources if count else list(sources)
    with engravers(count or len(list(texts)), formats) as waiting:
        results = [one.begin(text) for one, text in zip(waiting, texts, strict=True)]
        return [result() for result in results]
