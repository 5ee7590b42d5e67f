"""Same request, same page; and the page carries its request."""

import io
import os
import subprocess
import sys
from dataclasses import replace
from datetime import date

import pytest
from pypdf import PdfReader

from generators.jobs.codec import decoded, encoded, music_code
from generators.jobs.compose import compose
from generators.jobs.kinds import AnyRequest
from generators.press.binding import FEW_PAGES
from generators.press.pdf import carried_by
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest
from generators.sheets.sheet import Sheet
from generators.studies.entrances import EntrancesRequest
from generators.studies.flow.study import FlowRequest
from generators.studies.kit.request import Request
from generators.studies.scales import ScalesRequest
from generators.studies.slurs.study import SlursRequest
from tests.press.sheets import PACKET, PLAIN, composed, printed, printing

REQUESTS: list[Request] = [
    FlowRequest(keys=("Eb", "F#m"), horn="cornet", order="shuffled", seed=4),
    SlursRequest(values=(4, 8), tubes=("0", "2", "1")),
    ScalesRequest(keys=("Bb",), tempo=72, pattern="thirds"),
    EntrancesRequest(count=5, seed=11, dynamics=("pp", "ff")),
]
DAY = DayRequest(profile=Profile(name="second cornet", horn="cornet", grade="3"), on=date(2026, 11, 30))
SCRIPT = """
from hashlib import sha256
from generators import EntrancesRequest, FlowRequest, Sheet, compose
from generators.jobs.render import render_all
document = compose([FlowRequest(order="shuffled"), EntrancesRequest(seed=3)], Sheet(player="a", date="none"))
rendered, _ = render_all(document, ["pdf", "ly"])
print(document.name, *(sha256(part.content).hexdigest() for parts in rendered.values() for part in parts))
"""


def _pdf(request: AnyRequest, sheet: Sheet = PLAIN) -> bytes:
    return printed(request, sheet=sheet).contents["pdf"][0]


@pytest.mark.parametrize("request_", [REQUESTS[0], REQUESTS[3]], ids=["flow", "entrances"])
def test_two_runs_give_the_same_bytes(request_: Request) -> None:
    """LilyPond text and PDF of a request are the same, byte for byte, when it is composed and printed again."""
    assert printed(request_) == printing(compose(request_, PLAIN))


def test_the_number_of_cores_changes_no_byte(monkeypatch: pytest.MonkeyPatch) -> None:
    """A packet that several engravers share here is the same where there is another number of cores."""
    here = printed(PACKET)
    other = 8 if os.cpu_count() == 1 else 1
    monkeypatch.setattr("os.cpu_count", lambda: other)

    assert here.pages > FEW_PAGES
    assert here == printing(composed(PACKET))


def test_a_packet_is_the_same_in_any_process() -> None:
    """Neither the hash seed, the time zone nor the process changes a byte."""
    found = set()
    for seed, zone in (("0", "Asia/Tokyo"), ("4711", "America/Lima")):
        environment = os.environ | {"PYTHONHASHSEED": seed, "TZ": zone}
        run = subprocess.run([sys.executable, "-c", SCRIPT], env=environment, capture_output=True, text=True, check=True)
        found.add(run.stdout)

    assert 1 == len(found)
    assert 3 == len(found.pop().split())


def test_no_clock_gets_into_a_page() -> None:
    """The PDF names no time of its making, and the text no date that was not asked for."""
    pdf = PdfReader(io.BytesIO(_pdf(REQUESTS[0])))

    assert pdf.metadata
    assert {"/CreationDate", "/ModDate"}.isdisjoint(pdf.metadata)
    assert "/ID" not in pdf.trailer


def test_the_code_is_that_of_the_music() -> None:
    """The code is short, made of plain letters, and another where any note asked for may be another."""
    codes = [music_code(request) for request in (*REQUESTS, PACKET, DAY)]
    changed = [music_code(replace(REQUESTS[0], tempo=71)), music_code(replace(DAY, minutes=30))]

    assert 8 == len({*codes, *changed})
    assert codes == [music_code(replace(request)) for request in (*REQUESTS, PACKET, DAY)]
    assert all(len(found) == 9 and found.replace("-", "").isalnum() and found.isupper() for found in codes)


def test_the_code_stands_on_every_page() -> None:
    """The footer of each page, the text and the subject of the PDF show the code."""
    mark = music_code(PACKET)
    pdf = PdfReader(io.BytesIO(_pdf(PACKET)))

    assert len(pdf.pages) > 1
    assert all(mark in page.extract_text() for page in pdf.pages)
    assert pdf.metadata
    assert mark in (pdf.metadata.subject or "")
    assert mark.encode() in printed(PACKET).contents["ly"][0]


@pytest.mark.parametrize("request_", [REQUESTS[2], PACKET, DAY], ids=["study", "packet", "day"])
def test_the_request_is_read_back_from_its_pdf(request_: AnyRequest) -> None:
    """The request attached to a PDF is the one it was printed from, with the sheet, and makes the same document."""
    sheet = Sheet(
        player="Third-year “student” \\ 日本", fingerings="none", note_names=False, large_print=False, date="2026-12-01"
    )
    text, code = carried_by(_pdf(request_, sheet))

    assert (encoded(request_, sheet), music_code(request_)) == (text, code)
    assert (request_, sheet) == decoded(text)
    assert composed(request_, sheet) == compose(*decoded(text))


def test_the_json_of_a_request_has_one_order() -> None:
    """The same values give the same JSON, however the record was filled in."""
    one = encoded(FlowRequest(shape="arch", keys=("C",)), Sheet(title="t", player="p"))
    other = encoded(FlowRequest(keys=("C",), shape="arch"), Sheet(player="p", title="t"))

    assert one == other
