"""A sheet made again from what its PDF carries: the same bytes, or changed as asked; anything else is refused."""

import io
import json
import zlib
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader, PdfWriter
from pypdf.generic import NameObject

from generators.errors import BadRequest
from generators.jobs.again import read_sheet
from generators.jobs.changes import Changes, changed
from generators.jobs.codec import encoded
from generators.jobs.compose import compose
from generators.jobs.kinds import AnyRequest
from generators.jobs.render import render
from generators.press.pdf import REQUEST_NAME
from generators.routine.growth import Growth
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest, WeekRequest, Wishes
from generators.sheets.packet import PacketRequest, packet_of
from generators.sheets.sheet import Sheet
from generators.studies.air import AirRequest
from generators.studies.bends import BendsRequest
from generators.studies.catalogue import make
from generators.studies.etude.study import EtudeRequest
from generators.studies.flow.study import FlowRequest
from generators.studies.slurs.study import SlursRequest
from generators.theory.pitch import parse_pitch

MONDAY = date(2026, 11, 30)
PLAYER = Profile(name="second cornet", horn="cornet", high="G5", minutes=10)
FLOW, DAY, WEEK = FlowRequest(keys=("Eb", "D")), DayRequest(profile=PLAYER, on=MONDAY), WeekRequest(profile=PLAYER, on=MONDAY)
PAPERS: dict[str, AnyRequest] = {"flow": FLOW, "packet": packet_of(("flow", "slurs", "air")), "day": DAY}


@cache
def printed(name: str) -> bytes:
    """Return the PDF of a request, printed once."""
    return render(compose(PAPERS[name], Sheet(date="2026-12-24", player="second cornet", fingerings="all")))


def test_unchanged_it_is_the_same_bytes(tmp_path: Path) -> None:
    """What a PDF carries makes the same PDF again; every kind of paper is made again in `tests/cli/test_again.py`."""
    (tmp_path / "x.pdf").write_bytes(printed("flow"))
    request, sheet = read_sheet(tmp_path / "x.pdf")

    assert FLOW == request
    assert printed("flow") == render(compose(request, sheet))


@pytest.mark.parametrize("name", PAPERS)
def test_no_changes_change_nothing(name: str) -> None:
    """Changes that hold nothing give the same request and sheet."""
    sheet = Sheet(title="x", date="none")

    assert (PAPERS[name], sheet) == changed(PAPERS[name], sheet, Changes())


@pytest.mark.parametrize(
    ("request_", "changes", "expected"),
    [
        (FLOW, Changes(horn="flugelhorn"), replace(FLOW, horn="flugelhorn")),
        (FLOW, Changes(keys=("C",), low="A3", high="G5"), replace(FLOW, keys=("C",), low="A3", high="G5")),
        (FLOW, Changes(tempo=60, seed=9, grade="5"), replace(FLOW, tempo=60, seed=9, grade="5")),
        (FLOW, Changes(transpose=2), replace(FLOW, keys=("F", "E"))),
        (FLOW, Changes(transpose=-1), replace(FLOW, keys=("D", "Db"))),
        (FlowRequest(), Changes(transpose=1), FlowRequest(keys=("Db", "Gb", "B", "E"))),
        (FlowRequest(keys=("Am",)), Changes(transpose=1), FlowRequest(keys=("Bbm",))),
        (BendsRequest(notes=("G4",)), Changes(transpose=1), BendsRequest(notes=("G#4",))),
        (BendsRequest(count=3), Changes(transpose=-1), BendsRequest(count=3, notes=("Gb4", "F4", "E4"))),
        (AirRequest(note="G4"), Changes(transpose=1), AirRequest(note="G#4")),
        (AirRequest(note="G4", keys=("C",)), Changes(transpose=1), AirRequest(note="Ab4", keys=("Db",))),
        (AirRequest(note="G4", keys=("C",)), Changes(transpose=-1), AirRequest(note="F#4", keys=("B",))),
        (EtudeRequest(), Changes(transpose=-3), EtudeRequest(keys=("C",))),
        (
            packet_of(("flow", "slurs"), keys=("C",)),
            Changes(transpose=1),
            PacketRequest(studies=(FlowRequest(keys=("Db",)), SlursRequest(keys=("Db",)))),
        ),
        (WEEK, Changes(horn="flugelhorn"), replace(WEEK, profile=replace(PLAYER, horn="flugelhorn", high=""))),
        (DAY, Changes(high="A5"), replace(DAY, profile=replace(PLAYER, high="A5"))),
        (DAY, Changes(date="2026-12-01"), replace(DAY, on=date(2026, 12, 1))),
        (DAY, Changes(transpose=-3), replace(DAY, wishes=replace(DAY.wishes, transpose=-3))),
        (WEEK, Changes(keys=("Eb",), tempo=66), replace(WEEK, wishes=replace(WEEK.wishes, keys=("Eb",), tempo=66))),
    ],
)
def test_changes_of_the_music(request_: AnyRequest, changes: Changes, expected: AnyRequest) -> None:
    """Each change is in the request that comes of it, and that request can be had."""
    request, _ = changed(request_, Sheet(), changes)

    assert expected == request
    assert compose(request).chapters


def test_changes_of_the_paper() -> None:
    """What stands on the paper changes, the music does not."""
    page: dict[str, Any] = {
        "paper": "letter",
        "large_print": True,
        "fingerings": "new",
        "note_names": True,
        "title": "Tuesday",
        "player": "solo cornet",
        "date": "none",
    }
    request, sheet = changed(FLOW, Sheet(), Changes(**page))

    assert (FLOW, Sheet(**page)) == (request, sheet)


def test_transposing_moves_every_note() -> None:
    """A study in other keys is the same steps on other tonics."""
    one, other = make(FLOW), make(changed(FLOW, Sheet(), Changes(transpose=1))[0])  # type: ignore[arg-type]
    moves = {b.pitch.midi - a.pitch.midi for a, b in zip(one.notes, other.notes, strict=True)}

    assert {1} == {move % 12 for move in moves}


def test_a_day_is_moved_as_a_whole() -> None:
    """The keys of a transposed day are the day's keys, moved."""
    plain = compose(DAY).facts["parts"]
    moved = compose(changed(DAY, Sheet(), Changes(transpose=2))[0]).facts["parts"]

    assert [part["part"] for part in plain] == [part["part"] for part in moved]
    assert plain != moved


@pytest.mark.parametrize(
    ("changes", "kept"),
    [
        (Changes(horn="cornet"), False),
        (Changes(grade="4"), False),
        (Changes(high="A5"), False),
        (Changes(low="A3"), True),
        (Changes(seed=2), True),
    ],
)
def test_another_horn_grade_or_top_forgets_where_the_top_had_grown(changes: Changes, kept: bool) -> None:
    """What the log says of the top holds for that horn, grade and top alone; other changes leave it."""
    grown = replace(DAY, growth=Growth(top=parse_pitch("Ab5")))

    assert kept == bool(changed(grown, Sheet(), changes)[0].growth)  # type: ignore[union-attr]


@pytest.mark.parametrize(("before", "by", "after"), [(10, 7, 5), (-10, -7, -5), (5, 7, 12), (-5, -7, -12), (12, 1, 1)])
def test_moves_add_up_within_an_octave(before: int, by: int, after: int) -> None:
    """A day moved again is moved by both together, and an octave is no move of keys."""
    moved, _ = changed(replace(DAY, wishes=Wishes(transpose=before)), Sheet(), Changes(transpose=by))

    assert after == moved.wishes.transpose  # type: ignore[union-attr]


def test_what_lies_on_tubes_alone_is_not_transposed() -> None:
    """Lip slurs have no key to move, and are refused."""
    with pytest.raises(BadRequest, match="transpose 2 moves keys, and slurs has none"):
        changed(SlursRequest(), Sheet(), Changes(transpose=2))


def _writer() -> PdfWriter:
    return PdfWriter(clone_from=PdfReader(io.BytesIO(printed("flow"))))


def _attachment(writer: PdfWriter) -> Any:
    names = writer.root_object["/Names"]["/EmbeddedFiles"]["/Names"]  # type: ignore[index]
    return names[1].get_object()["/EF"]["/F"].get_object()


def _bytes(writer: PdfWriter) -> bytes:
    result = io.BytesIO()
    writer.write(result)
    return result.getvalue()


def _carrying(content: bytes, code: str = "") -> bytes:
    """Return a PDF that carries something else under our name."""
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    writer.add_attachment(REQUEST_NAME, content)
    writer.add_metadata({"/Subject": f"Music {code}"})
    return _bytes(writer)


def _tampered() -> bytes:
    """Return a sheet whose request was changed by another hand."""
    return _carrying(encoded(replace(FLOW, keys=("C",)), Sheet()).encode(), compose(FLOW).stamp.code)


def _bomb() -> bytes:
    """Return a PDF whose attachment unpacks to 256 megabytes."""
    writer = _writer()
    packer = zlib.compressobj(9)
    packed = b"".join(packer.compress(bytes(1 << 20)) for _ in range(256)) + packer.flush()
    stream = _attachment(writer)
    stream[NameObject("/Filter")] = NameObject("/FlateDecode")
    stream._data = packed
    return _bytes(writer)


def _locked() -> bytes:
    """Return a PDF that says it is encrypted by AES, which takes a library that nobody needs to have."""
    writer = _writer()
    writer.encrypt("", algorithm="RC4-128")
    ways = b"/V 4 /CF << /StdCF << /CFM /AESV2 /AuthEvent /DocOpen /Length 16 >> >> /StmF /StdCF /StrF /StdCF"
    return _bytes(writer).replace(b"/V 2", ways).replace(b"/R 3", b"/R 4")


HOSTILE = {
    "no PDF": (lambda: b"hello", "cannot be read as a PDF"),
    "nothing": (lambda: b"", "cannot be read as a PDF"),
    "a foreign PDF": (lambda: _bytes(_blank()), "carries no request"),
    "cut in the middle": (lambda: printed("flow")[: len(printed("flow")) // 2], "cannot be read|carries no request"),
    "no JSON inside": (lambda: _carrying(b"hello"), "is not JSON"),
    "no UTF-8 inside": (lambda: _carrying(b"\xff\xfe\xff"), "is not UTF-8"),
    "nested without end": (lambda: _carrying(b"[" * 1_000_000), "nested without end|is not JSON"),
    "changed by another hand": (_tampered, "carries a request that was changed"),
    "much, packed": (_bomb, "more than the 4 megabytes"),
    "encrypted": (_locked, "cannot be read as a PDF"),
    "a newer form": (lambda: _carrying(json.dumps({"waterkey": 99}).encode()), "is a newer form"),
}


def _blank() -> PdfWriter:
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    return writer


@pytest.mark.parametrize("name", HOSTILE)
def test_anything_else_is_refused(name: str, tmp_path: Path) -> None:
    """What is not ours, cut, changed, enormous or endless is refused in one line that names the file; nothing is written."""
    made, told = HOSTILE[name]
    (tmp_path / "x.pdf").write_bytes(made())
    with pytest.raises(BadRequest, match=told) as refused:
        read_sheet(tmp_path / "x.pdf")

    assert "\n" not in str(refused.value)
    assert str(tmp_path / "x.pdf") in str(refused.value)
    assert [tmp_path / "x.pdf"] == list(tmp_path.iterdir())


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    """A missing file is named."""
    with pytest.raises(BadRequest, match=r"gone\.pdf: the file is not there"):
        read_sheet(tmp_path / "gone.pdf")
