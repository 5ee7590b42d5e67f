"""A studio: every player's own packet, failures that stop nobody, reruns that redo only what changed."""

from datetime import date
from pathlib import Path

import pytest
from generators.jobs.studios import StudioRequest, print_studio
from pypdf import PdfReader

from generators.errors import BadRequest, worded
from generators.keep.studio_file import demo_text, load_studio, studio_of
from generators.routine.context import context
from generators.routine.profile import Profile
from generators.theory.key import parse_key

ON = date(2026, 11, 30)
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


def kept(path: Path, text: str) -> Path:
    """Write a studio's file and return it."""
    path.write_text(text, encoding="utf-8")
    return path


def test_the_demo_is_a_whole_band() -> None:
    """Eight players from first grade to professional, on six kinds of horn, by chair and never by name."""
    studio = studio_of(demo_text(), "demo")
    profiles = [chair.profile for chair in studio.chairs]
    found = [profile for profile in profiles if profile is not None]

    assert 8 == len(found)
    assert {"trumpet", "cornet", "flugelhorn", "soprano-cornet", "tenor-horn", "euphonium"} == {p.horn for p in found}
    assert {"1", ""} <= {profile.grade for profile in found}


def test_everyone_gets_a_packet(tmp_path: Path) -> None:
    """Each player has a PDF named by the chair, and the teacher a summary that names them."""
    studio = load_studio(kept(tmp_path / "band.toml", BAND))
    report = print_studio(StudioRequest(studio=studio, on=ON, week=False), tmp_path / "out")

    assert {"third-cornet.pdf", "solo-horn.pdf", "summary.pdf"} <= {file.name for file in (tmp_path / "out").iterdir()}
    assert () == report.failures
    assert "third cornet" in PdfReader(report.summary).pages[0].extract_text()


def test_a_rerun_redoes_only_what_changed(tmp_path: Path) -> None:
    """Printed again, the same player is kept and the changed one is printed."""
    first = load_studio(kept(tmp_path / "band.toml", BAND))
    print_studio(StudioRequest(studio=first, on=ON, week=False), tmp_path / "out")
    before = {file.name: file.stat().st_mtime_ns for file in (tmp_path / "out").glob("*.pdf")}
    second = load_studio(kept(tmp_path / "band.toml", BAND.replace('grade = "3"', 'grade = "4"')))
    print_studio(StudioRequest(studio=second, on=ON, week=False), tmp_path / "out")
    after = {file.name: file.stat().st_mtime_ns for file in (tmp_path / "out").glob("*.pdf")}

    assert before["third-cornet.pdf"] == after["third-cornet.pdf"]
    assert before["solo-horn.pdf"] != after["solo-horn.pdf"]


def test_one_failure_stops_nobody(tmp_path: Path) -> None:
    """A player whose wishes leave no routine is reported, and the others are printed."""
    text = BAND.replace('grade = "3"', 'low = "C5"\nhigh = "D5"')
    studio = load_studio(kept(tmp_path / "band.toml", text))
    report = print_studio(StudioRequest(studio=studio, on=ON, week=False), tmp_path / "out")

    assert ["solo horn"] == [packet.name for packet in report.failures]
    assert (tmp_path / "out" / "third-cornet.pdf").exists()


def test_a_group_shares_its_concert_keys() -> None:
    """With concert keys, horns of different pitch sound the same majors on the same day."""
    profiles = [Profile(name=horn, horn=horn) for horn in ("cornet", "tenor-horn", "trumpet-c")]
    places = [context(profile, ON.toordinal(), "normal", concert=True) for profile in profiles]
    sounding = [{_sounding(name, place.horn.sounding_half_steps) for name in place.keys.majors} for place in places]

    assert 4 == len(sounding[0])
    assert sounding[0] == sounding[1] == sounding[2]


def _sounding(name: str, half_steps: int) -> int:
    """Return the pitch class that the tonic of a written key sounds."""
    return (parse_key(name).degree(0).midi + half_steps) % 12


@pytest.mark.parametrize(
    ("wrong", "line", "said"),
    [('horn = "trumpeet"', "8", "trumpet"), ('paper = "a5"', "8", "a4, letter"), ("mintues = 9", "8", "minutes")],
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
