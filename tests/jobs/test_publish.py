"""Documents published: files named by their music, and nothing lost that is already there."""

import os
from collections.abc import Callable
from dataclasses import replace
from errno import EACCES
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from generators.errors import BadRequest, FailedRun
from generators.jobs.compose import compose
from generators.jobs.formats import FORMATS
from generators.jobs.publish import publish, stem_of
from generators.jobs.render import render, render_all
from generators.jobs.report import report_of
from generators.sheets.document import Document, Music, Section
from generators.sheets.packet import packet_of
from generators.sheets.sheet import Sheet
from generators.studies.buzz.study import BuzzRequest
from generators.studies.flow.study import FlowRequest
from generators.studies.scales import ScalesRequest
from tests.exchange.samples import strain, study

ONE_KEY = FlowRequest(keys=("Eb",))
FLOW = compose(ONE_KEY)


@cache
def _flow(*formats: str) -> Any:
    return render_all(FLOW, formats)


@pytest.fixture(autouse=True)
def _rendered_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Render the one study once for all that is done with its files here; other documents as they come."""

    def rendered(document: Document, formats: list[str]) -> Any:
        return (
            _flow(*formats) if document is FLOW and all(name in FORMATS for name in formats) else render_all(document, formats)
        )

    monkeypatch.setattr("generators.jobs.publish.render_all", rendered)


def test_the_name_tells_the_music(tmp_path: Path) -> None:
    """A name of its own holds kind, horn, keys and code."""
    report = publish(FLOW, tmp_path)

    assert (tmp_path / f"flow-trumpet-Eb-{report.code}.pdf",) == report.files


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (ScalesRequest(), ScalesRequest(pattern="thirds")),
        (packet_of(("flow", "air")), packet_of(("flow", "buzz"))),
        (FlowRequest(), FlowRequest(horn="cornet")),
        (FlowRequest(seed=1, order="shuffled"), FlowRequest(seed=2, order="shuffled")),
    ],
)
def test_other_music_has_another_name(one: Any, other: Any) -> None:
    """Two documents of other music never have the same name of their own."""
    assert compose(one).name != compose(other).name


def test_paper_date_and_name_change_neither_code_nor_file_name() -> None:
    """Other paper, another date, name or title is the same music."""
    other = compose(ONE_KEY, Sheet(paper="letter", large_print=True, date="2026-12-01", player="second cornet", title="Monday"))

    assert (FLOW.stamp.code, FLOW.name) == (other.stamp.code, other.name)


@pytest.mark.parametrize("formats", [["musicxml", "midi"], ["pdf"], ["svg"], ["png"], ["ly"]])
def test_the_same_music_is_replaced(tmp_path: Path, formats: list[str]) -> None:
    """The same music, on other paper too, may be saved over itself in every format."""
    files = publish(FLOW, tmp_path / "x", formats).files
    again = publish(compose(ONE_KEY, Sheet(player="second cornet")), tmp_path / "x", formats).files

    assert files == again


@pytest.mark.parametrize("name", FORMATS)
def test_other_files_are_left_alone(tmp_path: Path, name: str) -> None:
    """A file that holds other music, or none of ours, is not replaced; what is refused names the file and the way out."""
    file = tmp_path / f"x{FORMATS[name].ending}"
    file.write_bytes(b"something else")
    with pytest.raises(
        BadRequest, match="is there already and does not hold this music; choose another place; replace would do"
    ):
        publish(FLOW, tmp_path / "x", [name])

    assert b"something else" == file.read_bytes()
    assert [file] == list(tmp_path.iterdir())
    assert (file,) == publish(FLOW, tmp_path / "x", [name], replace=True).files
    with pytest.raises(BadRequest, match="does not hold this music"):
        publish(compose(replace(ONE_KEY, keys=("D",))), tmp_path / "x", [name])


@pytest.mark.parametrize("name", [name for name in FORMATS if name != "pdf"])
def test_what_somebody_changed_is_left_alone(tmp_path: Path, name: str) -> None:
    """A file of the same music that was edited since, or any other that tells its code, is not replaced."""
    (file,) = publish(FLOW, tmp_path / "x", [name]).files
    content = file.read_bytes()
    for other in (content.replace(b"e", b"f", 1), content + b"\n", f"Practise {FLOW.stamp.code}!".encode()):
        file.write_bytes(other)
        with pytest.raises(BadRequest, match="does not hold this music"):
            publish(FLOW, tmp_path / "x", [name])

        assert other == file.read_bytes()


@pytest.mark.parametrize("make", [os.mkfifo, os.mkdir])
def test_what_is_no_file_is_left_alone(tmp_path: Path, make: Callable[[Path], None]) -> None:
    """A pipe or a folder at the target is refused, and nobody waits for it to be read."""
    make(tmp_path / "x.mid")
    with pytest.raises(BadRequest, match="is there already"):
        publish(FLOW, tmp_path / "x", ["midi"])

    assert not (tmp_path / "x.mid").is_file()


def test_a_packet_exports_every_study_in_order(tmp_path: Path) -> None:
    """Two studies of a kind are two files, numbered so that names sort in the order of the pages."""
    request = packet_of(["flow", "flow", *["air"] * 9])
    files = publish(compose(request), tmp_path / "x", ["musicxml"]).files

    assert [f"x-{i:02}-{'flow' if i < 3 else 'air'}.musicxml" for i in range(1, 12)] == [file.name for file in files]
    assert sorted(files) == list(files)


def test_render_gives_bytes_without_a_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A document is rendered to bytes; nothing appears where one works."""
    monkeypatch.chdir(tmp_path)
    pdf, midi = render(FLOW), render(FLOW, "midi")

    assert (b"%PDF", b"MThd") == (pdf[:4], midi[:4])
    assert [] == list(tmp_path.iterdir())


def test_render_names_formats_of_several_files() -> None:
    """What makes several files is refused with the way to all of them."""
    with pytest.raises(BadRequest, match='format "musicxml" makes 2 files of this paper; use render_all'):
        render(compose(packet_of(("flow", "air"))), "musicxml")


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: compose(None),  # type: ignore[arg-type]
        lambda: compose([]),
        lambda: compose(FlowRequest),  # type: ignore[arg-type]
        lambda: compose([ONE_KEY, 3]),  # type: ignore[list-item]
        lambda: compose(FlowRequest(low=3)),  # type: ignore[arg-type]
        lambda: compose(FlowRequest(tempo="72")),  # type: ignore[arg-type]
        lambda: compose(FlowRequest(keys="Eb")),  # type: ignore[arg-type]
        lambda: compose(FlowRequest(keys=["Eb"])),  # type: ignore[arg-type]
        lambda: compose(BuzzRequest(seconds=None)),  # type: ignore[arg-type]
        lambda: compose(ONE_KEY, "a4"),  # type: ignore[arg-type]
        lambda: compose(ONE_KEY, Sheet(paper=4)),  # type: ignore[arg-type]
        lambda: compose(ONE_KEY, Sheet(date="tomorrow")),
        lambda: publish(ONE_KEY),  # type: ignore[arg-type]
        lambda: publish(FLOW, formats=5),  # type: ignore[arg-type]
        lambda: publish(FLOW, formats="pdf"),
        lambda: publish(FLOW, formats=["pdf", 5]),  # type: ignore[list-item]
        lambda: publish(FLOW, out=b"x"),  # type: ignore[arg-type]
        lambda: publish(FLOW, out=7),  # type: ignore[arg-type]
        lambda: render(FLOW, "docx"),
        lambda: render(None),  # type: ignore[arg-type]
        lambda: render(FLOW, None),  # type: ignore[arg-type]
    ],
)
def test_wrong_values_and_types_are_bad_requests(wrong: Any) -> None:
    """Every wrong value or type of a call is one refusal of one line."""
    with pytest.raises(BadRequest) as refused:
        wrong()

    assert "\n" not in str(refused.value)


def test_a_folder_that_cannot_be_written_is_told_before_any_work(tmp_path: Path) -> None:
    """A file in place of a folder stops the run."""
    (tmp_path / "x").write_text("a file")
    with pytest.raises(FailedRun, match="x"):
        publish(FLOW, tmp_path / "x" / "flow")


def test_stems() -> None:
    """An ending of a format is no part of the stem; a folder, or nothing, is given a name."""
    assert Path("x/flow") == stem_of("x/flow.pdf", "name")
    assert Path("x/flow.v2") == stem_of("x/flow.v2", "name")
    assert Path("out/name") == stem_of("", "name")
    assert Path("x/name") == stem_of("x/", "name")


def test_a_document_knows_its_studies() -> None:
    """Exports walk the studies of a document in the order of its pages."""
    document = compose(packet_of(("scales", "flow")))

    assert isinstance(document, Document)
    assert ["scales", "flow"] == [study.kind for study in document.studies]


def test_a_report_counts_what_is_played() -> None:
    """Notes that are tied are one note of the report, a repeat written once is counted once."""
    music = Music(sections=(Section(study(strain("1/4~ 1/4~ 1/4 2/4 | 3/1", repeats=2))),))
    report = report_of(replace(FLOW, chapters=(music,)), (), 1, ())

    assert (3, 2) == (report.notes, report.bars)


def test_a_file_that_cannot_be_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A target that is there and may not be read is a line."""
    publish(FLOW, tmp_path / "x", ["midi"])

    def forbidden(_: Path) -> bytes:
        raise PermissionError(EACCES, os.strerror(EACCES))

    monkeypatch.setattr(Path, "read_bytes", forbidden)
    with pytest.raises(FailedRun, match="cannot be read: permission denied"):
        publish(FLOW, tmp_path / "x", ["midi"])
