"""Merging engraved parts into one PDF: bookmarks, metadata, and the request attached, the same bytes every time."""

import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from pypdf import PdfReader, PdfWriter

REQUEST_NAME = "waterkey-request.json"


@dataclass(frozen=True, slots=True)
class Excerpt:
    """Pages of a PDF, the first and the last counted from 0: `Excerpt(pdf, 2, 4)` is three pages."""

    pdf: bytes
    first: int
    last: int


def whole_pdf(pdf: bytes) -> Excerpt:
    """Return all pages of a PDF."""
    return Excerpt(pdf, 0, page_count(pdf) - 1)


def merged(parts: Sequence[Excerpt], bookmarks: Sequence[tuple[str, int]], metadata: Mapping[str, str], request: str) -> bytes:
    """Return the parts as one PDF with bookmarks (title and page from 0), metadata, and the request attached as JSON."""
    writer = PdfWriter()
    # One reader a PDF, kept until all is written: what its parts share, such as a font, is then there once.
    readers = {id(part.pdf): PdfReader(io.BytesIO(part.pdf)) for part in parts}
    for part in parts:
        writer.append(readers[id(part.pdf)], pages=(part.first, part.last + 1), import_outline=False)
    for title, page in bookmarks:
        writer.add_outline_item(title=title, page_number=page)
    writer.metadata = None
    writer.add_metadata({f"/{name}": _encodable(text) for name, text in metadata.items()})
    writer.add_attachment(REQUEST_NAME, _encodable(request).encode())
    result = io.BytesIO()
    writer.write(result)
    return result.getvalue()


def _encodable(text: str) -> str:
    """Return text without half characters, which a command line can hand on and no file can hold."""
    return text.encode("utf-8", "replace").decode()


def page_count(pdf: bytes) -> int:
    """Return how many pages a PDF has."""
    return len(PdfReader(io.BytesIO(pdf)).pages)
