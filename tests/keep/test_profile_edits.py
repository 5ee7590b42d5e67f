"""Changing a profile's file: whatever the player wrote beside the values that change stays."""

from dataclasses import dataclass, fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.keep.profile_text import edited, from_toml
from generators.routine.profile import Profile
from generators.routine.profile_check import check_profile
from tests.keep.profiles import profiles


@dataclass(frozen=True)
class Odd:
    """A file as a player may write it, and what its comments say."""

    text: str
    remarks: tuple[str, ...]


ODD_FILES = (
    Odd(
        """# mine, "really"
minutes = 30 # it's "long"


horn="cornet"#x
name = '''
a # no comment
b''' # a '#' inside
""",
        ('mine, "really"', 'it\'s "long"', "x", "a '#' inside"),
    ),
    Odd(
        """favour = [ # first
  'air', # "air" it's
  # between
  "flow", "scales",
  # last
] # behind
rest_day = 'none'
""",
        ("first", '"air" it\'s', "between", "last", "behind"),
    ),
    Odd(
        '\t"weak-keys"   =   [\'Db\',"F#m"]\t# "]" it\'s no end\n\'grade\'=3#three\nname = """it\'s "me" # no""" # yes',
        ('"]" it\'s no end', "three", "yes"),
    ),
    Odd(
        '# one\r\nminutes=30\t# "two"\r\n\r\nleave-out = [\r\n  "air", # three\r\n]\r\n# four, no end of line',
        ("one", '"two"', "three", "four, no end of line"),
    ),
    Odd(
        "duplex = true # 'on'\nname = 'a\\'# \\ behind\nbreath = 1_0 # ten \"seconds\"\n",
        ("'on'", "\\ behind", 'ten "seconds"'),
    ),
    Odd('\n\n# only remarks, "no" values\n\n', ('only remarks, "no" values',)),
    Odd("", ()),
)
NAMES = [entry.name for entry in fields(Profile)]
each_file = pytest.mark.parametrize("file", ODD_FILES, ids=range(len(ODD_FILES)))


def told(text: str, remarks: tuple[str, ...]) -> list[str]:
    """Return the remarks that stand at the end of a line of the text, behind their sign."""
    ends = [line.rstrip("\r") for line in text.split("\n")]
    return [remark for remark in remarks if any(line.endswith((f"# {remark}", f"#{remark}")) for line in ends)]


def together(old: Profile, new: Profile, names: set[str]) -> Profile:
    """Return the old profile with some values of the new one, as long as they make a profile."""
    for name in sorted(names):
        try:
            check_profile(tried := replace(old, **{name: getattr(new, name)}))
        except BadRequest:
            continue
        old = tried
    return old


@each_file
@given(new=profiles, names=st.sets(st.sampled_from(NAMES), min_size=1, max_size=4))
def test_a_change_keeps_all_that_it_does_not_touch(file: Odd, new: Profile, names: set[str]) -> None:
    """Any fields set to any values: the file reads back, every comment is there, and line ends are as they were."""
    wanted = together(from_toml(file.text, "x"), new, names)
    got = edited(file.text, wanted, "x")

    assert wanted == from_toml(got, "x")
    assert file.remarks == tuple(told(got, file.remarks))
    assert ("\r\n" in file.text) == ("\r\n" in got)
    assert "\r\n" not in file.text or "\n" not in got.replace("\r\n", "")


@each_file
def test_no_change_leaves_every_byte(file: Odd) -> None:
    """Setting what is there already is no change, and the remarks are those that the law looks for."""
    assert file.text == edited(file.text, from_toml(file.text, "x"), "x")
    assert file.remarks == tuple(told(file.text, file.remarks))
    assert len(file.remarks) <= file.text.count("#")


@each_file
@pytest.mark.parametrize("name", ["minutes", "name"])
def test_other_lines_stay_byte_for_byte(file: Odd, name: str) -> None:
    """A change of one plain value changes its own lines alone."""
    wanted = replace(from_toml(file.text, "x"), **{"minutes": {"minutes": 41}, "name": {"name": "cornet \x7f\\\"'#"}}[name])
    got = edited(file.text, wanted, "x")
    others = [line for line in file.text.splitlines() if not line.startswith((name, "a #", "b'''"))]

    assert [] == [line for line in others if line not in got.splitlines()]
