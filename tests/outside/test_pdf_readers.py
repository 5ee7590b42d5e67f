"""A second reader of our PDFs, PDFium (the PDF library of Chromium, by pypdfium2), sees what pypdf wrote and LilyPond drew.

The text that `--format ly` saves is engraved by LilyPond's own program, without us, and gives the pages of the PDF: the same
pictures, and, where one engraver drew them all, the same drawing operators.
"""

import io
import json
import subprocess
from pathlib import Path

import pypdfium2
import pytest
from pypdf import PdfReader

from generators.jobs.kinds import AnyRequest
from generators.press.binding import FEW_PAGES
from generators.press.lilypond import engraver
from generators.press.pdf import REQUEST_NAME
from generators.studies.flow.study import FlowRequest
from tests.cli.running import Run, runner
from tests.press.sheets import PACKET, PLAIN, printed

PAPERS: dict[str, AnyRequest] = {"by one engraver": FlowRequest(keys=("Eb", "F#m")), "by two": PACKET}
Picture = tuple[int, int, bytes]


def _pictures(pdf: bytes) -> list[Picture]:
    """Return width, height and grey values of every page, at a pixel a point."""
    with pypdfium2.PdfDocument(pdf) as document:
        bitmaps = [document[place].render(scale=1, grayscale=True) for place in range(len(document))]
        return [(bitmap.width, bitmap.height, bytes(bitmap.buffer)) for bitmap in bitmaps]


def _operators(pdf: bytes) -> list[bytes]:
    """Return what draws each page."""
    contents = [page.get_contents() for page in PdfReader(io.BytesIO(pdf)).pages]
    return [content.get_data() for content in contents if content]


def _attached(pdf: bytes) -> dict[str, bytes]:
    """Return the attachments of a PDF by name."""
    with pypdfium2.PdfDocument(pdf) as document:
        found = [document.get_attachment(place) for place in range(document.count_attachments())]
        return {attachment.get_name(): bytes(attachment.get_data()) for attachment in found}


def _engraved(text: bytes, folder: Path) -> bytes:
    """Return what LilyPond itself makes of a text in a folder of its own."""
    (folder / "page.ly").write_bytes(text)
    command = [engraver(), "--loglevel=WARNING", "-dno-point-and-click", "-dbackend=cairo", "--pdf", "page.ly"]
    subprocess.run(command, cwd=folder, env={"HOME": str(folder)}, capture_output=True, check=True)
    return (folder / "page.pdf").read_bytes()


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> Run:
    """Return a function that runs `waterkey`."""
    return runner(monkeypatch, capfd)


@pytest.mark.parametrize("name", PAPERS)
def test_the_saved_text_is_what_is_engraved(name: str, tmp_path: Path) -> None:
    """LilyPond alone, given the text, draws the pages of the PDF."""
    found = printed(PAPERS[name], ("pdf", "ly"), PLAIN)
    pdf, alone = found.contents["pdf"][0], _engraved(found.contents["ly"][0], tmp_path)

    assert (found.pages > FEW_PAGES) == name.endswith("two")
    assert _pictures(pdf) == _pictures(alone)
    assert len(set(_pictures(pdf))) == found.pages
    if found.pages <= FEW_PAGES:
        assert _operators(pdf) == _operators(alone)


@pytest.mark.parametrize(
    "command", [("flow", "--keys", "Eb,D", "--player", "Third-year “student” ♭"), ("packet", "--seed", "3")]
)
def test_what_json_tells_is_attached(command: tuple[str, ...], run: Run, tmp_path: Path) -> None:
    """The request that `--json` tells lies in the PDF, read by the other library, as the one attachment."""
    ran = run(*command, "--json", "--out", str(tmp_path / "x"))
    told = json.loads(ran.out)
    attached = _attached((tmp_path / "x.pdf").read_bytes())

    assert [REQUEST_NAME] == list(attached)
    assert told["request"] == json.loads(attached[REQUEST_NAME])
    assert command[0] == told["request"]["kind"]
