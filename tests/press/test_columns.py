"""The column at the left of a strain: short lines that fit it, what counts in bold, a detail only where it has room."""

from dataclasses import replace

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from generators.brass.horn import horn
from generators.errors import WaterkeyError
from generators.phrase.label import Label
from generators.phrase.study import Study
from generators.press.columns import COLUMN_LINES, NARROW, Column, column
from generators.studies.catalogue import KINDS
from generators.studies.flow.study import FlowRequest
from generators.studies.kit.request import Request
from generators.theory.key import parse_key
from generators.theory.pitch import parse_pitch
from tests.exchange.samples import strain
from tests.press.sheets import made
from tests.studies.requests import requests

STUDIES = st.sampled_from(sorted(KINDS)).flatmap(requests)
EB, F = parse_key("Eb"), parse_key("F")
LABELS: dict[str, tuple[Label, Column]] = {
    "key": (Label(key=EB), Column((), "E♭", (), "major")),
    "minor key": (Label(key=parse_key("F#m"), part="low"), Column((), "F♯", ("low",), "minor")),
    "scale": (Label(key=EB, scale="harmonic minor"), Column((), "E♭", ("harmonic", "minor"))),
    "concert": (Label(key=F, concert=EB), Column((), "F", ("concert E♭",), "major")),
    "note": (Label(note=parse_pitch("F#4"), name="pedal", part="1 to 4"), Column(("pedal",), "F♯4", ("1 to 4",))),
    "name": (Label(name="Siren", key=EB, part="slow"), Column((), "Siren", ("E♭ major", "slow"))),
    "nothing": (Label(), Column((), "", ())),
    "detail": (Label(key=EB), Column((), "E♭", ("from E♭4",), "major")),
}


def columns(study: Study) -> list[Column]:
    """Return the columns of a study with all that its labels have."""
    return [column(one, horn(study.horn), one.label.detail) for one in study.strains]


def lines(found: Column) -> list[str]:
    """Return all lines of a column."""
    return [*found.above, f"{found.head} {found.beside}".strip(), *found.below]


@settings(max_examples=20)
@given(STUDIES)
def test_a_column_is_narrow(request: Request) -> None:
    """Whatever the study, the lines beside its strains are as short as the column."""
    study = _to_be_had(request)

    assert [] == [line for found in columns(study) for line in lines(found) if len(line) > NARROW]


@settings(max_examples=20)
@given(STUDIES.filter(lambda request: not request.concert))
def test_a_column_is_low(request: Request) -> None:
    """The lines beside a strain are no more than the column has room for; concert keys have a test of their own."""
    study = _to_be_had(request)

    assert [] == [found for found in columns(study) if len(lines(found)) > COLUMN_LINES]


def _to_be_had(request: Request) -> Study:
    """Return a study, if its horn, keys and range are for its grade."""
    try:
        return made(request)
    except WaterkeyError:
        reject()


@pytest.mark.parametrize("part", ["low", "1 to 4"])
def test_a_concert_key_leaves_room_for_its_part(part: str) -> None:
    """The key, its concert key and which part of the whole a strain is have room in the column together."""
    found = column(replace(strain("1/1"), label=Label(key=F, concert=EB, part=part)), horn("trumpet"))

    assert part in found.below
    assert len(lines(found)) <= COLUMN_LINES


@pytest.mark.parametrize("name", LABELS)
def test_a_column_tells_what_counts_in_bold(name: str) -> None:
    """The key, the note or the name stands in the middle, what tells it apart under it, with signs for sharps and flats."""
    label, expected = LABELS[name]

    assert expected == column(replace(strain("1/1"), label=label), horn("trumpet"), "from E♭4" if name == "detail" else "")


@pytest.mark.parametrize(
    ("above", "instrument", "tube"),
    [("open", "trumpet", "0"), ("valve", "trumpet", "2"), ("valves", "trumpet", "1-3"), ("position", "trombone", "4")],
)
def test_a_tube_is_told_with_what_it_is(above: str, instrument: str, tube: str) -> None:
    """Over a valve set or a position stands what it is, so that it is not taken for a number or a key."""
    found = column(replace(strain("1/1"), tube=tube, label=Label(tube=tube, part="low")), horn(instrument))

    assert Column((above,), tube, ("low",)) == found


@pytest.mark.parametrize(("told", "repeats"), [((), 1), (("2 times",), 2), (("8 times",), 8)])
def test_repeats_of_free_lines_are_told(told: tuple[str, ...], repeats: int) -> None:
    """How often a line is played stands in the column where there is no staff that repeat signs could end."""
    found = column(replace(strain("1/1", repeats=repeats), free=True, label=Label(key=EB)), horn("trumpet"))

    assert told == found.below


def test_a_detail_without_room_is_left_out() -> None:
    """A detail that would make the column too high is dropped as a whole, and nothing else with it."""
    music = replace(strain("1/1", repeats=3), label=Label(key=EB, scale="harmonic minor", part="low"))

    assert column(music, horn("trumpet")) == column(music, horn("trumpet"), "down and up again in thirds")


def test_a_long_word_is_broken_after_its_hyphen() -> None:
    """What is too long for the column is broken between words and after hyphens, and loses no letter."""
    music = replace(strain("1/1"), label=Label(key=EB, scale="half-diminished seventh"))

    assert ("half-", "diminished", "seventh") == column(music, horn("trumpet")).below


def test_strains_of_a_study_are_told_apart() -> None:
    """Two keys have two columns."""
    study = made(FlowRequest(keys=("C", "Eb", "F#m")))

    assert ["C", "E♭", "F♯"] == [found.head for found in columns(study)]
