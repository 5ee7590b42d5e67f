"""A studio: every player's own packet, failures that stop nobody, reruns that redo only what changed."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from shutil import copy

import pytest
from pypdf import PdfReader

from generators.errors import BadRequest, worded
from generators.jobs.compose import compose
from generators.jobs.publish import publish
from generators.jobs.studio import StudioReport, StudioRequest, print_studio
from generators.keep.studio_file import demo_text, studio_of
from generators.routine.context import occasion
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest
from generators.studies.flow.study import FlowRequest
from generators.theory.key import parse_key
from generators.theory.pitch import extremes

ON = date(2026, 11, 30)
FLOW = compose(FlowRequest(keys=("C",)))
BAND = """
name = "Saltmarsh Town Band"
minutes = 8
concert = true

[[player]]
name = "third cornet"
horn = "cornet"
grade = "2"

[[player]]
name = "solo horn"
horn = "tenor-horn"
grade = "3"
"""


@dataclass(frozen=True)
class Run:
    """One printing of the band: what it reported, and when each file was written."""

    report: StudioReport
    written: dict[str, int]


def printed(text: str, folder: Path) -> Run:
    """Print one day of a band into a folder."""
    report = print_studio(StudioRequest(studio=studio_of(text, "band.toml"), on=ON, week=False), folder)
    return Run(report, {file.name: file.stat().st_mtime_ns for file in folder.iterdir()})


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the band."""
    return tmp_path_factory.mktemp("band")


@pytest.fixture(scope="module")
def runs(folder: Path) -> list[Run]:
    """Print the band three times: as it is, then with one player changed, then with wishes of his that leave no routine."""
    changes = ('grade = "3"', 'grade = "4"', 'low = "C5"\nhigh = "D5"')
    return [printed(BAND.replace('grade = "3"', change), folder) for change in changes]


def test_the_demo_is_a_whole_band() -> None:
    """Eight players from first grade to professional, on six kinds of horn, by chair and never by name."""
    studio = studio_of(demo_text(), "demo")
    profiles = [chair.profile for chair in studio.chairs]
    found = [profile for profile in profiles if profile is not None]

    assert 8 == len(found)
    assert {"trumpet", "cornet", "flugelhorn", "soprano-cornet", "tenor-horn", "euphonium"} == {p.horn for p in found}
    assert {"1", ""} <= {profile.grade for profile in found}


def test_everyone_gets_a_packet(runs: list[Run]) -> None:
    """Each player has a PDF named by the chair, and the teacher a summary."""
    first = runs[0]

    assert {"third-cornet.pdf", "solo-horn.pdf", "summary.pdf", "studio.json"} == set(first.written)
    assert ["printed", "printed"] == [packet.state for packet in first.report.packets]
    assert () == first.report.failures


def test_a_packet_is_the_players_own_day(runs: list[Run], folder: Path) -> None:
    """A packet holds the day that is composed for that player alone, and the report tells its code, pages and range."""
    profile = studio_of(BAND, "band.toml").chairs[0].profile
    assert profile is not None
    document = compose(DayRequest(profile=profile, on=ON, concert=True))
    pages = PdfReader(folder / "third-cornet.pdf").pages
    packet = runs[0].report.packets[0]
    reach = extremes(note.pitch for study in document.studies for note in study.notes)

    assert (document.stamp.code, len(pages)) == (packet.code, packet.pages)
    assert document.stamp.code in pages[0].extract_text()
    assert "third cornet" in pages[0].extract_text()
    assert [pitch.name for pitch in reach] == [packet.lowest, packet.highest]


def test_a_rerun_redoes_only_what_changed(runs: list[Run]) -> None:
    """Printed again, the same player is kept and the changed one is printed; the summary tells of the change."""
    first, second, _ = runs
    redone = {name for name in first.written if first.written[name] != second.written[name]}

    assert ["kept", "printed"] == [packet.state for packet in second.report.packets]
    assert {"solo-horn.pdf", "summary.pdf", "studio.json"} == redone


def test_one_failure_stops_nobody(runs: list[Run], folder: Path) -> None:
    """A player whose wishes leave no routine is reported with the reason, and the others have their packets."""
    third = runs[2].report

    assert [("solo horn", "failed")] == [(packet.name, packet.state) for packet in third.failures]
    assert "too narrow for a routine" in third.failures[0].reason
    assert "third-cornet.pdf" in runs[2].written
    assert "third cornet" in _text(folder / "summary.pdf")
    assert "solo horn" in _text(folder / "summary.pdf")


def test_a_player_may_have_another_day(tmp_path: Path) -> None:
    """What is other on the weekday that is printed holds for the packet of that player, and the summary tells it."""
    text = BAND.replace('grade = "3"', '[player.days.monday]\nhorn = "euphonium"\nminutes = 9')
    report = printed(text, tmp_path).report

    assert "Euphonium" in _text(tmp_path / "solo-horn.pdf")
    assert "Euphonium" in _text(tmp_path / report.summary)


def test_another_sheet_of_that_name_stays(tmp_path: Path) -> None:
    """A player's packet replaces an earlier one of his and nothing else: not a study that somebody keeps under that name."""
    publish(FLOW, tmp_path / "solo-horn.pdf", ["pdf"])
    before = (tmp_path / "solo-horn.pdf").read_bytes()
    report = printed(BAND, tmp_path).report

    assert before == (tmp_path / "solo-horn.pdf").read_bytes()
    assert [("solo horn", "failed")] == [(packet.name, packet.state) for packet in report.failures]
    assert "no earlier print of this packet" in report.failures[0].reason


OTHER = BAND.replace("Saltmarsh Town Band", "Fen Brass")


@pytest.mark.parametrize("left", ["studio.json", "summary.pdf"])
def test_another_studios_folder_stays(runs: list[Run], folder: Path, tmp_path: Path, left: str) -> None:
    """A folder with the manifest or the summary of another studio is refused before anything is printed into it."""
    assert len(runs) > 0
    copy(folder / left, tmp_path)
    with pytest.raises(BadRequest, match=r"another studio|no earlier print"):
        printed(OTHER, tmp_path)

    assert [left] == [file.name for file in tmp_path.iterdir()]


def test_what_the_summary_cannot_tell_is_refused_before_the_first_packet(tmp_path: Path) -> None:
    """A day past the calendar that a summary has is refused, and nothing is printed."""
    with pytest.raises(BadRequest, match="out of reach"):
        print_studio(StudioRequest(studio=studio_of(BAND, "band.toml"), on=date.max), tmp_path)

    assert [] == list(tmp_path.iterdir())


def _text(file: Path) -> str:
    return " ".join(PdfReader(file).pages[0].extract_text().split())


def test_a_group_shares_its_concert_keys() -> None:
    """With concert keys, horns of different pitch sound the same majors on the same day."""
    profiles = [Profile(name=horn, horn=horn) for horn in ("cornet", "tenor-horn", "trumpet-c")]
    places = [occasion(DayRequest(profile=profile, on=ON, concert=True)) for profile in profiles]
    sounding = [{_sounding(name, place.horn.sounding_half_steps) for name in place.keys.majors} for place in places]

    assert 4 == len(sounding[0])
    assert sounding[0] == sounding[1] == sounding[2]


def _sounding(name: str, half_steps: int) -> int:
    """Return the pitch class that the tonic of a written key sounds."""
    return (parse_key(name).degree(0).midi + half_steps) % 12


@pytest.mark.parametrize(
    ("wrong", "line", "said"),
    [
        ('horn = "trumpeet"', "8", "trumpet"),
        ('paper = "a5"', "8", "a4, letter"),
        ("mintues = 9", "8", "minutes"),
        ('[player.days.friday]\n\nhorn = "trumpeet"', "10", "trumpet"),
    ],
)
def test_a_wrong_entry_is_named_with_its_line(wrong: str, line: str, said: str) -> None:
    """An unknown field or value of a player stays with the player: line, value, what is allowed."""
    studio = studio_of(BAND.replace('horn = "cornet"', wrong), "band.toml")
    told = [worded(chair.refusal) for chair in studio.chairs if chair.refusal]

    assert 1 == len(told)
    assert f"line {line}" in told[0]
    assert said in told[0]


def test_a_file_that_is_no_toml_is_refused_with_its_line() -> None:
    """A syntax error names file and line."""
    with pytest.raises(BadRequest, match=r"band\.toml.*line 3"):
        studio_of('name = "x"\n\n[[player\n', "band.toml")
