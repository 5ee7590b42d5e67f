"""Profiles on disk: commented TOML that reads back, and refusals that name file and line."""

from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given

from generators.errors import BadRequest, FailedRun
from generators.keep.profile_file import load_profile, profile_path, save_profile
from generators.keep.profile_text import as_toml, edited, from_toml
from generators.routine.profile import Profile
from tests.keep.profiles import profiles


@given(profiles)
def test_a_profile_reads_back(profile: Profile) -> None:
    """What is written as TOML is read as the same profile."""
    assert profile == from_toml(as_toml(profile), "x")


@given(profiles, profiles)
def test_a_changed_file_reads_back(old: Profile, new: Profile) -> None:
    """Changing the text of one profile to another gives a text that reads as the other."""
    assert new == from_toml(edited(as_toml(old), new, "x"), "x")


def test_every_field_has_its_help() -> None:
    """The file holds every field under a comment with its help and, where there are some, its allowed values."""
    text = as_toml(Profile()).replace("\n# ", " ")

    assert [] == [f.name for f in fields(Profile) if f.metadata["help"] not in text]
    assert [] == [f.name for f in fields(Profile) if ", ".join(f.metadata["allowed"]) not in text]
    assert "Allowed: trumpet, trumpet-c," in text


def test_comments_of_ones_own_stay() -> None:
    """A change touches its own line; comments, order and other spellings stay, and a missing field is added with its help."""
    text = '# mine\nrest_day = "none"  # we march\nminutes = 30 # long\nfavour = [\n  "air",\n]\n'
    new = Profile(rest_day="none", minutes=25, paper="letter")

    expected = '# mine\nrest_day = "none"  # we march\nminutes = 25 # long\nfavour = []\n\n'
    expected += '# Paper size. Allowed: a4, letter.\npaper = "letter"\n'
    assert expected == edited(text, new, "x")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("\nmnutes = 3", 'p.toml, line 2: entry "mnutes" is not known; allowed: name, '),
        ("\nmnutes = 3", 'Did you mean "minutes"?'),
        ('# a\nhorn = "corenet"', 'p.toml, line 2: horn "corenet" is not known; allowed: trumpet, '),
        ('horn = "corenet"', 'Did you mean "cornet"?'),
        ("minutes = 99", "p.toml, line 1: minutes 99 is out of reach; allowed: 8 to 60."),
        ('minutes = "22"', 'p.toml, line 1: minutes "22" is not a whole number; write digits without quotes'),
        ("minutes = true", "p.toml, line 1: minutes true is not a whole number"),
        ("minutes = 22.5", "p.toml, line 1: minutes 22.5 is not a whole number"),
        ("duplex = 1", "p.toml, line 1: duplex 1 is neither true nor false"),
        ("name = []", "p.toml, line 1: name [] is not a text"),
        ("name = 2026-11-03", 'p.toml, line 1: name "2026-11-03" is not a text'),
        ('favour = [\n  "air",\n  "flo",\n]', 'p.toml, line 3: favour "flo" is not known; allowed: air, '),
        ('favour = [\n  "air",\n  "flo",\n]', 'Did you mean "flow"?'),
        ('favour = "air"', 'p.toml, line 1: favour "air" is not a list; write texts in brackets'),
        ('weak-keys = ["Db", "H"]', 'p.toml, line 1: weak-keys: key "H" is not known'),
        ('high = "K5"', 'p.toml, line 1: high: note "K5" is not a written pitch'),
        ('high = "C9"', "p.toml, line 1: high C9 is out of reach on the trumpet; allowed: F#3"),
        ('low = "C5"\nhigh = "C4"', "p.toml, line 2: high C4 lies below low C5; allowed: C5 to E6."),
        ('stretch = "G5"\nhigh = "A5"', "p.toml, line 1: stretch G5 lies below high A5; allowed: A5 to E6."),
        ("grade = 9", 'p.toml, line 1: grade "9" is not known; allowed: 0, 1, 2, 3, 4, 5, 6.'),
        ('paper = "A4"', 'Did you mean "a4"?'),
        ("rest-day = 'none'\nrest_day = 'sunday'", "entry rest-day is given twice"),
        ('name = """\nminutes = 99\n"""\nminutes = 2', "p.toml, line 4: minutes 2 is out of reach"),
        ("minutes = 20\n[player]\nminutes = 3", 'p.toml, line 2: entry "player" is not known'),
        ('[days.thursday]\nhorn = "kazoo"', 'p.toml, line 2: days: thursday: horn "kazoo" is not known; allowed: trumpet, '),
        ('\n[days.someday]\nhorn = "cornet"', 'p.toml, line 2: days: day "someday" is not known; allowed: monday, tuesday'),
        ("[days.someday]", 'p.toml, line 1: days: day "someday" is not known'),
        ("[days.friday]\n\nmood = 3", 'p.toml, line 3: days: friday: field "mood" is not known; allowed: horn, low, high, '),
        ("[days.friday]\nminutes = 7", "p.toml, line 2: days: friday: minutes 7 is out of reach; allowed: 8 to 60"),
        ("[days.friday]\nminutes = true", "p.toml, line 2: days: friday: minutes true is not a whole number"),
        ('[days.friday]\nhorn = "cornet"\nlow = "C5"\nhigh = "C4"', "line 4: days: friday: high C4 lies below low C5"),
        ('days.friday.kind = "gig"', 'p.toml, line 1: days: friday: kind "gig" is not known; allowed: normal, light, '),
        ("days = {friday = 3}", "p.toml, line 1: days: friday 3 is no table; write [days.thursday]"),
        ("minutes = 20\nminutes = 30", "p.toml, line 2: the text is not TOML: cannot overwrite a value."),
        ("minutes = 20\r\nhorn = = 2", "p.toml, line 2: the text is not TOML: "),
        ('minutes = 20\nname = "x', "p.toml, line 2: the text is not TOML: "),
    ],
)
def test_a_mistake_is_named_with_its_line(text: str, message: str) -> None:
    """A wrong entry is refused with file, line, value and what is allowed."""
    with pytest.raises(BadRequest) as refusal:
        from_toml(text, "p.toml")

    assert message in str(refusal.value)


def test_a_grade_may_be_a_number() -> None:
    """A grade is understood without quotes."""
    assert Profile(grade="3") == from_toml("grade = 3", "x")


def test_the_default_without_a_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing kept is the default profile, and nothing is written."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))

    assert Profile() == load_profile()
    assert [] == list(tmp_path.iterdir())


def test_the_users_own_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a file named the profile is kept in the configuration folder."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    profile = Profile(horn="cornet", name="second cornet")

    assert tmp_path / "waterkey" / "player.toml" == save_profile(profile) == profile_path()
    assert profile == load_profile()


def test_a_named_file_must_be_there(tmp_path: Path) -> None:
    """A file that was named and is not there is refused with the way to make it."""
    with pytest.raises(BadRequest, match=r"none\.toml: profile is not there; make it first"):
        load_profile(tmp_path / "none.toml")


def test_a_file_that_is_no_text(tmp_path: Path) -> None:
    """Bytes that are no UTF-8 are refused; a mark at the beginning, as some editors write it, is not."""
    (tmp_path / "bad.toml").write_bytes(b"name = '\xff'")
    (tmp_path / "marked.toml").write_bytes(b"\xef\xbb\xbfminutes = 30")

    assert 30 == load_profile(tmp_path / "marked.toml").minutes
    with pytest.raises(BadRequest, match=r"bad\.toml: the file is not a text in UTF-8"):
        load_profile(tmp_path / "bad.toml")


def test_a_folder_is_no_profile(tmp_path: Path) -> None:
    """A folder in place of the file is told in a line."""
    with pytest.raises(FailedRun, match="cannot be read: "):
        load_profile(tmp_path)


@pytest.mark.parametrize("wrong", [{"minutes": 99}, {"horn": "tuba"}, {"weak_keys": ("H",)}])
def test_a_wrong_profile_is_never_kept(tmp_path: Path, wrong: dict[str, Any]) -> None:
    """A profile that could not be read again is not written; the old file stays."""
    file = save_profile(Profile(minutes=30), tmp_path / "p.toml")
    with pytest.raises(BadRequest):
        save_profile(replace(Profile(), **wrong), file)

    assert Profile(minutes=30) == load_profile(file)


@pytest.mark.parametrize("anew", [True, False])
def test_half_a_character_in_the_name_is_no_trouble(tmp_path: Path, anew: bool) -> None:
    """A byte that is no text is kept as a question mark, in a new file and in one that is there."""
    place = save_profile(Profile(), tmp_path / "player.toml")
    save_profile(Profile(name="a\udcffb"), place, anew=anew)

    assert "a?b" == load_profile(place).name
