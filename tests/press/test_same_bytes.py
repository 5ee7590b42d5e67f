"""Same request, same page; and the page carries its request."""

import io
import json
import os
import subprocess
import sys
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from generators.press.code import as_json, code
from pypdf import PdfReader

from generators.press.pdf import REQUEST_NAME
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS, kind_of, make
from generators.studies.entrances import EntrancesRequest
from generators.studies.flow.study import FlowRequest
from generators.studies.kit.request import Request
from generators.studies.scales import ScalesRequest
from generators.studies.slurs.study import SlursRequest
from tests.press.sheets import PLAIN, packet, printed

REQUESTS: list[Request] = [
    FlowRequest(keys=("Eb", "F#m"), horn="cornet", order="shuffled", seed=4),
    SlursRequest(values=(4, 8), tubes=("0", "2", "1")),
    ScalesRequest(keys=("Bb",), tempo=72, pattern="thirds"),
    EntrancesRequest(count=5, seed=11, dynamics=("pp", "ff")),
]
SCRIPT = """
import sys
from hashlib import sha256
from generators import EntrancesRequest, FlowRequest, Sheet, print_pages
requests, sheet = [FlowRequest(order="shuffled"), EntrancesRequest(seed=3)], Sheet(player="a", date="none")
report = print_pages(requests, sys.argv[1], ("pdf", "ly"), sheet)
print(*(sha256(file.read_bytes()).hexdigest() for file in report.files))
"""


def _pdf(request: Request, sheet: Sheet = PLAIN) -> bytes:
    return printed(request, sheet=sheet).contents["pdf"][0]


def _again(request: Request) -> dict[str, tuple[bytes, ...]]:
    return printed.__wrapped__(request).contents


@pytest.mark.parametrize("request_", REQUESTS, ids=lambda request: kind_of(request).name)
def test_two_runs_give_the_same_bytes(request_: Request) -> None:
    """LilyPond text and PDF of a request are the same, byte for byte, when it is printed again."""
    assert printed(request_).contents == _again(request_)


def test_a_packet_is_the_same_in_any_process(tmp_path: Path) -> None:
    """Neither the hash seed, the time zone, the folder nor the process changes a byte."""
    found = set()
    for seed, zone in (("0", "UTC"), ("1", "Asia/Tokyo"), ("4711", "America/Lima")):
        environment = os.environ | {"PYTHONHASHSEED": seed, "TZ": zone}
        command = [sys.executable, "-c", SCRIPT, str(tmp_path / seed / "packet")]
        run = subprocess.run(command, env=environment, capture_output=True, text=True, check=True)
        found.add(run.stdout)

    assert 1 == len(found)
    assert 2 == len(found.pop().split())


def test_no_clock_gets_into_a_page() -> None:
    """The PDF names no time of its making, and the text no date that was not asked for."""
    pdf = PdfReader(io.BytesIO(_pdf(REQUESTS[0])))

    assert pdf.metadata
    assert {"/CreationDate", "/ModDate"}.isdisjoint(pdf.metadata)
    assert "/ID" not in pdf.trailer


def test_the_code_is_that_of_the_request() -> None:
    """The code is short, made of plain letters, and another where anything asked for is another."""
    sheet = Sheet()
    codes = [code([request], sheet) for request in REQUESTS]
    changed = [code([replace(REQUESTS[0], tempo=71)], sheet), code([REQUESTS[0]], Sheet(player="b")), code(REQUESTS, sheet)]

    assert 7 == len({*codes, *changed})
    assert codes == [code([replace(request)], replace(sheet)) for request in REQUESTS]
    assert all(len(found) == 9 and found.replace("-", "").isalnum() and found.isupper() for found in codes)


def test_the_code_stands_on_every_page() -> None:
    """The footer of each page, the text and the subject of the PDF show the code."""
    request = ScalesRequest(keys=("all",))
    mark = code([request], Sheet(fingerings=False))
    pdf = PdfReader(io.BytesIO(_pdf(request)))

    assert len(pdf.pages) > 1
    assert all(mark in page.extract_text() for page in pdf.pages)
    assert pdf.metadata
    assert mark in (pdf.metadata.subject or "")
    assert mark.encode() in printed(request).contents["ly"][0]


def _attached(pdf: bytes) -> dict[str, Any]:
    reader = PdfReader(io.BytesIO(pdf))
    assert reader.metadata
    text = reader.attachments[REQUEST_NAME][0].decode()
    assert text == reader.metadata["/Keywords"]
    found: dict[str, Any] = json.loads(text)
    return found


def _request(entry: dict[str, Any]) -> Request:
    fields = {name: tuple(value) if isinstance(value, list) else value for name, value in entry["request"].items()}
    return KINDS[entry["study"]].request(**fields)


@pytest.mark.parametrize("request_", REQUESTS, ids=lambda request: kind_of(request).name)
def test_a_study_is_made_again_from_its_pdf(request_: Request) -> None:
    """The request attached to a PDF, and shown in its metadata, makes the same study and the same sheet."""
    sheet = Sheet(player="Third-year “student” \\ 日本", large_print=True, fingerings=False)
    found = _attached(_pdf(request_, sheet))

    assert request_ == _request(found["studies"][0])
    assert make(request_) == make(_request(found["studies"][0]))
    assert sheet == Sheet(**found["sheet"])


def test_a_packet_carries_all_its_requests() -> None:
    """The attached requests of a packet are those of its studies, in order."""
    found = _attached(packet().contents["pdf"][0])

    assert ["flow", "slurs", "low", "scales", "arpeggios", "entrances"] == [entry["study"] for entry in found["studies"]]


def test_the_json_of_a_request_has_one_order() -> None:
    """The same values give the same JSON, however the record was filled in."""
    one = as_json([FlowRequest(shape="arch", keys=("C",))], Sheet(title="t", player="p"))
    other = as_json([FlowRequest(keys=("C",), shape="arch")], Sheet(player="p", title="t"))

    assert sha256(one.encode()).digest() == sha256(other.encode()).digest()
