from dataclasses import replace
from pathlib import Path

import pytest
from generators.jobs.printing import FORMATS, formats_of, packet_requests, print_pages, settled, stem_of

from generators.errors import BadRequest, FailedRun
from generators.jobs import printing
from generators.phrase.study import Study
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS, make
from generators.studies.flow.study import FlowRequest
from generators.studies.scales import ScalesRequest
from generators.theory.pitch import parse_pitch

FLOW = FlowRequest(keys=("C",))


@pytest.mark.parametrize(
    ("stem", "out"),
    [
        ("out/name", ""),
        ("x/flow", "x/flow"),
        ("x/flow", "x/flow.pdf"),
        ("x/flow", "x/flow.musicxml"),
        ("x/flow.v2", "x/flow.v2"),
        ("x/name", "x/"),
    ],
)
def test_a_target_is_a_stem(stem: str, out: str) -> None:
    """The ending of a format is taken off, any other stays; a folder, or nothing, takes the telling name."""
    found = stem_of(out, "name")

    assert Path(stem) == found


def test_a_home_is_found() -> None:
    """A tilde stands for the home of the user."""
    assert Path.home() / "flow" == stem_of("~/flow", "name")


@pytest.mark.parametrize("out", ["x" * 300, "a\0b"])
def test_a_target_no_file_can_have_is_refused(out: str) -> None:
    """The refusal names the target and why it cannot be."""
    with pytest.raises(BadRequest, match=r'out ".+" cannot name a file: .+; give another'):
        stem_of(out, "name")


def test_formats_count_once() -> None:
    """Formats are kept in order, once each; none at all means pdf."""
    assert ["png", "pdf"] == formats_of(["png", "pdf", "png"])
    assert ["pdf"] == formats_of([])


@pytest.mark.parametrize(
    ("fingered", "grade", "asked"), [(True, "1", None), (False, "", None), (False, "1", False), (True, "", True)]
)
def test_beginners_see_fingerings(fingered: bool, grade: str, asked: bool | None) -> None:
    """Grade 1 has valve numbers unless they are refused, the others unless they are asked for."""
    assert fingered is settled(Sheet(fingerings=asked), grade).fingerings


def test_no_date_is_no_date() -> None:
    """The word none takes the date off the page; a day that does not exist is refused."""
    assert settled(Sheet(date="none"), "").date == ""
    with pytest.raises(BadRequest, match="2026-02-30"):
        settled(Sheet(date="2026-02-30"), "")


def test_every_format_is_written(tmp_path: Path) -> None:
    """One request in all formats is one file each, under one stem, none of them empty."""
    report = print_pages(FLOW, tmp_path / "flow", tuple(FORMATS))

    assert {tmp_path / f"flow{ending}" for ending in FORMATS.values()} == set(report.files)
    assert set(report.files) == set(tmp_path.iterdir())
    assert all(file.stat().st_size > 100 for file in report.files)


def test_pictures_of_several_pages_are_numbered(tmp_path: Path) -> None:
    """A study of several pages gives one picture a page, numbered from 1."""
    report = print_pages(ScalesRequest(keys=("all",)), tmp_path / "scales", ("svg",))

    assert report.pages > 1
    assert [f"scales-{i}.svg" for i in range(1, report.pages + 1)] == [file.name for file in report.files]


def test_a_study_that_fails_its_proof_is_not_printed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error of the proof ends the run before anything is written, and tells the finding."""

    def spoilt(request: FlowRequest) -> Study:
        study = make(request)
        return replace(study, limits=replace(study.limits, high=parse_pitch("C4")))

    monkeypatch.setattr(printing, "make", spoilt)
    with pytest.raises(FailedRun, match=r"fails its proof, nothing was printed: .*range"):
        print_pages(FLOW, tmp_path / "deep" / "flow")

    assert [] == list(tmp_path.iterdir())


def test_the_report_counts_what_is_there(tmp_path: Path) -> None:
    """Bars, notes and range are those of the study; playing and rest make up its whole time."""
    study = make(FLOW)
    report = print_pages(FLOW, tmp_path / "flow", ("ly",))

    assert sum(len(strain.bars) for strain in study.strains) == report.bars
    assert sum(not note.tie for note in study.notes) == report.notes
    assert (min(n.pitch for n in study.notes).name, max(n.pitch for n in study.notes).name) == (report.lowest, report.highest)
    assert report.bars * 4 * 60 / study.tempo == pytest.approx(report.seconds_playing + report.seconds_rest, abs=0.2)


def test_a_packet_shares_what_is_common() -> None:
    """Each named study is asked for with the same horn and range, in the order of the names."""
    found = packet_requests(["scales", "flow"], horn="cornet", high="G5")

    assert [("ScalesRequest", "cornet", "G5"), ("FlowRequest", "cornet", "G5")] == [
        (type(request).__name__, request.horn, request.high) for request in found
    ]


def test_an_unknown_study_is_refused() -> None:
    """A packet names the study it does not know and the nearest it does."""
    with pytest.raises(BadRequest, match=r'study "scails" is not known; allowed: .*"scales"'):
        packet_requests(["flow", "scails"])


def test_a_text_alone_is_the_text_of_the_page(tmp_path: Path) -> None:
    """The LilyPond text is the same whether the page is engraved beside it or not."""
    for name in ("flow", "slurs", "scales", "entrances"):
        request = KINDS[name].request()
        print_pages(request, tmp_path / "alone", ("ly",))
        print_pages(request, tmp_path / "beside", ("ly", "pdf"))

        assert (tmp_path / "alone.ly").read_bytes() == (tmp_path / "beside.ly").read_bytes()
