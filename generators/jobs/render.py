"""From a document to bytes, without a disk of the caller's."""

from collections.abc import Sequence

from generators.errors import BadRequest, Refusal
from generators.jobs.formats import FilePart, formats_of
from generators.press.binding import Pressed, pressed
from generators.sheets.document import Document

Rendered = dict[str, tuple[FilePart, ...]]


def render(document: Document, format: str = "pdf") -> bytes:  # noqa: A002 - the word that the tables and the command line use
    """Return a document in a format: `render(compose(FlowRequest()), "pdf")`.

    Raises BadRequest for a format that is not known, or that makes several files of this document (`render_all` has them);
    FailedRun where the engraver fails.
    """
    [(name, parts)] = render_all(document, [format])[0].items()
    if len(parts) > 1:
        raise BadRequest(Refusal("format", name, f"makes {len(parts)} files of this paper", do="use render_all, or publish"))
    return parts[0].content


def render_all(document: Document, formats: Sequence[str]) -> tuple[Rendered, Pressed]:
    """Return a document in several formats, engraved once, every file of each; and what the engraver has to tell."""
    if not isinstance(document, Document):
        raise BadRequest(Refusal("document", repr(document), "is none", do="compose a request first"))
    rows = formats_of(formats)
    outputs = tuple(dict.fromkeys(need for row in rows for need in row.needs))
    engraved = pressed(document, outputs)
    return {row.name: row.write(document, engraved) for row in rows}, engraved
