"""The papers of a class on disk: a part a chair and the score, all written or none; made again from what a PDF carries."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from generators.band.request import ClassRequest
from generators.errors import BadRequest, FailedRun, worded
from generators.jobs.again import read_sheet
from generators.jobs.changes import Changes, changed
from generators.jobs.classes import class_of, print_class, seated
from generators.jobs.compose import compose
from generators.jobs.render import render
from generators.keep.studio_file import studio_of
from generators.sheets.sheet import Sheet
from tests.band.bands import band, player

TEXT = """
name = "Saltmarsh Town Band"
grade = "1"

[[player]]
name = "third cornet"
horn = "cornet"

[[player]]
name = "trombone"
horn = "trombone"
"""
ASKED = class_of(studio_of(TEXT, "band.toml"), studies=("scales",), minutes=2)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the papers of a small class."""
    place = tmp_path_factory.mktemp("class")
    print_class(ASKED, place, ["pdf", "musicxml", "midi"])
    return place


def test_every_chair_has_a_part(folder: Path) -> None:
    """A part a chair, named by it, and the score, in every format asked for."""
    names = {f"{stem}.{ending}" for stem in ("score", "third-cornet", "trombone") for ending in ("pdf", "musicxml", "mid")}

    assert names == {file.name for file in folder.iterdir()}


def test_a_class_printed_again_is_the_same(folder: Path) -> None:
    """Printed into the same folder again, every file has the bytes that it had."""
    before = {file.name: file.read_bytes() for file in folder.iterdir()}
    print_class(ASKED, folder, ["pdf", "musicxml", "midi"])

    assert before == {file.name: file.read_bytes() for file in folder.iterdir()}


def test_a_part_carries_its_class(folder: Path) -> None:
    """A part's PDF carries the whole class and whose part it is, and is made again the same to the byte."""
    request, sheet = read_sheet(folder / "trombone.pdf")

    assert isinstance(request, ClassRequest)
    assert (2, ASKED.players) == (request.part, request.players)
    assert (folder / "trombone.pdf").read_bytes() == render(compose(request, sheet))


def test_other_files_are_left_alone(tmp_path: Path) -> None:
    """Where a file of another content is in the way nothing at all is written, unless that is asked for."""
    (tmp_path / "trombone.pdf").write_text("mine")
    with pytest.raises(BadRequest, match="is there already and does not hold this music"):
        print_class(ASKED, tmp_path)

    assert ["trombone.pdf"] == [file.name for file in tmp_path.iterdir()]
    assert "mine" == (tmp_path / "trombone.pdf").read_text()


def test_a_place_that_cannot_be_written_is_refused(tmp_path: Path) -> None:
    """A file where the folder should be is a failed run in one line."""
    (tmp_path / "here").write_text("mine")
    with pytest.raises(FailedRun, match="cannot be written"):
        print_class(ASKED, tmp_path / "here")


def test_the_report_tells_parts_keys_and_absences(tmp_path: Path) -> None:
    """The report as JSON tells each part with its horn and range, the keys passed over, who cannot join what and why."""
    asked = band(player("cornet"), player("trombone"), player("trumpet", low="C4", high="E4"), studies=("scales",), minutes=2)
    told = json.loads(print_class(asked, tmp_path).as_json())

    assert [("cornet", "-M2", "treble"), ("trombone", "P1", "bass"), ("trumpet", "-M2", "treble")] == [
        (part["name"], part["transposition"], part["clef"]) for part in told["parts"]
    ]
    assert {"scales": -1} == told["parts"][1]["octave"]
    assert [("trumpet", "scales", "F4", "simpler line")] == [
        (one["name"], one["study"], one["note"], one["instead"]) for one in told["cannot_join"]
    ]
    assert {"name": "cornet", "would_read": "D"} in next(
        one["unread_by"] for one in told["keys_passed_over"] if one["key"] == "C"
    )


def test_chairs_without_names_have_numbers(tmp_path: Path) -> None:
    """Players without a name, or with the same, print into files of their own."""
    asked = ClassRequest(players=(*ASKED.players, ASKED.players[0]), studies=("scales",), minutes=2)
    report = print_class(asked, tmp_path)

    assert ["third-cornet.pdf", "trombone.pdf", "third-cornet-part-3.pdf"] == [
        Path(paper.files[0]).name for paper in report.papers
    ]


def test_a_class_in_another_key() -> None:
    """A paper of a class is made again in another concert key or with other tunes; a player's horn is in the file."""
    moved, _ = changed(ASKED, Sheet(), Changes(keys=("Eb",), seed=3))
    stepped, _ = changed(ASKED, Sheet(), Changes(transpose=5))

    assert isinstance(moved, ClassRequest)
    assert isinstance(stepped, ClassRequest)
    assert ("Eb", 3, "Eb") == (moved.concert_key, moved.seed, stepped.concert_key)
    with pytest.raises(BadRequest, match="would change the other papers of the class"):
        changed(ASKED, Sheet(), Changes(horn="cornet"))


def test_a_file_whose_players_are_all_wrong_is_refused() -> None:
    """Where no player can be read the first one's mistake is told; where some can, these play."""
    wrong = '[[player]]\nname = "x"\nhorn = "kazoo"\n'
    with pytest.raises(BadRequest, match='horn "kazoo" is not known'):
        class_of(studio_of(wrong, "band.toml"))

    assert ["third cornet", "trombone"] == [one.name for one in class_of(studio_of(TEXT + wrong, "band.toml")).players]


def test_whose_range_contradicts_his_grade_stops_nobody_else() -> None:
    """A player whose lowest note lies over his grade's highest is told so, and the others play."""
    studio = seated(studio_of(TEXT + '[[player]]\nname = "x"\nhorn = "cornet"\nlow = "D5"\n', "band.toml"))

    assert ["third cornet", "trombone"] == [chair.name for chair in studio.chairs if chair.profile]
    assert ["range D5 to C5 is too narrow for a routine"] == [
        worded(chair.refusal).split(";")[0].split(": ")[-1] for chair in studio.chairs if chair.refusal
    ]


def test_a_page_says_nothing_of_programs() -> None:
    """What a player and a teacher are told is worded for them: no field, no bracket, no code."""
    document = compose(band(player("cornet"), player("tenor-horn"), player("trumpet", "", "C4", "E4"), minutes=12))
    words = " ".join(document.facts["told"])

    assert "second voice" in words
    assert not set(words) & set("_[]{}<>=\"'")


def test_a_teacher_is_told_which_keys_all_can_read() -> None:
    """Where somebody sits out in the key that was asked for, those that all can read are named."""
    told = compose(band(player("cornet"), player("trumpet", ""), concert_key="D")).facts["told"]

    assert [
        "Concert D, as you asked.",
        "Keys that all can read: B♭ and E♭.",
        "Cornet sits this one out: E is not read yet.",
    ] == told[:3]


def test_a_word_without_end_is_cut() -> None:
    """A name that no column holds is cut on the score, and the page is engraved."""
    endless = replace(player("cornet"), name="x" * 300)

    assert render(compose(band(endless, studies=("scales",), minutes=2))).startswith(b"%PDF")
